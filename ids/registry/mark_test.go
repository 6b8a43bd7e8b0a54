package registry

import (
	"errors"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// Every new registry has a mark of its own, which no spreadsheet takes for
// anything but a text.
func TestRegistriesAreToldApart(t *testing.T) {
	letters := regexp.MustCompile(`^[b-df-hj-km-np-tv-xz]{10}$`)
	seen := map[string]bool{}
	for range 50 {
		dir := newRegistry(t, nil)
		mark := openIn(t, dir).Mark()
		if !letters.MatchString(mark) || seen[mark] {
			t.Fatalf("the mark is %q; so far %v", mark, seen)
		}
		seen[mark] = true
		if got, want := readFile(t, dir, marksFile), "\ufeffregistry,state\r\n"+mark+",\r\n"; got != want {
			t.Fatalf("%s is %q, want %q", marksFile, got, want)
		}
	}
	// Of 500 letters drawn evenly from 19 one is missing once in 30 thousand million times.
	for _, letter := range "bcdfghjkmnpqrstvwxz" {
		if !slices.ContainsFunc(slices.Collect(maps.Keys(seen)), func(mark string) bool { return strings.ContainsRune(mark, letter) }) {
			t.Errorf("no mark has a %c", letter)
		}
	}
}

func openIn(t *testing.T, dir string) *Registry {
	t.Helper()
	r, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// A registry from before there were marks has none until it is given one; then
// that of its calendar, where phones have one, and it stays.
func TestOlderRegistryGetsAMark(t *testing.T) {
	const row = "ab2cd3ef-20270215-count@pipstake,2027-02-15,1,,0123,Count\r\n"
	for _, c := range []struct{ calendar, want string }{
		{"", ""},
		{row, "ab2cd3ef"},
		{"o-cold-2026X012,2027-02-15,1,,0123,Count\r\n", ""},
	} {
		dir := newRegistry(t, map[string]string{calendarFile: newTables().calendar.blankFile() + c.calendar})
		if err := os.Remove(filepath.Join(dir, marksFile)); err != nil {
			t.Fatal(err)
		}
		if mark := openIn(t, dir).Mark(); mark != "" {
			t.Fatalf("the mark is %q before one was given", mark)
		}
		var given, again string
		err := Change(dir, Options{}, func(r *Registry) error { given = r.GiveMark(); return nil })
		err2 := Change(dir, Options{}, func(r *Registry) error { again = r.GiveMark(); return nil })
		if err := errors.Join(err, err2); err != nil {
			t.Fatal(err)
		}
		r := openIn(t, dir)
		if given == "" || again != given || r.Mark() != given || !r.IsMarked(given) || c.want != "" && given != c.want {
			t.Errorf("calendar %q: given %q, then %q, and it is %q; want %q", c.calendar, given, again, r.Mark(), c.want)
		}
	}
}

// A mark that somebody wrote over is told, and is none.
func TestMarkWrittenOver(t *testing.T) {
	for _, cell := range []string{"my orchard", "=1+1", `"a,b"`, "ab"} {
		r := openIn(t, newRegistry(t, map[string]string{marksFile: "registry,state\n" + cell + ",\n" + cell + ",merged\n"}))
		found := r.Check()
		if r.Mark() != "" || len(found) != 2 || found[0].File != marksFile || found[0].Column != "registry" {
			t.Errorf("%q: the mark is %q, and check finds %v", cell, r.Mark(), found)
		}
	}
}

// A merged registry is known by both marks, and stays the one that it was.
func TestMergeTakesTheMarkIn(t *testing.T) {
	here, there := newRegistry(t, nil), newRegistry(t, nil)
	was, other := openIn(t, here).Mark(), openIn(t, there)
	for _, want := range [][]AddedRows{{{marksFile, 1, 0}}, nil} { // once more changes nothing
		var m Merged
		if err := Change(here, Options{}, func(r *Registry) (err error) { m, err = r.Merge(other, Here); return err }); err != nil || !slices.Equal(m.Added, want) {
			t.Fatalf("%+v, %v; want %v", m, err, want)
		}
	}
	r := openIn(t, here)
	if r.Mark() != was || !r.IsMarked(was) || !r.IsMarked(other.Mark()) || r.IsMarked("") || r.IsMarked("bcdfghjkmn") {
		t.Errorf("%q is marked %q, with %+v", was, r.Mark(), r.marks.entries)
	}
	if want := "\ufeffregistry,state\r\n" + was + ",\r\n" + other.Mark() + ",merged\r\n"; readFile(t, here, marksFile) != want {
		t.Errorf("%s is %q, want %q", marksFile, readFile(t, here, marksFile), want)
	}
	if found := r.Check(); len(found) > 0 {
		t.Errorf("check finds %v", found)
	}
}
