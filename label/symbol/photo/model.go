package photo

import (
	"sync"

	"pipstake/label/symbol/decode"
	"pipstake/label/symbol/kind"
)

// model is what is known in advance of the modules of a code of one kind and
// size.
type model struct {
	kind  kind.Kind
	size  int      // modules along a side
	known []module // the patterns, and the light modules around the code
	light int      // the light ones among the known, less the dark ones
	data  []module // all others
}

// module is the middle of one in a code; light is 1 for a light one and -1 for a
// dark one, 0 for one that carries data.
type module struct {
	x, y  float64
	light int
}

// qrModels are the models of QR codes from version 1.
var qrModels = sync.OnceValue(func() []*model {
	var all []*model
	for v := 1; v <= decode.MostVersion; v++ {
		all = append(all, qrModel(v))
	}
	return all
})

// dmModels are the models of the square Data Matrix codes that are read.
var dmModels = sync.OnceValue(func() []*model {
	var all []*model
	for _, s := range decode.Shapes() {
		all = append(all, dmModel(s[0], s[1]))
	}
	return all
})

// ringModel is a corner pattern by itself.
var ringModel = sync.OnceValue(func() *model {
	return sorted(kind.QR, 7, func(x, y int) int { return ring(x-3, y-3, 2, 4) })
})

// ring is the light of a module of a pattern of squares within each other, by
// its place from the middle: two of the squares are light.
func ring(dx, dy, light1, light2 int) int {
	if d := max(abs(dx), abs(dy)); d == light1 || d == light2 {
		return 1
	}
	return -1
}

// sorted makes a model of what light tells of each module, from -1 to size.
func sorted(of kind.Kind, size int, light func(x, y int) int) *model {
	m := &model{kind: of, size: size}
	for y := -1; y <= size; y++ {
		for x := -1; x <= size; x++ {
			l := 1
			if x >= 0 && y >= 0 && x < size && y < size {
				l = light(x, y)
			}
			at := module{float64(x) + 0.5, float64(y) + 0.5, l}
			if l == 0 {
				m.data = append(m.data, at)
			} else {
				m.known = append(m.known, at)
				m.light += l
			}
		}
	}
	return m
}

// qrModel has the corner patterns with the light modules around them, the
// timing patterns and the alignment patterns (ISO/IEC 18004, 6.3).
func qrModel(version int) *model {
	size := 17 + 4*version
	centres := decode.Centres(version)
	return sorted(kind.QR, size, func(x, y int) int {
		for _, c := range [][2]int{{3, 3}, {size - 4, 3}, {3, size - 4}} {
			if dx, dy := x-c[0], y-c[1]; max(abs(dx), abs(dy)) <= 4 {
				return ring(dx, dy, 2, 4)
			}
		}
		if x == 6 || y == 6 {
			return (x+y)%2*2 - 1
		}
		for _, cx := range centres {
			for _, cy := range centres {
				corner := cx == 6 && cy == 6 || cx == 6 && cy == size-7 || cx == size-7 && cy == 6
				if dx, dy := x-cx, y-cy; !corner && max(abs(dx), abs(dy)) <= 2 {
					return ring(dx, dy, 1, 1)
				}
			}
		}
		return 0
	})
}

// dmModel has the dark edges and the broken edges of the regions.
func dmModel(size, regions int) *model {
	n := size / regions
	return sorted(kind.DataMatrix, size, func(x, y int) int {
		rx, ry := x%n, y%n
		switch {
		case rx == 0 || ry == n-1:
			return -1
		case ry == 0:
			return rx%2*2 - 1
		case rx == n-1:
			return 1 - ry%2*2
		}
		return 0
	})
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}
