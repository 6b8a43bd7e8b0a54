package main

import (
	"bytes"
	"encoding/xml"
	"image/color"
	"image/png"
	"io"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"pipstake/ids/registry"
	"pipstake/ids/season"
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
		counts[intervalRows{}.count(plotted{Group: g})]++
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
	for _, p := range a.plotted() {
		low := p.Name == "2025X003" || p.Name == "2025X012"
		if p.below != low || (p.tint == plotAlarm) != low {
			t.Errorf("%s: below %v, colour %v", p.Name, p.below, p.tint)
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

func TestPlotForms(t *testing.T) {
	a := demoGermination(t)
	img, err := png.Decode(bytes.NewReader(plotOf(t, a, "season.png")))
	if err != nil {
		t.Fatal(err)
	}
	if got := img.Bounds().Dx(); got < 1335 || got > 1342 { // 17 cm at 200 dpi
		t.Errorf("the picture is %d pixels wide", got)
	}
	for _, name := range []string{"season.png", "season.svg", "season.pdf"} {
		if !bytes.Equal(plotOf(t, a, name), plotOf(t, a, name)) {
			t.Errorf("%s: the same plot gives other bytes", name)
		}
	}
	pdf := plotOf(t, a, "season.pdf")
	if !bytes.Contains(pdf, []byte("D:20270301120000")) {
		t.Error("the PDF is not of the day of the clock")
	}
	if got := poppler(t, pdf, "pdfinfo", "-"); !strings.Contains(got, "Pages:           1\n") || !strings.Contains(got, "Page size:       481.89 x ") { // 17 cm in points
		t.Errorf("pdfinfo: %s", got)
	}
}

// poppler runs one of poppler's programs on a PDF and gives what it says.
func poppler(t *testing.T, pdf []byte, name string, args ...string) string {
	t.Helper()
	cmd := exec.Command(program(t, name), args...)
	cmd.Stdin = bytes.NewReader(pdf)
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return string(out)
}

// The letters that a PDF shows as shapes lie where the PNG has them.
func TestPlotLooksTheSameAsPDF(t *testing.T) {
	a := demoGermination(t)
	page, err := png.Decode(strings.NewReader(poppler(t, plotOf(t, a, "season.pdf"), "pdftoppm", "-r", strconv.Itoa(plotDPI), "-png", "-singlefile", "-")))
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(plotOf(t, a, "season.png")))
	if err != nil {
		t.Fatal(err)
	}
	differ, ink := 0, 0
	bounds := page.Bounds().Intersect(img.Bounds())
	for y := bounds.Min.Y; y < bounds.Max.Y; y++ {
		for x := bounds.Min.X; x < bounds.Max.X; x++ {
			drawn := int(color.GrayModel.Convert(img.At(x, y)).(color.Gray).Y)
			if drawn < 200 {
				ink++
			}
			if d := drawn - int(color.GrayModel.Convert(page.At(x, y)).(color.Gray).Y); d > 128 || d < -128 {
				differ++
			}
		}
	}
	if ink < 10_000 || differ > ink/20 {
		t.Errorf("%d of %d dark pixels differ", differ, ink)
	}
}

func TestTooManyCurves(t *testing.T) {
	a := demoGermination(t)
	for len(a.Groups) <= mostPlotted {
		a.Groups = append(a.Groups, a.Groups[0])
	}
	e, _, _ := testEnv(t)
	if _, err := e.germinationPlot(a, target{path: "/p.svg", shown: "p.svg"}); statusOf(err) != wrongUsage {
		t.Errorf("%v", err)
	}
	a.Groups = a.Groups[:1]
	a.Groups[0].Curve = []season.Point{{Day: 0, Up: 0}} // counted on the day of sowing only
	plotOf(t, a, "p.svg")
}

func TestDayTicks(t *testing.T) {
	for _, c := range []struct {
		last float64
		want string
	}{{1, "0 1"}, {10, "0 1 2 3 4 5 6 7 8 9 10"}, {21, "0 7 14 21"}, {52, "0 7 14 21 28 35 42 49"}, {100, "0 14 28 42 56 70 84 98"}} {
		var got []string
		for _, tick := range dayTicks(c.last) {
			got = append(got, tick.Label)
		}
		if s := strings.Join(got, " "); s != c.want {
			t.Errorf("%v days: %s, want %s", c.last, s, c.want)
		}
	}
}

// A name beside the end of a curve never touches another.
func TestNamesAtTheEndsStayApart(t *testing.T) {
	a := demoGermination(t)
	for i := range a.Groups {
		a.Groups[i].Sown, a.Groups[i].Up = 10, 10 // all end in one place
		a.Groups[i].Over = season.Counted{Pots: 1, Sown: 10, Up: 10}
		a.Groups[i].Curve = []season.Point{{}, {Day: 30, Up: 10}}
	}
	e, _, _ := testEnv(t)
	data, err := e.germinationPlot(a, target{path: "/p.svg", shown: "p.svg"})
	if err != nil {
		t.Fatal(err)
	}
	rows := map[string]bool{}
	d := xml.NewDecoder(bytes.NewReader(data))
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		start, ok := token.(xml.StartElement)
		if !ok || start.Name.Local != "text" {
			continue
		}
		var text, y string
		for _, attr := range start.Attr {
			if attr.Name.Local == "y" {
				y = attr.Value
			}
		}
		if err := d.DecodeElement(&text, &start); err != nil {
			t.Fatal(err)
		}
		if strings.HasPrefix(text, "2025X") && !strings.Contains(text, " ") {
			if rows[y] {
				t.Errorf("%s shares its line with another", text)
			}
			rows[y] = true
		}
	}
	if len(rows) != len(a.Groups) {
		t.Errorf("%d names of %d", len(rows), len(a.Groups))
	}
}
