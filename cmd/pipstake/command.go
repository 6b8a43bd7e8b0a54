package main

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// command is one word that pipstake understands.
type command struct {
	name    string
	summary string // one line for the overview
	// arguments names what follows the command: "SEED POLLEN", "LOT…" for one
	// or more, "[DIR]" and "[CODE…]" for what may be left out. The count of
	// arguments is checked against it.
	arguments string
	options   string // the flags that matter most, for the usage line
	help      string // what it does and why, with examples
	// define adds the command's flags to f and gives what runs once they are
	// read.
	define func(f *flags) action
}

// action runs a command with its arguments; flags have been read.
type action func(e *env, args []string) error

// commands is the table of all commands, in the order of a season.
func commands() []command {
	return []command{
		demoCommand,
		initCommand,
		crossCommand,
		tagsCommand,
		bagsCommand,
		benchCommand,
		extractCommand,
		chillCommand,
		sowCommand,
		emergedCommand,
		prickCommand,
		scanCommand,
		stocktakeCommand,
		pageCommand,
		dueCommand,
		germinationCommand,
		planCommand,
		lineageCommand,
		labelsCommand,
		spoilCommand,
		voidCommand,
		passportCommand,
		rebuildCommand,
		checkCommand,
		historyCommand,
		undoCommand,
		mergeCommand,
		stockCommand,
		completionCommand,
		manualCommand,
		versionCommand,
		helpCommand,
	}
}

// usage is the command's usage line.
func (c command) usage() string {
	words := []string{"pipstake", c.name}
	for _, w := range []string{c.arguments, c.options} {
		if w != "" {
			words = append(words, w)
		}
	}
	return strings.Join(words, " ")
}

// run finds the command that e.args name and runs it.
func run(e *env) error {
	if len(e.args) == 0 {
		e.overview()
		return nil
	}
	name, rest := e.args[0], e.args[1:]
	switch name {
	case "--help", "-h":
		name = "help"
	case "--version":
		name = "version"
	}
	if name == offerWord {
		e.answerOffer(rest)
		return nil
	}
	c, err := e.command(name)
	if err != nil {
		return err
	}
	f := newFlags(c)
	act := c.define(f)
	args, err := f.parse(rest)
	if err != nil {
		return err
	}
	if f.help {
		e.explain(c)
		return nil
	}
	e.quiet = f.quiet
	if err := c.checkArguments(args); err != nil {
		return err
	}
	if args, err = e.listed(c, args); err != nil {
		return err
	}
	return act(e, args)
}

// command finds a command by its name.
func (e *env) command(name string) (command, error) {
	var names []string
	for _, c := range e.commands {
		if c.name == name {
			return c, nil
		}
		names = append(names, c.name)
	}
	if strings.HasPrefix(name, "-") {
		return command{}, &usageError{fmt.Sprintf("the flag %q stands before the command", name), "write the command first: pipstake COMMAND " + name}
	}
	if err := refuseDash(name); err != nil {
		return command{}, err
	}
	hint := "pipstake help lists the commands"
	if near, ok := nearest(name, names); ok {
		hint = "did you mean pipstake " + near + "?"
	}
	return command{}, &usageError{fmt.Sprintf("there is no command %q", name), hint}
}

// checkArguments compares the count of arguments with what the command takes.
func (c command) checkArguments(args []string) error {
	usage := "usage: " + c.usage()
	least, most := 0, 0
	for _, word := range strings.Fields(c.arguments) {
		optional := strings.HasPrefix(word, "[")
		if !optional {
			least++
			if len(args) < least {
				return &usageError{fmt.Sprintf("%s: %s is missing", c.name, strings.TrimSuffix(word, "…")), usage}
			}
		}
		if strings.Contains(word, "…") {
			return nil
		}
		most++
	}
	if len(args) > most {
		if c.name == crossCommand.name {
			usage = "put a name of several words in quotes: pipstake cross \"Larkfield Tessel\" \"Tarn Amber\""
		}
		return &usageError{fmt.Sprintf("%s: unexpected argument %q", c.name, args[most]), usage}
	}
	return nil
}

// refuseDash refuses an argument that starts with a dash other than the
// hyphen: word processors put one in place of "--".
func refuseDash(arg string) error {
	first, _ := utf8.DecodeRuneInString(arg)
	if first == '-' || !isDash(first) {
		return nil
	}
	meant := strings.TrimLeftFunc(arg, isDash)
	hint := fmt.Sprintf("type two hyphens: --%s", meant)
	if meant == "" || !unicode.IsLetter([]rune(meant)[0]) {
		hint = "type hyphens (-); what does begin with a dash goes after -- at the end of the line"
	}
	return &usageError{fmt.Sprintf("argument %q begins with %s, which is not a hyphen", arg, dashName(first)), hint}
}

func isDash(r rune) bool {
	return unicode.Is(unicode.Pd, r) || r == '−' || r == '⁃'
}

func dashName(r rune) string {
	names := map[rune]string{'‐': "another hyphen", '‑': "a no-break hyphen", '‒': "a figure dash", '–': "an en dash",
		'—': "an em dash", '―': "a horizontal bar", '−': "a minus sign"}
	name, ok := names[r]
	if !ok {
		name = "a dash"
	}
	return fmt.Sprintf("%s (U+%04X)", name, r)
}
