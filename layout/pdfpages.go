package layout

import (
	"bytes"
	"compress/zlib"
	"math"
	"runtime"
	"strconv"
	"sync"
	"sync/atomic"

	"pipstake/label"
	"pipstake/label/symbol"
)

// packingLevel takes a little more than half of the time that zlib's usual level,
// 6, does, and 2 to 7 % more room.
const packingLevel = 5

// pack draws all pages and packs them, on all processors, by zlib's format as PDF's
// FlateDecode has it (ISO 32000-1, 7.4.4).
func (p pen) pack(sides []side) [][]byte {
	packed := make([][]byte, len(sides))
	var next atomic.Int64 // page, from 0
	work := func() {
		own := p
		var out bytes.Buffer
		z, _ := zlib.NewWriterLevel(&out, packingLevel)
		for n := int(next.Add(1)) - 1; n < len(sides); n = int(next.Add(1)) - 1 {
			own.page(sides[n])
			out.Reset()
			z.Reset(&out)
			z.Write(own.to) // memory takes all
			z.Close()
			packed[n] = bytes.Clone(out.Bytes())
		}
	}
	var others sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(sides)) - 1 {
		others.Go(work)
	}
	work()
	others.Wait()
	return packed
}

// codeInset is how much less than its modules each block of a code covers, in
// thousandths of a printer dot. Renderers that paint every pixel they touch
// would otherwise add a dot at each edge, since an edge lies exactly between two
// dots.
const codeInset = 40

// codes draws the codes of labels, counting printer dots rightward and downward
// from the upper left corner of the page.
func (p *pen) codes(labels []laid) {
	to := p.to
	dpi := 0
	var last struct {
		symbol *symbol.Symbol
		path   []byte
	}
	for _, l := range labels {
		for _, c := range l.drawing.Codes {
			if c.Symbol.DPI != dpi { // the same all over a page
				if dpi > 0 {
					to = append(to, "Q\n"...)
				}
				dpi = c.Symbol.DPI
				dot := 72 / float64(dpi)
				inset := codeInset / 2000.0 * dot
				size := decimal(dot, 8)
				to = append(to, "q "+size+" 0 0 -"+size+" "+decimal(inset, 5)+" "+decimal(p.h-inset, 5)+" cm\n"...)
			}
			to = p.appendMatrix(to, l.placement, c)
			start := len(to)
			if c.Symbol == last.symbol {
				to = append(to, last.path...)
			} else {
				to = p.appendPath(to, c.Symbol)
			}
			last.symbol, last.path = c.Symbol, to[start:]
		}
	}
	if dpi > 0 {
		to = append(to, "Q\n"...)
	}
	p.to = to
}

// appendMatrix puts the origin at a code's first module, and rows and columns
// along the label as it is read.
func (p *pen) appendMatrix(to []byte, l placement, c label.Code) []byte {
	unit := strconv.Itoa(p.unit(c.Symbol))
	x, y := l.codeDots(c)
	left, top := float64(x), float64(y)
	far := float64(c.Symbol.Size*c.Symbol.Dots) - codeInset/1000.0
	at := func(x, y float64) string { return decimal(x, 3) + " " + decimal(y, 3) + " cm\n" }
	to = append(to, "q "...)
	switch l.turn {
	case upright:
		return append(to, unit+" 0 0 "+unit+" "+at(left, top)...)
	case upward:
		return append(to, "0 -"+unit+" "+unit+" 0 "+at(left, top+far)...)
	case over:
		return append(to, "-"+unit+" 0 0 -"+unit+" "+at(left+far, top+far)...)
	}
	return append(to, "0 "+unit+" -"+unit+" 0 "+at(left+far, top)...) // downward
}

// unit is what paths are measured in: the module, in printer dots, or the dot
// where modules are narrowed.
func (p *pen) unit(s *symbol.Symbol) int {
	if p.gain > 0 {
		return 1
	}
	return s.Dots
}

// appendPath fills the modules of a code in one path, and undoes the matrix.
func (p *pen) appendPath(to []byte, s *symbol.Symbol) []byte {
	unit := p.unit(s)
	less := (codeInset + unit - 1) / unit // thousandths of a unit
	for _, b := range p.tiling.cover(s, p.gain) {
		to = append(strconv.AppendInt(to, int64(b.x/unit), 10), ' ')
		to = append(strconv.AppendInt(to, int64(b.y/unit), 10), ' ')
		to = append(appendThousandths(to, b.w/unit*1000-less), ' ')
		to = append(appendThousandths(to, b.h/unit*1000-less), " re\n"...)
	}
	return append(to, "f Q\n"...)
}

// appendThousandths writes so many thousandths, more than none, as a decimal
// number and no longer than it needs to be.
func appendThousandths(to []byte, n int) []byte {
	if n >= 1000 {
		to = strconv.AppendInt(to, int64(n/1000), 10)
	}
	if n %= 1000; n > 0 {
		to = append(to, '.', '0'+byte(n/100), '0'+byte(n/10%10), '0'+byte(n%10))
		for to[len(to)-1] == '0' {
			to = to[:len(to)-1]
		}
	}
	return to
}

// decimal writes v with at most so many decimals and no more than it needs.
func decimal(v float64, decimals int) string {
	scale := math.Pow10(decimals)
	return strconv.FormatFloat(math.Round(v*scale)/scale, 'f', -1, 64)
}
