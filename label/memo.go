package label

import (
	"sync"

	"pipstake/ids"
)

// shape is all that decides where the parts of a face go: two labels of one
// shape differ in letters only, not in how much room these take.
type shape struct {
	face          string
	room          Room
	full, compact string     // the texts that the code may carry, as classes of characters
	id            [3]measure // of the identifier, whole and in two parts
	words         string     // all else that is set
}

// measure is what a line takes up, in ems.
type measure struct{ width, above, below float64 }

// newShape is the shape of a face for id that says s and words, in room r.
func newShape(face string, r Room, s saying, id ids.ID, words string) shape {
	sh := shape{face: face, room: r, full: classes(s.texts[0]), compact: classes(s.texts[len(s.texts)-1]), words: words}
	whole, parts := identifierLines(id)
	for i, l := range []line{whole, parts[0], parts[1]} {
		sh.id[i] = measure{l.width, l.above, l.below}
	}
	return sh
}

// classes is what a code's size depends on: a Data Matrix packs digits in pairs,
// a QR code looks at the length alone.
func classes(text string) string {
	b := []byte(text)
	for i, c := range b {
		if '0' <= c && c <= '9' {
			b[i] = '0'
		} else {
			b[i] = 'A'
		}
	}
	return string(b)
}

// winner is the candidate that a shape settled on.
type winner struct {
	arrangement int     // or where the soil line goes
	share       float64 // of the height, for the code
}

// winners remembers what shapes settled on, so that a sheet of labels that are
// alike is not searched through for each. What is remembered is what a search
// would find.
var winners = struct {
	sync.Mutex
	of map[shape]winner
}{of: map[shape]winner{}}

// mostWinners bounds the memory that winners take.
const mostWinners = 4096

func (sh shape) winner() (winner, bool) {
	winners.Lock()
	defer winners.Unlock()
	w, ok := winners.of[sh]
	return w, ok
}

func (sh shape) settle(w winner) {
	winners.Lock()
	defer winners.Unlock()
	if len(winners.of) >= mostWinners {
		clear(winners.of)
	}
	winners.of[sh] = w
}
