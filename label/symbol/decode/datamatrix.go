package decode

import "sync"

// dmShape is a square Data Matrix: modules along a side, regions along a side,
// and its codewords (ISO/IEC 16022, table 7).
type dmShape struct{ size, regions, data, check int }

// dmShapes are those that labels use, and the next ones. Smaller ones hold no
// payload, and correct so little that anything square reads as one.
var dmShapes = []dmShape{
	{14, 1, 8, 10}, {16, 1, 12, 12}, {18, 1, 18, 14}, {20, 1, 22, 18}, {22, 1, 30, 20}, {24, 1, 36, 24}, {26, 1, 44, 28},
	{32, 2, 62, 36}, {36, 2, 86, 42},
}

// Shapes are the sizes of Data Matrix codes that are read, and how many regions
// they have along a side.
func Shapes() (shapes [][2]int) {
	for _, s := range dmShapes {
		shapes = append(shapes, [2]int{s.size, s.regions})
	}
	return shapes
}

var dmLayouts = func() map[int]func() [][8]int {
	all := map[int]func() [][8]int{}
	for _, s := range dmShapes {
		all[s.size] = sync.OnceValue(func() [][8]int { return dmPlaces(s) })
	}
	return all
}()

// DataMatrix reads the text of a Data Matrix, mirrored or not. sure says that
// no module had to be given up as lost.
func DataMatrix(m Modules) (text string, sure, ok bool) {
	for _, s := range dmShapes {
		if s.size != m.Size || len(m.Light) != m.Size*m.Size {
			continue
		}
		for _, m := range []Modules{m, m.flipped(true)} {
			words, certain := m.codewords(dmLayouts[s.size]())
			data, sure, ok := block{words, certain, s.check}.corrected(dmField)
			if !ok {
				continue
			}
			if text, ok := dmText(data, !sure); ok {
				return text, sure, true
			}
		}
	}
	return "", false, false
}

// dmPlaces are the modules of each codeword: placed along diagonals over the
// regions as if there were nothing between them (ISO/IEC 16022, annex F).
func dmPlaces(s dmShape) [][8]int {
	n := s.size - 2*s.regions // rows and columns of data
	region := s.size / s.regions
	p := &placement{n: n, taken: make([]bool, n*n)}
	p.all(s.data + s.check)
	for i := range p.words {
		for k, at := range p.words[i] {
			x, y := at%n, at/n
			inner := region - 2
			p.words[i][k] = (y/inner*region+1+y%inner)*s.size + x/inner*region + 1 + x%inner
		}
	}
	return p.words
}

// placement lays codewords on a square of n×n modules.
type placement struct {
	n     int
	taken []bool
	words [][8]int
}

// put lays the next codeword on places, each a column and a row; negative ones
// come in again on the other side.
func (p *placement) put(places [8][2]int) {
	var word [8]int
	for i, c := range places {
		x, y := c[0], c[1]
		if y < 0 {
			y, x = y+p.n, x+4-(p.n+4)%8
		}
		if x < 0 {
			x, y = x+p.n, y+4-(p.n+4)%8
		}
		word[i] = y*p.n + x
		p.taken[word[i]] = true
	}
	p.words = append(p.words, word)
}

// utah lays a codeword in its usual shape, which ends in a column and row.
func (p *placement) utah(x, y int) {
	p.put([8][2]int{{x - 2, y - 2}, {x - 1, y - 2}, {x - 2, y - 1}, {x - 1, y - 1}, {x, y - 1}, {x - 2, y}, {x - 1, y}, {x, y}})
}

// corner lays a codeword in a shape that stands in two corners.
func (p *placement) corner(x, y int) {
	n := p.n
	switch {
	case x == 0 && y == n:
		p.put([8][2]int{{0, n - 1}, {1, n - 1}, {2, n - 1}, {n - 2, 0}, {n - 1, 0}, {n - 1, 1}, {n - 1, 2}, {n - 1, 3}})
	case x == 0 && y == n-2 && n%8 == 4:
		p.put([8][2]int{{0, n - 3}, {0, n - 2}, {0, n - 1}, {n - 2, 0}, {n - 1, 0}, {n - 1, 1}, {n - 1, 2}, {n - 1, 3}})
	case x == 0 && y == n-2 && n%4 != 0:
		p.put([8][2]int{{0, n - 3}, {0, n - 2}, {0, n - 1}, {n - 4, 0}, {n - 3, 0}, {n - 2, 0}, {n - 1, 0}, {n - 1, 1}})
	case x == 2 && y == n+4 && n%8 == 0:
		p.put([8][2]int{{0, n - 1}, {n - 1, n - 1}, {n - 3, 0}, {n - 2, 0}, {n - 1, 0}, {n - 3, 1}, {n - 2, 1}, {n - 1, 1}})
	}
}

// all lays so many codewords, up and down the diagonals.
func (p *placement) all(most int) {
	n := p.n
	x, y := 0, 4
	for y < n || x < n {
		p.corner(x, y)
		for ; y >= 0 && x < n; x, y = x+2, y-2 {
			if y < n && x >= 0 && !p.taken[y*n+x] {
				p.utah(x, y)
			}
		}
		x, y = x+3, y+1
		for ; y < n && x >= 0; x, y = x-2, y+2 {
			if y >= 0 && x < n && !p.taken[y*n+x] {
				p.utah(x, y)
			}
		}
		x, y = x+1, y+3
	}
	p.words = p.words[:min(len(p.words), most)]
}
