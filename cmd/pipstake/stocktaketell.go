package main

import (
	"fmt"
	"slices"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/label/reading"
)

// sayWalk tells what a stocktake found, a summary first.
func (e *env) sayWalk(w *walk) {
	e.Say("%s", w.headline())
	for _, line := range w.sums() {
		e.Say("  %s", line)
	}
	for _, n := range w.sources.Unread {
		e.Say("%s: %s seen and not read", n.Photo, words.Plural(len(n.Places), "code was", "codes were"))
		for _, at := range n.Places {
			e.Say("  %d pixels from the left and %d from the top", at.X, at.Y)
		}
		e.Say("  hint: take another picture, nearer and without blur")
	}
	for _, n := range w.sources.Refused {
		e.Say("%s: %s", n.Where, n.What)
		if n.Hint != "" {
			e.Say("  hint: %s", n.Hint)
		}
	}
	for _, f := range w.findings {
		e.Say("%s", reading.Key{ID: f.id, Copy: f.Copy})
		e.Say("  %s", f.What)
		if f.Hint != "" {
			e.Say("  hint: %s", f.Hint)
		}
	}
	if n := w.sources.Numbers; n > 0 {
		e.Notice("%s left out: counts are recorded by pipstake scan", words.Plural(n, "number was", "numbers were"))
	}
	if !w.paired && w.tally.Seen > 0 {
		e.Notice("no pot was seen with both of its stakes, so none counts as lost")
	}
	if n := w.elsewhere; n > 0 && w.place == "" {
		e.Notice("%s seen that %s not asked for", words.Plural(n, "pot in use was", "pots in use were"), map[bool]string{true: "was", false: "were"}[n == 1])
	}
}

// headline is the stocktake in one line.
func (w *walk) headline() string {
	t := w.tally
	if t.Expected == 0 {
		return "no pot is in use; " + w.whatWasRead()
	}
	if len(w.sightings) == 0 {
		return fmt.Sprintf("no code of a label was seen; %s should stand there", w.expectedWords())
	}
	text := fmt.Sprintf("%d of %s seen", t.Seen, w.expectedWords())
	if t.NotSeen > 0 {
		text += fmt.Sprintf(", %d not seen", t.NotSeen)
	}
	if t.NotRead > 0 {
		text += fmt.Sprintf(", %d not seen or not read", t.NotRead)
	}
	return text + "; " + w.whatWasRead()
}

// expectedWords counts the pots and seedlings that should stand there.
func (w *walk) expectedWords() string {
	pots, seedlings := 0, 0
	for _, id := range w.expected {
		if id.Level() == ids.PotLevel {
			pots++
		} else {
			seedlings++
		}
	}
	switch {
	case seedlings == 0:
		return words.Plural(pots, "pot", "pots")
	case pots == 0:
		return words.Plural(seedlings, "seedling", "seedlings")
	}
	return words.Plural(pots, "pot", "pots") + " and " + words.Plural(seedlings, "seedling", "seedlings")
}

// whatWasRead says where the codes came from.
func (w *walk) whatWasRead() string {
	s := w.sources
	var from []string
	if s.Photographs > 0 {
		from = append(from, words.Plural(s.Photographs, "photograph", "photographs"))
	}
	if s.Files > 0 {
		from = append(from, words.Plural(s.Files, "log", "logs"))
	}
	text := words.Plural(s.Codes, "code", "codes")
	if len(from) > 0 {
		text += " on " + words.List(from)
	}
	return text
}

// sums are the counts of findings, those that are not 0.
func (w *walk) sums() []string {
	t, s := w.tally, w.sources
	var lines []string
	add := func(n int, one, many string) {
		if n > 0 {
			lines = append(lines, words.Plural(n, one, many))
		}
	}
	add(s.NotRead, "code was seen and not read", "codes were seen and not read")
	add(len(s.Refused), "line or file was not read", "lines or files were not read")
	add(t.Lost, "stake is lost", "stakes are lost")
	add(t.Twice, "stake was seen twice", "stakes were seen twice")
	add(t.Unknown, "identifier is unknown", "identifiers are unknown")
	add(t.Void, "identifier is void", "identifiers are void")
	if w.place != "" {
		add(w.elsewhere, "pot belongs elsewhere", "pots belong elsewhere")
	}
	add(t.Stale, "label says other than the registry", "labels say other than the registry")
	add(w.others, "label of another kind", "labels of other kinds")
	add(s.OtherCodes, "code of something else", "codes of something else")
	return lines
}

// walkFacts is a stocktake in JSON.
type walkFacts struct {
	Place    string        `json:"place,omitempty"`
	Of       []string      `json:"of,omitempty"`
	Summary  walkTally     `json:"summary"`
	Sources  walkSources   `json:"sources"`
	Paired   bool          `json:"both_copies_looked_at"`
	Seen     []seenFacts   `json:"seen"`
	Findings []walkFinding `json:"findings"`
	Replace  []stakeFacts  `json:"replace"`
}

type seenFacts struct {
	ID     string `json:"id"`
	Copies []int  `json:"copies"` // that were seen; none where no code told
}

type stakeFacts struct {
	ID   string `json:"id"`
	Copy int    `json:"copy"`
}

func (w *walk) facts() walkFacts {
	f := walkFacts{Place: w.place, Summary: w.tally, Sources: w.sources, Paired: w.paired,
		Seen: []seenFacts{}, Findings: append([]walkFinding{}, w.findings...), Replace: []stakeFacts{}}
	for _, id := range w.of {
		f.Of = append(f.Of, id.String())
	}
	for _, id := range w.expected {
		if w.pots[id] == nil {
			continue
		}
		seen := seenFacts{id.String(), []int{}}
		for _, n := range reading.StakeCopies {
			if len(w.pots[id][n]) > 0 {
				seen.Copies = append(seen.Copies, n)
			}
		}
		f.Seen = append(f.Seen, seen)
	}
	for _, t := range w.toReplace() {
		f.Replace = append(f.Replace, stakeFacts{t.ID.String(), t.Copy})
	}
	return f
}

// toReplace are the stakes to print anew, in the order of their identifiers.
func (w *walk) toReplace() []reading.Key {
	tags := slices.Clone(w.replace)
	slices.SortFunc(tags, func(a, b reading.Key) int {
		if c := ids.Compare(a.ID, b.ID); c != 0 {
			return c
		}
		return a.Copy - b.Copy
	})
	return tags
}

// replacing adds the flags that shape the printing of --print.
func (f *flags) replacing(out *string) *printFlags {
	return &printFlags{
		out:     out,
		preview: new(string),
		force:   f.onOff("force", "replace a PDF that exists"),
		stock:   f.text("stock", "the `NAME` of the sheets to print on, see pipstake stock list;\na4-cut-148x20 where left out"),
		first:   &countFlag{},
		fresh:   new(bool),
		printer: f.text("printer", "the `NAME` of the printer, whose shift stock adjust has kept;\nprinter where left out"),
		dpi:     f.word("dpi", "the printer's `DOTS` in an inch: 203, 300, 600 or 1200;\n600 where left out", "203", "300", "600", "1200"),
		gain:    &countFlag{},
		font:    f.font(),
	}
}

// printReplacements prints the stakes that were found lost or out of date.
func (e *env) printReplacements(dir string, p *press, w *walk) error {
	tags := w.toReplace()
	if len(tags) == 0 {
		e.Remark("no stake has to be replaced, so nothing was printed")
		return nil
	}
	return p.print(dir, func(r *registry.Registry) (order, error) {
		for _, t := range tags {
			if err := live(r, t.ID); err != nil {
				return order{}, err
			}
		}
		r.RetireLabels(func(l registry.Label) bool { return slices.Contains(tags, reading.KeyOf(l)) }, registry.Replaced)
		return order{on: w.today, tags: tags}, nil
	})
}
