package layout

import "pipstake/label"

// side is one page of a document: what stands on the page itself, in
// millimetres from its upper left corner, and the labels.
type side struct {
	texts  []label.Text
	rules  []label.Rule
	labels []laid
}

// laid is a drawing and how it lies.
type laid struct {
	placement
	drawing *label.Drawing
}

// sides are the pages of a job in the order in which they are printed: each
// front is followed by its back where the job has backs.
func (j Job) sides(pages [][]Place) []side {
	var sides []side
	for i, places := range pages {
		var front, back side
		if i > 0 || !j.Begun {
			front.texts, front.rules = j.Stock.foot(j.Title, i+1, len(pages))
		}
		front.rules = append(front.rules, j.Stock.cutLines(places)...)
		for _, p := range places {
			front.labels = append(front.labels, laid{j.Stock.front(p.Cell), j.marked(p, places[0].Cell, i+1, len(pages))})
			if p.Back != nil {
				back.labels = append(back.labels, laid{j.Stock.back(p.Cell, j.Flip), p.Back})
			}
		}
		sides = append(sides, front.moved(j.Shift))
		if j.Flip != NoFlip {
			sides = append(sides, back.moved(j.BackShift))
		}
	}
	return sides
}

// moved is the side with everything on it shifted. A shift is the printer's: it
// goes the same way on a front and on a back, as each comes out of the printer.
func (s side) moved(by Shift) side {
	for i := range s.texts {
		t := &s.texts[i]
		t.X, t.Baseline, t.Box = t.X+by.X, t.Baseline+by.Y, by.move(t.Box)
	}
	for i := range s.rules {
		r := &s.rules[i]
		r.X1, r.X2, r.Y1, r.Y2 = r.X1+by.X, r.X2+by.X, r.Y1+by.Y, r.Y2+by.Y
	}
	for i := range s.labels {
		s.labels[i].at = by.move(s.labels[i].at)
	}
	return s
}
