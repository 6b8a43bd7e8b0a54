package symbol

import (
	"errors"
	"fmt"
	"math"
)

// Least size of a module that a telephone reads at hand's distance off a
// desktop printer's work: dots are the advice of the QR code's inventors, the
// millimetres are common practice.
const (
	fewestDots  = 4
	leastModule = 0.40 // mm
)

// Room is the place for a code, its quiet zone included.
type Room struct {
	W, H float64 // mm
	DPI  int     // printer dots in an inch
}

// side is the number of whole printer dots along the largest square in r.
func (r Room) side() int {
	const rounding = 1e-6 // of a dot: a room of exactly so many dots has them
	return int(math.Min(r.W, r.H)*float64(r.DPI)/25.4 + rounding)
}

// leastDots is the least side of a readable module in printer dots.
func (r Room) leastDots() int {
	return max(fewestDots, int(math.Ceil(leastModule*float64(r.DPI)/25.4)))
}

// check refuses a room that cannot be reckoned with.
func (r Room) check() error {
	const most = 10_000 // mm, and dots in an inch
	if !(r.W > 0 && r.W <= most && r.H > 0 && r.H <= most) {
		return fmt.Errorf("a room of %v×%v mm cannot hold a code: give sides between 0 and %d mm", r.W, r.H, most)
	}
	if r.DPI < 1 || r.DPI > most {
		return fmt.Errorf("%d dpi is not a printer's resolution: give 203, 300, 600 or 1200", r.DPI)
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
// in order of preference: the first one that has a readable code in the room is
// taken, as a QR code where one fits, else as a Data Matrix. Of the sizes that
// fit, the one with the largest module wins, then the one with the strongest
// error correction, then the smallest.
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
		if c, ok := best(room, qrCandidates(p)); ok {
			return Choice{QR, c.level, c.outer - 2*qrQuiet, p, c.dots, room.DPI}, nil
		}
		if c, ok := best(room, dmCandidates(p)); ok {
			return Choice{DataMatrix, c.level, c.outer - 2*dmQuiet, p, c.dots, room.DPI}, nil
		}
	}
	return Choice{}, nothingFits(room, payloads)
}

// candidate is a code that would hold a payload.
type candidate struct {
	level byte // 0 for Data Matrix
	outer int  // modules along a side, quiet zone included
	dots  int  // printer dots along a module, in the room at hand
}

// qrCandidates are the QR codes that hold a payload: for each level the
// smallest, the weakest level first.
func qrCandidates(payload string) []candidate {
	var cs []candidate
	for l := range levels {
		for v := range qrCapacity {
			if len(payload) <= qrCapacity[v][l] {
				cs = append(cs, candidate{level: levels[l], outer: qrSize(v+1) + 2*qrQuiet})
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
			return []candidate{{outer: c.size + 2*dmQuiet}}
		}
	}
	return nil
}

// best is the candidate with the largest readable module in the room; among
// equals the last, which corrects most.
func best(room Room, cs []candidate) (candidate, bool) {
	var b candidate
	for _, c := range cs {
		c.dots = room.side() / c.outer
		if c.dots >= room.leastDots() && c.dots >= b.dots {
			b = c
		}
	}
	return b, b.dots > 0
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
