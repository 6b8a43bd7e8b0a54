package main

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strings"
	"testing"

	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/layout/plot"
)

// demoGermination is the germination of the demo.
func demoGermination(t *testing.T) *germinationAnswer {
	t.Helper()
	r, err := registry.Open(demoRegistry(t))
	if err != nil {
		t.Fatal(err)
	}
	a := &germinationAnswer{r: r, by: "cross", practice: season.Practice{Protocol: season.CommonPractice()}}
	a.Outcome = season.Germinate(r, a.practice, season.ByCross, season.Scope{On: demoDay("2026-05-01")})
	return a
}

func plotOf(t *testing.T, a *germinationAnswer, name string) []byte {
	t.Helper()
	e, _, _ := testEnv(t)
	data, err := e.germinationPlot(a, target{path: "/" + name, shown: name})
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// plotTexts are the texts of an SVG.
func plotTexts(t *testing.T, svg []byte) map[string]int {
	t.Helper()
	texts := map[string]int{}
	d := xml.NewDecoder(bytes.NewReader(svg))
	for {
		token, err := d.Token()
		if err == io.EOF {
			return texts
		}
		if err != nil {
			t.Fatal(err)
		}
		start, ok := token.(xml.StartElement)
		if !ok || start.Name.Local != "text" {
			continue
		}
		var text string
		if err := d.DecodeElement(&text, &start); err != nil {
			t.Fatal(err)
		}
		texts[text]++
	}
}

// Both parts have their axes with units, every group by name, and the counts
// that it rests on.
func TestPlotSaysWhatItShows(t *testing.T) {
	a := demoGermination(t)
	texts := plotTexts(t, plotOf(t, a, "season.svg"))
	for _, want := range []string{
		"Seedlings up, in percent of the seeds sown", "days from sowing", "up (% of seeds sown)",
		"Germination with 95 % intervals (Wilson)", "germination (% of seeds sown); dashed: what is expected",
	} {
		if texts[want] != 1 {
			t.Errorf("%q stands there %d times", want, texts[want])
		}
	}
	for _, tick := range []string{"20", "40", "60", "80", "100"} {
		if texts[tick] != 2 {
			t.Errorf("the mark %s stands there %d times, want one on each axis of percent", tick, texts[tick])
		}
	}
	for _, day := range []string{"7", "14", "35", "49"} {
		if texts[day] != 1 {
			t.Errorf("day %s stands there %d times", day, texts[day])
		}
	}
	if len(a.Groups) != 12 {
		t.Fatalf("%d groups", len(a.Groups))
	}
	counts := map[string]int{}
	for _, g := range a.Groups {
		counts[fmt.Sprintf("%d of %d", g.Up, g.Sown)]++
		if texts[g.Name] != 1 || texts[a.label(g)] != 1 {
			t.Errorf("%s: at its curve %d times, at its row %d times", g.Name, texts[g.Name], texts[a.label(g)])
		}
	}
	for count, n := range counts {
		if texts[count] != n {
			t.Errorf("%q stands there %d times, want %d", count, texts[count], n)
		}
	}
}

// What is below is the only thing drawn in red, in all three places: curve,
// name and row.
func TestPlotMarksWhatIsBelow(t *testing.T) {
	a := demoGermination(t)
	for _, g := range a.chart().Groups {
		if low := g.Name == "2025X003" || g.Name == "2025X012"; g.Below != low {
			t.Errorf("%s: below %v", g.Name, g.Below)
		}
	}
	svg := string(plotOf(t, a, "season.svg"))
	if !strings.Contains(svg, "#C43C00") {
		t.Error("nothing is red")
	}
	a.Groups = a.Groups[:2]
	if strings.Contains(string(plotOf(t, a, "season.svg")), "#C43C00") {
		t.Error("something is red where nothing is below")
	}
}

func TestTooManyCurves(t *testing.T) {
	a := demoGermination(t)
	for len(a.Groups) <= plot.MostGroups {
		a.Groups = append(a.Groups, a.Groups[0])
	}
	e, _, _ := testEnv(t)
	if _, err := e.germinationPlot(a, target{path: "/p.svg", shown: "p.svg"}); statusOf(err) != wrongUsage {
		t.Errorf("%v", err)
	}
}
