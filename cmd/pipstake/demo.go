package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"pipstake/cmd/pipstake/terminal"
	"pipstake/ids"
	"pipstake/ids/practice"
	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/label/reading"
)

var demoCommand = command{
	name:    "demo",
	summary: "make a made-up season to look at and to try things on",
	options: "[--out DIR]",
	help: `Makes a folder with the season of an invented orchard: the registry of twelve
crosses, some forty seed lots and sixty pots, with the few crosses of the year
before and what grew of them; and the sheets of their labels. Two mistakes are
hidden in it for pipstake check to find. Your own registry is not touched.

  pipstake demo
  pipstake demo --out /tmp/orchard`,
	define: func(f *flags) action {
		out := f.text("out", "the new `FOLDER`; pipstake-demo where left out")
		return func(e *env, args []string) error {
			shown := *out
			if shown == "" {
				shown = "pipstake-demo"
			}
			return e.demo(shown)
		}
	},
}

// The sheets of the made-up season, below its folder.
const (
	demoBags   = "sheets/bags.pdf"
	demoStakes = "sheets/stakes.pdf"
	demoAgain  = "sheets/stakes-again.pdf"
	demoPlants = "sheets/seedlings.pdf"
)

// demo makes the season in a folder beside its place, and moves it there once
// it is whole.
func (e *env) demo(shown string) error {
	making := e.Working("making the season", 0)
	defer making.End()
	if err := e.newFolder(shown, "with --out", e.playSeason); err != nil {
		return err
	}
	making.End()
	r, err := registry.Open(e.abs(shown))
	if err != nil {
		return asAccess(err)
	}
	return e.tellSeason(r, shown)
}

// playSeason makes the registry and the sheets in dir, as its commands would
// have, on the days of the made-up season.
func (e *env) playSeason(dir string) error {
	if err := registry.Init(dir); err != nil {
		return asAccess(err)
	}
	e.saved.add("a new registry in " + quotedPath(dir))
	if _, err := practice.Create(dir); err != nil {
		return err
	}
	if err := os.Mkdir(filepath.Join(dir, "sheets"), 0o755); err != nil {
		return asAccess(err)
	}
	printer := *e
	printer.cwd = dir
	printer.args = []string{"demo"} // as the history tells it
	printer.Voice = terminal.NewVoice(io.Discard, io.Discard)
	printed, err := time.Parse(time.DateOnly, demoSown)
	if err != nil {
		return err
	}
	printer.now = func() time.Time { return printed }
	for _, step := range []struct {
		out  string
		work func(*registry.Registry) (order, error)
	}{
		{demoBags, pollinate},
		{demoStakes, extractAndSow},
		{demoAgain, countAndSlip},
		{demoPlants, yearBefore},
	} {
		p := &printRun{env: &printer, out: step.out, dpi: defaultDPI, created: printed}
		if _, err := p.print(dir, step.work); err != nil {
			return err
		}
	}
	return nil
}

// pollinate registers the crosses and issues the seed lots.
func pollinate(r *registry.Registry) (order, error) {
	o := order{on: demoDay(demoExtracted)}
	for _, c := range demoSeason {
		made, err := r.AddCross(registry.NewCross{SeedParent: c.seed, PollenParent: c.pollen,
			Pollinated: demoDay(c.pollinated), Year: demoDay(c.pollinated).Year, Flowers: registry.Known(c.flowers)})
		if err != nil {
			return o, err
		}
		lots, err := r.AddLots(made.ID, len(c.lots), o.on)
		if err != nil {
			return o, err
		}
		for _, lot := range lots {
			o.tags = append(o.tags, reading.KeysOf(lot.ID)...)
		}
	}
	return o, nil
}

// extractAndSow records what was found in the fruit and sows it.
func extractAndSow(r *registry.Registry) (order, error) {
	o := order{on: demoDay(demoSown)}
	err := eachDemoLot(r, func(id ids.ID, lot demoLot) error {
		_, err := r.Extract(id, registry.Extraction{Fruit: registry.Known(lot.fruit), Seeds: registry.Known(lot.seeds),
			Undeveloped: registry.Known(lot.undeveloped), On: demoDay(demoExtracted)})
		if err != nil {
			return err
		}
		if _, err := r.Chill(id, registry.Chilling{On: demoDay(demoChilled)}); err != nil {
			return err
		}
		if lot.pots == nil {
			return nil
		}
		pots, err := r.Sow(id, registry.Sowing{Seeds: lot.pots, On: o.on, Place: "cold frame"})
		for _, pot := range pots {
			o.tags = append(o.tags, reading.KeysOf(pot.ID)...)
		}
		return err
	})
	return o, err
}

// countAndSlip records the seedlings counted, and slips twice: it prints one
// stake a second time, and loses another.
func countAndSlip(r *registry.Registry) (order, error) {
	err := eachDemoLot(r, func(id ids.ID, lot demoLot) error {
		for i, up := range lot.up {
			for day, n := range up {
				if _, err := r.AddEmergence(id.Child(i+1), demoDay(demoCounts[day]), n); err != nil {
					return err
				}
			}
		}
		return nil
	})
	pots := r.Pots()
	lost := pots[len(pots)/2].ID
	r.RetireLabels(func(l registry.Label) bool { return l.ID == lost && l.Copy == 2 }, registry.Spoilt)
	return order{on: demoDay(demoCounts[0]), tags: reading.KeysOf(pots[4].ID)[:1]}, err
}

// eachDemoLot runs work on every lot of the made-up season.
func eachDemoLot(r *registry.Registry, work func(ids.ID, demoLot) error) error {
	for i, c := range r.Crosses() {
		for j, lot := range demoSeason[i].lots {
			if err := work(c.ID.Child(j+1), lot); err != nil {
				return err
			}
		}
	}
	return nil
}

// demoDay is a day of the made-up season.
func demoDay(iso string) registry.Date {
	d, err := registry.ParseDate(iso)
	if err != nil {
		panic(err) // the season is part of the program
	}
	return d
}

// tellSeason says what the demo made and what to try on it.
func (e *env) tellSeason(r *registry.Registry, shown string) error {
	e.Say("a made-up season at %s, as it stood on %s, in %s:", demoOrchard, demoToday, shown)
	e.Say("")
	var t terminal.Table
	t.Row("cross", "parents", "lots", "seeds", "pots", "sown", "up")
	inOrder := slices.SortedFunc(slices.Values(r.Crosses()), func(a, b registry.Cross) int { return ids.Compare(a.ID, b.ID) })
	for _, c := range inOrder {
		lots, seeds, pots, sown, up := 0, 0, 0, 0, 0
		for _, lot := range r.LotsOf(c.ID) {
			lots, seeds = lots+1, seeds+lot.Seeds.N-lot.Undeveloped.N
			for _, pot := range r.PotsOf(lot.ID) {
				pots, sown = pots+1, sown+pot.Seeds.N
				if counts := r.EmergenceOf(pot.ID); len(counts) > 0 {
					up += counts[len(counts)-1].Up.N
				}
			}
		}
		came := "—" // nothing was sown
		if sown > 0 {
			came = fmt.Sprintf("%d (%s %%)", up, words.PercentOf(up, sown))
		}
		t.Row(c.ID.String(), parents(c), fmt.Sprint(lots), fmt.Sprint(seeds), fmt.Sprint(pots), fmt.Sprint(sown), came)
	}
	e.SayTable(&t, "  ")
	e.Say("")
	e.Say("registry  %s", count(r))
	e.Say("sheets    %s", strings.Join([]string{demoBags, demoStakes, demoAgain, demoPlants}, ", "))
	pot := r.Pots()[1].ID
	e.there = shown
	e.Next("look at the sheets, then try these:")
	for _, try := range []string{
		"scan " + pot.WithCheck(),
		"check",
		"germination",
		"yield",
		"germination --compare 2024,2025",
		"variety",
		"due --on " + demoToday,
		"labels --missing",
		"sow " + r.Crosses()[9].ID.Child(4).String(),
	} {
		e.Remark("  pipstake %s", try)
	}
	return nil
}
