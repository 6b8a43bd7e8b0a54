package main

import (
	"fmt"

	"pipstake/ids"
	"pipstake/ids/practice"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
	"pipstake/layout"
)

var planCommand = command{
	name:      "plan",
	summary:   "how many seeds to sow for the seedlings you want",
	arguments: "[CROSS…]",
	options:   "--seedlings N [--certainty PERCENT] [--rate PERCENT]",
	help: `Seeds come up by chance, so more are sown than seedlings are wanted: as many as
give at least N seedlings with the certainty asked for, by the exact binomial
distribution. Then what these seeds mean in fruit, pots, stakes and sheets, and
what each cross of the registry has in hand: seedlings alive, and open seeds, in
bags or in pots in which more may come up. No cross is called short while more
may come up, or while a bag is not opened. CROSS names the crosses to look at;
all that did not fail otherwise.

And backwards from seedlings to seeds, fruit and the flowers to pollinate. Each
figure is that of your own crosses where there are at least three of them with
enough counted (100 seeds, 20 fruit, 30 flowers), with what the single crosses
gave, and else that of protocol.toml; it is said which.

  pipstake plan --seedlings 20
  pipstake plan --seedlings 20 --certainty 99 --rate 70
  pipstake plan --seedlings 20 2026X012 2026X036`,
	define: func(f *flags) action {
		p := &planFlags{dir: f.registry()}
		p.seedlings = f.count("seedlings", "how many `SEEDLINGS` you want at least", 1, mostSeedlings)
		p.certainty = f.percent("certainty", "how sure to be of them, in `PERCENT`; 95 where left out", 1, 99.99)
		p.rate = f.percent("rate", "how many seeds in a hundred come up, in `PERCENT`; your own figure, or else what protocol.toml expects, where left out", 1, 100)
		p.on = f.day("on", "the `DATE` to look from, yyyy-mm-dd; today where left out")
		p.json = f.json()
		return p.run
	},
}

// mostSeedlings is more than anyone raises of a cross.
const mostSeedlings = 10_000

// planFlags are the flags of the command.
type planFlags struct {
	dir             *string
	seedlings       *countFlag
	certainty, rate *percentFlag
	on              *dayFlag
	json            *bool
}

// percentFlag is a flag's value that is a percentage.
type percentFlag struct {
	percent     float64 // 0 where it was not given
	least, most float64
}

// percent adds a flag for a percentage from least to most.
func (f *flags) percent(name, usage string, least, most float64) *percentFlag {
	p := &percentFlag{least: least, most: most}
	f.set.Var(p, name, usage)
	return p
}

func (p *percentFlag) Set(s string) error {
	n, err := parsePercent(s)
	if err != nil || !(n >= p.least && n <= p.most) {
		return problem.Use("it is no such percentage", fmt.Sprintf("give a number from %s to %s", words.Plain(p.least), words.Plain(p.most)))
	}
	p.percent = n
	return nil
}

func (p *percentFlag) String() string { return "" }
func (p *percentFlag) Type() string   { return "PERCENT" }

// planAnswer is what the command reckoned.
type planAnswer struct {
	aim     season.Aim
	plan    season.Plan
	back    season.Backwards
	sheets  int
	dir     string // of the registry; "" without one
	crosses []season.InHand
}

func (f *planFlags) run(e *env, args []string) error {
	if !f.seedlings.given {
		return problem.Use("plan: --seedlings is missing", "say how many you want: pipstake plan --seedlings 20")
	}
	a := planAnswer{aim: season.Aim{Seedlings: f.seedlings.n, Certainty: 0.95, Rate: f.rate.percent / 100}}
	if f.certainty.percent > 0 {
		a.aim.Certainty = f.certainty.percent / 100
	}
	own := season.Practice{Protocol: season.CommonPractice()}
	var experience season.Experience
	r, err := e.registryIfAny(*f.dir)
	switch {
	case err != nil:
		return err
	case r != nil:
		if own, err = practice.Of(r); err != nil {
			return err
		}
		a.dir = r.Dir()
		experience = season.ExperienceOf(r, own, e.seenOn(f.on))
		if a.crosses, err = e.inHand(r, own, experience, a.aim, args, e.seenOn(f.on)); err != nil {
			return err
		}
	case len(args) > 0:
		_, err := e.open(*f.dir) // a plan needs no registry, unless it is for crosses in one
		return err
	}
	if r == nil {
		experience = season.ExperienceOf(nil, own, e.seenOn(f.on))
	}
	a.plan = season.PlanFor(a.aim, own.Protocol, experience)
	a.back = season.BackwardsFrom(a.aim, experience)
	if a.sheets, err = sheetsFor(a.plan.Stakes); err != nil {
		return err
	}
	if *f.json {
		return e.planJSON(a)
	}
	e.planText(a, own.Protocol)
	return nil
}

// inHand looks at the crosses named, or at all in use that did not fail.
func (e *env) inHand(r *registry.Registry, own season.Practice, experience season.Experience, aim season.Aim, args []string, on registry.Date) ([]season.InHand, error) {
	named, err := e.readIDs(args, ids.CrossLevel)
	if err != nil {
		return nil, err
	}
	aimOf := func(cross registry.Cross) season.Aim {
		if own.For(cross.ID).Germination != own.Protocol.Germination {
			return aim // something else is expected of it
		}
		return experience.AimOf(aim)
	}
	var found []season.InHand
	for _, id := range named {
		if err := live(r, id); err != nil {
			return nil, err
		}
		cross, _ := r.Cross(id)
		found = append(found, season.InHandOf(r, own, cross, aimOf(cross), on))
	}
	if len(args) > 0 {
		return found, nil
	}
	for _, cross := range r.Crosses() {
		if cross.State == registry.Live && cross.Fate == registry.Growing {
			found = append(found, season.InHandOf(r, own, cross, aimOf(cross), on))
		}
	}
	return found, nil
}

// sheetsFor is how many sheets of the default stock the stakes fill.
func sheetsFor(stakes int) (int, error) {
	stock, err := layout.FindStock(defaultStock(registry.StakeFace))
	if err != nil {
		return 0, err
	}
	return (stakes + stock.PerSheet() - 1) / stock.PerSheet(), nil
}
