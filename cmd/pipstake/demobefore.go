package main

import (
	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/label/reading"
)

// The year before the made-up season: open and mixed pollen, seed that was
// received, cold in two spells, and how each of it ended. All of it is invented.

// The days of that year and of the one in which its seed came up.
const (
	beforePollinated = "2024-05-06"
	beforeOpened     = "2024-11-12"
	beforeSown       = "2025-02-20"
	beforePricked    = "2025-04-20"
)

// beforeCounts are the days on which its seedlings were counted.
var beforeCounts = []string{"2025-03-20", "2025-04-01", "2025-04-12"}

// beforePot is a pot of that year: how many were up at each of the beforeCounts,
// how many of them had died at the last, and how many were pricked out of it. A
// pot that mice took has none pricked out.
type beforePot struct {
	seeds         int
	up            []int
	died, pricked int
}

// beforeLots are the pots of the first lot of each cross.
var beforeLots = map[int][]beforePot{
	1: {{16, []int{3, 11, 14}, 11, 3}, {16, []int{2, 10, 13}, 10, 3}},
	2: {{13, []int{2, 8, 11}, 9, 2}, {12, []int{1, 7, 10}, 0, 0}},
	4: {{14, []int{0, 6, 9}, 7, 2}},
}

// beforeVarieties are what is known of some parents.
var beforeVarieties = []registry.Variety{
	{Name: "Tarn Amber", Also: "Amber of the Tarn", SAlleles: "S2 S5", Year: 1874},
	{Name: "Red Amber", SportOf: "Tarn Amber", Year: 1961},
	{Name: "Härmä Punanen", SeedParent: "Quillan Overmoor", PollenParent: "unknown", Year: 1931},
	{Name: "Błota Struga", Ploidy: 3, SAlleles: "S1 S4 S7"},
}

// yearBefore plays the year before, and gives the labels of what still grows of
// it.
func yearBefore(r *registry.Registry) (order, error) {
	o := order{on: demoDay(demoSown)}
	for _, v := range beforeVarieties {
		if _, err := r.SetVariety(v, false); err != nil {
			return o, err
		}
	}
	crosses, err := crossesBefore(r)
	if err != nil {
		return o, err
	}
	for i, cross := range crosses {
		for j, pot := range beforeLots[i+1] {
			if err := potBefore(r, cross.Child(1), j+1, pot); err != nil {
				return o, err
			}
		}
	}
	if err := plantsBefore(r); err != nil {
		return o, err
	}
	for _, s := range r.Seedlings() {
		if r.Grows(s.ID) {
			o.tags = append(o.tags, reading.KeysIn(r, s.ID)...)
		}
	}
	return o, nil
}

// crossesBefore registers the crosses with their seed, as far as the sowing.
func crossesBefore(r *registry.Registry) ([]ids.ID, error) {
	day := demoDay(beforePollinated)
	mixture := registry.Parent{Kind: registry.MixedPollen, Names: []string{"Larkfield Tessel", "Otterhay Lade"}}
	var all []ids.ID
	for _, c := range []registry.NewCross{
		{SeedParent: "Tarn Amber", PollenParent: registry.Parent{Kind: registry.OpenPollen}.String(), Pollinated: day},
		{SeedParent: "Gwennol Goch", PollenParent: mixture.String(), Pollinated: day, Flowers: registry.Known(9)},
		{SeedParent: "Mørkeby Vindal", PollenParent: "Quillan Overmoor", Pollinated: day, Flowers: registry.Known(8)},
	} {
		made, err := r.AddCross(c)
		if err != nil {
			return nil, err
		}
		all = append(all, made.ID)
	}
	if _, err := r.End(registry.Ending{ID: all[2], How: registry.Failed, On: demoDay("2024-07-05"), Note: "June drop"}); err != nil {
		return nil, err
	}
	for i, found := range []registry.Extraction{
		{Fruit: registry.Known(5), Seeds: registry.Known(34), Undeveloped: registry.Known(2), On: demoDay(beforeOpened)},
		{Fruit: registry.Known(4), Seeds: registry.Known(29), Undeveloped: registry.Known(4), On: demoDay(beforeOpened)},
	} {
		if _, err := r.Pick(all[i], found.Fruit.N, demoDay("2024-10-01")); err != nil {
			return nil, err
		}
		lots, err := r.AddLots(all[i], 1, demoDay("2024-10-20"))
		if err != nil {
			return nil, err
		}
		if _, err := r.Extract(lots[0].ID, found); err != nil {
			return nil, err
		}
	}
	given, lots, err := r.Receive(registry.NewSeed{SeedParent: "Fennimore Clasp", PollenParent: registry.Parent{Kind: registry.UnknownParent}.String(),
		Source: "Nether Hollow, seed swap", On: demoDay("2024-11-02"), Lots: 1, Seeds: registry.Known(18)})
	if err != nil {
		return nil, err
	}
	if _, err := r.TakeSeeds(lots[0].ID, registry.SeedsGone{Seeds: 4, How: registry.GivenAway, On: demoDay("2024-11-10"), Note: "to the school"}); err != nil {
		return nil, err
	}
	return append(all, given.ID), coldBefore(r, []ids.ID{all[0].Child(1), all[1].Child(1), lots[0].ID})
}

// coldBefore records the cold of the lots: that of the first was broken off.
func coldBefore(r *registry.Registry, lots []ids.ID) error {
	for i, lot := range lots {
		spells := []registry.Chilling{{On: demoDay("2024-11-16")}, {On: demoDay("2024-12-10"), Out: true}, {On: demoDay("2024-12-14")}}
		for _, spell := range spells[:[]int{3, 1, 1}[i]] {
			if _, err := r.Chill(lot, spell); err != nil {
				return err
			}
		}
		var seeds []int
		for _, pot := range beforeLots[lot.Cross] {
			seeds = append(seeds, pot.seeds)
		}
		if _, err := r.Sow(lot, registry.Sowing{Seeds: seeds, On: demoDay(beforeSown), Place: "bench"}); err != nil {
			return err
		}
		if _, err := r.End(registry.Ending{ID: lot, How: registry.UsedUp, On: demoDay(beforeSown)}); err != nil {
			return err
		}
	}
	return r.Note(lots[0], demoDay("2024-12-10"), "the fridge failed")
}

// potBefore counts a pot and pricks it out, or loses it.
func potBefore(r *registry.Registry, lot ids.ID, n int, p beforePot) error {
	pot := lot.Child(n)
	for i, up := range p.up {
		count := registry.Emergence{Pot: pot, On: demoDay(beforeCounts[i]), Up: registry.Known(up)}
		if i == len(p.up)-1 && p.died > 0 {
			count.Died = registry.Known(p.died)
		}
		if _, err := r.CountPot(count); err != nil {
			return err
		}
	}
	end := registry.Ending{ID: pot, How: registry.Emptied, On: demoDay(beforePricked)}
	if p.pricked == 0 {
		end.How, end.Note = registry.Lost, "mice"
	} else if _, err := r.AddSeedlings(pot, p.pricked, demoDay(beforePricked)); err != nil {
		return err
	}
	_, err := r.End(end)
	return err
}

// plantsBefore tells what became of the seedlings: one is selected and grafted,
// three are planted out beside it, and the others are culled.
func plantsBefore(r *registry.Registry) error {
	for i, s := range r.Seedlings() {
		if s.ID.Seedling > 1 {
			if _, err := r.End(registry.Ending{ID: s.ID, How: registry.Culled, On: demoDay("2025-09-14"), Note: "mildew"}); err != nil {
				return err
			}
			continue
		}
		if _, err := r.Plant(s.ID, "row 4", demoDay("2025-05-20")); err != nil {
			return err
		}
		if i > 0 {
			continue
		}
		if err := r.Select(s.ID, "Sallow Glint", demoDay("2025-09-20")); err != nil {
			return err
		}
		if _, err := r.Graft(s.ID, 2, demoDay("2025-12-02"), ""); err != nil {
			return err
		}
	}
	return nil
}
