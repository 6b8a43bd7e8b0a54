package main

import (
	"errors"
	"fmt"
	"strings"

	"pipstake/ids/problem"
	"pipstake/label"
	"pipstake/layout"
)

// unfitError says that labels do not go on a stock, and on which they do.
type unfitError struct {
	*label.RoomError
	stocks []string
}

// Problems returns which stocks would do.
func (e *unfitError) Problems() []problem.Problem {
	return problem.Use(e.Error(), "it fits on "+strings.Join(e.stocks, " or ")+"; {stocks} tells the others").Problems()
}

// tooSmall completes a refusal for want of room with stocks on which the labels
// have been tried and fit; other errors stay as they are.
func (b *fitted) tooSmall(p *printRun, faces []label.Face, err error) error {
	var small *label.RoomError
	if !errors.As(err, &small) {
		return err
	}
	e := &unfitError{RoomError: small}
	for _, s := range layout.Stocks() {
		if s.Kind == b.stock.Kind && fits(p, s, faces) {
			e.stocks = append(e.stocks, s.Name)
			break
		}
	}
	if roll, err := layout.FindStock(fmt.Sprintf("roll-%.0fx%.0f", small.NeedW, small.NeedH)); err == nil && fits(p, roll, faces) {
		e.stocks = append(e.stocks, roll.Name)
	}
	if len(e.stocks) == 0 {
		return err
	}
	return e
}

// fits reports whether labels can be set on a stock.
func fits(p *printRun, s layout.Stock, faces []label.Face) bool {
	b := fitted{stock: s}
	_, err := b.fitFaces(p, faces)
	return err == nil
}
