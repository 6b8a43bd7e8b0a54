package main

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"pipstake/ids"
	"pipstake/ids/practice"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
	"pipstake/layout"
)

var benchCommand = command{
	name:      "bench",
	summary:   "print the sheet that lies on the bench on a day of extraction",
	arguments: "[ID…]",
	options:   "[--on DATE] [--out FILE]",
	help: `One sheet for a day of extraction: what to mix for the seed lots of the day, the
steps with their times, cautions, and the lots in order with blanks for fruit,
seeds, undeveloped seeds and remarks. Amounts are such that kitchen scales and
teaspoons can measure them, and at least what the lots take. Amounts and times
are those of protocol.toml, per cross where one differs. ID names crosses or
seed lots; all lots that are not opened yet otherwise. Nothing is recorded:
pipstake extract does that.

  pipstake bench
  pipstake bench 2026X012 2026X036-B --on 2026-11-14
  pipstake bench --paper letter --out bench.pdf`,
	define: func(f *flags) action {
		dir := f.registry()
		on := f.day("on", "the `DATE` of extraction, yyyy-mm-dd; today where left out")
		out := f.text("out", "the PDF's `FILE`, - for standard output; where left out, its date such as bench-2026-11-14.pdf, in this folder")
		force := f.onOff("force", "replace a PDF that exists")
		paper := f.word("paper", "the `PAPER`: a4 or letter; a4 where left out", layout.A4.Name, layout.Letter.Name)
		font := f.font()
		return func(e *env, args []string) error {
			sheet := layout.BenchSheet{Paper: layout.A4}
			if paper.word == layout.Letter.Name {
				sheet.Paper = layout.Letter
			}
			var err error
			if sheet.Names, err = e.typeface(*font); err != nil {
				return err
			}
			if sheet.Created, err = e.creation(); err != nil {
				return err
			}
			// A sheet is made for a day to come, so that is nothing to notice.
			day := on.day
			if !on.given() {
				day = registry.DateOf(e.now())
			}
			if *out == "" {
				*out = fmt.Sprintf("bench-%s.pdf", day)
			}
			t, err := e.target(*out, *force)
			if err != nil {
				return err
			}
			return e.bench(*dir, args, day, sheet, t)
		}
	},
}

func (e *env) bench(dir string, args []string, on registry.Date, sheet layout.BenchSheet, t target) error {
	r, err := e.open(dir)
	if err != nil {
		return err
	}
	own, err := practice.Of(r)
	if err != nil {
		return err
	}
	lots, err := e.toOpen(r, args)
	if err != nil {
		return err
	}
	doubts := fillBench(&sheet, r, own, lots, on)
	var pdf bytes.Buffer
	if err := layout.WriteBench(&pdf, sheet); err != nil {
		return err
	}
	if err := e.deliver(t, pdf.Bytes()); err != nil {
		return err
	}
	for _, doubt := range doubts {
		e.Notice("%s", doubt)
	}
	if !t.stdout() {
		e.Say("%s  %s", t.shown, words.Plural(len(lots), "seed lot", "seed lots"))
		for _, m := range sheet.Mixes {
			e.Say("  mix  %s %s, %s %s: %s %s", m.Figures[0].Value, m.Figures[0].Of, m.Figures[1].Value, m.Figures[1].Of, m.Figures[2].Value, m.Figures[2].Of)
		}
		e.Next("record what was found: pipstake extract %s --seeds N --on %s", lots[0].ID, on)
	}
	return nil
}

// toOpen are the seed lots of the day: those named, or all that are not opened
// yet.
func (e *env) toOpen(r *registry.Registry, args []string) ([]registry.Lot, error) {
	unopened := func(l registry.Lot) bool { return !l.Seeds.Known && r.Grows(l.ID) }
	var lots []registry.Lot
	if len(args) == 0 {
		for _, l := range r.Lots() {
			if unopened(l) {
				lots = append(lots, l)
			}
		}
		if len(r.Lots()) == 0 {
			return nil, problem.Use("there is no seed lot yet", "issue lots with: pipstake bags CROSS --lots N")
		}
		if len(lots) == 0 {
			return nil, problem.Use("no seed lot is left to open", "issue lots with: pipstake bags CROSS --lots N")
		}
	}
	for _, arg := range args {
		found, err := e.named(r, arg)
		if err != nil {
			return nil, err
		}
		lots = append(lots, found...)
	}
	slices.SortFunc(lots, func(a, b registry.Lot) int { return ids.Compare(a.ID, b.ID) })
	return slices.CompactFunc(lots, func(a, b registry.Lot) bool { return a.ID == b.ID }), nil
}

// named are the lots that an argument names; a cross stands for those of its
// lots that are not opened yet.
func (e *env) named(r *registry.Registry, arg string) ([]registry.Lot, error) {
	p, err := e.readID(arg)
	if err != nil {
		return nil, err
	}
	if p.ID.Level() > ids.LotLevel {
		return nil, levelIs(p.ID, ids.LotLevel)
	}
	if err := live(r, p.ID); err != nil {
		return nil, err
	}
	if end, ended := r.EndOf(p.ID); ended {
		return nil, problem.Use(end.String(), "leave it out")
	}
	if lot, ok := r.Lot(p.ID); ok {
		if lot.Seeds.Known {
			return nil, problem.Use(fmt.Sprintf("%s is opened already: %s", lot.ID, found(lot)), "leave it out")
		}
		return []registry.Lot{lot}, nil
	}
	lots := slices.DeleteFunc(r.LotsOf(p.ID), func(l registry.Lot) bool { return l.Seeds.Known || !r.Grows(l.ID) })
	if len(lots) == 0 {
		return nil, problem.Use(fmt.Sprintf("%s has no seed lot that is not opened yet", p.ID), "issue one with: pipstake bags "+p.ID.String())
	}
	return lots, nil
}

// fillBench writes the texts of the sheet, and returns what is out of the ordinary
// in the baths.
func fillBench(sheet *layout.BenchSheet, r *registry.Registry, own season.Practice, lots []registry.Lot, on registry.Date) (doubts []string) {
	sheet.Title = "Extraction " + on.String()
	sheet.Under = fmt.Sprintf("%s, %s to %s", words.Plural(len(lots), "seed lot", "seed lots"), lots[0].ID, lots[len(lots)-1].ID)
	if len(lots) == 1 {
		sheet.Under = "1 seed lot, " + lots[0].ID.String()
	}
	for _, l := range lots {
		cross, _ := r.Cross(l.ID.At(ids.CrossLevel))
		sheet.Lots = append(sheet.Lots, layout.BenchLot{ID: l.ID.String(), Parents: parents(cross)})
	}
	baths := bathsOf(own, lots)
	for _, b := range baths {
		if b.Disinfecting.Treats() {
			sheet.Mixes = append(sheet.Mixes, b.mix(len(baths) > 1))
		}
	}
	sheet.Steps = benchSteps(baths, on)
	sheet.Cautions = benchCautions(baths)
	return bathDoubts(baths)
}

// bath is the seed lots that are treated alike.
type bath struct {
	season.Protocol
	lots []ids.ID
}

// crosses are those of the lots.
func (b *bath) crosses() []string {
	var names []string
	for _, l := range b.lots {
		if name := l.At(ids.CrossLevel).String(); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return names
}

// alike reports whether two protocols are the same as far as the sheet goes.
func alike(p, q season.Protocol) bool {
	return p.Disinfecting == q.Disinfecting && p.Soaking == q.Soaking && p.Bag == q.Bag &&
		p.Cold == q.Cold && p.Sowing == q.Sowing && p.Emergence == q.Emergence
}

// bathsOf puts together the lots that are treated alike.
func bathsOf(p season.Practice, lots []registry.Lot) []*bath {
	var baths []*bath
	for _, l := range lots {
		own := p.For(l.ID)
		i := slices.IndexFunc(baths, func(b *bath) bool { return alike(b.Protocol, own) })
		if i < 0 {
			i = len(baths)
			baths = append(baths, &bath{Protocol: own})
		}
		baths[i].lots = append(baths[i].lots, l.ID)
	}
	return baths
}

// amount shows an amount to three figures.
func amount(n float64) string {
	decimals := max(0, 2-int(math.Floor(math.Log10(n))))
	scale := math.Pow10(decimals)
	return words.Plain(math.Round(n*scale) / scale)
}

// benchSteps are the steps of the day and those after it.
func benchSteps(baths []*bath, on registry.Date) []layout.BenchStep {
	each := func(word func(season.Protocol) string) string { return eachBath(baths, word) }
	hours := each(func(p season.Protocol) string { return unit(float64(p.Soaking.Hours), "h") })
	change := each(func(p season.Protocol) string { return unit(float64(p.Soaking.ChangeHours), "h") })
	drained := each(func(p season.Protocol) string { return weekday(p.SoakEnds(on)) })
	bag := each(func(p season.Protocol) string {
		return fmt.Sprintf("%s of %s and %s water", teaspoons(p.Bag.Teaspoons), p.Bag.Material, unit(p.Bag.Water, "ml"))
	})
	celsius := each(func(p season.Protocol) string { return unit(p.Cold.Celsius, "°C") })
	days := each(func(p season.Protocol) string {
		c := p.Chilled(p.SoakEnds(on))
		return fmt.Sprintf("%d to %d\u00a0days: out between %s and %s", p.Cold.LeastDays, p.Cold.MostDays, c.First, c.Last)
	})
	sow := each(func(p season.Protocol) string {
		c := p.Chilled(p.SoakEnds(on))
		return fmt.Sprintf("from %s to %s (%s), %s deep", c.SowFrom, c.SowTo, p.Sowing.Place, unit(p.Sowing.DepthCM, "cm"))
	})
	look := each(func(p season.Protocol) string { return lookFrom(p, on) })
	steps := []layout.BenchStep{
		{Text: "Open the fruit of one lot at a time; its bag stays with it. Count fruit, seeds and undeveloped seeds into the table below."},
	}
	if step, treated := bathStep(baths); treated {
		steps = append(steps, step)
	}
	return append(steps, []layout.BenchStep{
		{Text: "Soak in plain water for " + hours + ", changed every " + change + ": until " + drained + ".", Blanks: []string{"soak from"}},
		{Text: "Drain, and bag each lot with " + bag + ". Into the cold at " + celsius + " for " + days + ".", Blanks: []string{"into the cold"}},
		{Text: "Sow " + sow + ", pointed end down. Look for seedlings from " + look + " on."},
	}...)
}

// eachBath words what the baths have in common, or else what holds for which
// crosses: "72 h (2026X001, 2026X003) or 48 h (2026X002)".
func eachBath(baths []*bath, word func(season.Protocol) string) string {
	var parts []string
	crosses := map[string][]string{}
	for _, b := range baths {
		part := word(b.Protocol)
		if !slices.Contains(parts, part) {
			parts = append(parts, part)
		}
		crosses[part] = append(crosses[part], b.crosses()...)
	}
	if len(parts) == 1 {
		return parts[0]
	}
	for i, part := range parts {
		parts[i] = fmt.Sprintf("%s (%s)", part, strings.Join(crosses[part], ", "))
	}
	return strings.Join(parts, " or ")
}

// lookFrom is when seedlings are looked for first, of seeds that are sown on the
// first and on the last day that follow from the day of extraction.
func lookFrom(p season.Protocol, on registry.Date) string {
	c := p.Chilled(p.SoakEnds(on))
	early, _ := p.Emergence.Lookout(c.SowFrom)
	late, _ := p.Emergence.Lookout(c.SowTo)
	if early == late {
		return early.String()
	}
	return fmt.Sprintf("%s (sown first) or %s (sown last)", early, late)
}

// unit is a quantity that no line break parts from its unit.
func unit(n float64, of string) string { return words.Plain(n) + "\u00a0" + of }

func teaspoons(n float64) string {
	if n == 1 {
		return "1 teaspoon"
	}
	return words.Plain(n) + " teaspoons"
}

// weekday is a day with its name: "Tuesday 2026-11-17".
func weekday(d registry.Date) string {
	return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC).Weekday().String() + " " + d.String()
}
