package main

import (
	"fmt"
	"slices"
	"strings"

	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/layout"
)

// report says what was printed, where it lies and how to put it on paper. It
// goes to standard error where the PDF takes up standard output.
func (p *printRun) report(f sheetFile) {
	b := f.batch
	say := p.say
	say("batch %d: %s on %s, %s", b.number, faceNoun(b.face, len(b.tags)), b.stock.Name, describeSpots(b.spots, b.sheet))
	for i, line := range b.codes() {
		head := "code"
		if i > 0 {
			head = "    "
		}
		say("  %s  %s", head, line)
	}
	if isPNG(p.out) {
		say("  file  %s, %s of one bit a dot at %d dpi", f.named(), words.Plural(len(f.files), "picture", "pictures"), p.dpi)
	} else {
		say("  file  %s, %s", f.target.shown, words.Plural(b.pages(), "page", "pages"))
	}
	if put := b.putIn(); put != "" {
		say("  put   %s", put)
	}
	if b.kept != "" {
		say("  keep  %s", b.kept)
	}
	if !isPNG(p.out) && !b.stock.SaysBatch(b.drawn[0], b.spots[0].cell) {
		say("  write \"batch %d\" on the back of each sheet: there is no room for it in the margins", b.number)
	}
	if b.shift != (layout.Shift{}) {
		say("  shift %s, as kept for the printer %s", moved(b.shift), p.printerName())
	}
	if b.backs != nil {
		say("  back  every second page: turn the sheets over the %s edge", p.edge())
	}
	if b.face == registry.StakeFace && b.stock.Kind == layout.CutSheet {
		say("  cut   along the lines, from edge to edge; a pair lies side by side: 1 and 2, 3 and 4 and so on")
	}
	say("  print at actual size (100 %%), never fitted to the page")
	p.notices(b)
}

// named returns the first of its files, and the last.
func (f sheetFile) named() string {
	if n := len(f.files); n > 1 {
		return f.target.shown + " to " + f.files[n-1].target.shown
	}
	return f.target.shown
}

// notices says what somebody should know who prints the batch.
func (p *printRun) notices(b *batch) {
	if strays := b.stock.Strays(b.shift); strays != "" {
		p.env.Notice("%s", strays)
	}
	if b.backs != nil && b.stock.Kind == layout.DieCut {
		p.env.Notice("labels that peel off have glue on the back: backs are for tags of card or film")
	}
	p.env.drawingNotices(b)
}

// pages is how many pages the batch has.
func (b *batch) pages() int {
	n := len(b.used())
	if b.backs != nil {
		n *= 2
	}
	return n
}

// used are the sheets that have labels, counted from the first one, in order.
func (b *batch) used() []int {
	var sheets []int
	for _, s := range b.spots {
		sheets = append(sheets, s.sheet)
	}
	slices.Sort(sheets)
	return slices.Compact(sheets)
}

// codes returns how the codes were made. Codes that stand in the same place and
// differ are counted.
func (b *batch) codes() []string {
	var lines []string
	for place := 0; ; place++ {
		count := map[string]int{}
		var kinds []string
		for _, d := range b.drawn {
			if place < len(d.Codes) {
				said := d.Codes[place].Symbol.String()
				if count[said] == 0 {
					kinds = append(kinds, said)
				}
				count[said]++
			}
		}
		if len(kinds) == 0 {
			return lines
		}
		where := ""
		if b.face == registry.StakeFace {
			where = []string{"above the soil: ", "in the soil: "}[min(place, 1)]
		}
		for _, said := range kinds {
			line := where + said
			if len(kinds) > 1 {
				line += fmt.Sprintf(" (%s)", faceNoun(b.face, count[said]))
			}
			lines = append(lines, line)
		}
	}
}

// drawingNotices says what a reader of the labels should know, each thing
// once.
func (e *env) drawingNotices(b *batch) {
	var order []string
	about := map[string][]string{}
	for i, d := range slices.Concat(b.drawn, b.backs) {
		for _, n := range d.Notices {
			if about[n] == nil {
				order = append(order, n)
			}
			if id := b.tags[i%len(b.tags)].ID.String(); !slices.Contains(about[n], id) {
				about[n] = append(about[n], id)
			}
		}
	}
	for _, n := range order {
		which := words.Few(about[n], 5)
		if len(which) == 1 && strings.Contains(n, which[0]) {
			e.Notice("%s", n)
			continue
		}
		e.Notice("%s: %s", words.List(which), n)
	}
}
