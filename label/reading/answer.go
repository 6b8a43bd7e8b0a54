package reading

import (
	"errors"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/label/symbol"
)

// Answer is all that the registry knows of one code.
type Answer struct {
	Code     symbol.Payload
	Status   registry.Status
	Today    registry.Date
	Problems []Problem

	Cross    registry.Cross // each of these as far down as the code names one
	Lot      registry.Lot
	Pot      registry.Pot
	Seedling registry.Seedling

	Left      registry.Count // seeds of the lot to sow
	Cold      []registry.Spell
	ColdDays  int            // of the lot, by today
	Lots      []registry.Lot // of the cross
	Pots      []registry.Pot // of the lot
	Seedlings []registry.Seedling
	Counts    []registry.Emergence // of the pot, with all that is known of them
	Alive     registry.Count       // in the pot
	AllOut    bool                 // nothing more can come of the pot, whatever the season
	Damaged   bool                 // its row has a cell that cannot be read
	End       *registry.Ending     // nil for what grows
	Diary     []registry.DiaryEntry
	Labels    []registry.Label // of the identifier itself
	Pedigree  *season.Pedigree
	Plant     *season.Plant // nil where the crosses contradict themselves
}

// Kind is what can be wrong with a code or its label.
type Kind string

// The kinds of problems; they are words in JSON answers.
const (
	Unreadable  Kind = "unreadable"
	WrongCheck  Kind = "wrong_check"
	Unknown     Kind = "unknown"
	Void        Kind = "void"
	Stale       Kind = "stale_label"
	Retired     Kind = "retired_label"
	NotRecorded Kind = "label_not_recorded"
)

// Problem is something wrong with a code or its label.
type Problem struct {
	Kind Kind
	// By is what is void, the identifier itself or one above it, and Note is
	// what its row says of that.
	By   ids.ID
	Note string
	// Difference is what a stale label in the hand says. Where the label on
	// record is stale, Recorded is its row and Disagreement what it says.
	Difference   Difference
	Recorded     *registry.Label
	Disagreement Disagreement
	// Label is the retired one, and Newer the one that is in use now; nil where
	// none is.
	Label registry.Label
	Newer *registry.Label
}

// KindOf returns the kind of problem that an error of reading a code is.
func KindOf(err error) Kind {
	var check *ids.CheckError
	if errors.As(err, &check) {
		return WrongCheck
	}
	return Unreadable
}

// AnswerTo looks a code up, and compares its label with the registry.
func AnswerTo(r *registry.Registry, code symbol.Payload, today registry.Date) *Answer {
	a := &Answer{Code: code, Today: today, Status: r.Status(code.ID)}
	a.lookUp(r)
	switch a.Status {
	case registry.Unknown:
		a.Problems = []Problem{{Kind: Unknown}}
	case registry.Voided:
		a.Problems = []Problem{a.voided()}
	default:
		if a.End == nil { // what has ended needs no label
			a.judgeLabel(r)
		}
	}
	return a
}

// lookUp collects what the registry holds of the identifier.
func (a *Answer) lookUp(r *registry.Registry) {
	id := a.Code.ID
	cross, lot, pot := id.At(ids.CrossLevel), id.At(ids.LotLevel), id.At(ids.PotLevel)
	a.Cross, _ = r.Cross(cross)
	a.Labels, a.Diary, a.Damaged = r.LabelsOf(id), r.DiaryOf(id), r.DamagedRow(id)
	if end, ended := r.EndOf(id); ended {
		a.End = &end
	}
	a.Pedigree = season.NewPedigree(r)
	if plant, err := a.Pedigree.Plant(id); err == nil {
		a.Plant = plant
	}
	switch level := id.Level(); level {
	case ids.CrossLevel:
		a.Lots = r.LotsOf(cross)
	case ids.LotLevel, ids.PotLevel, ids.SeedlingLevel:
		a.Lot, _ = r.Lot(lot)
		a.Pots = r.PotsOf(lot)
		a.Left, _ = r.LeftToSow(lot)
		a.Cold = r.ColdSpells(lot)
		a.ColdDays, _ = r.ColdDays(lot, a.Today)
		if level == ids.LotLevel {
			return
		}
		a.Pot, _ = r.Pot(pot)
		a.Counts, a.Alive, a.AllOut = r.CountsOf(pot), r.AliveIn(pot), r.AllOut(pot)
		a.Seedlings = r.SeedlingsOf(pot)
		if level == ids.SeedlingLevel {
			a.Seedling, _ = r.Seedling(id)
		}
	}
}

// voided finds what is void: the identifier or one above it.
func (a *Answer) voided() Problem {
	states := map[ids.Level]struct {
		state registry.State
		notes string
	}{
		ids.CrossLevel: {a.Cross.State, a.Cross.Notes}, ids.LotLevel: {a.Lot.State, a.Lot.Notes},
		ids.PotLevel: {a.Pot.State, a.Pot.Notes}, ids.SeedlingLevel: {a.Seedling.State, a.Seedling.Notes},
	}
	for above, ok := a.Code.ID, true; ok; above, ok = above.Parent() {
		if s := states[above.Level()]; s.state == registry.Void {
			return Problem{Kind: Void, By: above, Note: s.notes}
		}
	}
	return Problem{Kind: Void, By: a.Code.ID}
}

// judgeLabel compares a label with the registry: the one in the hand where the
// whole code was scanned, else the live ones on record.
func (a *Answer) judgeLabel(r *registry.Registry) {
	live := a.liveLabels()
	for _, d := range Differences(r, a.Code) {
		a.Problems = append(a.Problems, Problem{Kind: Stale, Difference: d})
	}
	if len(a.Problems) == 0 {
		for _, l := range live {
			if d := Compare(r, l); l.Payload != "" && !d.IsNone() {
				a.Problems = append(a.Problems, Problem{Kind: Stale, Recorded: &l, Disagreement: d})
			}
		}
	}
	if a.Code.Copy == 0 && a.Code.Text == "" {
		return // typed, so nothing is known of a label
	}
	if len(live) > 0 {
		a.judgePrinting(live)
		return
	}
	if last := a.lastLabel(); last != nil {
		a.Problems = append(a.Problems, Problem{Kind: Retired, Label: *last})
		return
	}
	a.Problems = append(a.Problems, Problem{Kind: NotRecorded})
}

// judgePrinting finds a label that was replaced by one that says otherwise.
func (a *Answer) judgePrinting(live []registry.Label) {
	same := func(l registry.Label) bool { return a.Code.Text != "" && l.Payload == a.Code.String() }
	for _, l := range live {
		if same(l) {
			return
		}
	}
	for _, l := range a.Labels {
		if l.State != registry.LabelLive && same(l) {
			a.Problems = append(a.Problems, Problem{Kind: Retired, Label: l, Newer: &live[0]})
			return
		}
	}
}

// liveLabels are the live labels of the copy that was scanned, or of all.
func (a *Answer) liveLabels() []registry.Label {
	var live []registry.Label
	for _, l := range a.Labels {
		if l.State == registry.LabelLive && (a.Code.Copy == 0 || l.Copy == a.Code.Copy) {
			live = append(live, l)
		}
	}
	return live
}

// lastLabel is the last label printed of the copy that was scanned.
func (a *Answer) lastLabel() *registry.Label {
	for i := len(a.Labels) - 1; i >= 0; i-- {
		if a.Code.Copy == 0 || a.Labels[i].Copy == a.Code.Copy {
			return &a.Labels[i]
		}
	}
	return nil
}
