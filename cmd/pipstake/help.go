package main

import "pipstake/cmd/pipstake/terminal"

var helpCommand = command{
	name:      "help",
	summary:   "tell what a command does",
	arguments: "[COMMAND]",
	help: `Without a command it lists them all. pipstake help COMMAND is the same as
pipstake COMMAND --help.

  pipstake help
  pipstake help sow
  pipstake help mistakes     what to type when something went wrong
  pipstake help words        what the words mean
  pipstake help phone        labels, counts and the season on a phone
  pipstake help printing     the flags of all commands that print
  pipstake help json         the shape of answers in JSON`,
	define: func(*flags) action {
		return func(e *env, args []string) error {
			if len(args) == 0 {
				e.overview()
				return nil
			}
			if args[0] == "json" {
				e.explainJSON()
				return nil
			}
			if topic, ok := helpTopics[args[0]]; ok {
				e.Say("%s", topic())
				return nil
			}
			c, err := e.command(args[0])
			if err != nil {
				return err
			}
			e.explain(c)
			return nil
		}
	},
}

// What the overview and the manual page say.
const (
	purpose       = `pipstake issues, prints and tracks the labels of an apple breeder's season`
	chain         = `cross → seed lot (bag) → pot (pair of stakes) → seedling`
	seasonExample = `  pipstake init
  pipstake cross "Larkfield Tessel" "Tarn Amber"    in blossom: issues 2026X001
  pipstake bags 2026X001 --lots 3                   labels for the seed bags
  pipstake extract 2026X001-A --seeds 14            what was in the fruit
  pipstake chill 2026X001-A                         into the cold
  pipstake sow 2026X001-A --pots 2                  pots, with paired stakes
  pipstake scan                                     read labels, all year`
	exitStatuses = `Exit status: 0 fine, 1 problems in the data,
2 wrong usage, 3 the registry cannot be read or written, 4 any other failure.`
)

// timesOfYear are the commands that a season asks for, by when it does. The
// overview shows all others below them.
var timesOfYear = []struct {
	when     string
	commands []string
}{
	{"to begin", []string{"demo", "init"}},
	{"in blossom", []string{"cross", "tags"}},
	{"in autumn", []string{"picked", "bags", "extract", "chill"}},
	{"in winter", []string{"sow"}},
	{"in spring", []string{"emerged", "prick"}},
	{"all year", []string{"scan", "due", "gone", "correct", "undo"}},
}

// overview prints the commands, one a line: those of the season by the time of
// year, then the others.
func (e *env) overview() {
	e.Say("%s:\n%s\n\nusage: pipstake COMMAND …\n", purpose, chain)
	summaries := map[string]string{}
	for _, c := range e.commands {
		summaries[c.name] = c.summary
	}
	var t terminal.Table
	for _, time := range timesOfYear {
		when := time.when
		for _, name := range time.commands {
			t.Row(when, name, summaries[name])
			delete(summaries, name)
			when = ""
		}
	}
	when := "besides"
	for _, c := range e.commands {
		if summary, there := summaries[c.name]; there {
			t.Row(when, c.name, summary)
			when = ""
		}
	}
	e.SayTable(&t, "  ")
	e.Say("\nA season:\n%s\n\npipstake COMMAND --help tells more, and pipstake help with one of\nmistakes, words, phone, printing.\n%s", seasonExample, exitStatuses)
}

// explain prints the help of one command.
func (e *env) explain(c command) {
	f := newFlags(c)
	c.define(f)
	e.Say("%s\n\n%s\n\n%s\n\nFlags:", terminal.Fold("pipstake "+c.name+": "+c.summary, helpColumns), terminal.Fold("usage: "+c.usage(), helpColumns), c.help)
	for _, line := range f.usages() {
		e.Say("%s", line)
	}
	if len(f.shared) > 0 {
		e.Say("\nand what all that print share, such as --out, --stock, --preview and --printer:\npipstake help printing")
	}
}
