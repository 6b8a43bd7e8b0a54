package main

import (
	"fmt"
	"strings"

	"pipstake/ids/problem"
	"pipstake/label"
)

// clearFlag is a flag's value of places to keep white at the sides of a label.
type clearFlag struct {
	at    label.Margin // in millimetres
	given bool
}

// clear adds the flag for what stays white on each label of a stock.
func (f *flags) clear() *clearFlag {
	c := &clearFlag{}
	f.set.Var(c, "clear", "add: keep a hole, a notch, a loop or a black mark clear, so many mm from a side of each label as it lies on the page: `SIDE:MM`, as in left:12,top:3")
	return c
}

func (c *clearFlag) Set(s string) (err error) {
	if c.at, err = readClear(s); err != nil {
		return err
	}
	c.given = true
	return nil
}

func (c *clearFlag) String() string { return "" }
func (c *clearFlag) Type() string   { return "SIDE:MM" }

// readClear reads "left:12 top:3", with commas or spaces between sides.
func readClear(s string) (label.Margin, error) {
	var m label.Margin
	sides := map[string]*float64{"left": &m.Left, "top": &m.Top, "right": &m.Right, "bottom": &m.Bottom}
	for _, part := range strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return r == ',' || r == ' ' }) {
		side, measure, _ := strings.Cut(part, ":")
		at, known := sides[side]
		v, ok := parseLength(measure)
		if !known || !ok || v < 0 {
			return m, problem.Use(fmt.Sprintf("%q is no side with millimetres", part), "give left, top, right or bottom with millimetres, as in left:12,top:3")
		}
		*at = v
	}
	return m, nil
}

// clearText writes what readClear reads; "" for nothing kept clear.
func clearText(m label.Margin) string {
	var parts []string
	for _, side := range []struct {
		name string
		mm   float64
	}{{"left", m.Left}, {"top", m.Top}, {"right", m.Right}, {"bottom", m.Bottom}} {
		if side.mm > 0 {
			parts = append(parts, side.name+":"+mm(side.mm))
		}
	}
	return strings.Join(parts, " ")
}
