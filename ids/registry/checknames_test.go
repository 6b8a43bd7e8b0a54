package registry

import (
	"slices"
	"testing"
)

// A name that is a slip away from one of more crosses is one finding, where it
// stands first; a row in varieties.csv says that it is meant so.
func TestCheckNamesThatSlipped(t *testing.T) {
	const (
		crosses = "id,seed_parent,pollen_parent,pollinated,flowers,state,notes\r\n" +
			"2026X001,Larkfield Tessel,Tarn Amber,,,,\r\n2026X002,Larkfeild Tessel,Gwennol Goch,,,,\r\n" +
			"2026X003,Tarn Amber,Larkfeild Tessel,,,,\r\n2026X004,Larkfield Tessel,Gwennol Goch,,,,\r\n" +
			"2026X005,Larkfield Tessel,Otterhay Lade,,,,\r\n"
		remedy = `where they are one, the right name last: {one variety: "Larkfeild Tessel" "Larkfield Tessel"}; where they are two: {a variety: "Larkfeild Tessel"}`
	)
	for _, c := range []struct {
		name, crosses, varieties string
		want                     []string
	}{
		{"a slip in two crosses", crosses, "",
			[]string{`crosses.csv row 3, column seed_parent: "Larkfeild Tessel" stands in 2 crosses, and is nearly "Larkfield Tessel"; ` + remedy}},
		{"the right one is on record", crosses, "name,notes\r\nLarkfield Tessel,\r\n",
			[]string{`crosses.csv row 3, column seed_parent: "Larkfeild Tessel" stands in 2 crosses, and is nearly "Larkfield Tessel"; ` + remedy}},
		{"two on purpose", crosses, "name,notes\r\nLarkfeild Tessel,\r\n", nil},
		{"in a mixture", "id,seed_parent,pollen_parent,pollinated,flowers,state,notes\r\n2026X001,Gwennol Goch,Tarn Amber,,,,\r\n" +
			"2026X002,Gwennol Goch,mixture of Tarn Ambre + Otterhay Lade,,,,\r\n", "",
			[]string{`crosses.csv row 3, column pollen_parent: "mixture of Tarn Ambre + Otterhay Lade" is nearly "Tarn Amber"; where they are one, the right name last: {one variety: "Tarn Ambre" "Tarn Amber"}; where they are two: {a variety: "Tarn Ambre"}`}},
		{"the two parents of one cross", "id,seed_parent,pollen_parent,pollinated,flowers,state,notes\r\n2026X001,Tarn Amber,Tarn Ambre,,,,\r\n", "", nil},
		{"numbered sisters", "id,seed_parent,pollen_parent,pollinated,flowers,state,notes\r\n2026X001,Tarn 12,Tarn 13,,,,\r\n2026X002,Tarn I,Tarn II,,,,\r\n", "", nil},
	} {
		files := map[string]string{"crosses.csv": c.crosses}
		if c.varieties != "" {
			files["varieties.csv"] = c.varieties
		}
		r, err := Open(newRegistry(t, files))
		if err != nil {
			t.Fatal(err)
		}
		var found []string
		for _, f := range r.Check() {
			found = append(found, f.String())
		}
		if !slices.Equal(found, c.want) {
			t.Errorf("%s:\n%q\nwant\n%q", c.name, found, c.want)
		}
	}
}
