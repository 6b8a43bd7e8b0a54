package registry

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"runtime"
	"strings"
	"syscall"
	"testing"

	"pipstake/ids/plainfile"
)

// What the system says of a file is told without its path twice, and with what to
// do about it.
func TestRemediesForFiles(t *testing.T) {
	onPath := func(err error) error { return &fs.PathError{Op: "open", Path: "r/pots.csv", Err: err} }
	for _, c := range []struct {
		err  error
		want string
	}{
		{cannotWrite("r/pots.csv", onPath(syscall.ENOSPC)), "make room on the disk"},
		{cannotWrite("r/pots.csv", onPath(syscall.EDQUOT)), "make room on the disk"},
		{cannotWrite("r/pots.csv", onPath(syscall.EFBIG)), "make room on the disk"},
		{cannotWrite("r/pots.csv", onPath(syscall.EROFS)), "the disk is read-only"},
		{cannotWrite("r/pots.csv", onPath(fs.ErrPermission)), "allow yourself to write there"},
		{cannotWrite("r/pots.csv", onPath(syscall.EIO)), "look whether the folder can be written"},
		{cannotWrite("r/pots.csv", &heldError{&os.LinkError{Op: "rename", Old: "a", New: "b", Err: syscall.EACCES}}), "close the spreadsheet that has it open"},
		{cannotRead("r/pots.csv", onPath(fs.ErrNotExist)), "put the file back from a copy"},
		{cannotRead("r/pots.csv", onPath(fs.ErrPermission)), "allow yourself to read it"},
		{cannotRead("r/pots.csv", onPath(syscall.EIO)), "look whether the folder can be read"},
		{cannotRead("r/pots.csv", &plainfile.KindError{Kind: "a folder"}), "take it away, and put the file back"},
	} {
		var access *AccessError
		if !errors.As(c.err, &access) || access.Path != "r/pots.csv" || !strings.HasPrefix(access.Remedy, c.want) || strings.Count(c.err.Error(), "pots.csv") != 1 {
			t.Errorf("%v, want %s", c.err, c.want)
		}
		told := access.Problems()
		if len(told) != 1 || !strings.HasPrefix(told[0].What, "r/pots.csv: cannot be ") || told[0].Remedy != access.Remedy || errors.Unwrap(c.err) == nil {
			t.Errorf("%+v", told)
		}
	}
	nowhere := &AccessError{What: "is not there", Remedy: "make it"}
	if told := nowhere.Problems(); told[0].What != "is not there" {
		t.Errorf("%+v", told)
	}
	for err, want := range map[error]bool{fs.ErrExist: true, fs.ErrPermission: runtime.GOOS == "windows", fs.ErrNotExist: false} {
		if (&claim{}).inTheWay(onPath(err)) != want {
			t.Errorf("%v: another command is in the way: %v", err, !want)
		}
	}
	for system, codes := range map[string]map[syscall.Errno]bool{"windows": {5: true, 32: true, 33: true, 4: false, 6: false, 31: false, 34: false}, "linux": {5: false, 32: false, 33: false}} {
		for code, want := range codes {
			if isHeld(system, onPath(code)) != want {
				t.Errorf("code %d on %s: held %v", code, system, !want)
			}
		}
	}
}

// Where a cell of a finding is: with the file alone, its row, its column, and what
// stands in it.
func TestWhereAFindingIs(t *testing.T) {
	for f, want := range map[Finding][2]string{
		{File: "pots.csv", What: "is odd", Remedy: "look"}:                                        {"pots.csv", "pots.csv: is odd; look"},
		{File: "pots.csv", Row: 1, What: "is odd", Remedy: "look"}:                                {"pots.csv row 1", "pots.csv row 1: is odd; look"},
		{File: "pots.csv", Row: 14, Column: "sown", What: "is odd", Remedy: "look"}:               {"pots.csv row 14, sown", "pots.csv row 14, column sown: is odd; look"},
		{File: "pots.csv", Row: 14, Column: "sown", Value: "x\n", What: "is odd", Remedy: "look"}: {`pots.csv row 14, sown "x\n"`, `pots.csv row 14, column sown: "x\n" is odd; look`},
	} {
		if f.Where() != want[0] || f.String() != want[1] {
			t.Errorf("%s, %s; want %s", f.Where(), f, want)
		}
	}
	two := &DamageError{[]Finding{{File: "pots.csv", Row: 2, What: "is odd", Remedy: "look"}, {File: "pots.csv", Row: 3, What: "is odd too", Remedy: "look"}}}
	if got := two.Error(); got != "pots.csv row 2: is odd; look (and 1 more)" {
		t.Error(got)
	}
	if got := (&DamageError{two.Findings[:1]}).Error(); got != "pots.csv row 2: is odd; look" {
		t.Error(got)
	}
	if told := two.Problems(); len(told) != 2 || told[1].What != "pots.csv row 3: is odd too" || told[1].Remedy != "look" {
		t.Errorf("%+v", told)
	}
}

// A fact is corrected only where what is not corrected can be read; the cell that
// cannot is corrected itself.
func TestCorrectionsBesideDamage(t *testing.T) {
	place, sown, seeds := "loft", Date{2027, 1, 15}, Known(6)
	for _, c := range []struct {
		row  string
		c    Correction
		want string
	}{
		{"2026X001-A1,some,2027-01-14,bench 3,,", Correction{Place: &place}, "column seeds"},
		{"2026X001-A1,some,2027-01-14,bench 3,,", Correction{Seeds: &seeds}, ""},
		{"2026X001-A1,7,in spring,bench 3,,", Correction{Place: &place}, "column sown"},
		{"2026X001-A1,7,in spring,bench 3,,", Correction{Seeds: &seeds}, "column sown"},
		{"2026X001-A1,7,in spring,bench 3,,", Correction{Sown: &sown}, ""},
		{"2026X001-A1,7,in spring,bench 3,,", Correction{Sown: &sown, Place: &place}, ""},
		{"2026X001-A1,some,in spring,bench 3,,", Correction{Sown: &sown}, "column seeds"},
	} {
		err := testStore(season(map[string]string{"pots.csv": c.row})).change(func(r *Registry) error {
			_, err := r.Correct(mustID(t, "2026X001-A1"), c.c)
			return err
		})
		if c.want == "" && err != nil || c.want != "" && (!errors.As(err, new(*DamageError)) || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%s, %+v: %v, want %q", c.row, c.c, err, c.want)
		}
	}
	// What is not there to be corrected is refused with what it is of.
	for id, want := range map[string]string{"2026X001-A1": "2026X001-A1 is a pot, and a pot has no name", "2026X001-A": "2026X001-A is a seed lot, and a seed lot has no name"} {
		err := testStore(season(nil)).change(func(r *Registry) error {
			_, err := r.Correct(mustID(t, id), Correction{Name: &place})
			return err
		})
		if !refused(err) || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", id, err)
		}
	}
}

// A count that was only taken back there stays here; one that was dropped there goes,
// and what was dropped here does not come again.
func TestMergeOfCountsThatWent(t *testing.T) {
	lot := firstCross.Child(1)
	sow := func(r *Registry) error {
		_, err := r.Sow(lot, Sowing{Seeds: []int{5}, On: Date{2026, 12, 1}})
		return err
	}
	lots := func(r *Registry) error { _, err := r.AddLots(firstCross, 1, Date{2026, 8, 1}); return err }
	count := func(day, up int) func(*Registry) error {
		return func(r *Registry) error { _, err := r.AddEmergence(lot.Child(1), Date{2027, 3, day}, up); return err }
	}
	drop := func(day int) func(*Registry) error {
		return func(r *Registry) error {
			_, err := r.CorrectCount(lot.Child(1), Date{2027, 3, day}, CountCorrection{Drop: true})
			return err
		}
	}
	undo := func(r *Registry) error { _, err := r.Undo(); return err }
	for name, c := range map[string]struct {
		here, there []func(*Registry) error
		want        string
		newer       int
	}{
		"taken back there":         {nil, []func(*Registry) error{undo}, "1:2 8:3", 0},
		"taken back here":          {[]func(*Registry) error{undo}, nil, "1:2 8:3", 0},
		"dropped there":            {nil, []func(*Registry) error{drop(8)}, "1:2", 1},
		"dropped here":             {[]func(*Registry) error{drop(1)}, nil, "8:3", 0},
		"dropped on both sides":    {[]func(*Registry) error{drop(1)}, []func(*Registry) error{drop(1)}, "8:3", 0},
		"another on the day there": {[]func(*Registry) error{drop(8)}, []func(*Registry) error{drop(8), count(8, 4)}, "1:2 8:4", 0},
		"more on both sides":       {[]func(*Registry) error{count(15, 4)}, []func(*Registry) error{count(22, 5)}, "1:2 8:3 15:4 22:5", 0},
	} {
		here, there := two(t, cross("Ann", "Bob"), lots, extract(lot, 9), sow, count(1, 2), count(8, 3))
		then(t, here, "here", c.here...)
		then(t, there, "there", c.there...)
		m, err := merge(t, here, there, Here)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		var got []string
		for _, e := range open(t, here).EmergenceOf(lot.Child(1)) {
			got = append(got, fmt.Sprintf("%d:%s", e.On.Day, e.Up))
		}
		if s := strings.Join(got, " "); s != c.want || len(m.Newer) != c.newer {
			t.Errorf("%s: %s, newer %+v; want %s", name, s, m.Newer, c.want)
		}
	}
}
