package main

import (
	"fmt"
	"strings"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
	"pipstake/label/reading"
)

var correctCommand = command{
	name:      "correct",
	records:   true,
	summary:   "mend a fact that was recorded wrongly",
	arguments: "[ID] [NEW]",
	options:   "--FACT VALUE… | --variety OLD NEW",
	help: `Replaces what is wrong, and nothing else; what would then contradict other
counts or days is refused. A date or number of "-" takes the fact out. Facts
are, of

  a cross     --seed-parent, --pollen-parent, --swap, --pollinated, --flowers,
              --picked, --fruit
  a seed lot  --fruit, --seeds, --undeveloped, --extracted, --chilled
  a pot       --seeds, --sown, --place, and its counts: --count, --died, --drop
  a seedling  --pricked, --place, --name

and of what has ended --ended. It says what changed and how many labels no
longer agree; pipstake labels --stale prints exactly these.

  pipstake correct 2026X012 --swap
  pipstake correct 2026X012 --pollen-parent "Tarn Amber" --pollinated 2026-05-04
  pipstake correct 2026X012-B --seeds 13
  pipstake correct 2026X012-B2 --count 2027-03-02=5 --died 2027-03-02=1
  pipstake correct 2026X012-B2 --drop 2027-03-02     that count was never made
  pipstake correct --variety "Larkfeild Tessel" "Larkfield Tessel"`,
	define: func(f *flags) action {
		c := newCorrecting(f)
		dir := f.registry()
		return func(e *env, args []string) error {
			if c.variety != nil && *c.variety != "" {
				return c.rename(e, *dir, args)
			}
			switch {
			case len(args) == 0:
				return problem.Use("correct: ID is missing", "say of which, and what is right: pipstake correct ID --FACT VALUE")
			case len(args) > 1:
				return problem.Use(fmt.Sprintf("correct: unexpected argument %q", args[1]), "say of which, and what is right: pipstake correct ID --FACT VALUE")
			}
			p, err := e.readID(args[0])
			if err != nil {
				return err
			}
			facts, err := c.facts(f)
			if err != nil {
				return err
			}
			counts, err := c.countFacts()
			if err != nil {
				return err
			}
			if len(counts) > 0 && p.ID.Level() != ids.PotLevel {
				return levelIs(p.ID, ids.PotLevel)
			}
			return e.correct(*dir, p.ID, facts, counts)
		}
	},
}

// correct replaces facts and counts together, or none of them.
func (e *env) correct(dir string, id ids.ID, facts *registry.Correction, counts []countFact) error {
	if facts == nil && counts == nil {
		return problem.Use("correct: nothing is named that is wrong", "name a fact, such as --seeds 13; see pipstake correct --help")
	}
	var improbable []season.Improbable
	err := e.corrects(dir, func(r *registry.Registry) ([]registry.Changed, error) {
		if r.Status(id) == registry.Unknown {
			return nil, unknown(r, id)
		}
		var all []registry.Changed
		if facts != nil {
			changed, err := r.Correct(id, *facts)
			if err != nil {
				return nil, inCorrection{err}
			}
			all = changed
		}
		for _, c := range counts {
			changed, err := r.CorrectCount(id, c.on, c.CountCorrection)
			if err != nil {
				return nil, inCorrection{err}
			}
			all = append(all, changed...)
		}
		if id.Level() > ids.LotLevel || facts == nil || facts.Fruit == nil && facts.Seeds == nil && facts.Flowers == nil {
			return all, nil
		}
		var err error
		improbable, err = improbableOf(r, id)
		return all, err
	})
	if err == nil {
		e.noticeImprobable(improbable)
	}
	return err
}

// inCorrection is an error whose remedies are typed as those of a correction: each
// day has a flag of its own there.
type inCorrection struct{ error }

func (c inCorrection) Unwrap() error { return c.error }

// Problems returns the problems of the error.
func (c inCorrection) Problems() []problem.Problem {
	all := problem.Of(c.error)
	for i := range all {
		all[i].Remedy = asTypedWith(map[string]string{"with day": "that is wrong: this one, or first the other"}, all[i].Remedy)
	}
	return all
}

// rename writes a variety's name anew everywhere.
func (c *correcting) rename(e *env, dir string, args []string) error {
	if len(args) != 1 {
		return problem.Use("correct --variety takes the old name and the new one", `pipstake correct --variety "Larkfeild Tessel" "Larkfield Tessel"`)
	}
	return e.corrects(dir, func(r *registry.Registry) ([]registry.Changed, error) {
		return r.RenameVariety(*c.variety, args[0])
	})
}

// corrects saves a correction, and tells what changed and what follows from it:
// the labels that no longer agree, which did before.
func (e *env) corrects(dir string, do func(*registry.Registry) ([]registry.Changed, error)) error {
	var changed []registry.Changed
	stale := labelTally{}
	err := e.change(dir, func(r *registry.Registry) (err error) {
		before := map[int]bool{}
		for _, l := range reading.StaleLabels(r) {
			before[l.Index] = true
		}
		if changed, err = do(r); err != nil {
			return err
		}
		stale = labelTally{}
		for _, l := range reading.StaleLabels(r) {
			if !before[l.Index] {
				stale[l.Face]++
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	if len(changed) == 0 {
		e.Say("that is on record already; nothing changed")
		return nil
	}
	for _, c := range changed {
		e.Say("%s", changeWords(c))
	}
	if said := stale.String(); said != "" {
		e.Notice("no longer agree: %s", said)
		e.Next("print them anew: pipstake labels --stale")
	}
	return nil
}

// changeWords is a change on one line: "2026X012-B2  seeds: 7 → 6".
func changeWords(c registry.Changed) string {
	shown := func(s string) string {
		if s == "" {
			return "nothing"
		}
		return words.OneLine(s)
	}
	fact := strings.ReplaceAll(c.Fact, "_", " ")
	if !c.On.IsZero() {
		fact += " on " + c.On.String()
	}
	return fmt.Sprintf("%s  %s: %s → %s", c.ID, fact, shown(c.Before), shown(c.After))
}
