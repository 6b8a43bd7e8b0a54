package main

import (
	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/label/symbol"
)

// inUse reports whether a label has work to do: what it is for grows, a branch
// tag hangs until the harvest, and a bag label holds as long as there is seed in
// the bag.
func inUse(r *registry.Registry, l registry.Label) bool {
	if l.Face == registry.SeedlingFace && l.Copy > 0 { // grafted copies outlive the seedling
		end, _ := r.EndOf(l.ID)
		return r.Status(l.ID) == registry.Issued && end.How != registry.Culled
	}
	if !r.Grows(l.ID) {
		return false
	}
	switch l.Face {
	case registry.BranchFace:
		return !harvested(r, l.ID)
	case registry.BagFace:
		left, err := r.LeftToSow(l.ID)
		return err != nil || !left.Known || left.N > 0
	}
	return true
}

// harvested reports whether the fruit of a cross is off the tree: it was picked,
// or opened.
func harvested(r *registry.Registry, cross ids.ID) bool {
	if c, _ := r.Cross(cross); !c.Picked.IsZero() || c.Fruit.Known {
		return true
	}
	for _, l := range r.LotsOf(cross) {
		if l.State == registry.Live && (l.Seeds.Known || !l.Extracted.IsZero()) {
			return true
		}
	}
	return false
}

// disagreeing returns the labels in use that say otherwise than the registry,
// in the order of their file; those within outer, or all for NoLevel.
func disagreeing(r *registry.Registry, outer ids.ID) []registry.Label {
	a := agreement{walk: r.Walk(), facts: map[string]sayings{}, names: map[ids.ID]symbol.Facts{}}
	var all []registry.Label
	labels := r.Labels()
	for i := range labels {
		l := &labels[i]
		if l.State != registry.LabelLive || l.Payload == "" || outer.Level() != ids.NoLevel && !l.ID.Within(outer) {
			continue
		}
		if !a.holds(l) && inUse(r, *l) && contradiction(r, *l) != "" {
			all = append(all, *l)
		}
	}
	return all
}

// staleFrom are the tags of labels that say otherwise than the registry, of
// those wished for.
func (w *wish) staleFrom(r *registry.Registry) ([]tag, error) {
	for _, p := range w.ids {
		if err := live(r, p.ID); err != nil {
			return nil, err
		}
	}
	var tags []tag
	seen := map[tag]bool{}
	for _, l := range disagreeing(r, ids.ID{}) {
		t := tagFor(l)
		if !seen[t] && (w.face == "" || w.face == t.face) && (w.copy == 0 || w.copy == t.copy) && w.covers(t) {
			seen[t] = true
			tags = append(tags, t)
		}
	}
	return tags, nil
}

// staleLabels prints anew what no longer says what the registry does, one batch
// a face; that may be nothing.
func (e *env) staleLabels(dir string, p *press, w *wish, on registry.Date) error {
	r, err := e.open(dir)
	if err != nil {
		return err
	}
	if tags, err := w.staleFrom(r); err != nil || len(tags) == 0 {
		if err == nil {
			e.Say("every label in use says what the registry does")
		}
		return err
	}
	w.replace = true
	return p.print(dir, func(r *registry.Registry) (order, error) {
		tags, err := w.staleFrom(r)
		if err == nil {
			err = w.retire(r, tags)
		}
		return order{on: on, tags: tags}, err
	})
}
