package label

import (
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"

	"pipstake/ids"
)

// rooms are labels of many shapes, in millimetres, with the margins that their
// sheets leave: the sizes of sheets and stakes on sale (common practice), and
// shapes that no one sells.
var rooms = []Room{
	{W: 148, H: 20, Margin: Margin{4.2, 1.5, 4.2, 1.5}},
	{W: 102, H: 13, Margin: Margin{1.5, 1.5, 1.5, 1.5}},
	{W: 100, H: 16, Margin: Margin{1.5, 1.5, 1.5, 1.5}},
	{W: 127, H: 16, Margin: Margin{1.5, 1.5, 1.5, 1.5}},
	{W: 150, H: 20, Margin: Margin{1.5, 1.5, 1.5, 1.5}},
	{W: 178, H: 16, Margin: Margin{1.5, 1.5, 1.5, 1.5}},
	{W: 216, H: 16, Margin: Margin{1.5, 1.5, 1.5, 1.5}},
	{W: 63.5, H: 38.1, Margin: Margin{1.5, 1.5, 1.5, 1.5}},
	{W: 63.5, H: 33.9, Margin: Margin{1.5, 1.5, 1.5, 1.5}},
	{W: 70, H: 37, Margin: Margin{4.2, 3.7, 4.2, 3.7}},
	{W: 99.1, H: 38.1, Margin: Margin{1.5, 1.5, 1.5, 1.5}},
	{W: 38.1, H: 21.2, Margin: Margin{1.5, 1.5, 1.5, 1.5}},
	{W: 66.675, H: 25.4, Margin: Margin{1.5, 1.5, 1.5, 1.5}},
	{W: 101.6, H: 50.8, Margin: Margin{1.5, 1.5, 1.5, 1.5}},
	{W: 44.45, H: 12.7, Margin: Margin{1.5, 1.5, 1.5, 1.5}},
	{W: 25, H: 10, Margin: Margin{1, 1, 1, 1}},
	{W: 200, H: 100, Margin: Margin{5, 5, 5, 5}},
	{W: 40, H: 90, Margin: Margin{2, 2, 2, 2}},
}

// tagRoom is a branch tag as it is cut from a sheet.
var tagRoom = Room{W: 100, H: 25, Margin: Margin{1.5, 1.5, 1.5, 1.5}, Cut: true}

// longest is an identifier as long as the grammar allows in practice.
var longest = ids.ID{Year: 2026, Cross: 12345, Lot: 25, Pot: 128}

// awkwardNames are the first n invented names of a list: of one letter, of
// sixty, with accents, hyphens and apostrophes, and put together at random.
func awkwardNames(t *testing.T, n int) []string {
	t.Helper()
	text, err := os.ReadFile("../testdata/awkward-names.txt")
	if err != nil {
		t.Fatal(err)
	}
	names := strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
	if len(names) < n {
		t.Fatalf("there are %d names, not %d", len(names), n)
	}
	return names[:n]
}

// faces are the labels for one pair of parents.
func faces(seed, pollen string) map[string]interface {
	Fit(Room) (*Drawing, error)
} {
	id := ids.ID{Year: 2026, Cross: 12, Lot: 2, Pot: 2}
	return map[string]interface {
		Fit(Room) (*Drawing, error)
	}{
		"stake":      Stake{ID: id, Copy: 1, Seeds: 7, Sown: "2027-01-14", SeedParent: seed, PollenParent: pollen},
		"long stake": Stake{ID: longest, Copy: 2, Seeds: 1250, Sown: "2027-01-14", SeedParent: seed, PollenParent: pollen},
		"bag":        Bag{ID: id.At(ids.LotLevel), SeedParent: seed, PollenParent: pollen},
		"seedling":   Seedling{ID: id.Child(3), SeedParent: seed, PollenParent: pollen, Pricked: "2027-04-02"},
		"branch tag": BranchTag{ID: id.At(ids.CrossLevel), SeedParent: seed, PollenParent: pollen, Pollinated: "2026-05-03"},
		"back":       StakeBack{Stake{ID: longest, Copy: 2, SeedParent: seed, PollenParent: pollen}},
		"filled bag": Bag{ID: longest.At(ids.LotLevel), SeedParent: seed, PollenParent: pollen,
			Fruit: "12", Seeds: "118", Undeveloped: "11", Chilled: "2026-11-20", Ready: "2027-01-14"},
	}
}

func TestFacesKeepTheirRoom(t *testing.T) {
	names := awkwardNames(t, 12)
	if testing.Short() {
		names = names[:3]
	}
	drawn := map[string]int{}
	for i, name := range names {
		for _, r := range rooms {
			r.DPI = []int{203, 300, 600}[i%3]
			for kind, f := range faces(name, names[(i+7)%len(names)]) {
				d, err := f.Fit(r)
				var small *RoomError
				if errors.As(err, &small) {
					if small.NeedW <= r.W && small.NeedH <= r.H {
						t.Errorf("%s refused %.1f×%.1f mm and asks for no more: %v", kind, r.W, r.H, err)
					}
					continue
				}
				if err != nil {
					t.Fatalf("%s in %.1f×%.1f mm: %v", kind, r.W, r.H, err)
				}
				drawn[kind]++
				if fault := faultOf(d); fault != "" {
					t.Errorf("%s of %q in %.1f×%.1f mm at %d dpi: %s", kind, name, r.W, r.H, r.DPI, fault)
				}
			}
		}
	}
	for kind := range faces("a", "b") {
		if drawn[kind] < 5*len(names) {
			t.Errorf("%s was drawn only %d times", kind, drawn[kind])
		}
	}
}

// TestManyNames draws 500 names on the labels of each face that commands print by
// default: text stays apart from text and inside its label.
func TestManyNames(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	names := awkwardNames(t, 500)
	for i, name := range names {
		for kind, r := range map[string]Room{"stake": rooms[0], "bag": rooms[9], "seedling": rooms[11], "branch tag": tagRoom, "back": rooms[0]} {
			r.DPI = 300
			d, err := faces(name, names[(i+7)%len(names)])[kind].Fit(r)
			if err != nil {
				t.Fatalf("%s of %q: %v", kind, name, err)
			}
			if fault := faultOf(d); fault != "" {
				t.Errorf("%s of %q: %s", kind, name, fault)
			}
		}
	}
}

// faultOf names what is wrong with a drawing: ink outside the safe area, text
// over text or in a quiet zone, type below the least size, an identifier that
// is not the largest text.
func faultOf(d *Drawing) string {
	whole := Rect{W: d.W, H: d.H}
	for i, c := range d.Codes {
		if !d.Safe.Contains(c.Ink()) || !whole.Contains(c.Outer()) {
			return fmt.Sprintf("code %d leaves the label: %+v", i, c.Outer())
		}
		for _, other := range d.Codes[:i] {
			if c.Outer().Overlaps(other.Outer()) {
				return "two codes overlap"
			}
		}
	}
	largest := 0.0
	for i, x := range d.Texts {
		if x.Turn == Upright { // a stake's tile is part of its identifier
			largest = max(largest, x.Size)
		}
		if !d.Safe.Contains(x.Box) {
			return fmt.Sprintf("%q leaves the safe area: %+v", x.String, x.Box)
		}
		if x.Size < Points(6)-1e-9 {
			return fmt.Sprintf("%q is set in %.2f mm", x.String, x.Size)
		}
		for _, c := range d.Codes {
			if x.Box.Overlaps(c.Outer()) {
				return fmt.Sprintf("%q lies in a quiet zone", x.String)
			}
		}
		for _, other := range d.Texts[:i] {
			if x.Box.Overlaps(other.Box) {
				return fmt.Sprintf("%q and %q overlap", other.String, x.String)
			}
		}
	}
	for _, r := range d.Rules {
		line := Rect{min(r.X1, r.X2), min(r.Y1, r.Y2), max(r.X1, r.X2) - min(r.X1, r.X2), max(r.Y1, r.Y2) - min(r.Y1, r.Y2)}
		if !d.Safe.Contains(line) {
			return fmt.Sprintf("a line leaves the safe area: %+v", line)
		}
		for _, c := range d.Codes {
			if line.Inset(-r.Width/2, -r.Width/2, -r.Width/2, -r.Width/2).Overlaps(c.Outer()) {
				return "a line lies in a quiet zone"
			}
		}
	}
	first := d.Texts[0]
	if !strings.Contains(first.String, "X") || first.Size < largest-1e-9 || first.Size < Points(9)-1e-9 {
		return fmt.Sprintf("the identifier is not the largest text: %q at %.2f mm, largest %.2f mm", first.String, first.Size, largest)
	}
	return ""
}

func TestNothingIsLostSilently(t *testing.T) {
	r := Room{W: 148, H: 20, Margin: Margin{4.2, 1.5, 4.2, 1.5}, DPI: 600}
	for _, name := range awkwardNames(t, 200) {
		d, err := Stake{ID: longest, Copy: 1, Seeds: 7, Sown: "2027-01-14", SeedParent: name, PollenParent: "Tarn Amber"}.Fit(r)
		if err != nil {
			t.Fatal(err)
		}
		var all []string
		for _, x := range d.Texts {
			all = append(all, x.String)
		}
		text := strings.Join(all, " ")
		if !strings.Contains(text, compose(name)) && len(d.Notices) == 0 {
			t.Errorf("%q is not on the label %q, and no notice says so", name, text)
		}
	}
}

func TestCharactersThatCannotBeSet(t *testing.T) {
	bag := func(name string) error {
		_, err := Bag{ID: longest.At(ids.LotLevel), SeedParent: "Tarn Amber", PollenParent: name}.Fit(rooms[9])
		return err
	}
	for name, missing := range map[string]rune{"梨 Dawn": '梨', "Pip 🍎": '🍎'} {
		var glyph *GlyphError
		if err := bag(name); !errors.As(err, &glyph) || glyph.Rune != missing || glyph.Text != name {
			t.Errorf("%q: %v", name, err)
		}
	}
	for name, missing := range map[string]rune{"شجرة": 'ش', "תפוח": 'ת', "x\u0331": '\u0331'} {
		var script *ScriptError
		if err := bag(name); !errors.As(err, &script) || script.Rune != missing || script.Text != name {
			t.Errorf("%q: %v", name, err)
		}
	}
}

func TestRefusalNamesARoomThatWouldDo(t *testing.T) {
	b := Bag{ID: longest.At(ids.LotLevel), SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber"}
	r := Room{W: 38.1, H: 21.2, Margin: Margin{1.5, 1.5, 1.5, 1.5}, DPI: 600}
	_, err := b.Fit(r)
	var small *RoomError
	if !errors.As(err, &small) {
		t.Fatalf("38×21 mm: %v", err)
	}
	r.W, r.H = small.NeedW, small.NeedH
	if _, err := b.Fit(r); err != nil {
		t.Errorf("the size asked for, %.0f×%.0f mm, does not do: %v", r.W, r.H, err)
	}
}

// Labels of a batch are laid out alike, whichever of them comes first and
// whatever each lacks: codes, sizes and places are the same.
func TestBatchIsLaidOutAlike(t *testing.T) {
	names := awkwardNames(t, 40)
	id := func(i int) ids.ID { return ids.ID{Year: 2026, Cross: 8 + i, Lot: 1 + i%20, Pot: 1 + i%12} }
	batches := map[string]struct {
		room Room
		face func(i int) Face
	}{
		"stake": {rooms[0], func(i int) Face {
			return Stake{ID: id(i), Copy: 1 + i%2, Seeds: 1 + i, Sown: "2027-01-14", SeedParent: "Larkfield Tessel", PollenParent: names[i%12]}
		}},
		"bag": {rooms[9], func(i int) Face {
			b := Bag{ID: id(i).At(ids.LotLevel), SeedParent: names[i], PollenParent: "Tarn Amber", Treated: i%2 == 0}
			if i%3 == 0 {
				b.Fruit, b.Chilled = "12", "2026-11-20"
			}
			return b
		}},
		"seedling": {rooms[11], func(i int) Face {
			return Seedling{ID: id(i).Child(1 + i), SeedParent: "Tarn Amber", PollenParent: names[i], Pricked: []string{"", "2027-04-02"}[i%2], Copy: i % 3}
		}},
		"tag": {Room{W: 100, H: 25, Margin: Margin{1.5, 1.5, 1.5, 1.5}}, func(i int) Face {
			return BranchTag{ID: id(i).At(ids.CrossLevel), SeedParent: names[i], PollenParent: "Tarn Amber",
				Pollinated: []string{"", "2026-05-03"}[i%2], Note: []string{"", "old tree by the gate", ""}[i%3]}
		}},
	}
	for kind, b := range batches {
		for first := range 3 {
			b.room.DPI = 300
			var faces []Face
			for i := range 30 {
				faces = append(faces, b.face(first+i))
			}
			drawn, err := Fit(faces, b.room)
			if err != nil {
				t.Fatalf("%s: %v", kind, err)
			}
			for i, d := range drawn {
				if fault := faultOf(d); fault != "" {
					t.Errorf("%s %d: %s", kind, i, fault)
				}
				for n, c := range d.Codes {
					of := drawn[0].Codes[n]
					if c.X != of.X || c.Y != of.Y || c.Symbol.Dots != of.Symbol.Dots || c.Symbol.Size != of.Symbol.Size || c.Symbol.Kind != of.Symbol.Kind {
						t.Errorf("%s %d: code %d is %v, on the first label %v", kind, i, n, c.Symbol.Choice, of.Symbol.Choice)
					}
				}
				if a, b := d.Texts[0], drawn[0].Texts[0]; a.Size != b.Size || a.X != b.X || a.Baseline != b.Baseline {
					t.Errorf("%s %d: the identifier is set in %.2f mm at %.2f, %.2f; on the first label in %.2f mm", kind, i, a.Size, a.X, a.Baseline, b.Size)
				}
			}
		}
	}
}

// A name that is far wider than the others is set smaller by itself, and that
// is told; the others stay as large as they are without it.
func TestOneLongNameIsTold(t *testing.T) {
	room := Room{W: 148, H: 20, Margin: Margin{1.5, 1.5, 4.2, 1.5}, DPI: 600}
	var faces []Face
	for i := range 6 {
		faces = append(faces, Stake{ID: ids.ID{Year: 2026, Cross: 12, Lot: 1, Pot: 1 + i}, Copy: 1, Seeds: 7, Sown: "2027-01-14",
			SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber"})
	}
	without, err := Fit(faces, room)
	if err != nil {
		t.Fatal(err)
	}
	long := faces[2].(Stake)
	long.SeedParent = "Brackendale Swaleside Longfield Upper"
	faces[2] = long
	with, err := Fit(faces, room)
	if err != nil {
		t.Fatal(err)
	}
	for i, d := range with {
		if i == 2 {
			if len(d.Notices) != 1 || d.Notices[0] != "the parents' names are set smaller than on the other labels" {
				t.Errorf("the label with the long name tells %q", d.Notices)
			}
			continue
		}
		if len(d.Notices) > 0 {
			t.Errorf("label %d tells %q", i, d.Notices)
		}
		for n, x := range d.Texts {
			if x.Size != without[i].Texts[n].Size {
				t.Errorf("label %d: %q is set in %.2f mm, without the long name in %.2f", i, x.String, x.Size, without[i].Texts[n].Size)
			}
		}
	}
}
