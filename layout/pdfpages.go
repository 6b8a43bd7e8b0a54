package layout

import (
	"bytes"
	"compress/zlib"
	"math"
	"runtime"
	"strconv"
	"sync"

	"pipstake/label"
	"pipstake/label/symbol"
)

// packer completes pages with their codes and packs them, on all processors,
// while the next ones are drawn.
type packer struct {
	gain    int       // printer dots taken off the dark parts of codes
	h       float64   // of a page, in points
	pages   chan page // few at a time, since unpacked they are large
	packed  [][]byte
	workers sync.WaitGroup
}

// page is what a page shows: texts and lines as a PDF writes them, and the
// labels whose codes are still to be drawn.
type page struct {
	number int
	drawn  []byte
	labels []laid
}

func newPacker(gain int, h float64, pages int) *packer {
	p := &packer{gain: gain, h: h, pages: make(chan page), packed: make([][]byte, pages)}
	for range min(runtime.GOMAXPROCS(0), pages) {
		p.workers.Go(p.work)
	}
	return p
}

// pack takes over a page, counted from 0.
func (p *packer) pack(number int, drawn []byte, labels []laid) {
	p.pages <- page{number, drawn, labels}
}

// wait returns all pages, packed by zlib's format as PDF's FlateDecode has it (ISO
// 32000-1, 7.4.4).
func (p *packer) wait() [][]byte {
	close(p.pages)
	p.workers.Wait()
	return p.packed
}

func (p *packer) work() {
	var content []byte
	var packed bytes.Buffer
	z := zlib.NewWriter(&packed)
	for page := range p.pages {
		content = appendShortNames(content[:0], page.drawn)
		content = p.appendCodes(content, page.labels)
		packed.Reset()
		z.Reset(&packed)
		z.Write(content) // memory takes all
		z.Close()
		p.packed[page.number] = bytes.Clone(packed.Bytes())
	}
}

// appendShortNames copies what the library wrote with shorter names of fonts: it
// gives them 40 hexadecimal digits, and each page repeats them.
func appendShortNames(to, drawn []byte) []byte {
	const long, short = 40, 8
	for {
		i := bytes.Index(drawn, []byte("/F"))
		if i < 0 {
			return append(to, drawn...)
		}
		i += len("/F")
		end := i
		for end < len(drawn) && isHex(drawn[end]) {
			end++
		}
		if end-i == long && end < len(drawn) && drawn[end] == ' ' && isSeparate(drawn[:i]) {
			to, drawn = append(to, drawn[:i+short]...), drawn[end:]
		} else {
			to, drawn = append(to, drawn[:i]...), drawn[i:]
		}
	}
}

// isSeparate reports whether what ends in "/F" is not part of a text's string.
func isSeparate(before []byte) bool {
	return bytes.HasSuffix(before, []byte("\nBT /F")) || bytes.HasSuffix(before, []byte("\n/F"))
}

func isHex(c byte) bool { return '0' <= c && c <= '9' || 'a' <= c && c <= 'f' }

// codeInset is how much less than its modules each block of a code covers, in
// thousandths of a printer dot. Renderers that paint every pixel they touch
// would otherwise add a dot at each edge, since an edge lies exactly between two
// dots.
const codeInset = 40

// appendCodes draws the codes of labels, counting printer dots rightward and
// downward from the upper left corner of the page.
func (p *packer) appendCodes(to []byte, labels []laid) []byte {
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
	return to
}

// appendMatrix puts the origin at a code's first module, and rows and columns
// along the label as it is read.
func (p *packer) appendMatrix(to []byte, l placement, c label.Code) []byte {
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
func (p *packer) unit(s *symbol.Symbol) int {
	if p.gain > 0 {
		return 1
	}
	return s.Dots
}

// appendPath fills the modules of a code in one path, and undoes the matrix.
func (p *packer) appendPath(to []byte, s *symbol.Symbol) []byte {
	unit := p.unit(s)
	less := (codeInset + unit - 1) / unit // thousandths of a unit
	for _, b := range blocks(s, p.gain) {
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
		to = bytes.TrimRight(to, "0")
	}
	return to
}

// decimal writes v with at most so many decimals and no more than it needs.
func decimal(v float64, decimals int) string {
	scale := math.Pow10(decimals)
	return strconv.FormatFloat(math.Round(v*scale)/scale, 'f', -1, 64)
}
