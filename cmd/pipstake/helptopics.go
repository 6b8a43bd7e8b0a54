package main

import (
	"strings"

	"github.com/spf13/pflag"
)

// helpTopics are what pipstake help tells besides the commands.
var helpTopics = map[string]func() string{
	"printing": helpPrinting,
	"mistakes": func() string { return helpMistakes },
	"words":    func() string { return helpWords },
	"phone":    func() string { return helpPhone },
}

// printingFlags are the flags that all commands which print share.
func printingFlags() []*pflag.Flag {
	f := newFlags(command{})
	f.printing()
	return f.shared
}

func helpPrinting() string {
	return "All commands that print labels (tags, bags, sow, prick, graft, received, labels)\nhave these flags:\n\n" +
		strings.Join(flagLines(printingFlags()), "\n") + `

Print at actual size (100 %), never fitted to the page. Where labels lie beside
their cells, pipstake stock sheet prints a page to measure by.`
}

const helpMistakes = `Nothing is lost by a mistake: what a command changed is kept in history.csv, and
what was recorded can be taken back or corrected.

The last command was wrong:

  pipstake undo --dry-run
  pipstake undo

A fact is wrong, and later ones are right: a parent, a day, a number, a name.

  pipstake correct 2026X012 --pollen-parent "Gwennol Goch"
  pipstake extract 2026X012-B --seeds 13 --correct
  pipstake correct 2026X012-B2 --count 2027-03-02=5
  pipstake labels --stale                 print anew what no longer agrees

A sheet jammed or was cut wrong, or its file was lost before it was printed:

  pipstake spoil stakes-0011.pdf
  pipstake labels --missing
  pipstake labels --batch stakes-0011.pdf

Mice, frost, a pot that tipped over, a cross that failed: that is no mistake, it
ended, and its counts stay in the figures.

  pipstake gone 2026X012-B2 --how lost --note mice
  pipstake gone 2026X012-B2 --back        it grows after all

An identifier that should never have been, such as a bag too many:

  pipstake void 2026X012-C --note "one bag too many"

A spreadsheet has changed dates or identifiers:

  pipstake check
  pipstake check --fix

No one knows what a label is, or its stake is gone:

  pipstake scan 2026X012-B2
  pipstake history 2026X012-B2`

const helpWords = `  cross        one pollination of a seed parent (♀) by a pollen parent (♂)
  seed lot     the seed of one cross that is kept in one bag
  undeveloped  flat or empty seed, which is not sown
  pot          what was sown from one seed lot, with two stakes, copy 1 and 2
  up           seedlings that have come up so far, those that died since too
  pricked out  a seedling that was moved into a pot or row of its own
  selection    a seedling worth keeping, which may get a name
  variety      a parent with a name; a seedling of one's own is named by its
               identifier
  batch        one printing, such as the labels in stakes-0011.pdf
  stock        the sheet or roll that labels are printed on, by its dimensions
  label in use one that should still be in place: neither spoilt nor replaced
  stale label  one that says otherwise than the registry does by now
  gone         it ended, and its counts stay in the figures
  void         it should never have been, and is in no figure
  check character
               the one behind the full stop, by which a slip of the pen shows
  95 % interval
               where the true share lies in 19 cases of 20, by Wilson's method
               or, between pots that differ, by that of Clopper and Pearson
  T50          the day by which half of what came up had come up: C by counting
               from day to day, F by drawing a line between counts
  open pollinated
               the pollen came as it came; a mixture is of named plants
  S-alleles    what tells whether pollen can grow on a flower: a parent that
               shares both sets next to nothing
  triploid     with three sets of chromosomes, so its pollen is mostly unsound`

const helpPhone = `Every code on a label reads with the camera of a phone, without this program: it
shows the identifier, parents, seeds and day.

In the cold frame the whole registry fits on one page, without a network. It
reads codes on pictures that the phone takes, and walks from pot to pot with the
count under the thumb; ends and notes come home as commands that it shows:

  pipstake page --out orchard.html
  pipstake emerged --from pipstake-counts-2027-03-01.csv     what it saved

A phone that opens no files gets the page over the network at hand:

  pipstake page --serve

Photographs of labels are read too, any number at once, from any angle:

  pipstake scan --photo IMG_2041.jpg
  pipstake scan --photo pictures              all that are in a folder

What the season asks for, as a calendar with alarms:

  pipstake due --ics season.ics`
