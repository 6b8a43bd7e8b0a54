package main

import (
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"pipstake/cmd/pipstake/terminal"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
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
	surplus   string // what to do about an argument too many; the usage line where empty
	records   bool   // it may change the registry, and takes --dry-run
	help      string // what it does and why, with examples
	// define adds the command's flags to f and gives what runs once they are
	// read.
	define func(f *flags) action
}

// action runs a command with its arguments; flags have been read.
type action func(e *env, args []string) error

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

// checkArguments compares the count of arguments with what the command takes.
func (c command) checkArguments(args []string) error {
	usage := "usage: " + c.usage()
	least, most := 0, 0
	for _, word := range strings.Fields(c.arguments) {
		optional := strings.HasPrefix(word, "[")
		if !optional {
			least++
			if len(args) < least {
				return problem.Use(fmt.Sprintf("%s: %s is missing", c.name, strings.TrimSuffix(word, "…")), usage)
			}
		}
		if strings.Contains(word, "…") {
			return nil
		}
		most++
	}
	if len(args) > most {
		if c.surplus != "" {
			usage = c.surplus
		}
		return problem.Use(fmt.Sprintf("%s: unexpected argument %q", c.name, args[most]), usage)
	}
	return nil
}

// env is all that a command sees of the machine it runs on.
type env struct {
	args           []string // without the program's name
	stdin          io.Reader
	stdout, stderr io.Writer
	getenv         func(string) string
	cwd            string
	neighbours     bool   // init looks at the folders beside the new one
	settings       string // the user's folder of settings; "" where there is none
	now            func() time.Time

	commands     []command
	dryRun       bool        // nothing is recorded, and no file is written
	registryFlag string      // what --registry of the command says
	there        string      // the registry as it was named, by the flag or by the environment; "" where none was
	onTerminal   bool        // standard input and output are terminals, so questions may be asked
	inRound      bool        // one of many: what comes next is told at the end
	typed        *lineReader // standard input, from the first question on
	saved        *saved      // what was recorded and perhaps not said; nil outside execute
	terminal.Voice
}

// flags are the flags of one command.
type flags struct {
	command command
	set     *pflag.FlagSet
	help    bool
	quiet   bool
	shared  []*pflag.Flag // that all commands which print have, told once; see help printing
	dryRun  bool
	today   registry.Date // by which "yesterday" is told
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
		return command{}, problem.Use(fmt.Sprintf("the flag %q stands before the command", name), "write the command first: pipstake COMMAND "+name)
	}
	if err := refuseDash(name); err != nil {
		return command{}, err
	}
	hint := "pipstake help lists the commands"
	if near, ok := words.Nearest(name, names); ok {
		hint = "did you mean pipstake " + near + "?"
	}
	return command{}, problem.Use(fmt.Sprintf("there is no command %q", name), hint)
}
