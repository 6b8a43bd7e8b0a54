package main

import (
	"bytes"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/label/reading"
	"pipstake/label/symbol"
	"pipstake/layout/proof"
)

// codesPrinted returns the texts of all codes on the labels of batches, on paper as
// labels.csv need not have them.
func codesPrinted(t *testing.T, r *registry.Registry, batches ...int) []string {
	t.Helper()
	var texts []string
	for _, n := range batches {
		for _, c := range printedCodes(t, r, n, defaultDPI, 25, func(int) *image.Gray { return image.NewGray(image.Rect(0, 0, 300, 400)) }) {
			texts = append(texts, c.choice.Payload)
		}
	}
	return texts
}

// rebuilt makes a registry from the texts of codes.
func rebuilt(t *testing.T, dir string, codes []string) *registry.Registry {
	t.Helper()
	if err := os.WriteFile(filepath.Join(dir, "codes.txt"), []byte(strings.Join(codes, "\n")), 0o666); err != nil {
		t.Fatal(err)
	}
	runs(t, dir, "rebuild", "again", "codes.txt")
	return opened(t, filepath.Join(dir, "again"))
}

// opened is a registry without damage.
func opened(t *testing.T, dir string) *registry.Registry {
	t.Helper()
	r, err := registry.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	if d := r.Damage(); len(d) > 0 {
		t.Fatalf("damaged cells: %v", d)
	}
	return r
}

// ofSeason are the rows of the demo's season, of which all labels are on its
// sheets; what ended in the year before has none any more.
func ofSeason[T any](rows []T, id func(T) ids.ID) []T {
	return slices.DeleteFunc(slices.Clone(rows), func(row T) bool { return id(row).Year != 2025 })
}

// mapOf returns what write says of each row.
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

// The codes on the demo's sheets give back every cross with its parents, every
// seed lot, every pot with its count and day, and the labels themselves.
func TestRebuildGivesBackTheDemo(t *testing.T) {
	dir := t.TempDir()
	r := demoIn(t, dir)
	again := rebuilt(t, dir, codesPrinted(t, r, 1, 2, 3))
	compareRows(t, "crosses", mapOf(again.Crosses(), parentsFolded(t)), mapOf(ofSeason(r.Crosses(), func(c registry.Cross) ids.ID { return c.ID }), parentsFolded(t)))
	compareRows(t, "lots", mapOf(again.Lots(), lotID), mapOf(ofSeason(r.Lots(), func(l registry.Lot) ids.ID { return l.ID }), lotID))
	compareRows(t, "pots", mapOf(again.Pots(), potWords), mapOf(ofSeason(r.Pots(), func(p registry.Pot) ids.ID { return p.ID }), potWords))

	var got, want []string
	for _, l := range again.Labels() {
		got = append(got, reading.KeyOf(l).String()+" "+l.Payload)
	}
	for _, l := range ofSeason(r.Labels(), func(l registry.Label) ids.ID { return l.ID }) {
		want = append(want, reading.KeyOf(l).String()+" "+l.Payload) // also those of the demo's slips: the paper is still there
	}
	slices.Sort(got)
	slices.Sort(want)
	if want = slices.Compact(want); !slices.Equal(got, want) {
		t.Errorf("labels:\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	for _, row := range again.Pots() {
		if row.Notes != "recovered from labels" {
			t.Errorf("%s is not marked as recovered: %q", row.ID, row.Notes)
		}
	}
}

func potWords(p registry.Pot) (ids.ID, string) {
	return p.ID, p.Seeds.String() + " on " + p.Sown.String()
}

// Where the upper part of each stake has gone, the code in the soil gives the
// pot, and leaves open what it does not say.
func TestRebuildFromTheSoil(t *testing.T) {
	dir := t.TempDir()
	r := demoIn(t, dir)
	soil := slices.DeleteFunc(codesPrinted(t, r, 2), func(text string) bool { return strings.Contains(text, " ") })
	if len(soil) < 120 {
		t.Fatalf("only %d codes without text", len(soil))
	}
	again := rebuilt(t, dir, soil)
	compareRows(t, "pots", mapOf(again.Pots(), potWords), mapOf(ofSeason(r.Pots(), func(p registry.Pot) ids.ID { return p.ID }), func(p registry.Pot) (ids.ID, string) { return p.ID, " on " }))
	for _, c := range again.Crosses() {
		if c.SeedParent != "unknown" || c.PollenParent != "unknown" {
			t.Errorf("%s has the parents %q and %q, which no code told", c.ID, c.SeedParent, c.PollenParent)
		}
	}
}

// Photographs will do for the lines of a scanner. PDFium makes the picture.
func TestRebuildFromAPicture(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	dir := t.TempDir()
	r := demoIn(t, dir)
	pdf, err := os.ReadFile(filepath.Join(dir, "orchard", demoBags))
	if err != nil {
		t.Fatal(err)
	}
	doc, err := proof.Open(pdf)
	if err != nil {
		t.Fatal(err)
	}
	defer doc.Close()
	page, err := doc.Render(1, 200)
	if err != nil {
		t.Fatal(err)
	}
	var picture bytes.Buffer
	if err := png.Encode(&picture, page); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "bags.jpg"), picture.Bytes(), 0o666); err != nil { // the content counts
		t.Fatal(err)
	}
	runs(t, dir, "rebuild", "again", "bags.jpg")
	first := map[string]string{}
	for _, l := range r.Labels() {
		if l.Batch == 1 && l.Sheet == 1 {
			first[l.ID.String()] = ""
		}
	}
	compareRows(t, "lots", mapOf(opened(t, filepath.Join(dir, "again")).Lots(), lotID), first)
}
