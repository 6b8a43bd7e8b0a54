package main

import (
	"pipstake/ids/practice"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/label/reading"
	"pipstake/label/symbol"
)

var rebuildCommand = command{
	name:      "rebuild",
	records:   true,
	summary:   "make a registry anew from the labels, where the old one is lost",
	arguments: "DIR FILE…",
	help: `Makes the new folder DIR with a registry of all that the codes of labels tell.
Scan every bag and every stake into a text file, a code a line, and name the
file; a log with other cells beside the code will do, and so will photographs
(JPEG, PNG). - reads standard input.

  pipstake rebuild orchard codes.txt
  pipstake rebuild orchard frame-1.txt frame-2.csv bags.jpg
  pipstake rebuild orchard -             then scan label after label

Labels tell parents (in capitals, without accents), which seed lots and pots
there are, how many seeds were sown in each pot, and when. They do not tell what
was found in the fruit, when seed went into the cold, counts of seedlings,
places and notes. A code with no text behind it, such as the one in the soil,
tells only its identifier. Each row is marked in its notes as recovered.

Where labels of one identifier differ, what most of them say is taken; where as
many say one thing as another it is left open. These conflicts are listed, as
are lines that hold no code, and the exit status is then 1.`,
	define: func(*flags) action {
		return func(e *env, args []string) error {
			return e.rebuild(args[0], args[1:])
		}
	},
}

func (e *env) rebuild(shown string, files []string) error {
	var codes []symbol.Payload
	var left []lost
	files = e.expanded(files)
	for i, file := range files {
		if file == "-" && i > 0 {
			return problem.Use("standard input can only be read alone", "give - as the only file")
		}
		found, lines, err := e.labelsIn(file)
		if err != nil {
			return err
		}
		codes, left = append(codes, found...), append(left, lines...)
	}
	if len(codes) == 0 {
		e.tellLost(left)
		return problem.Data("no label's code was found, so there is no registry to make", "scan bags and stakes, one code a line")
	}
	recovered := reading.Recover(codes)
	err := e.newFolder(shown, "as DIR", func(dir string) error {
		if err := registry.Init(dir); err != nil {
			return asAccess(err)
		}
		e.saved.add("a new registry in " + quotedPath(dir))
		if _, err := practice.Create(dir); err != nil {
			return err
		}
		return e.change(dir, func(r *registry.Registry) error { return r.Restore(recovered.Rows) })
	})
	if err != nil {
		return err
	}
	e.Say("%s from %s, in %s", recoveredWords(recovered.Rows), words.Plural(len(recovered.Rows.Labels), "label", "labels"), shown)
	if n := recovered.Open; n > 0 {
		e.Notice("of %s only codes without text were read: write seeds and day of sowing in from the stakes", words.Plural(n, "pot", "pots"))
	}
	for _, c := range recovered.Conflicts {
		e.Say("conflict: %s", c)
	}
	e.tellLost(left)
	e.Notice("numbers above the highest that a label shows may have been issued before; think of them before issuing more")
	e.there = shown
	e.Next("fill in what labels do not tell; this lists it: pipstake check")
	if len(recovered.Conflicts)+len(left) > 0 {
		return errTold
	}
	return nil
}

// recoveredWords counts what was recovered.
func recoveredWords(rows registry.Recovered) string {
	return words.List([]string{words.Plural(len(rows.Crosses), "cross", "crosses"), words.Plural(len(rows.Lots), "seed lot", "seed lots"),
		words.Plural(len(rows.Pots), "pot", "pots"), words.Plural(len(rows.Seedlings), "seedling", "seedlings")})
}

// tellLost lists the lines that gave no label, and no more than a screenful.
func (e *env) tellLost(left []lost) {
	const most = 20
	for _, l := range left[:min(most, len(left))] {
		e.Say("not taken in: %s: %s", l.where, l.what)
	}
	if more := len(left) - most; more > 0 {
		e.Say("not taken in: %d more", more)
	}
}
