package label

import (
	"reflect"
	"testing"

	"pipstake/ids"
)

// A label drawn after others of its shape is the one that a search gives.
func TestWhatIsRememberedIsWhatASearchFinds(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	names := awkwardNames(t, 30)
	rooms := []Room{rooms[0], rooms[2], rooms[7], rooms[9], rooms[11]}
	draw := func(i int, r Room, kind string) *Drawing {
		r.DPI = 600
		id := ids.ID{Year: 2026, Cross: 1 + i, Lot: 1 + i%24, Pot: 1 + i%9}
		var f interface{ Fit(Room) (*Drawing, error) }
		switch name := names[i%len(names)]; kind {
		case "stake":
			f = Stake{ID: id, Copy: 1, Seeds: 7, Sown: "2027-01-14", SeedParent: name, PollenParent: "Tarn Amber"}
		case "bag":
			f = Bag{ID: id.At(ids.LotLevel), SeedParent: name, PollenParent: "Tarn Amber"}
		case "seedling":
			f = Seedling{ID: id.Child(2), SeedParent: name, PollenParent: "Tarn Amber"}
		}
		d, err := f.Fit(r)
		if err != nil {
			return nil
		}
		return d
	}
	forget := func() {
		winners.Lock()
		clear(winners.of)
		winners.Unlock()
	}
	used := 0
	for _, r := range rooms {
		for _, kind := range []string{"stake", "bag", "seedling"} {
			forget()
			var remembered []*Drawing
			for i := range 60 { // the second half has names that the first half had
				remembered = append(remembered, draw(i, r, kind))
			}
			if len(winners.of) < 60 {
				used++
			}
			for i, d := range remembered {
				forget()
				if !reflect.DeepEqual(d, draw(i, r, kind)) {
					t.Errorf("%s %d in %.1f×%.1f mm differs from the one that a search gives", kind, i, r.W, r.H)
				}
			}
		}
	}
	if used == 0 {
		t.Error("nothing was remembered in any room")
	}
}

// What was drawn before changes nothing: these two pots have identifiers of
// equal width and length, but a Data Matrix packs digits in pairs, so the first
// needs a larger symbol.
func TestDrawnAloneAndAfterAnother(t *testing.T) {
	const j, jj = 9, 225 // of the letters without I and O
	first, then := ids.ID{Year: 2026, Cross: 7, Lot: jj, Pot: 1}, ids.ID{Year: 2026, Cross: 7, Lot: j, Pot: 11}
	draw := func(id ids.ID, room Room) (*Drawing, error) {
		return Stake{ID: id, Copy: 1, Seeds: 7, Sown: "2027-01-14", SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber"}.Fit(room)
	}
	forget := func() {
		winners.Lock()
		defer winners.Unlock()
		clear(winners.of)
	}
	drawn := 0
	for w := 24.0; w <= 60; w += 2 {
		for h := 12.0; h <= 30; h++ {
			room := Room{W: w, H: h, DPI: 300}
			forget()
			alone, errAlone := draw(then, room)
			forget()
			_, _ = draw(first, room)
			after, errAfter := draw(then, room)
			if errAlone == nil {
				drawn++
			}
			if (errAlone == nil) != (errAfter == nil) || errAlone == nil && !reflect.DeepEqual(alone.Codes, after.Codes) {
				t.Errorf("%v×%v mm: alone %v, after another %v", w, h, errAlone, errAfter)
			}
		}
	}
	if drawn == 0 {
		t.Error("no room holds the stake")
	}
}
