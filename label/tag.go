package label

import (
	"pipstake/ids"
	"pipstake/label/symbol"
)

// BranchTag is tied to a pollinated branch until the fruit is picked. It has a
// hole at the left, or room for a tie.
type BranchTag struct {
	ID                       ids.ID // of the cross
	SeedParent, PollenParent string
	Pollinated               string // ISO 8601, or empty
	Note                     string // which tree, which branch; or empty
}

// tieRoom is the width kept free for the hole and the tie, in millimetres.
const tieRoom = 12

// Fit sets the branch tag by itself in room r; see the function Fit.
func (t BranchTag) Fit(r Room) (*Drawing, error) { return fitOne(t, r) }

func (t BranchTag) about() about {
	names := []string{t.SeedParent, t.PollenParent}
	if t.Note != "" {
		names = append(names, t.Note)
	}
	return about{kind: "branch tag", id: t.ID, names: names,
		payload: symbol.Payload{ID: t.ID}, facts: symbol.Facts{SeedParent: t.SeedParent, PollenParent: t.PollenParent}}
}

func (t BranchTag) rows(p part, font *Typeface, h float64) []row {
	names := group(parents(font, 0.16*h, 0.11*h, t.SeedParent, t.PollenParent))
	day := t.day(font, 0.16*h)
	switch p {
	case headPart, barePart:
		if p == barePart && t.Note == "" { // the day may be left out, a note is not
			return []row{identifier(t.ID, 0.6*h), {}}
		}
		return []row{identifier(t.ID, 0.6*h), t.day(font, 0.25*h)}
	case footPart:
		return []row{parents(font, 0.4*h, 1.5, t.SeedParent, t.PollenParent)}
	}
	return []row{identifier(t.ID, 0.42*h), names, day}
}

// day is the row with the day of pollination and the note.
func (t BranchTag) day(font *Typeface, want float64) row {
	if t.Note == "" && t.Pollinated == "" {
		return row{}
	}
	n := note{day: t.Pollinated, text: compose(t.Note)}
	n.face, _ = faceFor(n.text, font) // printable has been asked
	shapes := n.shapes()
	if t.Note == "" {
		shapes = []shape{{{{Regular, "pollinated " + t.Pollinated, 1, flowing}}}}
	}
	return group(row{want: max(want, leastText), plain: leastText, least: leastText, worth: 0.5, note: true, shapes: shapes, other: 0.2, called: "the note is",
		shorten: n.squeeze})
}

func (t BranchTag) plan(b *batch) *plan {
	p := card{fullText: 1.5, tie: tieRoom, foot: true}.plan(b)
	if p == nil {
		return nil
	}
	if b.room.Margin.Left < tieRoom {
		p.punch(b.room)
	}
	return p
}

// punch draws where a hole for the tie goes, beside the quiet zone of the code,
// and leaves the corner to the sheet.
func (p *plan) punch(r Room) {
	const across = 5.0 // millimetres
	safe := r.Safe()
	end := float64(tieRoom)
	for _, c := range p.codes {
		end = min(end, c.Outer().X)
	}
	p.circles = []Circle{{X: (safe.X + end) / 2, Y: r.H / 2, R: across / 2, Width: 0.2}}
	if r.Cut && r.H > 14 {
		p.spare = Rect{safe.X, safe.Bottom() - 1.5, 2.2, 1.5}
	}
}
