package symbol

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// Least size of a module that a telephone reads at hand's distance off a
// desktop printer's work: dots are the advice of the QR code's inventors, the
// millimetres are common practice.
const (
	fewestDots  = 4
	leastModule = 0.40 // mm
)

// leastModuleH is the module, in millimetres, from which on level H is worth
// more than Q. The benchmark of weathered labels sets it.
const leastModuleH = 0.50

// Room is the place for a code, its quiet zone included.
type Room struct {
	W, H float64 // mm
	DPI  int     // printer dots in an inch
}

// rounding is forgiven, in dots: a room of exactly so many dots has them, and a
// module of exactly the least size is readable.
const rounding = 1e-6

// side is the number of whole printer dots along the largest square in r.
func (r Room) side() int {
	return int(math.Min(r.W, r.H)*float64(r.DPI)/25.4 + rounding)
}

// leastDots is the least side of a readable module in printer dots.
func (r Room) leastDots() int {
	return max(fewestDots, int(math.Ceil(leastModule*float64(r.DPI)/25.4-rounding)))
}

// check refuses a room that cannot be reckoned with.
func (r Room) check() error {
	const most = 10_000 // mm, and dots in an inch
	if !(r.W > 0 && r.W <= most && r.H > 0 && r.H <= most) {
		return fmt.Errorf("a room of %v×%v mm cannot hold a code: give sides between 0 and %d mm", r.W, r.H, most)
	}
	if r.DPI < 1 || r.DPI > most {
		return fmt.Errorf("%d dpi is not a printer's resolution: give such as 203, 300 or 600", r.DPI)
	}
	return nil
}

// TooSmallError says that no payload makes a readable code in the room.
type TooSmallError struct {
	Room    Room
	Payload string  // the one that needs least
	Need    float64 // the least side of a square room that would do for it, in millimetres
}

func (e *TooSmallError) Error() string {
	return fmt.Sprintf("a room of %.1f×%.1f mm is too small for a readable code of %q at %d dpi: it needs a square of at least %.1f mm",
		e.Room.W, e.Room.H, e.Payload, e.Room.DPI, math.Ceil(e.Need*10-1e-6)/10)
}

// Choose settles on the code for a room without encoding it. The payloads stand
// in order of preference, the last one the shortest: the first that has a
// readable QR code of level M or better in the room is taken. Where none has,
// as little text as possible goes into the code: the last payload that has a
// readable code at all, of level L or as a Data Matrix.
//
// Codes on labels die of lost area, by scratches, dirt and fading, and not of
// small modules: so of the QR codes that are readable in the room the one with
// the highest level wins, then the one with the largest module. Level H counts
// as no more than Q while its module is under 0.50 mm, where its small modules
// cost what it corrects.
//
// Errors: *TooSmallError when no payload fits; *PayloadError for a payload
// outside the QR alphanumeric set, or when all are longer than any code in
// use; others for a room that is none.
func Choose(room Room, payloads ...string) (Choice, error) {
	if err := room.check(); err != nil {
		return Choice{}, err
	}
	if len(payloads) == 0 {
		return Choice{}, errors.New("there is no payload to choose a code for")
	}
	for _, p := range payloads {
		if err := checkAlphabet(p); err != nil {
			return Choice{}, err
		}
	}
	for _, p := range payloads {
		if c, ok := best(room, qrCandidates(p)); ok && c.level != 'L' {
			return c.choice(QR, p, room), nil
		}
	}
	for _, p := range slices.Backward(payloads) {
		if c, ok := best(room, qrCandidates(p)); ok {
			return c.choice(QR, p, room), nil
		}
		if c, ok := best(room, dmCandidates(p)); ok {
			return c.choice(DataMatrix, p, room), nil
		}
	}
	return Choice{}, nothingFits(room, payloads)
}

// candidate is a code that would hold a payload.
type candidate struct {
	level byte // 0 for Data Matrix
	size  int  // modules along a side
	outer int  // the same with the quiet zone
	dots  int  // printer dots along a module, in the room at hand
}

func (c candidate) choice(kind Kind, payload string, room Room) Choice {
	return Choice{kind, c.level, c.size, payload, c.dots, room.DPI}
}

// qrCandidates are the QR codes that hold a payload: for each level the
// smallest, the weakest level first.
func qrCandidates(payload string) []candidate {
	var cs []candidate
	for l := range levels {
		for v := range qrCapacity {
			if len(payload) <= qrCapacity[v][l] {
				size := qrSize(v + 1)
				cs = append(cs, candidate{level: levels[l], size: size, outer: size + 2*qrQuiet})
				break
			}
		}
	}
	return cs
}

// dmCandidates is the smallest Data Matrix that holds a payload, if any does.
func dmCandidates(payload string) []candidate {
	need := dmCodewords(payload)
	for _, c := range dmCapacity {
		if need <= c.codewords {
			return []candidate{{size: c.size, outer: c.size + 2*dmQuiet}}
		}
	}
	return nil
}

// best is the readable candidate that lasts longest in the room. The weakest
// level stands first among candidates, so that of equals the last corrects
// most.
func best(room Room, cs []candidate) (candidate, bool) {
	var b candidate
	for _, c := range cs {
		c.dots = room.side() / c.outer
		if c.dots < room.leastDots() {
			continue
		}
		if r, least := c.rank(room.DPI), b.rank(room.DPI); r > least || r == least && c.dots >= b.dots {
			b = c
		}
	}
	return b, b != (candidate{})
}

// rank is what a candidate's error correction is worth, by the place of its
// level; -1 for a Data Matrix, and for none.
func (c candidate) rank(dpi int) int {
	level := c.level
	if level == 'H' && float64(c.dots)*25.4/float64(dpi) < leastModuleH {
		level = 'Q'
	}
	return levelOf(level)
}

// nothingFits finds the payload that needs least room and says how much.
func nothingFits(room Room, payloads []string) error {
	e := &TooSmallError{Room: room, Need: math.Inf(1)}
	for _, p := range payloads {
		for _, c := range append(qrCandidates(p), dmCandidates(p)...) {
			need := float64(c.outer*room.leastDots()) * 25.4 / float64(room.DPI)
			if need < e.Need {
				e.Payload, e.Need = p, need
			}
		}
	}
	if math.IsInf(e.Need, 1) {
		last := payloads[len(payloads)-1]
		return tooLong(last, len(last), "characters", maxPayload)
	}
	return e
}
