package main

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"path/filepath"
	"strings"

	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/layout"
)

// previewDPI is the resolution of previews: on most screens about actual size.
const previewDPI = 150

var pngFile = fileKind{noun: "a PNG", binary: true, starts: []string{"\x89PNG\r\n\x1a\n"}}

// previewTarget looks at the place for the n-th page of a preview, from 1: the
// file named, then the same with -2, -3 and so on before its end.
func (e *env) previewTarget(name string, n int, force bool) (target, error) {
	if name != "-" && !isPNG(name) {
		return target{}, problem.Use(fmt.Sprintf("--preview %s: a preview is a PNG", quotedPath(name)), "give it a name that ends in .png; the PDF is named by --out")
	}
	if n > 1 && name == "-" {
		return target{}, problem.Use("the preview has several pages, which standard output cannot take", "name a file with --preview FILE.png")
	}
	return e.targetOf(pngFile, "--preview", numbered(name, n), force)
}

// isPNG reports whether a file is called as pictures are.
func isPNG(name string) bool { return strings.EqualFold(filepath.Ext(name), ".png") }

// numbered is the name of the n-th file, from 1: the one given, then the same with
// -2, -3 and so on before its end.
func numbered(name string, n int) string {
	if n == 1 {
		return name
	}
	ext := filepath.Ext(name)
	return fmt.Sprintf("%s-%d%s", strings.TrimSuffix(name, ext), n, ext)
}

// show runs work on the registry as it is now, draws what it says to print, and
// saves nothing.
func (p *printRun) show(dir string, work func(*registry.Registry) (order, error)) (order, error) {
	r, err := p.env.open(dir)
	if err != nil {
		return order{}, err
	}
	o, err := work(r)
	if err != nil {
		return o, err
	}
	batches, err := p.layOut(r, o)
	if err != nil {
		return o, err
	}
	if err := p.showBatches(batches); err != nil {
		return o, err
	}
	p.tell(o.notices)
	return o, nil
}

// showBatches draws the pages of batches and puts them into their files: where
// one cannot be drawn, none is written.
func (p *printRun) showBatches(batches []*batch) error {
	var drawn []picture
	for _, b := range batches {
		err := layout.Preview(p.job(b), previewDPI, func(_, _ int, img *image.Gray) error {
			d, err := p.picture(len(drawn)+1, img)
			if err == nil {
				drawn = append(drawn, d)
			}
			return err
		})
		if err != nil {
			discard(drawn)
			return err
		}
	}
	for i, d := range drawn {
		if err := d.moveIntoPlace(p.env); err != nil {
			discard(drawn[i:])
			return problem.Failure(fmt.Sprintf("cannot write %s: %s", d.target.shown, problem.Reason(err)), "nothing was issued; choose another place with --preview FILE.png")
		}
	}
	for _, b := range batches {
		p.say("%s on %s, %s", faceNoun(b.face, len(b.tags)), b.stock.Name, describeSpots(b.spots, b.sheet))
		for _, d := range drawn[:b.pages()] {
			p.say("  page  %s", d.target.shown)
		}
		drawn = drawn[b.pages():]
		p.notices(b)
	}
	p.say("preview only: nothing issued")
	return nil
}

// picture is a page of a preview on its way to its file.
type picture struct {
	target  target
	data    []byte    // for standard output
	waiting temporary // for a file
}

// picture makes the n-th page a PNG and puts it beside its target.
func (p *printRun) picture(n int, img *image.Gray) (d picture, err error) {
	if d.target, err = p.env.previewTarget(p.preview, n, p.force); err != nil {
		return d, err
	}
	var out bytes.Buffer
	if err := png.Encode(&out, img); err != nil {
		return d, err
	}
	return d.store(out.Bytes())
}

// store keeps the picture for standard output, or puts it beside its target.
func (d picture) store(data []byte) (_ picture, err error) {
	if d.target.stdout() {
		d.data = data
		return d, nil
	}
	d.waiting, err = d.target.store(data)
	return d, err
}

// moveIntoPlace moves the picture to its target.
func (d picture) moveIntoPlace(e *env) error {
	if d.target.stdout() {
		_, err := e.stdout.Write(d.data)
		return err
	}
	return d.waiting.moveIntoPlace()
}

// discard removes what was drawn for a preview that is not to be.
func discard(drawn []picture) {
	for _, d := range drawn {
		if !d.target.stdout() {
			d.waiting.discard()
		}
	}
}
