package main

import (
	"cmp"
	"fmt"
	"slices"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/label/reading"
	"pipstake/label/symbol"
)

// walkKind is what a stocktake can find; the kinds are words in JSON.
type walkKind string

// The kinds of findings, in the order in which they are told.
const (
	potNotSeen  walkKind = "pot_not_seen"
	potUnclear  walkKind = "pot_not_read" // it may be among the codes that could not be read
	stakeLost   walkKind = "stake_lost"
	stakeUnread walkKind = "stake_not_read"
	seenTwice   walkKind = "seen_twice"
	unknownPot  walkKind = "unknown"
	voidPot     walkKind = "void"
	endedPot    walkKind = "ended"
	otherPlace  walkKind = "other_place"
	staleStake  walkKind = "stale_label"
	oddLabel    walkKind = "label_problem" // retired, or not recorded as printed
)

var walkKinds = []walkKind{potNotSeen, potUnclear, stakeLost, stakeUnread, seenTwice, unknownPot, voidPot, endedPot, otherPlace, staleStake, oddLabel}

// walkFinding is something that is not as it should be.
type walkFinding struct {
	Kind walkKind `json:"kind"`
	ID   string   `json:"id"`
	Copy int      `json:"copy,omitempty"`
	What string   `json:"what"`
	Hint string   `json:"hint,omitempty"`
	id   ids.ID
}

// walkTally counts what was expected and seen.
type walkTally struct {
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

func (w *walk) found(kind walkKind, t reading.Key, what, hint string) {
	w.findings = append(w.findings, walkFinding{Kind: kind, ID: t.ID.String(), Copy: t.Copy, What: what, Hint: hint, id: t.ID})
}

// judge compares what was seen with what should stand there.
func (w *walk) judge(r *registry.Registry) {
	w.sort(r)
	for _, id := range w.expected {
		if len(w.sightings) > 0 {
			w.judgePot(id)
		}
	}
	w.judgeTwice()
	w.judgeLabels(r)
	slices.SortStableFunc(w.findings, func(a, b walkFinding) int {
		return cmp.Or(cmp.Compare(slices.Index(walkKinds, a.Kind), slices.Index(walkKinds, b.Kind)), ids.Compare(a.id, b.id), cmp.Compare(a.Copy, b.Copy))
	})
	counts := map[walkKind]int{}
	for _, f := range w.findings {
		counts[f.Kind]++
	}
	t := &w.tally
	t.Expected, t.NotSeen, t.NotRead = len(w.expected), counts[potNotSeen], counts[potUnclear]
	t.Seen = t.Expected - t.NotSeen - t.NotRead
	t.Lost, t.Twice, t.Unknown, t.Void, t.Stale = counts[stakeLost], counts[seenTwice], counts[unknownPot], counts[voidPot], counts[staleStake]
}

// sort puts the sightings to their pots, and tells of those that have none.
func (w *walk) sort(r *registry.Registry) {
	w.pots = map[ids.ID]map[int][]sighting{}
	told := map[ids.ID]bool{}
	for _, s := range w.sightings {
		id := s.code.ID
		tell := !told[id]
		told[id] = true
		switch status := r.Status(id); {
		case status == registry.Unknown:
			if tell {
				u := unknown(r, id)
				w.found(unknownPot, reading.Key{ID: id}, fmt.Sprintf("%s: %s", s.where, u.What), u.Remedy)
			}
		case status == registry.Voided:
			if tell {
				a := answerTo(r, symbol.Payload{ID: id}, w.today)
				w.found(voidPot, reading.Key{ID: id}, fmt.Sprintf("%s: %s", s.where, a.problems[0].What), a.problems[0].Hint)
			}
		case id.Level() == ids.PotLevel && !r.Grows(id):
			if end, _ := r.EndOf(id); tell {
				w.found(endedPot, reading.Key{ID: id}, fmt.Sprintf("%s: %s", s.where, end), "take its stakes away; where it grows after all: pipstake gone "+id.String()+" --back")
			}
		case id.Level() != ids.PotLevel && !w.wanted[id]:
			w.others++
			if tell && id.Level() == ids.SeedlingLevel && r.Grows(id) && r.PlaceOf(id) != "" {
				w.strange(r, s)
			}
		default:
			if w.pots[id] == nil {
				w.pots[id] = map[int][]sighting{}
			}
			w.pots[id][s.code.Copy] = append(w.pots[id][s.code.Copy], s)
			if w.wanted[id] && len(w.pots[id][1]) > 0 && len(w.pots[id][2]) > 0 {
				w.paired = true
			}
			if tell && !w.wanted[id] {
				w.strange(r, s)
			}
		}
	}
}

// strange tells of a pot that is in use and was not asked for: it stands in
// another place, where a place was asked for.
func (w *walk) strange(r *registry.Registry, s sighting) {
	id := s.code.ID
	if id.Level() == ids.PotLevel {
		w.elsewhere++
	}
	if w.place == "" {
		return
	}
	where, file := "no place", "pots.csv"
	if place := r.PlaceOf(id); place != "" {
		where = "the place " + words.Shown(words.OneLine(place))
	}
	if id.Level() == ids.SeedlingLevel {
		file = "seedlings.csv"
	}
	w.found(otherPlace, reading.Key{ID: id}, fmt.Sprintf("%s: it stands here, and %s has %s for it", s.where, file, where),
		fmt.Sprintf("carry it back, or say that it moved: pipstake move %s --to %q", id, w.place))
}

// judgePot tells of a pot, or of one of its stakes, that was not seen.
func (w *walk) judgePot(id ids.ID) {
	seen := w.pots[id]
	switch {
	case len(seen) == 0 && len(w.sources.unclear) > 0:
		w.found(potUnclear, reading.Key{ID: id}, "not seen, unless it is among the codes that could not be read", "look for it, or take those pictures again")
		return
	case len(seen) == 0:
		w.found(potNotSeen, reading.Key{ID: id}, "not seen", "look for it; if it is gone: pipstake gone "+id.String()+notFound(id))
		return
	case id.Level() == ids.SeedlingLevel:
		return // it has one label, and each grafted copy one
	case !w.paired || len(seen[1]) > 0 == (len(seen[2]) > 0):
		return
	}
	lost := reading.Key{Face: registry.StakeFace, ID: id, Copy: 1}
	if len(seen[1]) > 0 {
		lost.Copy = 2
	}
	for _, s := range slices.Concat(seen[0], seen[3-lost.Copy]) {
		if w.sources.unclear[s.source] {
			w.found(stakeUnread, lost, fmt.Sprintf("%s: copy %d was read, copy %d may be one of the codes beside it that could not be read", s.where, 3-lost.Copy, lost.Copy),
				"take that picture again")
			return
		}
	}
	w.found(stakeLost, lost, fmt.Sprintf("copy %d was seen, copy %d was not", 3-lost.Copy, lost.Copy),
		"look into the pot; then print it anew: "+replaceCommand(registry.Label{ID: id, Copy: lost.Copy}))
	w.replace = append(w.replace, lost)
}

// notFound is how something ended that a walk does not find.
func notFound(id ids.ID) string {
	if id.Level() == ids.SeedlingLevel {
		return ` --note "not found"`
	}
	return ` --how lost --note "not found"`
}

// judgeTwice tells of stakes of which there seem to be two.
func (w *walk) judgeTwice() {
	for _, copies := range w.pots {
		for n, seen := range copies {
			if n == 0 {
				continue
			}
			if a, b, ok := twice(seen); ok {
				where := a.where + " and " + b.where
				if a.where == b.where {
					where = a.where + ", two labels on it"
				}
				w.found(seenTwice, reading.Key{Face: registry.StakeFace, ID: a.code.ID, Copy: n}, "the same copy was seen twice: "+where,
					"where it was no second look at the same pot, one of the two stakes is in the wrong pot: compare what grows there, and destroy that stake")
			}
		}
	}
}

// twice finds two sightings of a stake that one stake does not explain. One
// stake has two codes, of which one is compact, and a scanner may read a code
// twice at once. Two pictures may show the same pot.
func twice(seen []sighting) (a, b sighting, ok bool) {
	type trail struct {
		first, last sighting
		read        sighting // first with a text
	}
	trails := map[string]*trail{}
	for _, s := range seen {
		legible := s.code.Text != ""
		t := trails[s.source]
		if t == nil {
			t = &trail{first: s, last: s}
			if legible {
				t.read = s
			}
			trails[s.source] = t
			continue
		}
		switch {
		case s.photo && legible && t.read.code.Text != "":
			return t.read, s, true
		case !s.photo && s.order-t.last.order > 1: // another stake was scanned in between
			return t.first, s, true
		case legible && t.read.code.Text == "":
			t.read = s
		}
		t.last = s
	}
	return a, b, false
}

// judgeLabels tells of labels that say other than the registry, or are not the
// ones that should be in use.
func (w *walk) judgeLabels(r *registry.Registry) {
	told := map[walkFinding]bool{}
	for _, s := range w.sightings {
		id := s.code.ID
		if !r.Grows(id) || id.Level() == ids.PotLevel && !w.wanted[id] {
			continue
		}
		a := answerTo(r, s.code, w.today)
		for _, p := range a.problems {
			kind := oddLabel
			if p.Kind == reading.Stale {
				kind = staleStake
			}
			key := walkFinding{Kind: kind, ID: id.String(), Copy: s.code.Copy, What: p.What}
			if told[key] {
				continue
			}
			told[key] = true
			w.found(kind, reading.Key{ID: id, Copy: s.code.Copy}, s.where+": "+p.What, p.Hint)
		}
		for _, l := range r.LabelsOf(id) {
			if t := reading.KeyOf(l); id.Level() == ids.PotLevel && l.State == registry.LabelLive && l.Payload != "" && !slices.Contains(w.replace, t) && disagreementWords(reading.Compare(r, l)) != "" {
				w.replace = append(w.replace, t)
			}
		}
	}
}
