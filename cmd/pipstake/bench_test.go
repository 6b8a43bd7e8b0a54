package main

import (
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
		"1 teaspoon of vermiculite and 0.5 ml water. Into the cold at 4 °C for 30 to 60 days.",
		"Sow between 1 December and the end of February (cold frame), 1 cm deep, pointed end down. Look for seedlings from 15 February on.",
	} {
		if !strings.Contains(all, want) {
			t.Errorf("%q is missing in\n%s", want, all)
		}
	}
}

// 10 g in 150 ml is 6.67 % w/v, recomputed.
func TestBenchMix(t *testing.T) {
	b := &bath{Protocol: season.CommonPractice(), lots: make([]ids.ID, 7)}
	want := [3]layout.BenchFigure{{Value: "70 ml", Of: "water"}, {Value: "4.67 g", Of: "calcium hypochlorite"}, {Value: "6.67 % w/v", Of: "7 seed lots, 10 ml each"}}
	if got := b.mix(false); got.Figures != want || got.For != "" {
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

// The cautions that must not be missing.
func TestBenchCautions(t *testing.T) {
	all := strings.Join(benchCautions, "\n")
	for _, word := range []string{"label of your own product", "local rules", "licensed practice", "acids", "chlorine", "skin", "eyes", "gloves", "draught", "combustibles", "food", "not for eating", "blades"} {
		if !strings.Contains(all, word) {
			t.Errorf("nothing is said of %q", word)
		}
	}
}
