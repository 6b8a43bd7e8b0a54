package main

import (
	"bytes"

	"pipstake/ids/words"
	"pipstake/label"
	"pipstake/layout"
)

// actionCard prints the codes by which a hand scanner records without a keyboard.
func (e *env) actionCard(dir, out string, force bool) error {
	r, err := e.open(dir)
	if err != nil {
		return err
	}
	t, err := e.targetOf(pdfFile, "--card", out, force)
	if err != nil {
		return err
	}
	const dpi = 600
	stock := layout.CardStock()
	room := stock.Room(dpi)
	created, err := e.creation()
	if err != nil {
		return err
	}
	job := layout.Job{Stock: stock, Title: "pipstake scan: what these codes say is done to the label scanned last", Created: created}
	all := cardCodes(r, stock.PerSheet())
	for i, a := range all {
		d, err := label.Action{Code: a.code, Caption: a.caption}.Fit(room)
		if err != nil {
			return err
		}
		job.Places = append(job.Places, layout.Place{Page: 1, Cell: i + 1, Drawing: d})
	}
	var pdf bytes.Buffer
	if err := layout.WritePDF(&pdf, job); err != nil {
		return err
	}
	if err := e.deliver(t, pdf.Bytes()); err != nil || t.stdout() {
		return err
	}
	e.Say("%s  %s", t.shown, words.Plural(len(all), "code", "codes"))
	e.Next("scan a pot's label, then a digit and what it counts: pipstake scan")
	return nil
}
