package main

import (
	"slices"
	"strings"
	"testing"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/layout"
)

// What differs from cross to cross says for which it holds; what does not,
// stands there once.
func TestBenchStepsPerCross(t *testing.T) {
	own := season.CommonPractice()
	own.Soaking.Hours = 48
	practice := season.Practice{Protocol: season.CommonPractice(), Crosses: map[ids.ID]season.Protocol{{Year: 2026, Cross: 2}: own}}
	var lots []registry.Lot
	for cross := 1; cross <= 3; cross++ {
		for lot := 1; lot <= 2; lot++ {
			lots = append(lots, registry.Lot{ID: ids.ID{Year: 2026, Cross: cross, Lot: lot}})
		}
	}
	var all string
	for _, s := range benchSteps(bathsOf(practice, lots), demoDay("2026-02-27")) {
		all += strings.ReplaceAll(s.Text, "\u00a0", " ") + "\n"
	}
	for _, want := range []string{
		"Soak in plain water for 72 h (2026X001, 2026X003) or 48 h (2026X002), changed every 24 h: until Monday 2026-03-02 (2026X001, 2026X003) or Sunday 2026-03-01 (2026X002).",
		"Bathe each lot in 10 ml for 5 min, then rinse well.",
		"1 teaspoon of vermiculite and 0.5 ml water. Into the cold at 4 °C for 30 to 60 days: out between 2026-04-01 and 2026-05-01 (2026X001, 2026X003) or 30 to 60 days: out between 2026-03-31 and 2026-04-30 (2026X002).",
		"Look for seedlings from 2026-04-08 (sown first) or 2026-05-08 (sown last) (2026X001, 2026X003) or",
	} {
		if !strings.Contains(all, want) {
			t.Errorf("%q is missing in\n%s", want, all)
		}
	}
}

// The sheet names the days on which due will ask, for lots that go into the cold
// when their soak ends.
func TestBenchNamesTheDaysOfDue(t *testing.T) {
	wild := season.CommonPractice()
	wild.Soaking.Hours, wild.Cold.LeastDays, wild.Cold.MostDays = 50, 84, 112
	for _, p := range []season.Protocol{season.CommonPractice(), wild} {
		for _, extracted := range []string{"2026-09-10", "2026-11-14", "2027-01-02", "2027-02-20"} {
			practice := season.Practice{Protocol: p}
			text := ""
			for _, s := range benchSteps(bathsOf(practice, []registry.Lot{{ID: ids.ID{Year: 2026, Cross: 1, Lot: 1}}}), demoDay(extracted)) {
				text += s.Text + "\n"
			}
			for _, task := range dueOf(t, practice, demoDay(extracted)) {
				for _, on := range []registry.Date{task.From, task.To} {
					if !strings.Contains(text, on.String()) && task.Kind != season.ChangeWater {
						t.Errorf("extracted %s: due says %s on %s, not so\n%s", extracted, dueKinds[task.Kind], on, text)
					}
				}
			}
		}
	}
}

// dueOf returns all that is due of a lot that is extracted on a day, goes into the
// cold when its soak ends, and is sown on the first day for it.
func dueOf(t *testing.T, practice season.Practice, extracted registry.Date) []season.Task {
	t.Helper()
	dir := t.TempDir()
	if err := registry.Init(dir); err != nil {
		t.Fatal(err)
	}
	var tasks []season.Task
	look := func(on registry.Date, kinds ...season.Kind) registry.Date {
		r, err := registry.Open(dir)
		if err != nil {
			t.Fatal(err)
		}
		var first registry.Date
		for _, task := range season.Due(r, practice, on) {
			if slices.Contains(kinds, task.Kind) {
				tasks, first = append(tasks, task), task.From
			}
		}
		if first.IsZero() {
			t.Fatalf("nothing of %v is due on %s", kinds, on)
		}
		return first
	}
	record := func(work func(r *registry.Registry) error) {
		if err := registry.Change(dir, registry.Options{}, work); err != nil {
			t.Fatal(err)
		}
	}
	lot := ids.ID{Year: 2026, Cross: 1, Lot: 1}
	record(func(r *registry.Registry) error {
		if _, err := r.AddCross(registry.NewCross{SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber", Year: 2026}); err != nil {
			return err
		}
		if _, err := r.AddLots(lot.At(ids.CrossLevel), 1, extracted); err != nil {
			return err
		}
		_, err := r.Extract(lot, registry.Extraction{Seeds: registry.Known(8), On: extracted})
		return err
	})
	drained := look(extracted, season.EndSoak)
	record(func(r *registry.Registry) error { _, err := r.Chill(lot, registry.Chilling{On: drained}); return err })
	look(drained, season.ColdOpens, season.ColdCloses)
	sow := look(drained, season.Sow)
	record(func(r *registry.Registry) error {
		_, err := r.Sow(lot, registry.Sowing{Seeds: []int{8}, On: sow})
		return err
	})
	look(sow, season.FirstLook)
	return tasks
}

// 10 g in 150 ml is 6.67 % w/v, and with 65 % available chlorine 4.33 % of it,
// recomputed. Seven lots take 70 ml; 5 g in 75 ml can be weighed.
func TestBenchMix(t *testing.T) {
	b := &bath{Protocol: season.CommonPractice(), lots: make([]ids.ID, 7)}
	want := [3]layout.BenchFigure{{Value: "75 ml", Of: "water"}, {Value: "5 g", Of: "calcium hypochlorite"}, {Value: "4.3 %", Of: "available chlorine (6.7 g in 100 ml)"}}
	if got := b.mix(false); got.Figures != want || got.For != "" {
		t.Errorf("%+v", got)
	}
	b.Disinfecting = season.Disinfecting{Kind: season.SodiumHypochlorite, Product: "bleach", Active: 5, ML: 50, Water: 150, PerLot: 10, Minutes: 5, Scale: 1}
	want = [3]layout.BenchFigure{{Value: "55 ml", Of: "water"}, {Value: "17.5 ml", Of: "bleach (3.5 teaspoons)"}, {Value: "1.2 %", Of: "available chlorine (24.1 ml in 100 ml)"}}
	if got := b.mix(false); got.Figures != want {
		t.Errorf("%+v", got)
	}
}

func TestAmount(t *testing.T) {
	for n, want := range map[float64]string{0.06667: "0.0667", 4.6667: "4.67", 8: "8", 46.667: "46.7", 1234.5: "1235"} {
		if got := amount(n); got != want {
			t.Errorf("%v: %s, want %s", n, got, want)
		}
	}
}

// The cautions that must not be missing, and those that would be wrong, for each
// kind of product.
func TestBenchCautions(t *testing.T) {
	const all, chlorine, fire = "label of your own product, local rules, licensed practice, acids, skin, eyes, gloves, draught, drains and ponds, food, not for eating, blades",
		"ammonia, urine, other pool chlorines, chlorine gas", "combustibles"
	for _, c := range []struct {
		kind     season.ProductKind
		has, not string
	}{
		{season.CalciumHypochlorite, all + ", " + chlorine + ", " + fire, "oxygen, bleaches"},
		{season.SodiumHypochlorite, all + ", " + chlorine + ", bleaches", "oxygen, " + fire},
		{season.HydrogenPeroxide, all + ", oxygen, metals, " + fire, "chlorine, urine"},
		{season.NoProduct, "blades", "acids, chlorine, gloves, Treated"},
	} {
		b := &bath{Protocol: season.CommonPractice(), lots: make([]ids.ID, 1)}
		b.Disinfecting.Kind = c.kind
		said := strings.Join(benchCautions([]*bath{b}), "\n")
		for word := range strings.SplitSeq(c.has, ", ") {
			if !strings.Contains(said, word) {
				t.Errorf("%s: nothing is said of %q", c.kind, word)
			}
		}
		for word := range strings.SplitSeq(c.not, ", ") {
			if strings.Contains(said, word) {
				t.Errorf("%s: something is said of %q", c.kind, word)
			}
		}
	}
	one, two := &bath{Protocol: season.CommonPractice()}, &bath{Protocol: season.CommonPractice()}
	two.Disinfecting.Kind = season.HydrogenPeroxide
	both := strings.Join(benchCautions([]*bath{one, two}), "\n")
	if !strings.Contains(both, "\nCalcium hypochlorite: never with acids") || !strings.Contains(both, "\nHydrogen peroxide: never with acids") || strings.Count(both, "burns skin") != 1 {
		t.Errorf("of two kinds:\n%s", both)
	}
}
