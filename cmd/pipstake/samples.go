package main

import (
	"bytes"
	"fmt"
	"image"
	"strings"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/label"
	"pipstake/layout"
)

// sample is a label with invented data, to see what a face looks like.
type sample struct {
	name string // as in labels.csv; "back" for that of a stake
	face label.Face
}

// sampleFaces are labels of an invented orchard, with parents' names of a usual
// length, one of each face.
func sampleFaces() []sample {
	const seed, pollen = "Larkfield Tessel", "Tarn Amber"
	lot := ids.ID{Year: 2026, Cross: 12, Lot: 2}
	pot := lot.Child(2)
	return []sample{
		{"bag", label.Bag{ID: lot, SeedParent: seed, PollenParent: pollen, Treated: true}},
		{"stake", label.Stake{ID: pot, Copy: 1, Seeds: 7, Sown: "2027-01-14", SeedParent: seed, PollenParent: pollen}},
		{"seedling", label.Seedling{ID: pot.Child(3), SeedParent: seed, PollenParent: pollen, Pricked: "2027-04-02"}},
		{"branch", label.BranchTag{ID: lot.At(ids.CrossLevel), SeedParent: seed, PollenParent: pollen, Pollinated: "2026-05-03", Note: "row 2, tree 7"}},
		{"back", label.StakeBack{Stake: label.Stake{ID: pot, Copy: 1, Seeds: 7, SeedParent: seed, PollenParent: pollen}}},
	}
}

// sample prints a label of each face on a stock, or of one face, with invented
// data. A registry is not needed, and nothing is recorded.
func (e *env) sample(dir string, p *printRun, name string, only registry.Face) error {
	r, err := e.registryIfAny(dir)
	if err != nil {
		return err
	}
	s, err := findStock(r, name)
	if err != nil {
		return err
	}
	job := layout.Job{Title: "pipstake sample labels, invented data", Created: p.created, Gain: p.gain}
	if r != nil {
		if job.Shift, _, err = p.shifts(r, s); err != nil {
			return err
		}
		s.White = whiteEdge(r, p.printerName())
	}
	shown := p.samplesOn(s, only)
	if len(shown.drawn) == 0 {
		return unfit("sample on "+s.Name, shown.refused[0])
	}
	job.Stock = shown.stock
	for i, d := range shown.drawn {
		job.Places = append(job.Places, layout.Place{Page: i/s.PerSheet() + 1, Cell: i%s.PerSheet() + 1, Drawing: d})
	}
	at, err := p.deliverSample(job)
	if err != nil {
		return err
	}
	p.say("samples on %s, with invented data: %s", s.Name, at)
	for i, d := range shown.drawn {
		var codes []string
		for _, c := range d.Codes {
			codes = append(codes, c.Symbol.String())
		}
		p.say("  %-8s  %s", shown.names[i], strings.Join(codes, "; "))
		for _, notice := range d.Notices {
			p.say("  %-8s  %s", "", notice)
		}
	}
	for _, err := range shown.refused {
		p.say("  %s", err)
	}
	p.say("  nothing was issued: throw them away when you have seen them")
	return nil
}

// samples are labels with invented data on a stock.
type samples struct {
	stock   layout.Stock
	names   []string // of the faces that fit
	drawn   []*label.Drawing
	refused []error // of the others
}

// samplesOn draws the samples that fit on a stock, in the way of reading it in
// which most of them do.
func (p *printRun) samplesOn(s layout.Stock, only registry.Face) samples {
	var best samples
	for _, way := range s.Ways() {
		now := samples{stock: way}
		room := way.Room(p.dpi)
		room.Names = p.names
		for _, f := range sampleFaces() {
			if f.name == "back" || only != "" && f.name != string(only) {
				continue
			}
			drawn, err := label.Fit([]label.Face{f.face}, room)
			if err != nil {
				if len(now.refused) == 0 {
					b := fitted{stock: way}
					err = b.tooSmall(p, []label.Face{f.face}, err)
				}
				now.refused = append(now.refused, err)
				continue
			}
			now.names, now.drawn = append(now.names, f.name), append(now.drawn, drawn...)
		}
		if best.stock.Name == "" || len(now.drawn) > len(best.drawn) {
			best = now
		}
	}
	return best
}

// deliverSample writes samples as a PDF, or as pictures to look at, and returns
// where they are.
func (p *printRun) deliverSample(job layout.Job) (string, error) {
	if p.preview == "" {
		out := p.out
		if out == "" {
			out = "sample-" + job.Stock.Name + ".pdf"
		}
		at, err := p.env.target(out, p.force)
		if err != nil {
			return "", err
		}
		var pdf bytes.Buffer
		if err := layout.WritePDF(&pdf, job); err != nil {
			return "", err
		}
		return at.shown, p.env.deliver(at, pdf.Bytes())
	}
	var drawn []picture
	err := layout.Preview(job, previewDPI, func(n, _ int, img *image.Gray) error {
		d, err := p.picture(n, img)
		if err == nil {
			drawn = append(drawn, d)
		}
		return err
	})
	for i := 0; err == nil && i < len(drawn); i++ {
		if err = drawn[i].moveIntoPlace(p.env); err != nil {
			drawn = drawn[i:]
			err = problem.Failure(fmt.Sprintf("cannot write %s: %s", drawn[0].target.shown, problem.Reason(err)), "choose another place with --preview FILE.png")
		}
	}
	if err != nil {
		discard(drawn)
		return "", err
	}
	return drawn[0].target.shown, nil
}
