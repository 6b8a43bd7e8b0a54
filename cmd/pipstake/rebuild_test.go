package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/label/symbol"
)

// rebuilt scans the labels of a registry that are in use and makes a new one
// from them.
func rebuilt(t *testing.T, dir string, r *registry.Registry) *registry.Registry {
	t.Helper()
	var log strings.Builder
	for _, l := range r.Labels() {
		if l.State == registry.LabelLive {
			fmt.Fprintln(&log, l.Payload)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, "codes.txt"), []byte(log.String()), 0o666); err != nil {
		t.Fatal(err)
	}
	runs(t, dir, "rebuild", "again", "codes.txt")
	again, err := registry.Open(filepath.Join(dir, "again"))
	if err != nil {
		t.Fatal(err)
	}
	if d := again.Damage(); len(d) > 0 {
		t.Fatalf("the new registry has damaged cells: %v", d)
	}
	return again
}

// mapOf gives of each row what write says.
func mapOf[T any](rows []T, write func(T) (ids.ID, string)) map[string]string {
	all := map[string]string{}
	for _, row := range rows {
		id, text := write(row)
		all[id.String()] = text
	}
	return all
}

// compareRows reports where two tables differ.
func compareRows(t *testing.T, what string, got, want map[string]string) {
	t.Helper()
	if len(got) != len(want) || len(want) == 0 {
		t.Errorf("%d %s, want %d", len(got), what, len(want))
	}
	for id, w := range want {
		if got[id] != w {
			t.Errorf("%s %s: %q, want %q", what, id, got[id], w)
		}
	}
}

// parentsFolded are a cross's parents as labels fold them.
func parentsFolded(t *testing.T) func(registry.Cross) (ids.ID, string) {
	return func(c registry.Cross) (ids.ID, string) {
		var names []string
		for _, name := range []string{c.SeedParent, c.PollenParent} {
			folded, err := symbol.Fold(name)
			if err != nil {
				t.Fatal(err)
			}
			names = append(names, folded)
		}
		return c.ID, strings.Join(names, " × ")
	}
}

func lotID(l registry.Lot) (ids.ID, string) { return l.ID, "" }

// Labels with the whole text in their codes give back every cross with its
// parents, every seed lot, every pot with its count and day, and themselves.
func TestRebuildGivesBackTheDemo(t *testing.T) {
	dir := t.TempDir()
	r := demoIn(t, dir)
	args := []string{"labels", "--registry", "orchard", "--face", "stake", "--replace", "--stock", "a4-2x7-99.1x38.1", "--out", "stakes.pdf"}
	for _, c := range r.Crosses() {
		args = append(args, c.ID.String())
	}
	runs(t, dir, args...)
	r, err := registry.Open(r.Dir())
	if err != nil {
		t.Fatal(err)
	}
	again := rebuilt(t, dir, r)
	compareRows(t, "crosses", mapOf(again.Crosses(), parentsFolded(t)), mapOf(r.Crosses(), parentsFolded(t)))
	compareRows(t, "lots", mapOf(again.Lots(), lotID), mapOf(r.Lots(), lotID))
	pot := func(p registry.Pot) (ids.ID, string) { return p.ID, p.Seeds.String() + " on " + p.Sown.String() }
	compareRows(t, "pots", mapOf(again.Pots(), pot), mapOf(r.Pots(), pot))

	var got, want []string
	for _, l := range again.Labels() {
		got = append(got, tagFor(l).String()+" "+l.Payload)
	}
	for _, l := range r.Labels() {
		if l.State == registry.LabelLive {
			want = append(want, tagFor(l).String()+" "+l.Payload)
		}
	}
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, slices.Compact(want)) {
		t.Errorf("labels:\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	for _, row := range again.Pots() {
		if row.Notes != recoveredNote {
			t.Errorf("%s is not marked as recovered: %q", row.ID, row.Notes)
		}
	}
}

// The narrow stakes of the demo bear small codes, some without text. These
// give the pot, and leave open what they do not say.
func TestRebuildOfSmallCodes(t *testing.T) {
	dir := t.TempDir()
	r := demoIn(t, dir)
	says := map[ids.ID]string{}
	for _, p := range r.Pots() {
		says[p.ID] = " on "
	}
	for _, l := range r.Labels() {
		p, _, err := symbol.ParsePayload(l.Payload)
		if err != nil {
			t.Fatal(err)
		}
		if f, ok := symbol.ParseFacts(p.Text); ok && l.Face == registry.StakeFace && l.State == registry.LabelLive {
			says[l.ID] = fmt.Sprintf("%d on %s", f.Seeds, f.Sown)
		}
	}
	again := rebuilt(t, dir, r)
	compareRows(t, "crosses", mapOf(again.Crosses(), parentsFolded(t)), mapOf(r.Crosses(), parentsFolded(t)))
	compareRows(t, "pots", mapOf(again.Pots(), func(p registry.Pot) (ids.ID, string) { return p.ID, p.Seeds.String() + " on " + p.Sown.String() }),
		mapOf(r.Pots(), func(p registry.Pot) (ids.ID, string) { return p.ID, says[p.ID] }))
}
