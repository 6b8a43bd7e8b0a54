package label

// fitOrAsk draws a face with fit, which gives nil where the room does not do;
// then the *RoomError names the least label that would.
func fitOrAsk(face string, r Room, fit func(Room) *Drawing) (*Drawing, error) {
	if d := fit(r); d != nil {
		return d, nil
	}
	e := &RoomError{Face: face, W: r.W, H: r.H}
	for more := 1.0; more <= 200; more++ {
		for _, try := range []struct{ w, h float64 }{{more, 0}, {0, more}, {more, more}} {
			bigger := r
			bigger.W, bigger.H = r.W+try.w, r.H+try.h
			if fit(bigger) != nil {
				e.NeedW, e.NeedH = bigger.W, bigger.H
				return nil, e
			}
		}
	}
	return nil, e
}

// printable reports the first character that the faces cannot draw.
func printable(texts ...string) error {
	for _, t := range texts {
		if err := Printable(t); err != nil {
			return err
		}
	}
	return nil
}

// set adds a column of rows in box, and reports whether it fitted.
func (d *Drawing) set(box Rect, rows []row) bool {
	if box.W <= 0 || box.H <= 0 {
		return false
	}
	c := setColumn(box, rows)
	if c == nil {
		return false
	}
	d.Texts = append(d.Texts, c.texts...)
	if c.squeeze != whole {
		d.notice("a parent's name is shortened on the label")
	}
	return true
}

func (d *Drawing) notice(text string) {
	if text != "" {
		d.Notices = append(d.Notices, text)
	}
}

// Payload is the longest text among the drawing's codes.
func (d *Drawing) Payload() string {
	var longest string
	for _, c := range d.Codes {
		if len(c.Symbol.Payload) > len(longest) {
			longest = c.Symbol.Payload
		}
	}
	return longest
}
