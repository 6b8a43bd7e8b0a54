package main

import (
	"bytes"

	"pipstake/cmd/pipstake/fieldpage"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
)

var pageCommand = command{
	name:    "page",
	summary: "write the registry as a page for the phone, to use in the cold frame",
	records: true,
	options: "--out FILE [--light] | --serve [--at ADDRESS]",
	help: `Writes one HTML file that needs no network. Copy it to a phone and open it
there: it finds a pot by its identifier, of which it verifies the check
character, by words of its parents and place, or by its code: from a picture,
or live where the browser lets a page use the camera. It shows parents, counts,
dates and siblings.

On a walk it goes from pot to pot of a place, with the count under the thumb.
Counts, ends and notes that were entered go home as a file and as commands:

  pipstake page --out orchard.html
  pipstake emerged --from pipstake-counts-2027-03-01.csv     what it saved

The page shows the registry as it stands today; make a new one after a day's
work. It is all of the registry, notes included, so lend it as you would that.
What is entered stays in the phone's browser until it is forgotten there; where
the browser keeps nothing, the page says so at each count. --light makes it a
tenth of the size: codes are read then only where the browser has a reader.

Some phones open no file. --serve hands the page to phones that are in the same
network, such as the house's own Wi-Fi or the phone's hotspot:

  pipstake page --serve

Its address is shown as a code to scan. What phones enter is recorded at once,
as if it were typed here, and pipstake undo takes it back; where two phones, or
somebody here, counted a pot on one day, the phone asks which is right. What a
phone cannot send it keeps, and sends later. Ctrl-C ends it, and so does an hour
without a phone.

The address holds a secret that is new each time, and only the network at hand
is answered. But what is sent is plain http, which anyone in that network can
read: use one that has a password and that you know. Where the phone does not
come through, look whether both are in the same network, and not in one for
guests, and whether the computer's firewall lets pipstake answer.`,
	define: func(f *flags) action {
		out := f.text("out", "the HTML `FILE`, - for standard output")
		light := f.onOff("light", "leave the reader of codes out: a page a tenth of the size")
		force := f.onOff("force", "replace a field page that exists")
		served := f.onOff("serve", "hand the page to phones in this network, until Ctrl-C")
		at := f.text("at", "serve at this `ADDRESS` of the computer, where it has several; 192.168.1.20, or with a port 192.168.1.20:8500")
		dir := f.registry()
		return func(e *env, _ []string) error {
			form := fieldpage.Form{Light: *light}
			switch {
			case *served && (*out != "" || *force):
				return problem.Use("page: --serve hands the page to phones and writes no file", "leave --out and --force out")
			case *served:
				return e.servePage(*dir, *at, form)
			case *at != "":
				return problem.Use("page: --at goes with --serve", "add --serve, or leave --at out")
			case *out == "":
				return problem.Use("page: --out is missing", "name the file: --out orchard.html, or - for standard output; --serve hands the page to phones instead")
			}
			t, err := e.targetOf(pageFile, "--out", *out, *force)
			if err != nil {
				return err
			}
			return e.page(*dir, t, form)
		}
	},
}

var pageFile = fileKind{noun: "a field page", starts: []string{fieldpage.Start}}

func (e *env) page(dir string, t target, form fieldpage.Form) error {
	r, err := e.openMarked(dir)
	if err != nil {
		return err
	}
	if n := len(r.Damage()); n > 0 {
		e.Notice("%s in the registry cannot be read; see pipstake check", words.Plural(n, "cell", "cells"))
	}
	season := fieldpage.SeasonOf(r, registry.DateOf(e.now()))
	var page bytes.Buffer
	if err := fieldpage.Write(&page, season, form); err != nil {
		return err
	}
	if err := e.deliver(t, page.Bytes()); err != nil || t.stdout() {
		return err
	}
	e.Say("%s and %s in %s", words.Plural(len(season.Crosses), "cross", "crosses"), words.Plural(len(season.Pots), "pot", "pots"), t.shown)
	e.Next("copy it to the phone and open it there")
	return nil
}

// openMarked reads the registry, and gives it a mark where it has none: counts that
// come home know it by that. Where it cannot be written it goes without.
func (e *env) openMarked(dirFlag string) (*registry.Registry, error) {
	r, err := e.open(dirFlag)
	if err != nil || r.Mark() != "" || e.dryRun {
		return r, err
	}
	opt := registry.Options{Wait: lockWait, Now: e.now()} // no entry of the history: undo is for what happened
	err = registry.Change(r.Dir(), opt, func(r *registry.Registry) error {
		r.GiveMark()
		return nil
	})
	if err != nil {
		e.Notice("the registry has no mark of its own yet, and none can be written (%s): its counts could be taken into another one by mistake", firstProblem(err).What)
		return r, nil
	}
	e.saved.add("the mark of the registry, in registry.csv")
	return e.open(dirFlag)
}
