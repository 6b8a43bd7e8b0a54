package main

import (
	"fmt"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"unicode"
	"unicode/utf8"

	"pipstake/ids/registry"
	"pipstake/ids/words"
)

// Commands that the program proposes are copied into the shell at hand, so their
// words are quoted for it, and they name the registry where nothing else would.

// proposal is a command to copy: its name, what it is about, and its flags as they
// are typed. What begins with a dash goes behind "--", where it is no flag.
func proposal(name string, about []string, flags string) string {
	typed := []string{"pipstake " + name}
	dashes := false
	for _, word := range about {
		first, _ := utf8.DecodeRuneInString(word)
		dashes = dashes || words.IsDash(first) || first == '-'
	}
	named := shellWords(about...)
	if dashes {
		named, flags = flags, "-- "+named
	}
	for _, part := range []string{named, flags} {
		if part != "" {
			typed = append(typed, part)
		}
	}
	return strings.Join(typed, " ")
}

// shellWords are words as the shell at hand takes them.
func shellWords(all ...string) string {
	var typed []string
	for _, word := range all {
		typed = append(typed, shellWord(runtime.GOOS, word))
	}
	return strings.Join(typed, " ")
}

// shellWord is an argument as a shell of an operating system takes it: in the
// quotes of sh, or on Windows in those that cmd.exe and PowerShell both know. What
// PowerShell would put a value in place of stands in quotes that only it knows.
func shellWord(goos, arg string) string {
	plain := "-_.,:/+%@="
	if goos == "windows" {
		plain = `-_.:/+=\`
	}
	special := func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune(plain, r)
	}
	switch {
	case arg != "" && !strings.ContainsFunc(arg, special):
		return arg
	case goos != "windows":
		return "'" + strings.ReplaceAll(arg, "'", `'\''`) + "'"
	case strings.ContainsAny(arg, "$`\u201c\u201d\u201e"):
		return "'" + powerShellQuote.ReplaceAllString(withBackslashes(arg), "$0$0") + "'"
	}
	return `"` + withBackslashes(arg) + `"`
}

// powerShellQuote is what ends a text in single quotes there.
var powerShellQuote = regexp.MustCompile("['\u2018\u2019\u201a\u201b]")

// withBackslashes is a text in which quotes have a backslash before them, and
// those that stand before a quote or the end stand twice, as programs on Windows
// read their command line.
func withBackslashes(arg string) string {
	var b strings.Builder
	slashes := 0
	for _, r := range arg {
		if r == '"' {
			b.WriteString(strings.Repeat(`\`, slashes+1))
		}
		slashes++
		if r != '\\' {
			slashes = 0
		}
		b.WriteRune(r)
	}
	return b.String() + strings.Repeat(`\`, slashes)
}

// commandLine is what was typed, as a shell takes it.
func (e *env) commandLine() string { return shellWords(append([]string{"pipstake"}, e.args...)...) }

// commandProposed is where a text proposes a command: not where it quotes one.
var commandProposed = regexp.MustCompile(`(?:^|[ (])pipstake ((?:stock (?:list|show|add|sheet|adjust)|[a-z]+)\b)`)

// thereToo puts --registry into the commands that a text proposes, where they
// would not find the registry by themselves.
func (e *env) thereToo(text string) string {
	if !strings.Contains(text, "pipstake ") || strings.Contains(text, "usage: pipstake") {
		return text
	}
	there := e.mustBeNamed()
	if there == "" {
		return text
	}
	var b strings.Builder
	done := 0
	all := commandProposed.FindAllStringSubmatchIndex(text, -1)
	for i, at := range all {
		end := len(text)
		if i+1 < len(all) {
			end = all[i+1][0]
		}
		name, _, _ := strings.Cut(text[at[2]:at[3]], " ")
		if rest := text[at[3]:end]; e.takesRegistry(name) && !strings.Contains(rest, "--registry") && !strings.HasPrefix(rest, " --help") {
			fmt.Fprintf(&b, "%s --registry %s", text[done:at[3]], shellWords(there))
			done = at[3]
		}
	}
	return b.String() + text[done:]
}

// takesRegistry reports whether a command works on a registry that can be named.
func (e *env) takesRegistry(name string) bool {
	c, err := e.command(name)
	if err != nil {
		return false
	}
	f := newFlags(c)
	c.define(f)
	return f.set.Lookup("registry") != nil
}

// mustBeNamed is the registry as commands to copy have to name it; "" where they
// find the same one from the folder at hand.
func (e *env) mustBeNamed() string {
	if e.there == "" {
		return ""
	}
	nearest, err := registry.Find("", "", e.cwd)
	if other := e.getenv("PIPSTAKE_REGISTRY"); err == nil && sameFolder(nearest, e.abs(e.there)) && (other == "" || sameFolder(nearest, e.abs(other))) {
		return ""
	}
	if strings.HasPrefix(e.there, "-") { // no flag
		return "." + string(filepath.Separator) + e.there
	}
	return e.there
}

// Tell prints a line on standard error.
func (e *env) Tell(format string, args ...any) {
	e.Voice.Tell("%s", e.thereToo(fmt.Sprintf(format, args...)))
}

// Remark prints a line on standard error that --quiet leaves out.
func (e *env) Remark(format string, args ...any) {
	if !e.Quiet {
		e.Tell(format, args...)
	}
}

// Notice says something that the user should know and need not act on.
func (e *env) Notice(format string, args ...any) { e.Remark("notice: "+format, args...) }

// Next tells what to do next, if anything was done.
func (e *env) Next(format string, args ...any) {
	if !e.dryRun {
		e.Remark("next: "+format, args...)
	}
}
