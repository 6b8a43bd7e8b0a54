package main

import (
	"fmt"
	"slices"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/label/reading"
)

// sayStocktake says what a stocktake found, a summary first.
func (e *env) sayStocktake(w *stocktake) {
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
	for _, f := range w.Findings {
		what, hint := w.findingWords(f)
		e.Say("%s", f.Key)
		e.Say("  %s", what)
		if hint != "" {
			e.Say("  hint: %s", e.thereToo(hint))
		}
	}
	if n := w.sources.Numbers; n > 0 {
		e.Notice("%s left out: counts are recorded by pipstake scan", words.Plural(n, "number was", "numbers were"))
	}
	if !w.Paired && w.Tally.Seen > 0 {
		e.Notice("no pot was seen with both of its stakes, so none counts as lost")
	}
	if n := w.Elsewhere; n > 0 && w.Place == "" {
		e.Notice("%s seen that %s not asked for", words.Plural(n, "pot in use was", "pots in use were"), map[bool]string{true: "was", false: "were"}[n == 1])
	}
}

// findingWords say what is not as it should be, and what to do.
func (w *stocktake) findingWords(f reading.Finding) (what, hint string) {
	where := f.At.Where + ": "
	switch f.Kind {
	case reading.PotNotSeen:
		return "not seen", "look for it; if it is gone: pipstake gone " + f.ID.String() + notFound(f.ID)
	case reading.PotUnclear:
		return "not seen, unless it is among the codes that could not be read", "look for it, or take those pictures again"
	case reading.StakeLost:
		return fmt.Sprintf("copy %d was seen, copy %d was not", 3-f.Copy, f.Copy),
			"look into the pot; then print it anew: " + replaceCommand(registry.Label{ID: f.ID, Copy: f.Copy})
	case reading.StakeUnread:
		return where + fmt.Sprintf("copy %d was read, copy %d may be one of the codes beside it that could not be read", 3-f.Copy, f.Copy), "take that picture again"
	case reading.SeenTwice:
		both := f.At.Where + " and " + f.Again.Where
		if f.At.Where == f.Again.Where {
			both = f.At.Where + ", two labels on it"
		}
		return "the same copy was seen twice: " + both,
			"where it was no second look at the same pot, one of the two stakes is in the wrong pot: compare what grows there, and destroy that stake"
	case reading.OtherPlace:
		place, file := "no place", "pots.csv"
		if f.Place != "" {
			place = "the place " + words.Shown(words.OneLine(f.Place))
		}
		if f.ID.Level() == ids.SeedlingLevel {
			file = "seedlings.csv"
		}
		return where + fmt.Sprintf("it stands here, and %s has %s for it", file, place),
			fmt.Sprintf("carry it back, or say that it moved: pipstake move %s --to %s", f.ID, shellWords(w.Place))
	case reading.EndedPot:
		return where + f.End.String(), "take its stakes away; where it grows after all: pipstake gone " + f.ID.String() + " --back"
	}
	what, hint = (&answer{Answer: f.Answer}).problemWords(w.r, f.Problem)
	return where + what, hint
}

// headline is the stocktake in one line.
func (w *stocktake) headline() string {
	t := w.Tally
	if t.Expected == 0 {
		return "no pot is in use; " + w.whatWasRead()
	}
	if len(w.Sightings) == 0 {
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

// notFound is how something ended that a walk does not find.
func notFound(id ids.ID) string {
	if id.Level() == ids.SeedlingLevel {
		return ` --note "not found"`
	}
	return ` --how lost --note "not found"`
}

// expectedWords counts the pots and seedlings that should stand there.
func (w *stocktake) expectedWords() string {
	pots, seedlings := 0, 0
	for _, id := range w.Expected {
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
func (w *stocktake) whatWasRead() string {
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
func (w *stocktake) sums() []string {
	t, s := w.Tally, w.sources
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
	if w.Place != "" {
		add(w.Elsewhere, "pot belongs elsewhere", "pots belong elsewhere")
	}
	add(t.Stale, "label says other than the registry", "labels say other than the registry")
	add(w.Others, "label of another kind", "labels of other kinds")
	add(s.OtherCodes, "code of something else", "codes of something else")
	return lines
}

// stocktakeFacts is a stocktake in JSON.
type stocktakeFacts struct {
	Place    string           `json:"place,omitempty"`
	Of       []string         `json:"of,omitempty"`
	Summary  tallyFacts       `json:"summary"`
	Sources  stocktakeSources `json:"sources"`
	Paired   bool             `json:"both_copies_looked_at"`
	Seen     []seenFacts      `json:"seen"`
	Findings []seenProblem    `json:"findings"`
	Replace  []stakeFacts     `json:"replace"`
}

// tallyFacts count what was expected and seen.
type tallyFacts struct {
	Expected int `json:"expected"`
	Seen     int `json:"seen"`
	NotSeen  int `json:"not_seen"`
	NotRead  int `json:"not_seen_or_not_read"`
	Lost     int `json:"stakes_lost"`
	Twice    int `json:"seen_twice"`
	Unknown  int `json:"unknown"`
	Void     int `json:"void"`
	Stale    int `json:"stale_labels"`
}

// seenProblem is something that is not as it should be.
type seenProblem struct {
	Kind reading.FindingKind `json:"kind"`
	ID   string              `json:"id"`
	Copy int                 `json:"copy,omitempty"`
	What string              `json:"what"`
	Hint string              `json:"hint,omitempty"`
}

type seenFacts struct {
	ID     string `json:"id"`
	Copies []int  `json:"copies"` // that were seen; none where no code told
}

type stakeFacts struct {
	ID   string `json:"id"`
	Copy int    `json:"copy"`
}

func (w *stocktake) facts(toCopy func(string) string) stocktakeFacts {
	f := stocktakeFacts{Place: w.Place, Summary: tallyFacts(w.Tally), Sources: w.sources, Paired: w.Paired,
		Seen: []seenFacts{}, Findings: []seenProblem{}, Replace: []stakeFacts{}}
	for _, found := range w.Findings {
		what, hint := w.findingWords(found)
		f.Findings = append(f.Findings, seenProblem{found.Kind, found.ID.String(), found.Copy, what, toCopy(hint)})
	}
	for _, id := range w.Of {
		f.Of = append(f.Of, id.String())
	}
	for _, id := range w.Expected {
		if w.Pots[id] == nil {
			continue
		}
		seen := seenFacts{id.String(), []int{}}
		for _, n := range reading.StakeCopies {
			if len(w.Pots[id][n]) > 0 {
				seen.Copies = append(seen.Copies, n)
			}
		}
		f.Seen = append(f.Seen, seen)
	}
	for _, t := range w.Replace {
		f.Replace = append(f.Replace, stakeFacts{t.ID.String(), t.Copy})
	}
	return f
}

// replacing adds the flags that shape the printing of --print.
func (f *flags) replacing(out *string) *printFlags {
	return &printFlags{
		out:     out,
		preview: new(string),
		force:   f.onOff("force", "replace a PDF that exists"),
		stock:   f.text("stock", "the `NAME` of the sheets to print on, see pipstake stock list; a4-cut-148x20 where left out"),
		first:   &countFlag{},
		fresh:   new(bool),
		printer: f.text("printer", "the `NAME` of the printer, whose shift stock adjust has kept; printer where left out"),
		dpi:     f.resolution(""),
		gain:    &countFlag{},
		font:    f.font(),
	}
}

// printReplacements prints the stakes that were found lost or out of date.
func (e *env) printReplacements(dir string, p *printRun, w *stocktake) error {
	tags := w.Replace
	if len(tags) == 0 {
		e.Remark("no stake has to be replaced, so nothing was printed")
		return nil
	}
	_, err := p.print(dir, func(r *registry.Registry) (order, error) {
		for _, t := range tags {
			if err := live(r, t.ID); err != nil {
				return order{}, err
			}
		}
		r.RetireLabels(func(l registry.Label) bool { return slices.Contains(tags, reading.KeyOf(l)) }, registry.Replaced)
		return order{on: w.Today, tags: tags}, nil
	})
	return err
}
