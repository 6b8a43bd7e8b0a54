package reading

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// take judges a walk; each line of seen is a source and a code.
func take(t *testing.T, r *registry.Registry, s Stocktake, seen ...string) *Stocktake {
	t.Helper()
	s.Today = day(t, "2027-03-01")
	s.Expect(r)
	for i, line := range seen {
		source, text, _ := strings.Cut(line, " ")
		s.See(Sighting{Code: code(t, text), Source: source, Where: fmt.Sprint(i + 1), Photo: strings.HasSuffix(source, ".png")})
	}
	s.Judge(r)
	return &s
}

func findingsOf(s *Stocktake) string {
	var said []string
	for _, f := range s.Findings {
		said = append(said, fmt.Sprintf("%s %s", f.Kind, f.Key))
	}
	return strings.Join(said, "; ")
}

// both are the codes of a pot's two stakes on a log.
func both(pot string) []string { return []string{"log " + pot + "/1", "log " + pot + "/2"} }

func TestStocktake(t *testing.T) {
	all := slices.Concat(both("2026X001-A1.X"), both("2026X001-A2.V"), both("2026X001-A3.T"))
	lost := func(r *registry.Registry) error {
		_, err := r.End(registry.Ending{ID: id(t, "2026X001-A3"), How: registry.Lost, On: day(t, "2027-02-01")})
		return err
	}
	untouched := orchard(t)
	for _, c := range []struct {
		name string
		done func(*registry.Registry) error
		take Stocktake
		seen []string
		want string
	}{
		{"all there", nil, Stocktake{}, all, ""},
		{"nothing seen finds nothing", nil, Stocktake{}, nil, ""},
		{"a pot not seen", nil, Stocktake{}, all[:4], "pot_not_seen 2026X001-A3"},
		{"which may be among the unread", nil, Stocktake{Unclear: map[string]bool{"log": true}}, all[:4], "pot_not_read 2026X001-A3"},
		{"a stake lost", nil, Stocktake{}, all[:5], "stake_lost 2026X001-A3, copy 2"},
		{"no pair seen: one side was walked along", nil, Stocktake{}, []string{all[0], all[2], all[4]}, ""},
		{"a stake that may be among the unread", nil, Stocktake{Unclear: map[string]bool{"log": true}}, all[:5], "stake_not_read 2026X001-A3, copy 2"},
		{"another pot's code in between", nil, Stocktake{}, slices.Concat(all, all[:1]), "seen_twice 2026X001-A1, copy 1"},
		{"a scanner reads one code twice at once", nil, Stocktake{}, slices.Concat(all[:1], all), ""},
		{"two sources may show one pot", nil, Stocktake{}, slices.Concat(all, []string{"other 2026X001-A1.X/1"}), ""},
		{"two stakes with a text on one picture", nil, Stocktake{}, slices.Concat(all, []string{"a.png 2026X001-A1.X/1" + seven, "a.png 2026X001-A1.X/1" + seven}), "seen_twice 2026X001-A1, copy 1"},
		{"one stake has a code with text and a compact one", nil, Stocktake{}, slices.Concat(all, []string{"a.png 2026X001-A1.X/1", "a.png 2026X001-A1.X/1" + seven}), ""},
		{"unknown", nil, Stocktake{}, slices.Concat(all, []string{"log 2026X009-A1.6"}), "unknown 2026X009-A1"},
		{"ended", lost, Stocktake{}, all, "ended 2026X001-A3"},
		{"void", func(r *registry.Registry) error { return r.Void(id(t, "2026X001-A3"), "slip") }, Stocktake{}, all, "void 2026X001-A3"},
		{"only of another cross", nil, Stocktake{Of: []ids.ID{{Year: 2027, Cross: 1}}}, all, ""},
		{"another place", func(r *registry.Registry) error {
			_, err := r.Move(id(t, "2026X001-A3"), "bench", day(t, "2027-02-01"))
			return err
		}, Stocktake{Place: "Frame 2"}, all, "other_place 2026X001-A3"},
		{"a label that says otherwise", nil, Stocktake{}, slices.Concat(all, []string{"new 2026X001-A1.X/1 9 SOWN LARKFIELD TESSEL X TARN AMBER"}), "stale_label 2026X001-A1, copy 1"},
	} {
		r := untouched
		if c.done != nil {
			r = orchard(t, c.done)
		}
		if got := findingsOf(take(t, r, c.take, c.seen...)); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
