package plot

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/label"
)

// drawn is what an XML reader sees of a drawing.
type drawn struct {
	texts []string
	boxes []label.Rect // the plants', in the order of the texts behind the heading
	page  label.Rect
}

// readSVG reads a drawing with an XML parser, which refuses what is not well
// formed.
func readSVG(t *testing.T, svg []byte) drawn {
	t.Helper()
	var d drawn
	in := xml.NewDecoder(bytes.NewReader(svg))
	text := false
	for {
		token, err := in.Token()
		if errors.Is(err, io.EOF) {
			return d
		}
		if err != nil {
			t.Fatalf("not well-formed XML: %v\n%s", err, svg)
		}
		switch token := token.(type) {
		case xml.StartElement:
			text = token.Name.Local == "text"
			if text {
				d.texts = append(d.texts, "")
			}
			var r label.Rect
			for _, a := range token.Attr {
				v, _ := strconv.ParseFloat(a.Value, 64)
				switch a.Name.Local {
				case "x":
					r.X = v
				case "y":
					r.Y = v
				case "width":
					r.W = v
				case "height":
					r.H = v
				}
			}
			if token.Name.Local == "rect" && d.page.W == 0 {
				d.page = r
			} else if token.Name.Local == "rect" {
				d.boxes = append(d.boxes, r)
			}
		case xml.CharData:
			if text {
				d.texts[len(d.texts)-1] += string(token)
			}
		case xml.EndElement:
			text = false
		}
	}
}

// Whatever the names, the drawing is well-formed XML that shows each in full,
// every box on the page and none over another, and every text within its box.
func TestDrawTree(t *testing.T) {
	names := []string{"Tarn Amber", `<script>alert("x")</script> & 'co'`, strings.Repeat("Wm", 40), "☃ Härmä", "湖琥", "i"}
	dir := t.TempDir()
	if err := registry.Init(dir); err != nil {
		t.Fatal(err)
	}
	quote := func(s string) string { return `"` + strings.ReplaceAll(s, `"`, `""`) + `"` }
	rows := "id,seed_parent,pollen_parent,pollinated,flowers,state,notes\n"
	for i := range names {
		seed := quote("Larkfield Tessel")
		if i > 0 {
			seed = ids.ID{Year: 2000 + i - 1, Cross: 1, Lot: 1, Pot: 1, Seedling: 1}.String()
		}
		pollen := quote(names[i])
		if i == 3 {
			pollen = seed // selfed
		}
		rows += ids.ID{Year: 2000 + i, Cross: 1}.String() + "," + seed + "," + pollen + ",,,,\n"
	}
	if err := os.WriteFile(filepath.Join(dir, registry.MarkerFile), []byte(rows), 0o666); err != nil {
		t.Fatal(err)
	}
	r, err := registry.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	pedigree := season.NewPedigree(r)
	plant, err := pedigree.Plant(ids.ID{Year: 2005, Cross: 1})
	if err != nil {
		t.Fatal(err)
	}
	var svg bytes.Buffer
	n := Tree(&svg, "2005X001", "F 0.125, half sibs", pedigree.Tree(plant, 0))
	d := readSVG(t, svg.Bytes())
	const heading = 2 // texts before those of the plants
	if len(d.boxes) != n || len(d.texts) != n+heading {
		t.Fatalf("%d boxes and %d texts for %d plants", len(d.boxes), len(d.texts), n)
	}
	for i, name := range names {
		if i != 3 && !strings.Contains(strings.Join(d.texts, "\n"), "♂ "+name) {
			t.Errorf("%q is not shown among %q", name, d.texts)
		}
	}
	for i, b := range d.boxes {
		if !d.page.Contains(b) {
			t.Errorf("box %d %v is not on the page %v", i, b, d.page)
		}
		if w := treeText * label.Regular.Width(d.texts[i+heading]); w > b.W-2*treePadding {
			t.Errorf("%q is %.1f mm wide, its box %.1f", d.texts[i+heading], w, b.W)
		}
		for j, c := range d.boxes[:i] {
			if b.Overlaps(c) {
				t.Errorf("boxes %d and %d lie over each other", j, i)
			}
		}
	}
	var again bytes.Buffer
	Tree(&again, "2005X001", "F 0.125, half sibs", pedigree.Tree(plant, 0))
	if !bytes.Equal(svg.Bytes(), again.Bytes()) {
		t.Error("drawn twice, the bytes differ")
	}
}
