package main

import (
	"fmt"

	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/layout"
)

// twoSided adds the flag for stakes that are printed on both sides.
func (f *flags) twoSided() *wordFlag {
	return f.word("two-sided", "print identifier and parents on the back of stakes too, for sheets that are turned over their `long|short` edge", "long", "short")
}

// setFlip sets over which edge sheets are turned.
func (p *printRun) setFlip(edge *wordFlag) {
	p.flip = flipOver(edge)
}

// flipOver is the edge that sheets are turned over by a flag.
func flipOver(edge *wordFlag) layout.Flip {
	switch edge.word {
	case "long":
		return layout.LongEdge
	case "short":
		return layout.ShortEdge
	}
	return layout.NoFlip
}

// edge names the edge that sheets are turned over.
func (p *printRun) edge() string {
	if p.flip == layout.ShortEdge {
		return "short"
	}
	return "long"
}

// checkFlip refuses backs where there can be none.
func (p *printRun) checkFlip(b fitted) error {
	switch {
	case p.flip == layout.NoFlip:
	case b.face != registry.StakeFace:
		return problem.Use(fmt.Sprintf("--two-sided is for stakes, not for %s", faceNoun(b.face, len(b.tags))), "leave --two-sided out, or add --face stake")
	case b.stock.Kind == layout.Roll:
		return problem.Use(fmt.Sprintf("--two-sided: printers of rolls such as %s print one side", b.stock.Name), "leave --two-sided out, or choose sheets: pipstake stock list")
	}
	return nil
}
