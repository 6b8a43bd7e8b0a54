package main

import (
	"fmt"
	"slices"
	"strings"

	"pipstake/ids/problem"
	"pipstake/ids/registry"
)

// none is written for a fact that is taken out.
const none = "-"

// correcting is the flags of correct.
type correcting struct {
	texts        map[string]*string // the facts that are names, by flag
	days, counts map[string]*string // those that are days and numbers, as typed
	swap         *bool
	up, died     *[]string // DATE=N
	drop         *[]string // DATE
	variety      *string
}

// newCorrecting adds the flags.
func newCorrecting(f *flags) *correcting {
	c := &correcting{texts: map[string]*string{}, days: map[string]*string{}, counts: map[string]*string{}}
	c.texts["seed-parent"] = f.text("seed-parent", "the `NAME` of the seed parent, or a seedling's identifier")
	c.texts["pollen-parent"] = f.text("pollen-parent", "the `NAME` of the pollen parent, likewise")
	c.swap = f.onOff("swap", "the seed parent was the pollen parent, and the other way round")
	c.days["pollinated"] = f.text("pollinated", "the `DATE` of pollination")
	c.counts["flowers"] = f.text("flowers", "how many `FLOWERS` were pollinated")
	c.days["picked"] = f.text("picked", "the `DATE` of picking the fruit")
	c.counts["fruit"] = f.text("fruit", "how many `FRUIT` were picked, or opened of a lot")
	c.counts["seeds"] = f.text("seeds", "how many `SEEDS` a lot had, or a pot was sown with")
	c.counts["undeveloped"] = f.text("undeveloped", "how many `SEEDS` of a lot are flat or empty")
	c.days["extracted"] = f.text("extracted", "the `DATE` of opening the fruit")
	c.days["chilled"] = f.text("chilled", "the first `DATE` in the cold")
	c.days["sown"] = f.text("sown", "the `DATE` of sowing")
	c.texts["place"] = f.text("place", "the `PLACE` where it stands")
	c.days["pricked"] = f.text("pricked", "the `DATE` of pricking out")
	c.texts["name"] = f.text("name", "the `NAME` of a selection")
	c.days["ended"] = f.text("ended", "the `DATE` on which it ended")
	c.up = f.set.StringArray("count", nil, "how many had come up by a day: `DATE=N`")
	c.died = f.set.StringArray("died", nil, "how many of them had died by a day: `DATE=N`")
	c.drop = f.set.StringArray("drop", nil, "the `DATE` of a count that was never made")
	c.variety = f.text("variety", "a variety's `OLD` name; the new one follows")
	return c
}

// facts are the facts of a row that are named; nil for none.
func (c *correcting) facts(f *flags) (*registry.Correction, error) {
	r := &registry.Correction{Swap: *c.swap}
	some := *c.swap
	for name, to := range map[string]**string{"seed-parent": &r.SeedParent, "pollen-parent": &r.PollenParent, "place": &r.Place, "name": &r.Name} {
		if f.set.Changed(name) {
			*to, some = emptied(c.texts[name]), true
		}
	}
	for name, to := range map[string]**registry.Date{"pollinated": &r.Pollinated, "picked": &r.Picked, "extracted": &r.Extracted,
		"chilled": &r.Chilled, "sown": &r.Sown, "pricked": &r.Pricked, "ended": &r.Ended} {
		if !f.set.Changed(name) {
			continue
		}
		d, err := dayOrNone(*c.days[name])
		if err != nil {
			return nil, problem.In("--"+name, err)
		}
		*to, some = &d, true
	}
	for name, to := range map[string]**registry.Count{"flowers": &r.Flowers, "fruit": &r.Fruit, "seeds": &r.Seeds, "undeveloped": &r.Undeveloped} {
		if !f.set.Changed(name) {
			continue
		}
		n, err := countOrNone(*c.counts[name])
		if err != nil {
			return nil, problem.In(fmt.Sprintf("--%s %q", name, *c.counts[name]), err)
		}
		*to, some = &n, true
	}
	if !some {
		return nil, nil
	}
	return r, nil
}

// emptied is a text, or none for "-".
func emptied(text *string) *string {
	if *text == none {
		return new(string)
	}
	return text
}

// dayOrNone reads a day, or "-" for one that is not known.
func dayOrNone(text string) (registry.Date, error) {
	if text == none {
		return registry.Date{}, nil
	}
	return registry.ParseDate(text)
}

// countOrNone reads a number, or "-" for one that is not known.
func countOrNone(text string) (registry.Count, error) {
	if text == none {
		return registry.Count{}, nil
	}
	n, err := parseCount(text, 0, mostSeeds)
	return registry.Known(n), err
}

// countFact is what is right of the count on a day.
type countFact struct {
	on registry.Date
	registry.CountCorrection
}

// countFacts are the counts that are named, by day. Of one day, both numbers
// are corrected together.
func (c *correcting) countFacts() ([]countFact, error) {
	var all []countFact
	on := func(day registry.Date) *countFact {
		for i := range all {
			if all[i].on == day {
				return &all[i]
			}
		}
		all = append(all, countFact{on: day})
		return &all[len(all)-1]
	}
	for _, flag := range []struct {
		name  string
		given []string
	}{{"count", *c.up}, {"died", *c.died}} {
		for _, text := range flag.given {
			day, n, err := dayAndCount(text)
			if err != nil {
				return nil, problem.In(fmt.Sprintf("--%s %q", flag.name, text), err)
			}
			if fact := on(day); flag.name == "count" {
				fact.Up = &n
			} else {
				fact.Died = &n
			}
		}
	}
	for _, text := range *c.drop {
		day, err := registry.ParseDate(text)
		if err != nil {
			return nil, problem.In("--drop", err)
		}
		on(day).Drop = true
	}
	slices.SortStableFunc(all, func(a, b countFact) int { return strings.Compare(a.on.String(), b.on.String()) })
	return all, nil
}

// dayAndCount reads DATE=N.
func dayAndCount(text string) (registry.Date, registry.Count, error) {
	const likeThis = "write it like 2027-03-02=5"
	day, number, ok := strings.Cut(text, "=")
	if !ok {
		return registry.Date{}, registry.Count{}, problem.Use("no = stands between the day and the number", likeThis)
	}
	on, err := registry.ParseDate(day)
	if err != nil {
		return registry.Date{}, registry.Count{}, err
	}
	n, err := countOrNone(number)
	return on, n, err
}
