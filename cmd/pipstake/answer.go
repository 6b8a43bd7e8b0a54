package main

import (
	"fmt"

	"pipstake/ids"
	"pipstake/ids/practice"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
	"pipstake/label/reading"
	"pipstake/label/symbol"
)

// answer is what is told of one scanned or typed code.
type answer struct {
	*reading.Answer
	read     string // as it came
	notices  []string
	problems []scanProblem
	descent  *descent // nil where the crosses contradict themselves
}

// scanProblem is something wrong with a code or its label, in words.
type scanProblem struct {
	Kind reading.Kind `json:"kind"`
	What string       `json:"what"`
	Hint string       `json:"hint,omitempty"`
}

// answerTo looks a code up.
func answerTo(r *registry.Registry, code symbol.Payload, today registry.Date) *answer {
	a := &answer{Answer: reading.AnswerTo(r, code, today), read: code.String()}
	if own, err := practice.Of(r); err == nil && code.ID.Level() == ids.PotLevel { // check says what is wrong with it
		end, ended := season.PotEnding(r, own, a.Pot, today)
		a.AllOut = ended && end.ByItself
	}
	if a.Plant != nil {
		a.descent = &descent{id: code.ID, pedigree: a.Pedigree, plant: a.Plant}
	}
	for _, p := range a.Problems {
		what, hint := a.problemWords(r, p)
		a.problems = append(a.problems, scanProblem{p.Kind, what, hint})
	}
	return a
}

// unreadable is the answer to a text that is no code.
func unreadable(read string, err error, today registry.Date) *answer {
	said := firstProblem(err)
	return &answer{Answer: &reading.Answer{Today: today}, read: read,
		problems: []scanProblem{{reading.KindOf(err), said.What, said.Remedy}}}
}

// problemWords say what is wrong with a code or its label, and what to do.
func (a *answer) problemWords(r *registry.Registry, p reading.Problem) (what, hint string) {
	switch p.Kind {
	case reading.Unknown:
		u := unknown(r, a.Code.ID)
		return u.What, u.Remedy
	case reading.Void:
		return a.voidWords(p), "do not use it; take its labels away"
	case reading.Stale:
		const anew = "where the registry is right, print it anew: "
		if p.Recorded != nil {
			return fmt.Sprintf("%s on record: %s", reading.KeyOf(*p.Recorded), disagreementWords(p.Disagreement)), anew + replaceCommand(*p.Recorded)
		}
		return differenceWords(p.Difference), anew + replaceCommand(registry.Label{ID: a.Code.ID, Copy: a.Code.Copy})
	case reading.Retired:
		what = fmt.Sprintf("this label was printed %s and is %s", p.Label.Printed, p.Label.State)
		if p.Newer == nil {
			return what, "print it again: " + a.printCommand()
		}
		return fmt.Sprintf("%s; a newer one was printed %s", what, p.Newer.Printed), "take it away and use the newer one"
	}
	return "no such label is recorded as printed", "print one: " + a.printCommand()
}

// voidWords say what is void: the identifier or one above it; and why.
func (a *answer) voidWords(p reading.Problem) string {
	id := a.Code.ID
	what := fmt.Sprintf("%s is void", p.By)
	if p.By != id {
		what = fmt.Sprintf("%s is void with its %s %s", id, p.By.Level(), p.By)
	}
	if p.Note != "" {
		what += ": " + words.OneLine(p.Note)
	}
	return what
}

// printCommand prints the label where none is live.
func (a *answer) printCommand() string {
	if a.Code.ID.Level() == ids.CrossLevel {
		return "pipstake tags " + a.Code.ID.String()
	}
	if a.Code.Copy > 0 { // the other copy may be in use
		return fmt.Sprintf("pipstake labels %s --copy %d", a.Code.ID, a.Code.Copy)
	}
	return "pipstake labels " + a.Code.ID.String()
}

// titleOf says what an identifier stands for.
func titleOf(id ids.ID) string {
	above, _ := id.Parent()
	switch id.Level() {
	case ids.CrossLevel:
		return fmt.Sprintf("cross %d of %d", id.Cross, id.Year)
	case ids.LotLevel:
		return fmt.Sprintf("seed lot %s of cross %s", ids.Letters(id.Lot), above)
	case ids.PotLevel:
		return fmt.Sprintf("pot %d of seed lot %s", id.Pot, above)
	}
	return fmt.Sprintf("seedling %s of pot %s", ids.Letters(id.Seedling), above)
}
