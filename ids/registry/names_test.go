package registry

import "testing"

// Pairs of names that must be noticed as nearly alike, and pairs that must not.
// All are invented; what may be mistaken for what is common practice.
var (
	nearlyAlike = [][2]string{
		// case and spaces
		{"Tarn Amber", "tarn amber"}, {"Tarn Amber", "TARN AMBER"}, {"Tarn Amber", "Tarn  Amber"}, {"Tarn Amber", "TarnAmber"}, {"Larkfield Tessel", "Lark Field Tessel"},
		// accents, as far as keyboards go
		{"Härmä Punanen", "Harma Punanen"}, {"Härmä Punanen", "Haermae Punanen"}, {"Mørkeby Vindal", "Morkeby Vindal"}, {"Mørkeby Vindal", "Moerkeby Vindal"},
		{"Błota Struga", "Blota Struga"}, {"Åsby Lade", "Asby Lade"}, {"Åsby Lade", "Aasby Lade"}, {"Rüdelsen", "Ruedelsen"}, {"Großholm", "Grossholm"}, {"Ha\u0308rma\u0308", "Härmä"},
		// apostrophes, hyphens, full stops
		{"Orlie d'Ancelle", "Orlie d’Ancelle"}, {"Orlie d'Ancelle", "Orlie dAncelle"}, {"Orlie d'Ancelle", "Orlie d`Ancelle"}, {"Otterhay Lade", "Otterhay-Lade"},
		{"Otterhay-Lade", "Otterhay–Lade"}, {"St. Orlie", "St Orlie"}, {"Fennimore's Clasp", "Fennimores Clasp"},
		// one slip: a letter too few, too many, wrong, changed with its neighbour
		{"Larkfield Tessel", "Larkfield Tesel"}, {"Larkfield Tessel", "Larkfield Tessell"}, {"Larkfield Tessel", "Larkfield Tassel"}, {"Larkfield Tessel", "Larkfeild Tessel"},
		{"Quillan Overmoor", "Quilan Overmoor"}, {"Gwennol Goch", "Gwenol Goch"}, {"Gwennol Goch", "Gwennol Gohc"}, {"Fennimore Clasp", "Fenimore Clasp"}, {"Selby", "Selbi"},
		{"Tarn Amber", "Tarn Amber?"}, {"Tarn Amber", "Tarn Ambre"}, {"Vindal", "Vindall"},
	}
	notAlike = [][2]string{
		{"Tarn Amber", "Tarn Amber"}, {"Tarn Amber", "Tarn Brusket"}, {"Tarn Amber", "Larkfield Amber"}, {"Tarn Amber", "Tarn"}, {"Tarn Amber", "Red Tarn Amber"},
		{"Tarn Amber", "Tarn Amber Early"}, {"Larkfield Tessel", "Larkfield Lade"},
		// numbers, letters and numerals tell sisters apart
		{"Tarn 12", "Tarn 13"}, {"Tarn 1", "Tarn 11"}, {"Tarn I", "Tarn II"}, {"Tarn II", "Tarn III"}, {"Tarn IV", "Tarn VI"}, {"Tarn A", "Tarn B"}, {"Tarn", "Tarn A"},
		{"R 14-3", "R 14-4"}, {"R 14-3", "R 1-43"}, {"Seedling 7", "Seedling 17"}, {"Overmoor 2", "Overmoor"},
		// short names differ by a letter and are others
		{"Ann", "Anne"}, {"Ann", "Dan"}, {"Bob", "Rob"}, {"Lade", "Wade"}, {"Cat", "Act"},
		// two slips
		{"Larkfield Tessel", "Larkfeild Tesel"}, {"Gwennol Goch", "Gwenal Goch"}, {"Vindal", "Vandel"},
		// sisters and colours
		{"Gwennol Goch", "Gwennol Gwyn"}, {"Otterhay Lade", "Otterhay Lass"}, {"Red Vindal", "Gold Vindal"}, {"Early Clasp", "Late Clasp"}, {"Sallow", "Mallowby"},
		{"", "Tarn Amber"}, {"'", "-"},
	}
)

func TestNearlyAlike(t *testing.T) {
	if n := len(nearlyAlike) + len(notAlike); n < 60 || len(nearlyAlike) < 30 || len(notAlike) < 30 {
		t.Errorf("%d pairs are too few", n)
	}
	for want, pairs := range map[bool][][2]string{true: nearlyAlike, false: notAlike} {
		for _, p := range pairs {
			if NearlyAlike(p[0], p[1]) != want || NearlyAlike(p[1], p[0]) != want {
				t.Errorf("%q and %q: %v and %v, want %v", p[0], p[1], NearlyAlike(p[0], p[1]), NearlyAlike(p[1], p[0]), want)
			}
		}
	}
}

// The name with the most crosses is the one that was meant; a name that is
// known letter by letter is asked about no more.
func TestNear(t *testing.T) {
	dir := newRegistry(t, map[string]string{
		"crosses.csv": "id,seed_parent,pollen_parent,pollinated,flowers,state,notes\n" +
			"2026X001,Larkfield Tessel,Tarn Amber,,,,\n2026X002,Larkfeld Tessel,open,,,,\n2026X003,Tarn Amber,mixture of Larkfield Tessel + 2020X001-A1-A,,,,\n2026X004,Tarn Ambre,op,,,void,\n",
		"varieties.csv": "name,also\nOtterhay Lade,\"Lady of Otterhay; Otterhay L.\"\n",
	})
	n := mustOpen(t, dir).Names()
	for name, want := range map[string]struct {
		name string
		how  Nearness
	}{
		"Larkfild Tessel":  {"Larkfield Tessel", Alike},
		"larkfield tessel": {"Larkfield Tessel", Alike},
		"Larkfeld Tessel":  {"Larkfeld Tessel", NotNear},
		"Tarn Amber":       {"Tarn Amber", NotNear},
		"Tarn Ambre":       {"Tarn Amber", Alike}, // the cross is void, so its name is not known
		"lady of otterhay": {"Otterhay Lade", OtherSpelled},
		"Gwennol Goch":     {"", NotNear},
		"2020X001-A1-A":    {"", NotNear},
		"open":             {"", NotNear},
	} {
		if got, how := n.Near(name); got.Name != want.name || how != want.how {
			t.Errorf("%q is near %q (%v), want %q (%v)", name, got.Name, how, want.name, want.how)
		}
	}
	known, _ := n.Known("LARKFIELD  TESSEL")
	if len(known.Seed) != 1 || len(known.Pollen) != 1 {
		t.Errorf("Larkfield Tessel is in %v and %v", known.Seed, known.Pollen)
	}
	var all []string
	for _, k := range n.All() {
		all = append(all, k.Name)
	}
	if got := len(all); got != 4 || all[0] != "Larkfeld Tessel" || all[3] != "Tarn Amber" {
		t.Errorf("the names are %q", all)
	}
}
