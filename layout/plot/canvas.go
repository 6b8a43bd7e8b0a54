package plot

import (
	"bytes"
	"fmt"
	"io"
	"sync"
	"time"

	"codeberg.org/go-pdf/fpdf"
	stdfont "golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgpdf"
	"gonum.org/v1/plot/vg/vgsvg"
)

// dpi is the resolution of a PNG, which is read on a screen.
const dpi = 200

// fonts are the fonts of the labels, which hold ♀, ♂ and the letters of
// all names that a label takes.
var fonts = sync.OnceValue(func() text.Handler {
	var faces font.Collection
	for _, f := range []struct {
		weight stdfont.Weight
		ttf    []byte
	}{{stdfont.WeightNormal, goregular.TTF}, {stdfont.WeightBold, gobold.TTF}} {
		face, err := opentype.Parse(f.ttf)
		if err != nil {
			panic(err) // the fonts are part of the program
		}
		faces = append(faces, font.Face{Font: font.Font{Typeface: "Go", Weight: f.weight}, Face: face})
	}
	return text.Plain{Fonts: font.NewCache(faces)}
})

// textStyle is a style of text, in points.
func textStyle(size vg.Length, weight stdfont.Weight) text.Style {
	return text.Style{Font: font.Font{Typeface: "Go", Weight: weight, Size: size}, Handler: fonts(), YAlign: draw.YCenter}
}

// render draws a picture of w by h points and returns the bytes of its file.
func render(ending string, w, h vg.Length, created time.Time, paint func(draw.Canvas)) ([]byte, error) {
	var canvas vg.CanvasWriterTo
	switch ending {
	case "png":
		canvas = vgimg.PngCanvas{Canvas: vgimg.NewWith(vgimg.UseWH(w, h), vgimg.UseDPI(dpi))}
	case "svg":
		canvas = vgsvg.NewWith(vgsvg.UseWH(w, h), vgsvg.EmbedFonts(true))
	case "pdf":
		fpdf.SetDefaultCreationDate(created.UTC()) // the library would take the clock
		fpdf.SetDefaultModificationDate(created.UTC())
		canvas = &outlining{Canvas: vgpdf.New(w, h)}
	default:
		return nil, fmt.Errorf("there is no form %q of a plot", ending)
	}
	paint(draw.New(canvas))
	var b bytes.Buffer
	if _, err := canvas.WriteTo(&b); err != nil {
		return nil, fmt.Errorf("writing the plot: %w", err)
	}
	return b.Bytes(), nil
}

// outlining is a PDF canvas that draws letters as shapes. The library knows no
// letters beyond those of Western Europe, and neither ♀ nor ♂.
type outlining struct {
	*vgpdf.Canvas
	buf sfnt.Buffer
}

// WriteTo writes the file.
func (c *outlining) WriteTo(w io.Writer) (int64, error) { return c.Canvas.WriteTo(w) }

// FillString draws text from a point on.
func (c *outlining) FillString(face font.Face, at vg.Point, s string) {
	units := fixed.I(int(face.Face.UnitsPerEm()))
	em := face.Font.Size / vg.Length(units)
	x := at.X
	var before sfnt.GlyphIndex
	for i, r := range s {
		glyph, err := face.Face.GlyphIndex(&c.buf, r)
		if err != nil {
			continue // labels refuse such letters, and so do crosses
		}
		if i > 0 { // as the text was measured
			if kern, err := face.Face.Kern(&c.buf, before, glyph, units, stdfont.HintingNone); err == nil {
				x += vg.Length(kern) * em
			}
		}
		before = glyph
		segments, err := face.Face.LoadGlyph(&c.buf, glyph, units, nil)
		if err != nil {
			continue
		}
		if shape := outline(segments, vg.Point{X: x, Y: at.Y}, em); len(shape) > 0 {
			c.Fill(shape)
		}
		if advance, err := face.Face.GlyphAdvance(&c.buf, glyph, units, stdfont.HintingNone); err == nil {
			x += vg.Length(advance) * em
		}
	}
}

// outline is the shape of a glyph, whose y runs down.
func outline(segments sfnt.Segments, at vg.Point, em vg.Length) vg.Path {
	point := func(p fixed.Point26_6) vg.Point {
		return vg.Point{X: at.X + vg.Length(p.X)*em, Y: at.Y - vg.Length(p.Y)*em}
	}
	var path vg.Path
	for _, s := range segments {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			if len(path) > 0 {
				path.Close()
			}
			path.Move(point(s.Args[0]))
		case sfnt.SegmentOpLineTo:
			path.Line(point(s.Args[0]))
		case sfnt.SegmentOpQuadTo:
			path.QuadTo(point(s.Args[0]), point(s.Args[1]))
		case sfnt.SegmentOpCubeTo:
			path.CubeTo(point(s.Args[0]), point(s.Args[1]), point(s.Args[2]))
		}
	}
	if len(path) > 0 {
		path.Close()
	}
	return path
}
