package main

import (
	"pipstake/ids/registry"
	"pipstake/label/reading"
)

// staleFrom are the tags of labels that say otherwise than the registry, of
// those wished for.
func (w *labelSelection) staleFrom(r *registry.Registry) ([]reading.Key, error) {
	for _, p := range w.ids {
		if err := live(r, p.ID); err != nil {
			return nil, err
		}
	}
	var tags []reading.Key
	seen := map[reading.Key]bool{}
	for _, l := range reading.StaleLabels(r) {
		t := reading.KeyOf(l.Label)
		if !seen[t] && (w.face == "" || w.face == t.Face) && (w.copy == 0 || w.copy == t.Copy) && w.covers(t) {
			seen[t] = true
			tags = append(tags, t)
		}
	}
	return tags, nil
}

// staleLabels prints anew what no longer says what the registry does, one batch
// a face; that may be nothing.
func (e *env) staleLabels(dir string, p *printRun, w *labelSelection, on registry.Date) error {
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
	_, err = p.print(dir, func(r *registry.Registry) (order, error) {
		tags, err := w.staleFrom(r)
		if err == nil {
			err = w.retire(r, tags)
		}
		return order{on: on, tags: tags}, err
	})
	return err
}
