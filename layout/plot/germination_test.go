package plot

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image/color"
	"image/png"
	"io"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"time"

	"pipstake/ids/season"
	"pipstake/layout/proof/outside"
)

// chart is a chart of twelve groups of invented counts, of which two lie below
// what was expected.
func chart() Germination {
	c := Germination{Method: "Wilson"}
	for i := range 12 {
		name := fmt.Sprintf("2025X%03d", i+1)
		g := season.Group{Name: name, Sown: 40 + i, Up: 30 + i, Expected: 0.8, Curve: []season.Point{{}, {Day: 35, Up: 10}, {Day: float64(43 + i), Up: float64(30 + i)}}}
		if i%6 == 2 {
			g.Up, g.Curve = 12, []season.Point{{}, {Day: 43, Up: 12}}
		}
		c.Groups = append(c.Groups, Group{Group: g, Interval: season.Wilson.Interval(g.Up, g.Sown), Below: i%6 == 2, Label: name + "  ♀ Błota Struga × ♂ Tarn Amber"})
	}
	return c
}

func drawnAs(t *testing.T, c Germination, form string) []byte {
	t.Helper()
	data, err := c.Draw(form, time.Date(2027, time.March, 1, 12, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// The curve, the name and the row of what is below are red, and nothing else.
func TestOnlyWhatIsBelowIsRed(t *testing.T) {
	c := chart()
	if n := strings.Count(string(drawnAs(t, c, "svg")), "#C43C00"); n < 6 {
		t.Errorf("red stands there %d times, want it in three places of two groups", n)
	}
	c.Groups = c.Groups[:2]
	if strings.Contains(string(drawnAs(t, c, "svg")), "#C43C00") {
		t.Error("something is red where nothing is below")
	}
}

// A group that was counted on the day of sowing only has a curve of one point.
func TestCurveOfOnePoint(t *testing.T) {
	c := chart()
	c.Groups = c.Groups[:1]
	c.Groups[0].Curve = []season.Point{{}}
	if len(drawnAs(t, c, "svg")) == 0 {
		t.Error("nothing is drawn")
	}
}

func TestPlotForms(t *testing.T) {
	c := chart()
	img, err := png.Decode(bytes.NewReader(drawnAs(t, c, "png")))
	if err != nil {
		t.Fatal(err)
	}
	if got := img.Bounds().Dx(); got < 1335 || got > 1342 { // 17 cm at 200 dpi
		t.Errorf("the picture is %d pixels wide", got)
	}
	for _, form := range []string{"png", "svg", "pdf"} {
		if !bytes.Equal(drawnAs(t, c, form), drawnAs(t, c, form)) {
			t.Errorf("%s: the same chart gives other bytes", form)
		}
	}
	pdf := drawnAs(t, c, "pdf")
	if !bytes.Contains(pdf, []byte("D:20270301120000")) {
		t.Error("the PDF is not of the day of the clock")
	}
	if got := poppler(t, pdf, "pdfinfo", "-"); !strings.Contains(got, "Pages:           1\n") || !strings.Contains(got, "Page size:       481.89 x ") { // 17 cm in points
		t.Errorf("pdfinfo: %s", got)
	}
}

// poppler runs one of poppler's programs on a PDF and returns what it says.
func poppler(t *testing.T, pdf []byte, name string, args ...string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	switch {
	case err != nil && os.Getenv("CI") == "true":
		t.Fatalf("%s is not installed", name)
	case err != nil:
		t.Skipf("%s is not installed", name)
	}
	cmd := outside.Command(path, args...)
	cmd.Stdin = bytes.NewReader(pdf)
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return string(out)
}

// What the PDF shows lies where the PNG has it. Poppler sets letters on whole
// pixels, so it paints finer ones, of which the means are compared.
func TestPlotLooksTheSameAsPDF(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	const finer = 3
	c := chart()
	page, err := outside.ReadGray([]byte(poppler(t, drawnAs(t, c, "pdf"), "pdftoppm", "-gray", "-r", strconv.Itoa(finer*dpi), "-singlefile", "-")))
	if err != nil {
		t.Fatal(err)
	}
	w, h := page.Rect.Dx(), page.Rect.Dy()
	img, err := png.Decode(bytes.NewReader(drawnAs(t, c, "png")))
	if err != nil {
		t.Fatal(err)
	}
	differ, ink := 0, 0
	for y := range min(img.Bounds().Dy(), h/finer) {
		for x := range min(img.Bounds().Dx(), w/finer) {
			drawn := int(color.GrayModel.Convert(img.At(x, y)).(color.Gray).Y)
			if drawn < 200 {
				ink++
			}
			painted := 0
			for i := range finer * finer {
				painted += int(page.GrayAt(x*finer+i%finer, y*finer+i/finer).Y)
			}
			if d := drawn - painted/(finer*finer); d > 128 || d < -128 {
				differ++
			}
		}
	}
	if ink < 10_000 || differ > ink/20 {
		t.Errorf("%d of %d dark pixels differ", differ, ink)
	}
}

func TestDayTicks(t *testing.T) {
	for _, c := range []struct {
		last float64
		want string
	}{{1, "0 1"}, {10, "0 1 2 3 4 5 6 7 8 9 10"}, {21, "0 7 14 21"}, {52, "0 7 14 21 28 35 42 49"}, {100, "0 14 28 42 56 70 84 98"}} {
		var got []string
		for _, tick := range dayTicks(c.last) {
			got = append(got, tick.text)
		}
		if s := strings.Join(got, " "); s != c.want {
			t.Errorf("%v days: %s, want %s", c.last, s, c.want)
		}
	}
}

// A name beside the end of a curve never touches another.
func TestNamesAtTheEndsStayApart(t *testing.T) {
	c := chart()
	for i := range c.Groups {
		c.Groups[i].Sown, c.Groups[i].Up = 10, 10 // all end in one place
		c.Groups[i].Curve = []season.Point{{}, {Day: 30, Up: 10}}
	}
	data := drawnAs(t, c, "svg")
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
	if len(rows) != len(c.Groups) {
		t.Errorf("%d names of %d", len(rows), len(c.Groups))
	}
}
