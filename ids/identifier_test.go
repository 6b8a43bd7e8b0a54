package ids_test

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pipstake/ids"
)

func ExampleParse() {
	r, err := ids.Parse("2026x012b2.3")
	fmt.Println(r.ID, r.ID.Level(), r.Checked, err)
	// Output: 2026X012-B2 pot true <nil>
}

func TestWritten(t *testing.T) {
	for _, c := range []struct {
		id             ids.ID
		text, checked  string
		level          ids.Level
		word           string
		parent, lot    string
		ordinal        int
		childOfThisOne string
	}{
		{ids.ID{}, "", ".1", ids.NoLevel, "none", "", "", 0, ""},
		{ids.ID{Year: 2026, Cross: 12}, "2026X012", "2026X012.", ids.CrossLevel, "cross", "", "2026X012", 12, "2026X012-D"},
		{ids.ID{Year: 2026, Cross: 12, Lot: 2}, "2026X012-B", "2026X012-B.", ids.LotLevel, "seed lot", "2026X012", "2026X012-B", 2, "2026X012-B4"},
		{ids.ID{Year: 2026, Cross: 12, Lot: 2, Pot: 2}, "2026X012-B2", "2026X012-B2.3", ids.PotLevel, "pot", "2026X012-B", "2026X012-B", 2, "2026X012-B2-D"},
		{ids.ID{Year: 2026, Cross: 12, Lot: 2, Pot: 2, Seedling: 3}, "2026X012-B2-C", "2026X012-B2-C.", ids.SeedlingLevel, "seedling", "2026X012-B2", "2026X012-B", 3, ""},
	} {
		parent, hasParent := c.id.Parent()
		if got := c.id.String(); got != c.text {
			t.Errorf("String() = %q, want %q", got, c.text)
		}
		if c.id.Level() != c.level || c.id.Level().String() != c.word || c.id.Ordinal() != c.ordinal {
			t.Errorf("%s: level %d %q, ordinal %d", c.text, c.id.Level(), c.id.Level(), c.id.Ordinal())
		}
		if parent.String() != c.parent || hasParent != (c.parent != "") {
			t.Errorf("%s: parent %q, %v", c.text, parent, hasParent)
		}
		if got := c.id.At(ids.LotLevel).String(); got != c.lot {
			t.Errorf("%s: At(LotLevel) = %q, want %q", c.text, got, c.lot)
		}
		if c.level != ids.NoLevel {
			if got := c.id.Child(4).String(); got != c.childOfThisOne {
				t.Errorf("%s: Child(4) = %q, want %q", c.text, got, c.childOfThisOne)
			}
			if got := c.id.WithCheck(); !strings.HasPrefix(got, c.checked) || got != c.text+"."+string(ids.CheckCharacter(strings.ReplaceAll(c.text, "-", ""))) {
				t.Errorf("WithCheck() = %q, want %q", got, c.checked)
			}
		}
	}
}

func TestLetters(t *testing.T) {
	for n, want := range map[int]string{-1: "", 0: "", 1: "A", 8: "H", 9: "J", 13: "N", 14: "P", 24: "Z", 25: "AA", 26: "AB", 48: "AZ", 49: "BA", 600: "ZZ", 601: "AAA"} {
		if got := ids.Letters(n); got != want {
			t.Errorf("Letters(%d) = %q, want %q", n, got, want)
		}
	}
	seen := map[string]int{}
	for n := 1; n <= ids.MaxLot; n++ {
		s := ids.Letters(n)
		if seen[s] != 0 || strings.ContainsAny(s, "IO") {
			t.Errorf("Letters(%d) = %q, as for %d", n, s, seen[s])
		}
		seen[s] = n
	}
}

func TestCompareOrdersTheTree(t *testing.T) {
	want := []string{"2025X999-ZZ9", "2026X012", "2026X012-B", "2026X012-B2", "2026X012-B2-C", "2026X012-B10", "2026X012-Z", "2026X012-AA", "2026X036", "2026X1000"}
	var got []ids.ID
	for _, s := range want {
		r, err := ids.Parse(s)
		if err != nil {
			t.Fatal(err)
		}
		got = append([]ids.ID{r.ID}, got...)
	}
	slices.SortFunc(got, ids.Compare)
	for i, id := range got {
		if id.String() != want[i] {
			t.Errorf("place %d: %s, want %s", i, id, want[i])
		}
		if ids.Compare(id, id) != 0 {
			t.Errorf("%s is not equal to itself", id)
		}
	}
	if !got[4].Within(got[1]) || !got[4].Within(got[4]) || got[1].Within(got[4]) || got[8].Within(got[1]) {
		t.Error("Within does not follow the tree")
	}
}

func TestNext(t *testing.T) {
	id := func(s string) ids.ID {
		r, err := ids.Parse(s)
		if err != nil {
			t.Fatal(err)
		}
		return r.ID
	}
	for _, c := range []struct{ parent, issued, want string }{
		{"2026", "", "2026X001"},
		{"2026", "2026X001 2026X003", "2026X004"},
		{"2026", "2026X001 2027X009", "2026X002"},
		{"2026", "2026X001 2026X011-B2-C", "2026X012"},
		{"2026", "2026X99998", "2026X99999"},
		{"2026X012", "", "2026X012-A"},
		{"2026X012", "2026X012 2026X012-H 2026X013-M", "2026X012-J"},
		{"2026X012", "2026X012-Z9", "2026X012-AA"},
		{"2026X012-B", "2026X012-A7 2026X012-B", "2026X012-B1"},
		{"2026X012-B", "2026X012-B9 2026X012-B2", "2026X012-B10"},
		{"2026X012-B2", "2026X012-B2-A 2026X012-B", "2026X012-B2-B"},
	} {
		var issued []ids.ID
		for _, s := range strings.Fields(c.issued) {
			issued = append(issued, id(s))
		}
		var got ids.ID
		var err error
		if c.parent == "2026" {
			got, err = ids.NextCross(2026, issued)
		} else {
			got, err = ids.NextChild(id(c.parent), issued)
		}
		if err != nil || got.String() != c.want {
			t.Errorf("after %s: %s, %v; want %s", c.issued, got, err, c.want)
		}
	}
}

func TestNumbersRunOut(t *testing.T) {
	full := func(id ids.ID) []ids.ID { return []ids.ID{id} }
	for want, next := range map[string]func() (ids.ID, error){
		"2026: number 99999 was the last cross there can be": func() (ids.ID, error) {
			return ids.NextCross(2026, full(ids.ID{Year: 2026, Cross: 99999}))
		},
		"2026X012: number 600 was the last seed lot there can be": func() (ids.ID, error) {
			return ids.NextChild(ids.ID{Year: 2026, Cross: 12}, full(ids.ID{Year: 2026, Cross: 12, Lot: 600, Pot: 1}))
		},
		"2026X012-B: number 9999 was the last pot there can be": func() (ids.ID, error) {
			return ids.NextChild(ids.ID{Year: 2026, Cross: 12, Lot: 2}, full(ids.ID{Year: 2026, Cross: 12, Lot: 2, Pot: 9999}))
		},
		`"2026X012-B2-C" can hold no seedling`: func() (ids.ID, error) {
			return ids.NextChild(ids.ID{Year: 2026, Cross: 12, Lot: 2, Pot: 2, Seedling: 3}, nil)
		},
		`"" can hold no cross`:   func() (ids.ID, error) { return ids.NextChild(ids.ID{}, nil) },
		`"26" can hold no cross`: func() (ids.ID, error) { return ids.NextCross(26, nil) },
	} {
		if id, err := next(); err == nil || err.Error() != want || id != (ids.ID{}) {
			t.Errorf("%v, %v\nwant %s", id, err, want)
		}
	}
}

// The keys are in the order of Compare, and span what Within does.
func TestSpan(t *testing.T) {
	random := rand.New(rand.NewPCG(2026, 35))
	pick := func(most int) int { // both ends come up often
		return []int{1, most, most - 1, 1 + random.IntN(most)}[random.IntN(4)]
	}
	some := func() ids.ID {
		id := ids.ID{[]int{1000, 9999, 2026, 2027}[random.IntN(4)], pick(ids.MaxCross), pick(ids.MaxLot), pick(ids.MaxPot), pick(ids.MaxSeedling)}
		return id.At(ids.Level(random.IntN(5)))
	}
	for range 200_000 {
		a, b := some(), some()
		from, end := a.Span()
		key, _ := b.Span()
		if got, want := cmp.Compare(from, key), ids.Compare(a, b); got != want {
			t.Fatalf("%+v and %+v: the keys compare as %d, want %d", a, b, got, want)
		}
		if got, want := from <= key && key < end, b.Within(a); got != want {
			t.Fatalf("%+v spans %+v: %v, want %v", a, b, got, want)
		}
	}
	for _, id := range []ids.ID{{Year: -1}, {Year: 2026, Cross: ids.MaxCross + 1}, {Year: 2026, Cross: 1, Lot: ids.MaxLot + 1}, {2026, 1, 1, ids.MaxPot + 1, 1}, {2026, 1, 1, 1, ids.MaxSeedling + 1},
		{Year: 10000}, {2026, -1, 0, 0, 0}, {2026, 1, -1, 0, 0}, {2026, 1, 1, -1, 0}, {2026, 1, 1, 1, -1}} {
		if from, end := id.Span(); from != end {
			t.Errorf("%+v spans %d to %d", id, from, end)
		}
	}
}
