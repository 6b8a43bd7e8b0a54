package reading

import (
	"slices"
	"strings"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/label/symbol"
)

// Stocktake compares what was seen on a walk along the pots with what should
// stand there. The caller fills in what was asked for, lists what should stand
// there with Expect, hands in each code with See, and then calls Judge.
type Stocktake struct {
	Today   registry.Date
	Place   string          // only pots of this place; "" for all
	Of      []ids.ID        // only pots of these; none for all
	Unclear map[string]bool // sources with codes that were seen and could not be read

	Sightings []Sighting
	Expected  []ids.ID                      // pots, and then seedlings whose place is on record, in the registry's order
	Pots      map[ids.ID]map[int][]Sighting // of pots and seedlings that grow, by copy; 0 where none was told
	Paired    bool                          // some pot was seen with both copies
	Others    int                           // labels of crosses, seed lots and seedlings
	Elsewhere int                           // pots that are in use and were not asked for
	Findings  []Finding                     // by kind, identifier and copy
	Tally     Tally
	Replace   []Key // stakes to print anew, by identifier and copy

	wanted map[ids.ID]bool
}

// Sighting is a code that was seen.
type Sighting struct {
	Code   symbol.Payload
	Source string // the file
	Where  string // in it: "walk.csv line 14"
	Photo  bool   // whether the source is a photograph
	order  int    // among all sightings
}

// FindingKind is what a stocktake can find; the kinds are words in JSON.
type FindingKind string

// The kinds of findings, in the order in which they are told.
const (
	PotNotSeen  FindingKind = "pot_not_seen"
	PotUnclear  FindingKind = "pot_not_read" // it may be among the codes that could not be read
	StakeLost   FindingKind = "stake_lost"
	StakeUnread FindingKind = "stake_not_read"
	SeenTwice   FindingKind = "seen_twice"
	UnknownPot  FindingKind = "unknown"
	VoidPot     FindingKind = "void"
	EndedPot    FindingKind = "ended"
	OtherPlace  FindingKind = "other_place"
	StaleStake  FindingKind = "stale_label"
	OddLabel    FindingKind = "label_problem" // retired, or not recorded as printed
)

var findingKinds = []FindingKind{PotNotSeen, PotUnclear, StakeLost, StakeUnread, SeenTwice, UnknownPot, VoidPot, EndedPot, OtherPlace, StaleStake, OddLabel}

// Finding is something that is not as it should be.
type Finding struct {
	Kind FindingKind
	Key
	At      Sighting        // where it was seen; of StakeUnread, where the other copy was
	Again   Sighting        // of SeenTwice
	Place   string          // of OtherPlace: where the registry has the pot; "" for nowhere
	End     registry.Ending // of EndedPot
	Answer  *Answer         // of UnknownPot, VoidPot, StaleStake and OddLabel
	Problem Problem         // one of the answer's
}

// Tally counts what was expected and seen.
type Tally struct {
	Expected int // pots
	Seen     int
	NotSeen  int
	NotRead  int // not seen, or among what could not be read
	Lost     int // stakes
	Twice    int
	Unknown  int
	Void     int
	Stale    int // labels
}

// See takes a code in.
func (s *Stocktake) See(seen Sighting) {
	seen.order = len(s.Sightings)
	s.Sightings = append(s.Sightings, seen)
}

// Expect lists the pots and seedlings that should stand there.
func (s *Stocktake) Expect(r *registry.Registry) {
	s.wanted = map[ids.ID]bool{}
	for _, p := range r.Pots() {
		s.want(r, p.ID, p.Place)
	}
	for _, plant := range r.Seedlings() {
		if plant.Place != "" { // else nobody knows where to look for it
			s.want(r, plant.ID, plant.Place)
		}
	}
}

// want expects a pot or seedling that grows and is one of those asked for.
func (s *Stocktake) want(r *registry.Registry, id ids.ID, place string) {
	if s.wanted[id] || !s.stands(id, place) || !r.Grows(id) || id.Level() == ids.PotLevel && r.AllOut(id) {
		return
	}
	s.wanted[id] = true
	s.Expected = append(s.Expected, id)
}

// stands reports whether a pot or seedling is one of those asked for.
func (s *Stocktake) stands(id ids.ID, place string) bool {
	if s.Place != "" && !strings.EqualFold(strings.TrimSpace(place), s.Place) {
		return false
	}
	return len(s.Of) == 0 || slices.ContainsFunc(s.Of, id.Within)
}

// groupByPot puts the sightings to their pots, and finds those that have none.
func (s *Stocktake) groupByPot(r *registry.Registry) {
	s.Pots = map[ids.ID]map[int][]Sighting{}
	told := map[ids.ID]bool{}
	for _, seen := range s.Sightings {
		id := seen.Code.ID
		tell := !told[id]
		told[id] = true
		switch status := r.Status(id); {
		case status != registry.Issued:
			if tell {
				s.notInUse(r, seen, status)
			}
		case id.Level() == ids.PotLevel && !r.Grows(id):
			if end, _ := r.EndOf(id); tell {
				s.Findings = append(s.Findings, Finding{Kind: EndedPot, Key: Key{ID: id}, At: seen, End: end})
			}
		case id.Level() != ids.PotLevel && !s.wanted[id]:
			s.Others++
			if tell && id.Level() == ids.SeedlingLevel && r.Grows(id) && r.PlaceOf(id) != "" {
				s.reportOtherPlace(r, seen)
			}
		default:
			if s.Pots[id] == nil {
				s.Pots[id] = map[int][]Sighting{}
			}
			s.Pots[id][seen.Code.Copy] = append(s.Pots[id][seen.Code.Copy], seen)
			if s.wanted[id] && len(s.Pots[id][1]) > 0 && len(s.Pots[id][2]) > 0 {
				s.Paired = true
			}
			if tell && !s.wanted[id] {
				s.reportOtherPlace(r, seen)
			}
		}
	}
}

// notInUse reports an identifier that is unknown or void.
func (s *Stocktake) notInUse(r *registry.Registry, seen Sighting, status registry.Status) {
	id := seen.Code.ID
	a := AnswerTo(r, symbol.Payload{ID: id}, s.Today)
	kind := UnknownPot
	if status == registry.Voided {
		kind = VoidPot
	}
	s.Findings = append(s.Findings, Finding{Kind: kind, Key: Key{ID: id}, At: seen, Answer: a, Problem: a.Problems[0]})
}

// reportOtherPlace reports a pot or seedling that grows and was not asked for: it
// stands in another place, where a place was asked for.
func (s *Stocktake) reportOtherPlace(r *registry.Registry, seen Sighting) {
	id := seen.Code.ID
	if id.Level() == ids.PotLevel {
		s.Elsewhere++
	}
	if s.Place != "" {
		s.Findings = append(s.Findings, Finding{Kind: OtherPlace, Key: Key{ID: id}, At: seen, Place: r.PlaceOf(id)})
	}
}
