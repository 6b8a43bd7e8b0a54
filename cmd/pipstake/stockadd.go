package main

import (
	"fmt"
	"strings"

	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/layout"
)

// measured are the flags that tell the measures of a grower's own stock.
type measured struct {
	paper         *string
	columns, rows *countFlag
	label, pitch  *sizeFlag
	left, top     *lengthFlag
	gap           *lengthFlag
	roll          *sizeFlag
	clear         *clearFlag
	turned        *bool
}

func (f *flags) measured() *measured {
	return &measured{
		paper:   f.text("paper", "add: the `PAPER`: a4, letter or its measures such as 120x200"),
		columns: f.count("columns", "add: how many labels side by side", 1, 100),
		rows:    f.count("rows", "add: how many labels one below the other", 1, 100),
		label:   f.size("label", "add: width and height of a label, `WxH` mm, as it lies on the page"),
		left:    f.length("left", "add: from the left edge of the paper to the first label, in `MM`; where left out, as wide as the margin at the right"),
		top:     f.length("top", "add: from the upper edge of the paper to the first label, in `MM`; where left out, as high as the margin at the foot"),
		pitch:   f.size("pitch", "add: from one label to the next, across and down, `XxY` mm; where left out, that of labels without gaps"),
		roll:    f.size("roll", "add: instead of a paper, the width and height of the labels of a roll, `WxH` mm, as they leave the printer; with --columns for several side by side, --gap between them, and --left for the strip at either side"),
		gap:     f.length("gap", "add: between the labels side by side on a roll, in `MM`"),
		clear:   f.clear(),
		turned:  f.onOff("turned", "add: labels are read from the foot of the page upward, as stakes that stand on it are"),
	}
}

// given reports whether any of the flags is.
func (m *measured) given() bool {
	return *m.paper != "" || m.columns.given || m.rows.given || m.label.given || m.left.given || m.top.given || m.pitch.given || m.roll.given || *m.turned || m.gap.given || m.clear.given
}

// stock is what the flags describe. Margins that were not measured are taken
// to be equal on opposite sides.
func (m *measured) stock() (layout.Stock, error) {
	s := layout.Stock{Kind: layout.DieCut, Columns: m.columns.n, Rows: m.rows.n, LabelW: m.label.w, LabelH: m.label.h,
		Left: m.left.mm, Top: m.top.mm, PitchX: m.pitch.w, PitchY: m.pitch.h, Turned: *m.turned, Clear: m.clear.at}
	if m.roll.given {
		if *m.paper != "" || m.rows.given || m.label.given || m.top.given || m.pitch.given {
			return s, problem.Use("--roll goes with --columns, --gap, --left, --clear and --turned only", "a roll has one row of labels a page; leave the measures of a sheet out")
		}
		s.Kind, s.LabelW, s.LabelH = layout.Roll, m.roll.w, m.roll.h
		s.PitchX = s.LabelW + m.gap.mm
		return s, nil
	}
	if m.gap.given {
		return s, problem.Use("--gap goes with --roll", "on a sheet --pitch tells how far it is from one label to the next")
	}
	for _, need := range []struct {
		given bool
		flag  string
	}{{*m.paper != "", "--paper"}, {m.columns.given, "--columns"}, {m.rows.given, "--rows"}, {m.label.given, "--label"}} {
		if !need.given {
			return s, problem.Use(fmt.Sprintf("stock add: %s is missing", need.flag), "a sheet needs --paper, --columns, --rows and --label, a roll --roll WxH")
		}
	}
	var err error
	if s.Paper, err = layout.FindPaper(*m.paper); err != nil {
		return s, problem.Use("--paper: "+err.Error(), "measure the sheet with its short edge across")
	}
	if !m.pitch.given {
		s.PitchX, s.PitchY = s.LabelW, s.LabelH
	}
	if !m.left.given {
		s.Left = max(0, (s.Paper.W-float64(s.Columns-1)*s.PitchX-s.LabelW)/2)
	}
	if !m.top.given {
		s.Top = max(0, (s.Paper.H-float64(s.Rows-1)*s.PitchY-s.LabelH)/2)
	}
	return s, nil
}

// stockAdd records a grower's own stock. Its name comes from its dimensions
// where none is given.
func (e *env) stockAdd(dir, name string, m *measured) error {
	s, err := m.stock()
	if err != nil {
		return err
	}
	s.Name = strings.ToLower(name)
	if s, err = layout.OwnStock(s); err != nil {
		return problem.Use(err.Error(), "measure again, each length from the same edge of the paper")
	}
	if known, err := layout.FindStock(s.Name); err == nil && known == s && (known.Kind != layout.Roll || name != "") {
		return problem.Use(fmt.Sprintf("%s is a stock that pipstake knows by itself", s.Name),
			fmt.Sprintf("use it as it is, or give this one a name of its own: pipstake stock add my-%s …", s.Name))
	}
	row := registry.Stock{Name: s.Name, Kind: registry.DieCutKind, Paper: s.Paper.Name, Columns: s.Columns, Rows: s.Rows,
		LabelWidth: s.LabelW, LabelHeight: s.LabelH, Left: s.Left, Top: s.Top, PitchX: s.PitchX, PitchY: s.PitchY, Clear: clearText(s.Clear)}
	if s.Kind == layout.Roll {
		row.Kind, row.Paper = registry.RollKind, "roll"
	}
	if s.Turned {
		row.Turned = registry.Turned
	}
	if err := e.change(dir, func(r *registry.Registry) error { return r.AddStock(row) }); err != nil {
		return err
	}
	e.Say("%s added", s.Name)
	e.SayTable(stockTable(s, s.Room(defaultDPI)), "  ")
	for _, n := range s.Notices() {
		e.Notice("%s", n)
	}
	e.Next("print a sheet to hold against it: pipstake stock sheet %s", s.Name)
	return nil
}
