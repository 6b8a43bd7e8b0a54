// Command pipstake keeps the identity of an apple breeder's crosses from the
// pollinated blossom to the seedling: it issues identifiers, prints their
// labels and turns a scanned label back into parents, counts and dates.
//
// This package holds flags, files and the terminal. It decides neither how a
// label looks nor what a number means.
//
// # Decisions
//
//   - Said and saved are one. All commands end in ending.go. Where standard
//     output cannot be written the status is 4, and what was recorded is said
//     on standard error.
//   - Progress. Whatever may take a second runs between Working and End
//     (terminal/progress.go), which wipe their line with carriage returns and
//     spaces alone.
//   - Standard streams. What was asked for goes to standard output; --quiet
//     leaves errors and questions. - names a standard stream for every file
//     that is one. Texts may come in UTF-16 and with any line ends.
//   - Windows. Commands to copy are quoted for its shells, patterns such as
//     *.jpg are put in by the program, a PDF that a viewer holds open is
//     refused before anything is recorded.
//   - Completion. The scripts in shell ask pipstake __offer -- WORD…, which
//     answers a word a line; it changes nothing and says nothing where it
//     cannot.
package main

import (
	"cmp"
	"os"
	"os/signal"
	"syscall"
	"time"

	"pipstake/cmd/pipstake/terminal"
	"pipstake/ids/registry"
)

func main() {
	putOffCollection()
	os.Exit(int(execute(system())))
}

// system is the environment of this process.
func system() *env {
	signal.Ignore(syscall.SIGPIPE) // a write to a reader that is gone is an error like others
	cwd, err := os.Getwd()
	if err != nil {
		cwd = "." // a folder that was removed; opening a file in it will say so
	}
	settings, err := os.UserConfigDir()
	if err != nil {
		settings = ""
	}
	return &env{settings: settings, neighbours: true, args: os.Args[1:], stdin: os.Stdin, stdout: os.Stdout, stderr: os.Stderr,
		getenv: os.Getenv, cwd: cwd, now: time.Now,
		onTerminal: terminal.IsTerminal(os.Stdin) && terminal.IsTerminal(os.Stdout)}
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
	f.today = registry.DateOf(e.now())
	act := c.define(f)
	args, err := f.parse(rest)
	if err != nil {
		return err
	}
	if f.help {
		e.explain(c)
		return nil
	}
	e.Quiet = e.Quiet || f.quiet
	if e.dryRun = f.dryRun; e.dryRun {
		e.Say("dry run: nothing below is recorded, and no file is written")
	}
	if where := f.set.Lookup("registry"); where != nil {
		e.registryFlag = where.Value.String()
		e.there = cmp.Or(e.registryFlag, e.getenv("PIPSTAKE_REGISTRY"))
	}
	args = e.askArguments(c, args)
	if err := c.checkArguments(args); err != nil {
		return err
	}
	if args, err = e.expandStdin(c, args); err != nil {
		return err
	}
	return act(e, args)
}
