package main

import (
	"fmt"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/label/reading"
)

// differenceWords say what a label says otherwise than the registry.
func differenceWords(d reading.Difference) string {
	said := d.Label
	switch d.Fact {
	case reading.Text:
		return fmt.Sprintf("the label's text %s is not one that pipstake writes", words.Shown(d.Label))
	case reading.SeedParent:
		said = "seed parent " + said
	case reading.PollenParent:
		said = "pollen parent " + said
	case reading.Seeds:
		said += " " + map[bool]string{true: "seed", false: "seeds"}[said == "1"]
	case reading.Sown:
		said = "sown " + said
	}
	return fmt.Sprintf("the label says %s, the registry says %s", said, words.OneLine(d.Registry))
}

// disagreementWords say what the recorded code of a label says otherwise than the
// registry; "" for nothing.
func disagreementWords(d reading.Disagreement) string {
	switch {
	case d.Err != nil:
		return "it is no code text: " + firstProblem(d.Err).What
	case d.Row != d.Code:
		return fmt.Sprintf("the code is that of %s, the row is that of %s", d.Code, d.Row)
	}
	var all []string
	for _, one := range d.Differences {
		all = append(all, differenceWords(one))
	}
	return words.List(all)
}

// staleLabels are findings for the labels in use that were printed with other
// facts than the registry now has.
func staleLabels(r *registry.Registry) []registry.Finding {
	var found []registry.Finding
	for _, l := range reading.StaleLabels(r) {
		found = append(found, registry.Finding{File: "labels.csv", Row: r.LabelRow(l.Index), Column: "payload", Value: l.Payload,
			What:   fmt.Sprintf("%s (batch %d, sheet %d, cell %d)", disagreementWords(l.Disagreement), l.Batch, l.Sheet, l.Cell),
			Remedy: "where the registry is right, print the label anew: " + replaceCommand(l.Label)})
	}
	return found
}

// replaceCommand prints a label anew.
func replaceCommand(l registry.Label) string {
	switch {
	case l.Copy > 0:
		return fmt.Sprintf("pipstake labels %s --copy %d --replace", l.ID, l.Copy)
	case l.ID.Level() == ids.CrossLevel:
		return fmt.Sprintf("pipstake labels %s --face branch --replace", l.ID)
	}
	return fmt.Sprintf("pipstake labels %s --replace", l.ID)
}
