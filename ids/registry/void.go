package registry

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"pipstake/ids"
	"pipstake/ids/problem"
)

// LivedError refuses to void what has lived: it was counted, has seedlings, was
// a parent, or ended. Such things end, or their facts are corrected.
type LivedError struct {
	Refusal
	ID    ids.ID
	Ended bool // so that how it ended need not be said any more
}

// Unwrap returns the refusal.
func (e *LivedError) Unwrap() error { return &e.Refusal }

// Problems returns what stands in the way, and the ways that there are.
func (e *LivedError) Problems() []problem.Problem {
	if e.Ended {
		return problem.Use(e.What, fmt.Sprintf("%s: {correct facts: %s}", e.Remedy, e.ID)).Problems()
	}
	return problem.Use(e.What, fmt.Sprintf("%s: {gone: %s}, or: {correct facts: %s}", e.Remedy, e.ID, e.ID)).Problems()
}

// Void gives up an identifier that should never have been; its number stays
// spent. The reason is added to the row's notes. The seeds of a void pot count
// as left to sow. The error is a *LivedError, another *Refusal where anything
// below is in use or no reason is given, or a *DamageError.
func (r *Registry) Void(id ids.ID, reason string) error {
	reason, err := oneLine("note", reason)
	if err != nil {
		return err
	}
	if id.Level() == ids.NoLevel {
		return &Refusal{"there is nothing to void", "give an identifier"}
	}
	if _, err := r.usable(id, id.Level()); err != nil {
		return err
	}
	if err := r.lived(id); err != nil {
		return err
	}
	if below := r.liveBelow(id); len(below) > 0 {
		for _, b := range below {
			var lived *LivedError
			if errors.As(r.lived(b), &lived) {
				lived.What = fmt.Sprintf("%s stands below %s, and %s", b, id, strings.TrimPrefix(lived.What, b.String()+" "))
				return lived
			}
		}
		all := runs(append([]ids.ID{id}, below...))
		return &Refusal{fmt.Sprintf("%s still has %s", id, list(below)), fmt.Sprintf("void what stands below with it: {void: %s}", all)}
	}
	if reason == "" {
		return &Refusal{fmt.Sprintf("%s is voided without a reason", id), "give it {with note}"}
	}
	r.setState(id, Void, reason)
	return nil
}

// lived refuses to void what has lived.
func (r *Registry) lived(id ids.ID) error {
	var facts []string
	end, ended := r.EndOf(id)
	ended = ended && end.ID == id
	if ended {
		facts = append(facts, fmt.Sprintf("it %s on %s", end.How.Past(), orUnknown(end.On)))
	}
	if id.Level() == ids.PotLevel {
		if counts := r.EmergenceOf(id); len(counts) > 0 {
			facts = append(facts, fmt.Sprintf("it was counted on %s", orUnknown(counts[len(counts)-1].On)))
		}
		if n := len(r.prickedFrom(id)); n > 0 {
			facts = append(facts, wasWere(n, "seedling")+" pricked out of it")
		}
	}
	if gone := append(r.told(id, SeedGiven), r.told(id, SeedDiscarded)...); len(gone) > 0 {
		facts = append(facts, fmt.Sprintf("seeds of it were given away or discarded on %s", orUnknown(gone[0].On)))
	}
	if id.Level() == ids.SeedlingLevel {
		if c, ok := r.crossWith(id); ok {
			facts = append(facts, "it is a parent of "+c.String())
		}
		for _, d := range r.DiaryOf(id) {
			if d.What != Noted && d.What != Moved {
				facts = append(facts, fmt.Sprintf("the diary tells of its %s on %s", d.What.event(), orUnknown(d.On)))
				break
			}
		}
	}
	if facts == nil {
		return nil
	}
	remedy := "say how it ended, or correct what is wrong"
	if ended {
		remedy = "correct what is wrong"
	}
	return &LivedError{Refusal{fmt.Sprintf("%s has lived: %s", id, strings.Join(facts, ", ")), remedy}, id, ended}
}

// crossWith finds a cross in use that names a seedling as a parent.
func (r *Registry) crossWith(seedling ids.ID) (ids.ID, bool) {
	name := seedling.String()
	for i := range r.crosses.entries {
		if c := &r.crosses.entries[i]; c.State != Void && (c.SeedParent == name || c.PollenParent == name) {
			return c.ID, true
		}
	}
	return ids.ID{}, false
}

// Lift takes an identifier back into use that was voided. The error is a
// *Refusal where it is not void, what stands above it is, or it has another row;
// a *SumError where its seeds were sown elsewhere or it is a seedling too many;
// an *EndedError where what it would belong to has ended before; and a
// *DamageError.
func (r *Registry) Lift(id ids.ID) error {
	t := r.level(id.Level())
	if t == nil {
		return &Refusal{"there is nothing to lift", "give an identifier"}
	}
	places := t.exactly(id)
	switch by, void := r.voidedBy(id); {
	case len(places) == 0:
		return r.noRow(id, t)
	case len(places) > 1:
		return &DamageError{[]Finding{t.finding(places[1], "id", "stands in another row as well", "delete one of the rows, or give it its right identifier")}}
	case !void:
		return &Refusal{fmt.Sprintf("%s is not void", id), "there is nothing to lift"}
	case by != id:
		return &Refusal{fmt.Sprintf("%s is void, since its %s %s is", id, by.Level(), by), "lift " + by.String() + " first"}
	}
	if found := t.unreadable(places[0], "state", "seeds", "sown", "pricked", "undeveloped", "extracted"); found != nil {
		return &DamageError{found}
	}
	r.setState(id, Live, "")
	if err := r.fits(id); err != nil {
		r.setState(id, Void, "")
		return err
	}
	return nil
}

// fits looks at a row as it is against the rest of the registry.
func (r *Registry) fits(id ids.ID) error {
	switch id.Level() {
	case ids.CrossLevel:
		c, _ := r.Cross(id)
		return r.crossFits(c)
	case ids.LotLevel:
		l, _ := r.Lot(id)
		if end, ended := r.EndOf(id.At(ids.CrossLevel)); ended && l.Seeds.N > l.Undeveloped.N {
			return refuseEnded(fmt.Sprintf("%s, and %s holds seeds", end, id), "take the end back first", end)
		}
		return r.lotFits(l)
	case ids.PotLevel:
		p, _ := r.Pot(id)
		return r.potFits(p)
	}
	s, _ := r.Seedling(id)
	return r.seedlingFits(s)
}

// setState writes a state into the row, and a note behind those that it has.
func (r *Registry) setState(id ids.ID, state State, note string) {
	switch at := r.level(id.Level()).exactly(id)[0]; id.Level() {
	case ids.CrossLevel:
		e := r.crosses.entries[at]
		e.State, e.Notes = state, addNote(e.Notes, note)
		r.crosses.replace(at, e)
	case ids.LotLevel:
		e := r.lots.entries[at]
		e.State, e.Notes = state, addNote(e.Notes, note)
		r.lots.replace(at, e)
	case ids.PotLevel:
		e := r.pots.entries[at]
		e.State, e.Notes = state, addNote(e.Notes, note)
		r.pots.replace(at, e)
	case ids.SeedlingLevel:
		e := r.seedlings.entries[at]
		e.State, e.Notes = state, addNote(e.Notes, note)
		r.seedlings.replace(at, e)
	}
}

// liveBelow returns what is live below an identifier, in the order of the tree.
func (r *Registry) liveBelow(id ids.ID) []ids.ID {
	var live []ids.ID
	for _, l := range r.LotsOf(id) {
		if l.ID != id && l.State != Void {
			live = append(live, l.ID)
		}
	}
	for _, p := range r.PotsOf(id) {
		if p.ID != id && p.State != Void {
			live = append(live, p.ID)
		}
	}
	for _, s := range r.SeedlingsOf(id) {
		if s.ID != id && s.State != Void {
			live = append(live, s.ID)
		}
	}
	slices.SortFunc(live, ids.Compare)
	return live
}

// runs names identifiers as a command takes them: "2026X001-A..C 2026X001-A1".
func runs(all []ids.ID) string {
	all = slices.Clone(all)
	slices.SortFunc(all, func(a, b ids.ID) int { return cmp.Or(cmp.Compare(a.Level(), b.Level()), ids.Compare(a, b)) })
	var names []string
	for i := 0; i < len(all); {
		run := ids.Run{First: all[i], Last: all[i]}
		for i++; i < len(all) && all[i].At(all[i].Level()-1) == run.First.At(run.First.Level()-1) && all[i].Ordinal() == run.Last.Ordinal()+1; i++ {
			run.Last = all[i]
		}
		names = append(names, run.String())
	}
	return strings.Join(names, " ")
}
