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
	Expected  []ids.ID                      // pots, in the registry's order
	Pots      map[ids.ID]map[int][]Sighting // of pots that are in use, by copy; 0 where none was told
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
	OtherPlace  FindingKind = "other_place"
	StaleStake  FindingKind = "stale_label"
	OddLabel    FindingKind = "label_problem" // retired, or not recorded as printed
)

var findingKinds = []FindingKind{PotNotSeen, PotUnclear, StakeLost, StakeUnread, SeenTwice, UnknownPot, VoidPot, OtherPlace, StaleStake, OddLabel}

// Finding is something that is not as it should be.
type Finding struct {
	Kind FindingKind
	Key
	At      Sighting // where it was seen; of StakeUnread, where the other copy was
	Again   Sighting // of SeenTwice
	Place   string   // of OtherPlace: where the registry has the pot; "" for nowhere
	Answer  *Answer  // of UnknownPot, VoidPot, StaleStake and OddLabel
	Problem Problem  // one of the answer's
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

// Expect lists the pots that should stand there.
func (s *Stocktake) Expect(r *registry.Registry) {
	s.wanted = map[ids.ID]bool{}
	for _, p := range r.Pots() {
		if r.Status(p.ID) != registry.Issued || s.wanted[p.ID] || !s.stands(p) {
			continue
		}
		s.wanted[p.ID] = true
		s.Expected = append(s.Expected, p.ID)
	}
}

// stands reports whether a pot is one of those asked for.
func (s *Stocktake) stands(p registry.Pot) bool {
	if s.Place != "" && !strings.EqualFold(strings.TrimSpace(p.Place), s.Place) {
		return false
	}
	return len(s.Of) == 0 || slices.ContainsFunc(s.Of, func(id ids.ID) bool { return p.ID.Within(id) })
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
		case id.Level() != ids.PotLevel:
			s.Others++
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

// reportOtherPlace reports a pot that is in use and was not asked for: it stands
// in another place, where a place was asked for.
func (s *Stocktake) reportOtherPlace(r *registry.Registry, seen Sighting) {
	s.Elsewhere++
	if s.Place != "" {
		pot, _ := r.Pot(seen.Code.ID)
		s.Findings = append(s.Findings, Finding{Kind: OtherPlace, Key: Key{ID: pot.ID}, At: seen, Place: pot.Place})
	}
}
