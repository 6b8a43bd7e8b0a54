package main

import (
	"fmt"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"time"
	"unicode"

	"pipstake/ids/problem"
	"pipstake/ids/registry"
)

// lockWait is how long a command waits for another one to finish with the
// registry.
const lockWait = 15 * time.Second

// registryDir finds the registry: the flag, the environment, the nearest
// folder upward.
func (e *env) registryDir(flag string) (string, error) {
	named := flag
	if flag != "" {
		flag = e.abs(flag)
	}
	dir, err := registry.Find(flag, e.getenv("PIPSTAKE_REGISTRY"), e.cwd)
	if err != nil {
		return "", &problem.Problem{Kind: problem.OfAccess, What: firstProblem(asAccess(err)).What, Remedy: e.whereIsIt(), Err: err}
	}
	e.there = named
	usedBeforeIn(e.settings).remember(dir)
	return dir, nil
}

// Next tells what to do next, if anything was done.
func (e *env) Next(format string, args ...any) {
	if e.dryRun {
		return
	}
	e.Voice.Next("%s", e.thereToo(fmt.Sprintf(format, args...)))
}

// thereToo adds to a text that proposes commands that they need --registry as
// well, where the registry was named with it: without it they would run on
// another one.
func (e *env) thereToo(text string) string {
	if e.there == "" || !strings.Contains(text, "pipstake ") || strings.Contains(text, "--registry") {
		return text
	}
	return fmt.Sprintf("%s (with --registry %s)", text, shellWord(runtime.GOOS, e.there))
}

// open reads the registry.
func (e *env) open(flag string) (*registry.Registry, error) {
	dir, err := e.registryDir(flag)
	if err != nil {
		return nil, err
	}
	reading := e.Working("reading the registry", 0)
	defer reading.End()
	r, err := registry.Open(dir)
	return r, asAccess(err)
}

// change runs work on the registry and saves all that it changed, or nothing
// where it fails. It may run work again, on a registry that somebody
// else has changed meanwhile, so work starts afresh each time.
func (e *env) change(flag string, work func(r *registry.Registry) error) error {
	dir, err := e.registryDir(flag)
	if err != nil {
		return err
	}
	var worked error
	reading := e.Working("reading the registry", 0)
	saving := reading
	defer func() { saving.End() }()
	err = registry.Change(dir, registry.Options{Wait: lockWait, Command: e.commandLine(), Now: e.now(), Saved: e.keepSaved, DryRun: e.dryRun}, func(r *registry.Registry) error {
		reading.End()
		saving.End() // of a round before
		worked = work(r)
		saving = e.Working("saving the registry", 0)
		return worked
	})
	if worked != nil {
		return worked
	}
	return asAccess(err)
}

// commandLine is what was typed, as a shell takes it.
func (e *env) commandLine() string {
	typed := []string{"pipstake"}
	for _, arg := range e.args {
		typed = append(typed, shellWord(runtime.GOOS, arg))
	}
	return strings.Join(typed, " ")
}

// shellWord is an argument as a shell of an operating system takes it: in the
// quotes that cmd.exe and PowerShell know on Windows, else in those of sh.
func shellWord(goos, arg string) string {
	plain := "-_.,:/+%@="
	if goos == "windows" {
		plain = `-_.,:/+=\`
	}
	special := func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune(plain, r)
	}
	switch {
	case arg != "" && !strings.ContainsFunc(arg, special):
		return arg
	case goos == "windows":
		return `"` + strings.ReplaceAll(arg, `"`, `\"`) + `"`
	}
	return "'" + strings.ReplaceAll(arg, "'", `'\''`) + "'"
}

// quotedPath shows a path in quotes.
func quotedPath(path string) string { return quotedPathOn(runtime.GOOS, path) }

// quotedPathOn shows a path in quotes. On Windows its backslashes stand as they
// were typed, since names there hold no quotes that they could escape.
func quotedPathOn(goos, path string) string {
	quoted := strconv.Quote(path)
	if goos == "windows" {
		return strings.ReplaceAll(quoted, `\\`, `\`)
	}
	return quoted
}

// asAccess marks an error of the registry as one of access, unless it says
// better itself what it is.
func asAccess(err error) error {
	if err == nil || statusOf(err) != failed {
		return err
	}
	return problem.Access(err)
}

// abs is the absolute form of a path given on the command line.
func (e *env) abs(path string) string {
	if filepath.IsAbs(path) {
		return filepath.Clean(path)
	}
	return filepath.Join(e.cwd, path)
}

// registryIfAny opens the registry where there is one; it is nil where none was
// named and none is found.
func (e *env) registryIfAny(flag string) (*registry.Registry, error) {
	r, err := e.open(flag)
	if err != nil && flag == "" && e.getenv("PIPSTAKE_REGISTRY") == "" {
		if _, none := registry.Find("", "", e.cwd); none != nil {
			return nil, nil
		}
	}
	return r, err
}
