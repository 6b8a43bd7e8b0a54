package main

import (
	"fmt"
	"slices"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/label/reading"
	"pipstake/label/symbol"
	"pipstake/layout"
)

var labelsCommand = command{
	name:      "labels",
	records:   true,
	summary:   "print labels again",
	arguments: "[ID…]",
	options:   "[--missing] [--stale] [--replace] [--batch N] [--face branch|bag|stake|seedling] [--copy 1|2] [--sample STOCK]",
	help: `Prints labels of what exists already: seed lots, pots, seedlings and, with
--face branch, crosses. A label that should still be in place is printed anew
only with --replace, which retires the old one: then throw the old one away.

  pipstake labels --missing                    exactly what lacks a label in use
  pipstake labels --stale                      what says otherwise than the
                                               registry, after a correction
  pipstake labels 2026X012-B                   what it lacks, if anything
  pipstake labels 2026X012-B1..6 --replace     of all that still grow of these
  pipstake labels 2026X012-B2 --copy 1 --replace
                                               one stake has faded
  pipstake labels 2026X012-B --face stake --replace
                                               the stakes of all pots of the lot
  pipstake labels --batch 7                    its PDF was lost: write
                                               it again, recording nothing new

  pipstake labels --sample roll-62x40          what labels look like there, with
                                               invented data; records nothing

A sheet that was ruined in the printer: pipstake spoil, then labels --missing.`,
	define: func(f *flags) action {
		missing := f.onOff("missing", "print what lacks a label in use")
		stale := f.onOff("stale", "print anew what no longer says what the registry does")
		replace := f.onOff("replace", "retire the labels that are live, and print them anew")
		batch := f.batch("batch", "write the PDF of `BATCH` again: its number, or its file's name")
		face := f.word("face", "only labels of one `FACE`: branch, bag, stake or seedling; also for all below a cross, a seed lot or a pot", "branch", "bag", "stake", "seedling")
		copies := f.count("copy", "only copy `1` or copy 2 of a pair of stakes, or of grafted copies", 1, mostCopies)
		sample := f.text("sample", "print a label of each face with invented data on `STOCK`, before anything is issued")
		on := f.day("on", "the `DATE` of printing, yyyy-mm-dd; today where left out")
		printing := f.printing()
		edge := f.twoSided()
		dir := f.registry()
		return func(e *env, args []string) error {
			w := &labelSelection{missing: *missing, stale: *stale, replace: *replace, face: registry.Face(face.word), copy: copies.n}
			p, err := e.newPrintRun(printing)
			if err != nil {
				return err
			}
			p.setFlip(edge)
			if *sample != "" {
				if len(args) > 0 || w.missing || w.stale || w.replace || batch.number > 0 || w.copy > 0 || on.given() || *printing.stock != "" || p.first > 0 || p.flip != layout.NoFlip {
					return problem.Use("--sample goes with --face and with what says how to print, not with what", "pipstake labels --sample STOCK shows what labels look like there")
				}
				return e.sample(*dir, p, *sample, w.face)
			}
			if batch.number > 0 {
				if len(args) > 0 || w.missing || w.stale || w.replace || w.face != "" || w.copy > 0 || on.given() || *printing.stock != "" || p.first > 0 || p.fresh {
					return problem.Use("--batch goes with what says how to print, not with what", "a batch is written into the cells that it had; leave the rest out")
				}
				return e.rewrite(*dir, p, batch.batchName)
			}
			if err := e.readTags(*dir, w, args); err != nil {
				return err
			}
			return e.labels(*dir, p, w, e.dayOr(on))
		}
	},
}

// labelSelection is what labels the command line asks for.
type labelSelection struct {
	ids              []symbol.Payload // none for all
	missing, replace bool
	stale            bool          // only what says otherwise than the registry
	face             registry.Face // "" for any
	copy             int           // 0 for any
}

// readTags reads the identifiers; that of a scanned stake names its copy. Of a
// run those are meant that grow.
func (e *env) readTags(dir string, w *labelSelection, args []string) error {
	if w.missing && w.replace {
		return problem.Use("--missing and --replace contradict each other", "what is missing has nothing to replace: leave --replace out")
	}
	if w.stale && (w.missing || w.replace) {
		return problem.Use("--stale goes with neither --missing nor --replace", "it replaces what it prints; for what is missing, run it again with --missing")
	}
	if len(args) == 0 {
		if !w.missing && !w.stale {
			return problem.Use("labels: ID is missing", "name a seed lot or a pot, or use --missing, --stale or --batch N")
		}
		return nil
	}
	if err := numbersApart(args); err != nil {
		return err
	}
	for _, arg := range args {
		if isRun(arg) {
			which, err := e.readWhole(dir, arg)
			if err != nil {
				return err
			}
			for _, id := range which {
				w.ids = append(w.ids, symbol.Payload{ID: id})
			}
			continue
		}
		p, err := e.readID(arg)
		if err != nil {
			return err
		}
		w.ids = append(w.ids, p)
	}
	return nil
}

func (e *env) labels(dir string, p *printRun, w *labelSelection, on registry.Date) error {
	switch {
	case w.missing:
		return e.missingLabels(dir, p, w, on)
	case w.stale:
		return e.staleLabels(dir, p, w, on)
	}
	_, err := p.print(dir, func(r *registry.Registry) (order, error) {
		o := order{on: on}
		wanted, err := w.named(r)
		if err != nil {
			return o, err
		}
		if err := w.retire(r, wanted); err != nil {
			return o, err
		}
		o.tags = wanted
		return o, nil
	})
	return err
}

// missingLabels prints what lacks a label in use; that may be nothing.
func (e *env) missingLabels(dir string, p *printRun, w *labelSelection, on registry.Date) error {
	r, err := e.open(dir)
	if err != nil {
		return err
	}
	if tags, err := w.missingFrom(r); err != nil || len(tags) == 0 {
		if err == nil {
			e.Say("no label is missing")
		}
		return err
	}
	_, err = p.print(dir, func(r *registry.Registry) (order, error) {
		tags, err := w.missingFrom(r)
		return order{on: on, tags: tags}, err
	})
	return err
}

// admits reports whether the flags let a tag through. A cross does well without
// a branch tag, so it has one only where that is asked for.
func (w *labelSelection) admits(t reading.Key) bool {
	face := w.face == t.Face || w.face == "" && t.Face != registry.BranchFace
	return face && (w.copy == 0 || w.copy == t.Copy)
}

// missingFrom are the labels that lack, of those wished for.
func (w *labelSelection) missingFrom(r *registry.Registry) ([]reading.Key, error) {
	for _, p := range w.ids {
		if err := live(r, p.ID); err != nil {
			return nil, err
		}
	}
	var tags []reading.Key
	for _, m := range r.Missing() {
		t := reading.Key{Face: m.Face, ID: m.ID, Copy: m.Copy}
		if w.admits(t) && w.covers(t) {
			tags = append(tags, t)
		}
	}
	return tags, nil
}

// covers reports whether a tag belongs to the identifiers wished for, or to
// something below them.
func (w *labelSelection) covers(t reading.Key) bool {
	for _, p := range w.ids {
		if t.ID.At(p.ID.Level()) == p.ID && (p.Copy == 0 || p.Copy == t.Copy) {
			return true
		}
	}
	return len(w.ids) == 0
}

// named are the labels of the identifiers wished for.
func (w *labelSelection) named(r *registry.Registry) ([]reading.Key, error) {
	var tags []reading.Key
	seen := map[reading.Key]bool{}
	for _, p := range w.ids {
		if err := live(r, p.ID); err != nil {
			return nil, err
		}
		if end, ended := r.EndOf(p.ID); ended && r.CopiesOf(p.ID) == 0 {
			return nil, problem.Use(fmt.Sprintf("%s, so it needs no label", end), "where it grows after all: pipstake gone "+end.ID.String()+" --back")
		}
		if c, _ := r.Cross(p.ID); c.Source != "" && w.face == registry.BranchFace {
			return nil, problem.Use(fmt.Sprintf("%s is seed from elsewhere (%s), so there is no branch to tag", p.ID, words.OneLine(c.Source)), "print the labels of its bags: "+reprintBags(r, p.ID))
		}
		some := false
		for _, id := range w.bearers(r, p.ID) {
			for _, t := range reading.KeysIn(r, id) {
				if w.admits(t) && (p.Copy == 0 || p.Copy == t.Copy) && !seen[t] {
					seen[t] = true
					tags = append(tags, t)
				}
				some = some || seen[t]
			}
		}
		if !some {
			return nil, w.nothingOf(r, p.ID)
		}
	}
	return tags, nil
}

// bearers are what the labels of id are on: id itself or, with a face named,
// all live things below it that bear the face.
func (w *labelSelection) bearers(r *registry.Registry, id ids.ID) []ids.ID {
	if w.face == "" || len(reading.KeysOf(id)) > 0 && reading.KeysOf(id)[0].Face == w.face {
		return []ids.ID{id}
	}
	var all []ids.ID
	for _, below := range childrenOf(r, id) {
		if r.Grows(below) {
			all = append(all, w.bearers(r, below)...)
		}
	}
	return all
}

// nothingOf says that an identifier has no label of the kind wished for.
func (w *labelSelection) nothingOf(r *registry.Registry, id ids.ID) error {
	what := "no label"
	if w.face != "" {
		what = fmt.Sprintf("no %s label", w.face)
	}
	if w.copy > 0 {
		what += fmt.Sprintf(" with copy %d", w.copy)
	}
	hint := "seed lots have a bag label, pots a pair of stakes, copy 1 and copy 2, and seedlings a label each"
	if id.Level() == ids.CrossLevel && w.face == "" {
		hint = "--face bag prints the labels of all its lots, --face branch its branch tag"
		if len(r.LotsOf(id)) > 0 {
			hint += ": " + reprintBags(r, id)
		}
	}
	return problem.Use(fmt.Sprintf("%s %s has %s to print", id.Level(), id, what), hint)
}

// reprintBags prints the labels of all bags of a cross, anew where any is in use.
func reprintBags(r *registry.Registry, cross ids.ID) string {
	command := fmt.Sprintf("pipstake labels %s --face bag", cross)
	if slices.ContainsFunc(r.LotsOf(cross), func(l registry.Lot) bool {
		return slices.ContainsFunc(r.LabelsOf(l.ID), func(l registry.Label) bool { return l.State == registry.LabelLive })
	}) {
		command += " --replace"
	}
	return command
}

// retire makes way for labels: those that are live are retired with --replace
// and refused without it.
func (w *labelSelection) retire(r *registry.Registry, wanted []reading.Key) error {
	want := map[reading.Key]bool{}
	for _, t := range wanted {
		want[t] = true
		for _, l := range r.LabelsOf(t.ID) {
			if l.State == registry.LabelLive && reading.KeyOf(l) == t && !w.replace {
				return problem.Use(fmt.Sprintf("%s has a label in use, printed %s in batch %d", t, l.Printed, l.Batch),
					"print it anew and retire the old one: "+replaceCommand(l))
			}
		}
	}
	r.RetireLabels(func(l registry.Label) bool { return want[reading.KeyOf(l)] }, registry.Replaced)
	return nil
}
