package plot

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"pipstake/ids/registry"
	"pipstake/ids/season"
)

// Every stage and group is named with the counts that it rests on; what is not
// known is a dash.
func TestYieldSaysWhatItShows(t *testing.T) {
	share := func(label string, n, of int) Share {
		return Share{label, season.Part{N: n, Of: of}, season.Wilson.Interval(n, of)}
	}
	y := Yield{
		Stages: []Stage{{"flowers", registry.Known(40)}, {"fruit", registry.Known(25)}, {"seeds", registry.Count{}}, {"selected", registry.Known(0)}},
		Set:    []Share{share("2026X001", 20, 30), share("2026X002", 5, 10)},
		Up:     []Share{share("2026X001", 0, 0), share("2026X002", 33, 41)},
	}
	created := time.Date(2027, time.March, 1, 12, 0, 0, 0, time.UTC)
	svg, err := y.Draw("svg", created)
	if err != nil {
		t.Fatal(err)
	}
	for text, times := range map[string]int{">From flower to tree<": 1, ">flowers<": 1, ">40<": 3, ">25<": 1, ">0<": 3, ">—<": 2, ">2026X001<": 2,
		">20 of 30<": 1, ">5 of 10<": 1, ">33 of 41<": 1, ">fruit (% of flowers pollinated)<": 1} {
		if got := strings.Count(string(svg), text); got != times {
			t.Errorf("%s stands there %d times, want %d", text, got, times)
		}
	}
	for _, form := range []string{"png", "svg", "pdf"} {
		one, err := y.Draw(form, created)
		other, _ := y.Draw(form, created)
		if err != nil || len(one) < 1000 || !bytes.Equal(one, other) {
			t.Errorf("%s: %v, %d and %d bytes", form, err, len(one), len(other))
		}
	}
}
