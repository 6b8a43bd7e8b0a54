package main

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/spf13/pflag"

	"pipstake/cmd/pipstake/terminal"
	"pipstake/ids/problem"
	"pipstake/ids/words"
)

func newFlags(c command) *flags {
	f := &flags{command: c, set: pflag.NewFlagSet(c.name, pflag.ContinueOnError)}
	f.set.SortFlags = false
	f.set.BoolVar(&f.quiet, "quiet", false, "tell no notices and nothing of what comes next; errors are told")
	if c.records {
		f.set.BoolVar(&f.dryRun, "dry-run", false, "only tell what would be recorded and printed")
	}
	f.set.BoolVarP(&f.help, "help", "h", false, "tell what the command does, and stop")
	return f
}

// text adds a flag that holds free text. A word between back quotes in usage
// names the value.
func (f *flags) text(name, usage string) *string {
	return f.set.String(name, "", usage)
}

// texts adds a flag that holds free text and may be given several times.
func (f *flags) texts(name, usage string) *[]string {
	return f.set.StringArray(name, nil, usage)
}

// onOff adds a flag without a value.
func (f *flags) onOff(name, usage string) *bool {
	return f.set.Bool(name, false, usage)
}

// registry adds the flag that says where the registry is.
func (f *flags) registry() *string {
	return f.text("registry", "the `FOLDER` of the registry, instead of PIPSTAKE_REGISTRY or the nearest one upward from here")
}

// day adds a flag for a day.
func (f *flags) day(name, usage string) *dayFlag {
	d := &dayFlag{today: &f.today}
	f.set.Var(d, name, usage)
	return d
}

// count adds a flag for a whole number from least to most.
func (f *flags) count(name, usage string, least, most int) *countFlag {
	c := &countFlag{least: least, most: most}
	f.set.Var(c, name, usage)
	return c
}

// counts adds a flag for whole numbers between commas.
func (f *flags) counts(name, usage string) *countsFlag {
	c := &countsFlag{}
	f.set.Var(c, name, usage)
	return c
}

// word adds a flag for one of several words.
func (f *flags) word(name, usage string, words ...string) *wordFlag {
	w := &wordFlag{words: words}
	f.set.Var(w, name, usage)
	return w
}

// json adds the flag that reading commands have.
func (f *flags) json() *bool {
	return f.onOff("json", "answer in JSON")
}

// parse reads the command line and returns the arguments that are no flags.
func (f *flags) parse(args []string) ([]string, error) {
	f.set.SetOutput(nowhere{})
	f.set.Usage = func() {}
	if err := f.set.Parse(args); err != nil {
		return nil, f.explain(err)
	}
	if f.help {
		return nil, nil
	}
	rest := f.set.Args()
	typed := rest
	if n := f.set.ArgsLenAtDash(); n >= 0 {
		typed = rest[:n] // after -- an argument may begin as it likes
	}
	for _, arg := range typed {
		if err := refuseDash(arg); err != nil {
			return nil, err
		}
	}
	return rest, nil
}

// nowhere drops what pflag would print: its errors are worded here.
type nowhere struct{}

func (nowhere) Write(p []byte) (int, error) { return len(p), nil }

// explain words an error of pflag.
func (f *flags) explain(err error) error {
	var unknown *pflag.NotExistError
	var missing *pflag.ValueRequiredError
	var invalid *pflag.InvalidValueError
	switch {
	case errors.As(err, &unknown):
		return f.unknownFlag(unknown)
	case errors.As(err, &missing):
		name := missing.GetFlag().Name
		return problem.Use(fmt.Sprintf("--%s needs a value", name), f.usageOf(missing.GetFlag()))
	case errors.As(err, &invalid):
		flag := invalid.GetFlag()
		value := fmt.Sprintf("--%s %q", flag.Name, invalid.GetValue())
		var u *problem.Problem
		if errors.As(err, &u) {
			if quoted := strconv.Quote(invalid.GetValue()); strings.HasPrefix(u.What, quoted) {
				return problem.Use("--"+flag.Name+" "+u.What, u.Remedy)
			}
			return problem.Use(value+": "+u.What, u.Remedy)
		}
		if flag.Value.Type() == "bool" {
			return problem.Use(value+": the flag takes no value", "write --"+flag.Name+" alone")
		}
		return problem.Use(value+": "+invalid.Unwrap().Error(), f.usageOf(flag))
	}
	return problem.Use(err.Error(), "usage: "+f.command.usage())
}

// unknownFlag names the flag that was probably meant.
func (f *flags) unknownFlag(err *pflag.NotExistError) error {
	name := err.GetSpecifiedName()
	written := "--" + name
	if letters := err.GetSpecifiedShortnames(); letters != "" {
		name, written = letters, "-"+letters
	}
	if !utf8.ValidString(name) { // pflag takes letters by the byte
		name = strings.ToValidUTF8(name, "")
	}
	hint := "pipstake " + f.command.name + " --help lists the flags"
	var names []string
	f.set.VisitAll(func(flag *pflag.Flag) { names = append(names, flag.Name) })
	word, _, _ := strings.Cut(name, "=")
	if near, ok := words.Nearest(word, names); ok && len(word) > 1 {
		hint = "did you mean --" + near + "?"
	}
	if strings.Trim(name, "0123456789") == "" {
		return problem.Use(fmt.Sprintf("%s: unexpected %q: no number here is below zero", f.command.name, written),
			"usage: "+f.command.usage())
	}
	return problem.Use(fmt.Sprintf("%s has no flag %q", f.command.name, written), hint)
}

// usageOf is what a flag is for.
func (f *flags) usageOf(flag *pflag.Flag) string {
	_, usage := pflag.UnquoteUsage(flag)
	return spelled(flag) + ": " + usage
}

// all are the flags of f, in the order in which they were added.
func (f *flags) all() []*pflag.Flag {
	var all []*pflag.Flag
	f.set.VisitAll(func(flag *pflag.Flag) { all = append(all, flag) })
	return all
}

// own are the flags of the command alone: neither those that every command has nor
// those that all commands which print share.
func (f *flags) own() []*pflag.Flag {
	rest := f.all()[len(newFlags(f.command).all()):]
	return slices.DeleteFunc(rest, func(flag *pflag.Flag) bool { return slices.Contains(f.shared, flag) })
}

// usages lists the flags for the help text, those that every command has last.
func (f *flags) usages() []string {
	return flagLines(append(f.own(), newFlags(f.command).all()...))
}

// flagLines lists flags with what they are for.
func flagLines(flags []*pflag.Flag) []string {
	var t terminal.Table
	for _, flag := range flags {
		_, usage := pflag.UnquoteUsage(flag)
		t.Row(spelled(flag), usage)
	}
	return t.LinesWithin("  ", helpColumns)
}

// helpColumns is the width of all help, wherever it goes.
const helpColumns = 80

// spelled is a flag with the name of its value.
func spelled(flag *pflag.Flag) string {
	value, _ := pflag.UnquoteUsage(flag)
	if flag.Value.Type() == "bool" {
		return "--" + flag.Name
	}
	return "--" + flag.Name + " " + value
}
