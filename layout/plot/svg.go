package plot

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"image/color"

	"pipstake/label"
)

// svgSurface writes SVG, whose unit is a millimetre. The file brings its letters,
// since few computers have a font that draws ♀ and ♂ as labels do.
type svgSurface struct{ out bytes.Buffer }

func newSVG(w, h float64) *svgSurface {
	s := &svgSurface{}
	fmt.Fprintf(&s.out, `<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %[1]s %[2]s">`+"\n<style>\n", millimetres(w), millimetres(h))
	for _, face := range []*label.Typeface{label.Regular, label.Bold} {
		fmt.Fprintf(&s.out, "@font-face{font-family:%s;src:url(data:font/ttf;base64,%s)}\n", face.Name, base64.StdEncoding.EncodeToString(face.TTF))
	}
	s.out.WriteString("text{font-kerning:none;white-space:pre}\n</style>\n")
	return s
}

// places writes points as SVG has them: "1,2 3,4".
func places(points []point) string {
	var b []byte
	for i, p := range points {
		if i > 0 {
			b = append(b, ' ')
		}
		b = append(b, millimetres(p.x)+","+millimetres(p.y)...)
	}
	return string(b)
}

func hex(c color.RGBA) string { return fmt.Sprintf("#%02X%02X%02X", c.R, c.G, c.B) }

func (s *svgSurface) line(c color.RGBA, width, dash float64, points ...point) {
	dashes := ""
	if dash > 0 {
		dashes = fmt.Sprintf(` stroke-dasharray="%s"`, millimetres(dash))
	}
	fmt.Fprintf(&s.out, `<polyline points="%s" fill="none" stroke="%s" stroke-width="%s"%s/>`+"\n", places(points), hex(c), millimetres(width), dashes)
}

func (s *svgSurface) area(c color.RGBA, corners ...point) {
	fmt.Fprintf(&s.out, `<polygon points="%s" fill="%s"/>`+"\n", places(corners), hex(c))
}

func (s *svgSurface) dot(c color.RGBA, middle point, radius float64) {
	fmt.Fprintf(&s.out, `<circle cx="%s" cy="%s" r="%s" fill="%s"/>`+"\n", millimetres(middle.x), millimetres(middle.y), millimetres(radius), hex(c))
}

func (s *svgSurface) text(t textStyle, from point, upward bool, text string) {
	turn := ""
	if upward {
		turn = fmt.Sprintf(` transform="rotate(-90 %s %s)"`, millimetres(from.x), millimetres(from.y))
	}
	fmt.Fprintf(&s.out, `<text x="%s" y="%s" font-family="%s" font-size="%s" fill="%s"%s>%s</text>`+"\n",
		millimetres(from.x), millimetres(from.y), t.face.Name, millimetres(t.size), hex(t.tint), turn, escaped(text))
}

func (s *svgSurface) file() ([]byte, error) {
	s.out.WriteString("</svg>\n")
	return s.out.Bytes(), nil
}
