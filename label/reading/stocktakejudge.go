package reading

import (
	"cmp"
	"reflect"
	"slices"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// Judge compares what was seen with what should stand there.
func (s *Stocktake) Judge(r *registry.Registry) {
	s.groupByPot(r)
	for _, id := range s.Expected {
		if len(s.Sightings) > 0 {
			s.judgePot(id)
		}
	}
	s.judgeTwice()
	s.judgeLabels(r)
	slices.SortStableFunc(s.Findings, func(a, b Finding) int {
		return cmp.Or(cmp.Compare(slices.Index(findingKinds, a.Kind), slices.Index(findingKinds, b.Kind)), compareKeys(a.Key, b.Key))
	})
	slices.SortFunc(s.Replace, compareKeys)
	s.tally()
}

func compareKeys(a, b Key) int { return cmp.Or(ids.Compare(a.ID, b.ID), cmp.Compare(a.Copy, b.Copy)) }

func (s *Stocktake) tally() {
	counts := map[FindingKind]int{}
	for _, f := range s.Findings {
		counts[f.Kind]++
	}
	t := &s.Tally
	t.Expected, t.NotSeen, t.NotRead = len(s.Expected), counts[PotNotSeen], counts[PotUnclear]
	t.Seen = t.Expected - t.NotSeen - t.NotRead
	t.Lost, t.Twice, t.Unknown, t.Void, t.Stale = counts[StakeLost], counts[SeenTwice], counts[UnknownPot], counts[VoidPot], counts[StaleStake]
}

// judgePot finds a pot or seedling, or one of a pot's stakes, that was not seen.
func (s *Stocktake) judgePot(id ids.ID) {
	seen := s.Pots[id]
	switch {
	case len(seen) == 0 && len(s.Unclear) > 0:
		s.Findings = append(s.Findings, Finding{Kind: PotUnclear, Key: Key{ID: id}})
		return
	case len(seen) == 0:
		s.Findings = append(s.Findings, Finding{Kind: PotNotSeen, Key: Key{ID: id}})
		return
	case id.Level() == ids.SeedlingLevel:
		return // it has one label, and each grafted copy one
	case !s.Paired || len(seen[1]) > 0 == (len(seen[2]) > 0):
		return
	}
	lost := Key{registry.StakeFace, id, 1}
	if len(seen[1]) > 0 {
		lost.Copy = 2
	}
	for _, other := range slices.Concat(seen[0], seen[3-lost.Copy]) {
		if s.Unclear[other.Source] {
			s.Findings = append(s.Findings, Finding{Kind: StakeUnread, Key: lost, At: other})
			return
		}
	}
	s.Findings = append(s.Findings, Finding{Kind: StakeLost, Key: lost})
	s.Replace = append(s.Replace, lost)
}

// judgeTwice finds stakes of which there seem to be two.
func (s *Stocktake) judgeTwice() {
	for id, copies := range s.Pots {
		for n, seen := range copies {
			if n == 0 {
				continue
			}
			if a, b, ok := twice(seen); ok {
				s.Findings = append(s.Findings, Finding{Kind: SeenTwice, Key: Key{registry.StakeFace, id, n}, At: a, Again: b})
			}
		}
	}
}

// twice finds two sightings of a stake that one stake does not explain. One
// stake has two codes, of which one is compact, and a scanner may read a code
// twice at once. Two pictures may show the same pot.
func twice(seen []Sighting) (a, b Sighting, ok bool) {
	type trail struct {
		first, last Sighting
		read        Sighting // first with a text
	}
	trails := map[string]*trail{}
	for _, s := range seen {
		legible := s.Code.Text != ""
		t := trails[s.Source]
		if t == nil {
			t = &trail{first: s, last: s}
			if legible {
				t.read = s
			}
			trails[s.Source] = t
			continue
		}
		switch {
		case s.Photo && legible && t.read.Code.Text != "":
			return t.read, s, true
		case !s.Photo && s.order-t.last.order > 1: // another stake was scanned in between
			return t.first, s, true
		case legible && t.read.Code.Text == "":
			t.read = s
		}
		t.last = s
	}
	return a, b, false
}

// judgeLabels finds labels that say other than the registry, or are not the
// ones that should be in use.
func (s *Stocktake) judgeLabels(r *registry.Registry) {
	told := map[Key][]Problem{}
	for _, seen := range s.Sightings {
		id := seen.Code.ID
		if !r.Grows(id) || id.Level() == ids.PotLevel && !s.wanted[id] {
			continue
		}
		key := Key{ID: id, Copy: seen.Code.Copy}
		a := AnswerTo(r, seen.Code, s.Today)
		for _, p := range a.Problems {
			kind := OddLabel
			if p.Kind == Stale {
				kind = StaleStake
			}
			if slices.ContainsFunc(told[key], p.isLike) {
				continue
			}
			told[key] = append(told[key], p)
			s.Findings = append(s.Findings, Finding{Kind: kind, Key: key, At: seen, Answer: a, Problem: p})
		}
		for _, l := range a.Labels {
			if k := KeyOf(l); id.Level() == ids.PotLevel && l.State == registry.LabelLive && l.Payload != "" && !slices.Contains(s.Replace, k) && !Compare(r, l).IsNone() {
				s.Replace = append(s.Replace, k)
			}
		}
	}
}

// isLike reports whether two problems of one label are the same to somebody who
// is told of them.
func (p Problem) isLike(q Problem) bool {
	key := func(l *registry.Label) Key {
		if l == nil {
			return Key{}
		}
		return KeyOf(*l)
	}
	return p.Kind == q.Kind && p.Difference == q.Difference && key(p.Recorded) == key(q.Recorded) &&
		reflect.DeepEqual(p.Disagreement, q.Disagreement) && p.Label.Printed == q.Label.Printed && p.Label.State == q.Label.State
}
