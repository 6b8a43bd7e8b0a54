package main

import (
	"errors"
	"fmt"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/label/symbol"
)

// answer is all that the registry knows of one scanned or typed code.
type answer struct {
	read     string // as it came
	code     symbol.Payload
	status   registry.Status
	today    registry.Date
	notices  []string
	problems []scanProblem

	cross    registry.Cross // each of these as far down as code names one
	lot      registry.Lot
	pot      registry.Pot
	seedling registry.Seedling

	left      registry.Count // seeds of the lot to sow
	lots      []registry.Lot // of the cross
	pots      []registry.Pot // of the lot
	seedlings []registry.Seedling
	counts    []registry.Emergence // of the pot
	labels    []registry.Label     // of the identifier itself
	descent   *descent             // nil where the crosses contradict themselves
}

// problemKind is what a scan can find wrong.
type problemKind string

// The kinds of problems; they are words in the JSON answer.
const (
	unreadable problemKind = "unreadable"
	wrongCheck problemKind = "wrong_check"
	notKnown   problemKind = "unknown"
	isVoid     problemKind = "void"
	outOfDate  problemKind = "stale_label"
	retired    problemKind = "retired_label"
	notPrinted problemKind = "label_not_recorded"
)

// scanProblem is something wrong with a code or its label.
type scanProblem struct {
	Kind problemKind `json:"kind"`
	What string      `json:"what"`
	Hint string      `json:"hint,omitempty"`
}

func (a *answer) problem(kind problemKind, what, hint string) {
	a.problems = append(a.problems, scanProblem{kind, what, hint})
}

// answerTo looks a code up.
func answerTo(r *registry.Registry, read string, today registry.Date) *answer {
	a := &answer{read: read, today: today}
	var err error
	a.code, a.notices, err = symbol.ParsePayload(read)
	if err != nil {
		said := firstProblem(err)
		kind := unreadable
		var check *ids.CheckError
		if errors.As(err, &check) {
			kind = wrongCheck
		}
		a.problem(kind, said.What, said.Remedy)
		return a
	}
	id := a.code.ID
	a.status = r.Status(id)
	a.lookUp(r)
	switch a.status {
	case registry.Unknown:
		u := unknown(r, id)
		a.problem(notKnown, u.What, u.Remedy)
		return a
	case registry.Voided:
		a.problem(isVoid, a.voidWords(r), "do not use it; take its labels away")
		return a
	}
	a.judgeLabel(r)
	return a
}

// lookUp collects what the registry holds of the identifier.
func (a *answer) lookUp(r *registry.Registry) {
	id := a.code.ID
	cross, lot, pot := id.At(ids.CrossLevel), id.At(ids.LotLevel), id.At(ids.PotLevel)
	a.cross, _ = r.Cross(cross)
	a.labels = r.LabelsOf(id)
	if d, err := descentOf(r, id); err == nil {
		a.descent = d
	}
	switch level := id.Level(); level {
	case ids.CrossLevel:
		a.lots = r.LotsOf(cross)
	case ids.LotLevel, ids.PotLevel, ids.SeedlingLevel:
		a.lot, _ = r.Lot(lot)
		a.pots = r.PotsOf(lot)
		a.left, _ = r.LeftToSow(lot)
		if level == ids.LotLevel {
			return
		}
		a.pot, _ = r.Pot(pot)
		a.counts = r.EmergenceOf(pot)
		a.seedlings = r.SeedlingsOf(pot)
		if level == ids.SeedlingLevel {
			a.seedling, _ = r.Seedling(id)
		}
	}
}

// voidWords says what is void: the identifier or one above it; and why.
func (a *answer) voidWords(r *registry.Registry) string {
	states := map[ids.Level]struct {
		state registry.State
		notes string
	}{
		ids.CrossLevel: {a.cross.State, a.cross.Notes}, ids.LotLevel: {a.lot.State, a.lot.Notes},
		ids.PotLevel: {a.pot.State, a.pot.Notes}, ids.SeedlingLevel: {a.seedling.State, a.seedling.Notes},
	}
	id := a.code.ID
	for above, ok := id, true; ok; above, ok = above.Parent() {
		s := states[above.Level()]
		if s.state != registry.Void {
			continue
		}
		what := fmt.Sprintf("%s is void", above)
		if above != id {
			what = fmt.Sprintf("%s is void with its %s %s", id, above.Level(), above)
		}
		if s.notes != "" {
			what += ": " + words.OneLine(s.notes)
		}
		return what
	}
	return fmt.Sprintf("%s is void", id)
}

// judgeLabel compares a label with the registry: the one in the hand where the
// whole code was scanned, else the live ones on record.
func (a *answer) judgeLabel(r *registry.Registry) {
	live := a.liveLabels()
	for _, what := range stale(r, a.code) {
		a.problem(outOfDate, what, "where the registry is right, print it anew: "+a.replaceCommand())
	}
	if len(a.problems) == 0 {
		for _, l := range live {
			if what := contradiction(r, l); l.Payload != "" && what != "" {
				a.problem(outOfDate, fmt.Sprintf("%s on record: %s", tagFor(l), what), "where the registry is right, print it anew: "+replaceCommand(l))
			}
		}
	}
	if a.code.Copy == 0 && a.code.Text == "" {
		return // typed, so nothing is known of a label
	}
	if len(live) > 0 {
		a.judgePrinting(live)
		return
	}
	if last := a.lastLabel(); last != nil {
		a.problem(retired, fmt.Sprintf("this label was printed %s and is %s", last.Printed, last.State), "print it again: "+a.printCommand())
		return
	}
	a.problem(notPrinted, "no such label is recorded as printed", "print one: "+a.printCommand())
}

// judgePrinting tells a label that was replaced by one that says otherwise.
func (a *answer) judgePrinting(live []registry.Label) {
	same := func(l registry.Label) bool { return a.code.Text != "" && l.Payload == a.code.String() }
	for _, l := range live {
		if same(l) {
			return
		}
	}
	for _, l := range a.labels {
		if l.State != registry.LabelLive && same(l) {
			a.problem(retired, fmt.Sprintf("this label was printed %s and is %s; a newer one was printed %s", l.Printed, l.State, live[0].Printed),
				"take it away and use the newer one")
			return
		}
	}
}

// liveLabels are the live labels of the copy that was scanned, or of all.
func (a *answer) liveLabels() []registry.Label {
	var live []registry.Label
	for _, l := range a.labels {
		if l.State == registry.LabelLive && (a.code.Copy == 0 || l.Copy == a.code.Copy) {
			live = append(live, l)
		}
	}
	return live
}

// lastLabel is the last label printed of the copy that was scanned.
func (a *answer) lastLabel() *registry.Label {
	for i := len(a.labels) - 1; i >= 0; i-- {
		if a.code.Copy == 0 || a.labels[i].Copy == a.code.Copy {
			return &a.labels[i]
		}
	}
	return nil
}

func (a *answer) replaceCommand() string {
	return replaceCommand(registry.Label{ID: a.code.ID, Copy: a.code.Copy})
}

// printCommand prints the label where none is live.
func (a *answer) printCommand() string {
	if a.code.ID.Level() == ids.CrossLevel {
		return "pipstake tags " + a.code.ID.String()
	}
	return "pipstake labels " + a.code.ID.String()
}
