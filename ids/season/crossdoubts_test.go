package season

import (
	"fmt"
	"strings"
	"testing"

	"pipstake/ids/registry"
)

// What is doubtful of a cross. Pollen is refused by a style that holds its
// S-allele (gametophytic self-incompatibility, as in textbooks, from memory):
// where one of two alleles is shared, half of the pollen grows.
func TestCrossDoubts(t *testing.T) {
	const varieties = "Two Three,2 3,,,,2,S2 S3,,\nThree Two,,,,,,S3 S2,,\nTwo Five,,,,,,S2 S5,,\nSport,,,,Two Three,,,,\nOne Known,,,,,,S2,,\n" +
		"Triple,,,,,3,S2 S3 S9,,\nTriple Sport,,,,Triple,,,,\nSix,,,,Triple,6,,,\nOwn Two Five,,,,Two Three,,S2 S5 S3,,\nTriple Grandsport,,,,Triple Sport,,,,\nFour,,,,,4,,,\nRound,,,,Robin,,,,\nRobin,,,,Round,,,,\n"
	const rows = "id,seed_parent,pollen_parent,pollinated,flowers,state,notes,source\n2001X001,Ann,Cat,,,,,\n2001X002,Eve,Dan,,,void,,\n2001X003,Dan,mixture of Ann + Cat,,,,,\n2001X004,Bob,op,,,,,\n" +
		"2000X001,Anna Lena,Bob,,,,,\n2000X002,Two Five,One Known,,,,,\n2001X005,Gift,Bob,,,,,Nether Hollow"
	before := written(t, map[string]string{"crosses.csv": rows, "varieties.csv": varietiesHeader + varieties}).Names()
	for _, c := range []struct{ seed, pollen, want string }{
		{"Two Three", "Three Two", "SharedAlleles Three Two/Two Three S3+S2"},
		{"Two Three", "Two Five", ""},
		{"Two Five", "One Known", ""},
		{"Sport", "Three Two", "SharedAlleles Three Two/Sport S3+S2"},
		{"Triple", "Two Three", "TriploidSeed Triple; SharedAlleles Two Three/Triple S2+S3"},
		{"Two Three", "Triple", "TriploidPollen Triple"}, // S9 of its pollen would grow
		{"Bob", "Triple Sport", "TriploidPollen Triple Sport"},
		{"Bob", "Six", ""}, // its own ploidy counts
		{"Bob", "Round", ""},
		{"Bob", "mixture of Triple + Bob + Three Two", "TriploidPollen Triple; InMixture Bob"},
		{"Two Three", "mixture of 2 3 + Three Two", "InMixture Two Three; SharedAlleles Three Two/Two Three S3+S2"},
		{"Bob", "open", ""},
		{"unknown", "Triple", "TriploidPollen Triple"},
		{"Anna-Lena", "Bobb", "NearName Anna-Lena/Anna Lena"},
		{"Ann", "Cat", "SameCross 2001X001"},
		{"ANN", "cat", "NearName ANN/Ann; NearName cat/Cat; SameCross 2001X001"},
		{"Cat", "Ann", ""},
		{"Eve", "Dan", ""}, // that one is void
		{"Dan", "mixture of Cat + Ann", "SameCross 2001X003"},
		{"Bob", "op", "SameCross 2001X004"},
		{"Ann", "selfed", ""},
		{"Two Three", "selfed", "SharedAlleles Two Three/Two Three S2+S3"},
		{"Triple", "selfed", "TriploidSeed Triple; TriploidPollen Triple; SharedAlleles Triple/Triple S2+S3+S9"},
		{"Anna-Lena", "selfed", "NearName Anna-Lena/Anna Lena"}, // once
		{"Anna-Lena", "mixture of Anna-Lena + Bob", "NearName Anna-Lena/Anna Lena; InMixture Anna-Lena"},
		{"Anna Lena", "Bob", ""}, // made in another year
		{"Gift", "Bob", ""},      // that seed came from elsewhere
		{"Own Two Five", "Three Two", "SharedAlleles Three Two/Own Two Five S3+S2"},
		{"Two Three", "Own Two Five", ""}, // its own alleles count
		{"Four", "Triple Grandsport", "TriploidPollen Triple Grandsport"},
		{"Four", "Bob", ""},
	} {
		if c.pollen == "open" {
			c.seed = "Nobody"
		}
		row := fmt.Sprintf("\n2001X009,%s,%s,,,,,", c.seed, registry.ReadParent(c.pollen)) // the new one is registered by now
		r := written(t, map[string]string{"crosses.csv": rows + row, "varieties.csv": varietiesHeader + varieties})
		made := registry.Cross{SeedParent: c.seed, PollenParent: registry.ReadParent(c.pollen).String()}
		made.ID = r.Crosses()[0].ID
		made.ID.Cross = 9
		var got []string
		for _, d := range CrossDoubts(r, before, made) {
			name := [...]string{"NearName", "SameCross", "TriploidPollen", "TriploidSeed", "SharedAlleles", "InMixture"}[d.Kind]
			text := strings.TrimSuffix(fmt.Sprintf("%s %s/%s", name, d.Name, d.Of), "/")
			if d.Crosses != nil {
				text = fmt.Sprintf("%s %v", name, d.Crosses[0])
			}
			if d.Alleles != nil {
				text += " " + strings.Join(d.Alleles, "+")
			}
			got = append(got, text)
		}
		if strings.Join(got, "; ") != c.want {
			t.Errorf("%s × %s: %s, want %s", c.seed, c.pollen, strings.Join(got, "; "), c.want)
		}
	}
}
