package registry

import (
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"pipstake/ids"
)

// tally keeps account of seeds and seedlings a second time: by totals, from the
// events alone, without the days on which the registry reckons.
type tally struct {
	lots      map[ids.ID]lotTally
	pots      map[ids.ID]potTally
	seedlings map[ids.ID]bool // whether in use
}

type lotTally struct {
	seeds, undeveloped, given, discarded int
	known, ended                         bool
}

type potTally struct {
	seeds       int
	void, ended bool
	up, died    map[Date]int // died only where it was counted
}

func (t tally) clone() tally {
	c := tally{maps.Clone(t.lots), map[ids.ID]potTally{}, maps.Clone(t.seedlings)}
	for id, p := range t.pots {
		p.up, p.died = maps.Clone(p.up), maps.Clone(p.died)
		c.pots[id] = p
	}
	return c
}

// left is what a lot has left: everything found, less everything that went.
func (t tally) left(lot ids.ID) int {
	l := t.lots[lot]
	n := l.seeds - l.undeveloped - l.given - l.discarded
	for id, p := range t.pots {
		if id.Within(lot) && !p.void {
			n -= p.seeds
		}
	}
	return n
}

// total is how many in a pot came up, died and were pricked out in all.
func (t tally) total(pot ids.ID) (up, died, pricked int) {
	for _, n := range t.pots[pot].up {
		up = max(up, n) // counts never fall
	}
	for _, n := range t.pots[pot].died {
		died = max(died, n)
	}
	for id, used := range t.seedlings {
		if used && id.Within(pot) {
			pricked++
		}
	}
	return max(up, died+pricked), died, pricked
}

// compare returns where a registry says otherwise than the tally.
func (t tally) compare(r *Registry) error {
	for id, l := range t.lots {
		sum, err := r.SeedsOf(id)
		if err != nil {
			return err
		}
		left, gone := max(0, t.left(id)), 0
		if l.ended {
			left, gone = 0, left
		}
		if sum.Seeds.N != l.seeds || sum.Seeds.Known != l.known || sum.Left != left || sum.Gone != gone || sum.Given != l.given || sum.Discarded != l.discarded {
			return fmt.Errorf("%s: %+v, and the tally has %+v with %d left and %d gone", id, sum, l, left, gone)
		}
		if got := sum.Undeveloped + sum.Sown + sum.Given + sum.Discarded + sum.Left + sum.Gone; l.known && got != sum.Seeds.N {
			return fmt.Errorf("%s: of %d seeds, %d are accounted for", id, sum.Seeds.N, got)
		}
	}
	for id, p := range t.pots {
		up, died, pricked := t.total(id)
		if p.void {
			continue
		}
		if p.seeds < up || up < died+pricked {
			return fmt.Errorf("%s: %d sown, %d up, %d died, %d pricked out", id, p.seeds, up, died, pricked)
		}
		alive, known := up-died-pricked, len(p.up)+pricked > 0
		if p.ended {
			alive, known = 0, true
		}
		if got := r.AliveIn(id); got.Known != known || known && got.N != alive {
			return fmt.Errorf("%s: %v alive, and the tally has %d, %v (%d up, %d died, %d pricked out)", id, got, alive, known, up, died, pricked)
		}
		if counts := r.CountsOf(id); len(counts) > 0 && counts[len(counts)-1].Up.N != up {
			return fmt.Errorf("%s: %d up, and the tally has %d", id, counts[len(counts)-1].Up.N, up)
		}
	}
	return nil
}

// player makes random requests, wrong ones among them, and keeps the tally of
// those that were taken.
type player struct {
	random *rand.Rand
	tally
	before  []tally // each request that was taken, for undo
	done    map[string]int
	refused int
}

func (p *player) n(most int) int { return p.random.IntN(most) }

// day is a day of the season, now and then one that is out of order.
func (p *player) day(month, spread int) Date {
	if p.n(12) == 0 {
		month = 1 + p.n(18)
	}
	return DateOf(time.Date(2026, time.Month(month), 1+p.n(spread), 0, 0, 0, 0, time.UTC))
}

// pickID picks one of those in the tally, now and then one that may not be there.
func pickID[V any](p *player, of map[ids.ID]V, level ids.Level) ids.ID {
	all := slices.SortedFunc(maps.Keys(of), ids.Compare)
	if len(all) == 0 || p.n(40) == 0 {
		return ids.ID{Year: 2026, Cross: 1 + p.n(3), Lot: 1 + p.n(4), Pot: 1 + p.n(9), Seedling: 1 + p.n(9)}.At(level)
	}
	return all[p.n(len(all))]
}

// request is one random request: its name, what it asks of the registry, and
// what it means for the tally where it is taken.
func (p *player) request() (name string, do func(*Registry) error, taken func()) {
	lot, pot, seedling := pickID(p, p.lots, ids.LotLevel), pickID(p, p.pots, ids.PotLevel), pickID(p, p.seedlings, ids.SeedlingLevel)
	none := func() {}
	var fresh []ids.ID
	switch p.n(20) {
	case 0:
		return "bag", func(r *Registry) error {
				lots, err := r.AddLots(ids.ID{Year: 2026, Cross: 1 + p.n(2)}, 1, p.day(8, 28))
				for _, l := range lots {
					fresh = append(fresh, l.ID)
				}
				return err
			}, func() {
				for _, id := range fresh {
					p.lots[id] = lotTally{}
				}
			}
	case 1, 2:
		l := p.lots[lot]
		l.seeds, l.undeveloped, l.known = p.n(40), p.n(6), true
		x := Extraction{Seeds: Known(l.seeds), Undeveloped: Known(l.undeveloped), On: p.day(11, 28), Correct: p.n(3) == 0}
		return "extract", func(r *Registry) error { _, err := r.Extract(lot, x); return err }, func() { p.lots[lot] = l }
	case 3, 4, 5:
		s := Sowing{Seeds: []int{1 + p.n(9), 1 + p.n(9)}, On: p.day(13, 28)}
		return "sow", func(r *Registry) error {
				pots, err := r.Sow(lot, s)
				for _, pot := range pots {
					fresh = append(fresh, pot.ID)
				}
				return err
			}, func() {
				for i, id := range fresh {
					p.pots[id] = potTally{seeds: s.Seeds[i], up: map[Date]int{}, died: map[Date]int{}}
				}
			}
	case 6, 7, 8:
		e := Emergence{Pot: pot, On: p.day(15, 28), Up: Known(p.n(9))}
		if p.n(3) == 0 {
			e.Died = Known(p.n(4))
		}
		return "count", func(r *Registry) error { _, err := r.CountPot(e); return err }, func() { p.counted(pot, e.On, &e.Up, &e.Died) }
	case 9, 10:
		n, on := 1+p.n(3), p.day(16, 28)
		return "prick", func(r *Registry) error {
				seedlings, err := r.AddSeedlings(pot, n, on)
				for _, s := range seedlings {
					fresh = append(fresh, s.ID)
				}
				return err
			}, func() {
				for _, id := range fresh {
					p.seedlings[id] = true
				}
			}
	case 11:
		up, died := Known(p.n(9)), Known(p.n(4))
		c := CountCorrection{Up: &up, Drop: p.n(4) == 0}
		on := p.countDay(pot)
		switch {
		case c.Drop:
			c.Up = nil
		case p.n(2) == 0:
			c.Died = &died
		}
		return "correct count", func(r *Registry) error { _, err := r.CorrectCount(pot, on, c); return err }, func() {
			if c.Drop {
				delete(p.pots[pot].up, on)
				delete(p.pots[pot].died, on)
				return
			}
			p.counted(pot, on, c.Up, c.Died)
		}
	case 12:
		g := SeedsGone{How: []Fate{"", GivenAway, Discarded, Lost}[p.n(4)], Seeds: 1 + p.n(6), On: p.day(13, 28)}
		return "take", func(r *Registry) error { _, err := r.TakeSeeds(lot, g); return err }, func() {
			l := p.lots[lot]
			if g.How == GivenAway {
				l.given += g.Seeds
			} else {
				l.discarded += g.Seeds
			}
			p.lots[lot] = l
		}
	case 13:
		seeds := Known(p.n(12))
		return "correct pot", func(r *Registry) error { _, err := r.Correct(pot, Correction{Seeds: &seeds}); return err }, func() {
			t := p.pots[pot]
			t.seeds = seeds.N
			p.pots[pot] = t
		}
	}
	return p.end(lot, pot, seedling, none)
}

// counted puts what a count says into the tally.
func (p *player) counted(pot ids.ID, on Date, up, died *Count) {
	if up != nil {
		p.pots[pot].up[on] = up.N
	}
	if died != nil && died.Known {
		p.pots[pot].died[on] = died.N
	}
}

// countDay is a day on which a pot was counted, if any.
func (p *player) countDay(pot ids.ID) Date {
	days := slices.SortedFunc(maps.Keys(p.pots[pot].up), Date.Compare)
	if len(days) == 0 {
		return p.day(15, 28)
	}
	return days[p.n(len(days))]
}

// end is a request about an end, a move, or what should never have been.
func (p *player) end(lot, pot, seedling ids.ID, none func()) (name string, do func(*Registry) error, taken func()) {
	setPot := func(change func(*potTally)) func() {
		return func() { t := p.pots[pot]; change(&t); p.pots[pot] = t }
	}
	setLot := func(ended bool) func() {
		return func() { l := p.lots[lot]; l.ended = ended; p.lots[lot] = l }
	}
	switch p.n(9) {
	case 0:
		e := Ending{ID: pot, How: []Fate{"", Lost, Emptied, Died}[p.n(4)], On: p.day(17, 28)}
		return "end pot", func(r *Registry) error { _, err := r.End(e); return err }, setPot(func(t *potTally) { t.ended = true })
	case 1:
		e := Ending{ID: lot, How: []Fate{"", Discarded, UsedUp, GivenAway}[p.n(4)], On: p.day(14, 28)}
		return "end lot", func(r *Registry) error { _, err := r.End(e); return err }, setLot(true)
	case 2:
		e := Ending{ID: seedling, How: Died, On: p.day(18, 28)}
		return "end seedling", func(r *Registry) error { _, err := r.End(e); return err }, none
	case 3:
		return "pot is back", func(r *Registry) error { _, err := r.GrowsOn(pot); return err }, setPot(func(t *potTally) { t.ended = false })
	case 4:
		return "lot is back", func(r *Registry) error { _, err := r.GrowsOn(lot); return err }, setLot(false)
	case 5:
		return "void pot", func(r *Registry) error { return r.Void(pot, "slip") }, setPot(func(t *potTally) { t.void = true })
	case 6:
		return "lift pot", func(r *Registry) error { return r.Lift(pot) }, setPot(func(t *potTally) { t.void = false })
	case 7:
		if p.n(2) == 0 {
			for id, used := range p.seedlings {
				if !used && (p.seedlings[seedling] || ids.Compare(id, seedling) < 0) {
					seedling = id // the first that is void
				}
			}
			return "lift seedling", func(r *Registry) error { return r.Lift(seedling) }, func() { p.seedlings[seedling] = true }
		}
		return "void seedling", func(r *Registry) error { return r.Void(seedling, "slip") }, func() { p.seedlings[seedling] = false }
	}
	place, on := []string{"bench", "tunnel", "frame"}[p.n(3)], p.day(15, 28)
	return "move", func(r *Registry) error { _, err := r.Move(pot, place, on); return err }, none
}

// play makes one request of the registry on a disk, or takes the last one back.
func (p *player) play(d *testDisk) error {
	if len(p.before) > 0 && p.n(15) == 0 {
		if err := testStore(d).change(func(r *Registry) error { _, err := r.Undo(); return err }); err != nil {
			return fmt.Errorf("undo: %w", err)
		}
		p.tally = p.before[len(p.before)-1]
		p.before = p.before[:len(p.before)-1]
		p.done["undo"]++
		return nil
	}
	was, history := p.clone(), d.now["r/history.csv"].data
	name, do, taken := p.request()
	err := testStore(d).change(do)
	var refusal *Refusal
	switch {
	case errors.As(err, &refusal):
		p.refused++
		return nil
	case err != nil:
		return fmt.Errorf("%s: %w", name, err)
	}
	taken()
	p.done[name]++
	if d.now["r/history.csv"].data != history { // else nothing was changed, and there is nothing to take back
		p.before = append(p.before, was)
	}
	return nil
}

// Random seasons, with wrong requests and undo among them: sown ≥ up ≥ died +
// pricked out always, no seed is lost or comes back, check is silent, and the
// second tally says the same.
func TestRandomLives(t *testing.T) {
	seasons, events := 30, 200
	if testing.Short() {
		seasons = 6
	}
	done, refused := map[string]int{}, 0
	for season := range seasons {
		d := newTestDisk(emptyFiles())
		p := &player{random: rand.New(rand.NewPCG(2026, uint64(season))), done: done,
			tally: tally{map[ids.ID]lotTally{}, map[ids.ID]potTally{}, map[ids.ID]bool{}}}
		err := testStore(d).change(func(r *Registry) error {
			for range 2 {
				if _, err := r.AddCross(NewCross{SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber", Pollinated: Date{2026, 5, 4}}); err != nil {
					return err
				}
			}
			return nil
		})
		for event := 0; event < events && err == nil; event++ {
			if err = p.play(d); err != nil {
				break
			}
			r := open(t, d)
			if err = p.compare(r); err == nil {
				err = contradictions(r)
			}
		}
		if err != nil {
			t.Fatalf("season %d: %v", season, err)
		}
		refused += p.refused
	}
	for _, name := range []string{"bag", "extract", "sow", "count", "prick", "correct count", "correct pot", "take", "end pot", "end lot", "end seedling",
		"pot is back", "lot is back", "void pot", "lift pot", "void seedling", "lift seedling", "move", "undo"} {
		if done[name] == 0 {
			t.Errorf("%q was never taken", name)
		}
	}
	if refused == 0 {
		t.Error("nothing was refused")
	}
}

// contradictions are what check finds beside labels that were never printed.
func contradictions(r *Registry) error {
	for _, f := range r.Check() {
		if !strings.HasPrefix(f.Remedy, "print it with") {
			return errors.New(f.String())
		}
	}
	return nil
}
