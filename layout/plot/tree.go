package plot

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"strings"

	"pipstake/ids"
	"pipstake/ids/season"
	"pipstake/ids/words"
	"pipstake/label"
)

// Measures of the drawing, in millimetres.
const (
	treeMargin  = 8.0
	treeText    = 3.6  // the em
	treeBoxH    = 7.0  // a plant's box
	treePitch   = 9.5  // from one box to the next below
	treePadding = 2.4  // inside a box, left and right
	treeGap     = 11.0 // between generations
	treeHead    = 17.0 // for the heading
)

// node is a plant's box in the drawing.
type node struct {
	branch  *season.Branch
	text    string
	depth   int     // generations from the plant at the left
	y       float64 // of its middle
	parents []*node
}

// treeDrawing lays a tree out: the plant at the left, each generation of
// ancestors one column further right, the seed parent above the pollen parent.
type treeDrawing struct {
	nodes  []*node
	widths []float64 // of the boxes in each generation
	rows   int
}

// Tree writes the tree of a plant's ancestors as SVG, under a heading, and
// returns the number of boxes.
func Tree(out *bytes.Buffer, heading, summary string, tree *season.Branch) int {
	var d treeDrawing
	root := d.grow(tree, 0)
	x := []float64{treeMargin} // where each generation begins
	for _, w := range d.widths {
		x = append(x, x[len(x)-1]+w+treeGap)
	}
	width := max(x[len(x)-1]-treeGap, treeMargin+textWidth(label.Bold, heading)*1.4, treeMargin+textWidth(label.Regular, summary)) + treeMargin
	height := treeHead + float64(d.rows)*treePitch + treeMargin
	fmt.Fprintf(out, `<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %s %s" font-family="Go, 'DejaVu Sans', Arial, sans-serif" font-size="%s">`+"\n",
		millimetres(width), millimetres(height), millimetres(width), millimetres(height), millimetres(treeText))
	fmt.Fprintf(out, "<title>%s</title>\n", escaped("Ancestors of "+heading))
	fmt.Fprintf(out, `<rect width="%s" height="%s" fill="#fff"/>`+"\n", millimetres(width), millimetres(height))
	fmt.Fprintf(out, `<text x="%s" y="%s" font-size="%s" font-weight="bold">%s</text>`+"\n", millimetres(treeMargin), millimetres(treeMargin+3), millimetres(treeText*1.4), escaped(heading))
	fmt.Fprintf(out, `<text x="%s" y="%s" fill="#444">%s</text>`+"\n", millimetres(treeMargin), millimetres(treeMargin+8.5), escaped(summary))
	d.lines(out, root, x)
	for _, n := range d.nodes {
		n.draw(out, x[n.depth], d.widths[n.depth])
	}
	out.WriteString("</svg>\n")
	return len(d.nodes)
}

// grow gives a branch and its ancestors their places.
func (d *treeDrawing) grow(b *season.Branch, depth int) *node {
	n := &node{branch: b, depth: depth, text: strings.TrimSpace(b.Role.String() + " " + plantWords(b.Plant) + branchEnd(b))}
	d.nodes = append(d.nodes, n)
	if depth == len(d.widths) {
		d.widths = append(d.widths, 0)
	}
	width := textWidth(label.Regular, n.text)
	if b.Role == season.NoRole {
		width = 1.15 * textWidth(label.Bold, n.text) // bold letters differ more from font to font
	}
	d.widths[depth] = max(d.widths[depth], width+2*treePadding)
	for _, parent := range b.Parents {
		p := d.grow(parent, depth+1)
		n.parents = append(n.parents, p)
		n.y += p.y / float64(len(b.Parents))
	}
	if len(b.Parents) == 0 {
		n.y = treeHead + (float64(d.rows)+0.5)*treePitch
		d.rows++
	}
	return n
}

// lines joins a plant with its parents.
func (d *treeDrawing) lines(out *bytes.Buffer, n *node, x []float64) {
	from := x[n.depth] + d.widths[n.depth]
	for _, p := range n.parents {
		fmt.Fprintf(out, `<path d="M%s %sh%sV%sH%s" fill="none" stroke="#777" stroke-width="0.35"/>`+"\n",
			millimetres(from), millimetres(n.y), millimetres(treeGap/2), millimetres(p.y), millimetres(x[p.depth]))
		d.lines(out, p, x)
	}
}

// draw writes the box: founders shaded, what is shown elsewhere dashed, the
// plant at the left in bold.
func (n *node) draw(out *bytes.Buffer, x, width float64) {
	fill, dash, weight := "#fff", "", ""
	switch b := n.branch; {
	case b.Again, b.Cut:
		dash = ` stroke-dasharray="1 0.8"`
	case b.Plant.IsFounder():
		fill = "#eef2e6"
	case b.Role == season.NoRole:
		weight = ` font-weight="bold"`
	}
	fmt.Fprintf(out, `<rect x="%s" y="%s" width="%s" height="%s" rx="1.2" fill="%s" stroke="#333" stroke-width="0.25"%s/>`+"\n",
		millimetres(x), millimetres(n.y-treeBoxH/2), millimetres(width), millimetres(treeBoxH), fill, dash)
	fmt.Fprintf(out, `<text x="%s" y="%s"%s>%s</text>`+"\n", millimetres(x+treePadding), millimetres(n.y+0.36*treeText), weight, escaped(n.text))
}

// textWidth is how wide a text may come out, in millimetres: other fonts than
// the one measured run wider.
func textWidth(face *label.Typeface, s string) float64 {
	const slack = 1.15
	return treeText * slack * max(face.Width(s), 0.5*float64(words.Columns(s)))
}

// escaped makes a text safe inside XML; characters that XML cannot hold become
// U+FFFD.
func escaped(s string) string {
	var b bytes.Buffer
	_ = xml.EscapeText(&b, []byte(s)) // a buffer takes all
	return b.String()
}

// TreeLines are the parents of a branch and all above them, with lines that
// join them.
func TreeLines(b *season.Branch, indent string) []string {
	var lines []string
	for i, parent := range b.Parents {
		joint, under := "├─ ", "│  "
		if i == len(b.Parents)-1 {
			joint, under = "└─ ", "   "
		}
		lines = append(lines, indent+joint+parent.Role.String()+" "+plantWords(parent.Plant)+branchEnd(parent))
		lines = append(lines, TreeLines(parent, indent+under)...)
	}
	return lines
}

// plantWords names a plant: a selection with its identifier, a sport with what it
// is one of.
func plantWords(p *season.Plant) string {
	switch {
	case p.Sport != nil:
		return fmt.Sprintf("%s (sport of %s)", p, p.Sport)
	case p.Name != "" && p.ID != (ids.ID{}):
		return fmt.Sprintf("%s (%s)", p, p.ID)
	}
	return p.String()
}

// branchEnd returns why the tree goes no further.
func branchEnd(b *season.Branch) string {
	switch {
	case b.Again:
		return " (see above)"
	case b.Cut:
		return " …"
	case b.Role == season.BothRoles:
		return " (selfed)"
	}
	return ""
}

// millimetres writes a length with two decimals at most.
func millimetres(v float64) string { return words.Number(v, 2) }
