package main

import (
	"fmt"
	"strings"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/label/symbol"
)

// readID reads an identifier from the command line: typed, also without its
// year, or the whole text of a scanned code. What was folded is noticed.
func (e *env) readID(arg string) (symbol.Payload, error) {
	arg, err := e.completed(arg)
	if err != nil {
		return symbol.Payload{}, err
	}
	p, notices, err := symbol.ParsePayload(arg)
	if err != nil {
		return symbol.Payload{}, err
	}
	for _, n := range notices {
		e.Notice("%s read as %s: %s", words.Shown(arg), p.ID, n)
	}
	return p, nil
}

// completed gives an identifier that was typed without its year the year that is
// meant, and tells it in full; a number of up to three digits is that of a cross.
// Any other text is returned as it is.
func (e *env) completed(arg string) (string, error) {
	short, ok := ids.ParseShort(arg)
	if isCrossNumber(arg) {
		short, ok = ids.ParseShort("X" + arg)
	}
	if !ok {
		return arg, nil
	}
	r, err := e.open(e.registryFlag)
	if err != nil {
		return "", err
	}
	full, err := r.Complete(short)
	if err != nil {
		said := problem.First(err)
		return "", problem.Use(fmt.Sprintf("%q: %s", arg, said.What), said.Remedy)
	}
	e.Notice("%s is %s", words.Shown(arg), full)
	return full, nil
}

// isCrossNumber reports whether a text is the number of a cross alone.
func isCrossNumber(arg string) bool {
	const most = 3 // digits; four are a year
	return arg != "" && len(arg) <= most && isNumber(arg)
}

// numbersApart refuses the number of a cross alone behind anything but such
// numbers: there it may be meant as how many.
func numbersApart(args []string) error {
	for i, arg := range args {
		before := args[max(0, i-1)]
		first, _, _ := strings.Cut(strings.ReplaceAll(before, "…", ".."), "..") // of a run
		if isCrossNumber(arg) && !isCrossNumber(strings.TrimLeft(first, "Xx×")) {
			return problem.Use(fmt.Sprintf("%s behind %s: is it the number of a cross, or how many?", words.Shown(arg), words.Shown(before)),
				fmt.Sprintf("write the cross whole, such as %s; how many goes behind a flag, which --help lists", example(ids.CrossLevel)))
		}
	}
	return nil
}

// readIDs reads the identifiers that a command takes, all of one level and
// each once.
func (e *env) readIDs(args []string, want ids.Level) ([]ids.ID, error) {
	if err := numbersApart(args); err != nil {
		return nil, err
	}
	var read []ids.ID
	seen := map[ids.ID]bool{}
	for _, arg := range args {
		p, err := e.readID(arg)
		if err != nil {
			return nil, err
		}
		if err := levelIs(p.ID, want); err != nil {
			return nil, err
		}
		if seen[p.ID] {
			return nil, problem.Use(fmt.Sprintf("%s stands there twice", p.ID), "name each "+want.String()+" once")
		}
		seen[p.ID] = true
		read = append(read, p.ID)
	}
	return read, nil
}

// levelIs refuses an identifier of another level than wanted.
func levelIs(id ids.ID, want ids.Level) error {
	have := id.Level()
	if have == want {
		return nil
	}
	hint := fmt.Sprintf("a %s looks like %s", want, example(want))
	if have > want {
		hint = fmt.Sprintf("its %s is %s", want, id.At(want))
	}
	return problem.Use(fmt.Sprintf("%s is a %s, and a %s is wanted", id, have, want), hint)
}

// example is how an identifier of a level looks.
func example(level ids.Level) string {
	id := ids.ID{Year: 2026, Cross: 12, Lot: 2, Pot: 2, Seedling: 3}
	return id.At(level).String()
}

// unknown says that the registry has no such identifier.
func unknown(r *registry.Registry, id ids.ID) *problem.Problem {
	for above, ok := id.Parent(); ok; above, ok = above.Parent() {
		if r.Status(above) == registry.Unknown {
			continue
		}
		var below []string
		for _, child := range childrenOf(r, above) {
			below = append(below, child.String())
		}
		has := "has none yet"
		if len(below) > 0 {
			has = "has " + words.List(words.Few(below, 8))
		}
		return problem.Use(fmt.Sprintf("%s is not in the registry", id), fmt.Sprintf("%s %s %s", above.Level(), above, has))
	}
	return problem.Use(fmt.Sprintf("%s is not in the registry", id), "look whether it is the right registry: "+r.Dir())
}

// childrenOf are the identifiers one level below id, in the registry's order.
func childrenOf(r *registry.Registry, id ids.ID) []ids.ID {
	var below []ids.ID
	switch id.Level() {
	case ids.CrossLevel:
		for _, l := range r.LotsOf(id) {
			below = append(below, l.ID)
		}
	case ids.LotLevel:
		for _, p := range r.PotsOf(id) {
			below = append(below, p.ID)
		}
	case ids.PotLevel:
		for _, s := range r.SeedlingsOf(id) {
			below = append(below, s.ID)
		}
	}
	return below
}

// live refuses an identifier that the registry does not know or that is void.
func live(r *registry.Registry, id ids.ID) error {
	switch r.Status(id) {
	case registry.Unknown:
		return unknown(r, id)
	case registry.Voided:
		return problem.Use(fmt.Sprintf("%s is void", id), "a void identifier is never used again; see pipstake scan "+id.String())
	}
	return nil
}

// parents shows a cross: "♀ Larkfield Tessel × ♂ Tarn Amber".
func parents(c registry.Cross) string {
	return fmt.Sprintf("♀ %s × ♂ %s", words.OneLine(c.SeedParent), words.OneLine(c.PollenParent))
}

// upOf shows a count against what was sown: "5 of 7 up (71 %), 1 died".
func upOf(c registry.Emergence, p registry.Pot) string {
	died := ""
	if c.Died.N > 0 {
		died = fmt.Sprintf(", %d died", c.Died.N)
	}
	switch {
	case !c.Up.Known:
		return "an unknown number up"
	case !p.Seeds.Known || p.Seeds.N == 0:
		return fmt.Sprintf("%d up", c.Up.N) + died
	}
	return fmt.Sprintf("%d of %d up (%s %%)", c.Up.N, p.Seeds.N, words.PercentOf(c.Up.N, p.Seeds.N)) + died
}
