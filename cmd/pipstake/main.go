// Command pipstake keeps the identity of an apple breeder's crosses from the
// pollinated blossom to the seedling: it issues identifiers, prints their
// labels and turns a scanned label back into parents, counts and dates.
//
// This package holds flags, files and the terminal. It decides neither how a
// label looks nor what a number means.
package main

import (
	"io"
	"os"
	"time"
)

func main() {
	putOffCollection()
	os.Exit(int(execute(system())))
}

// env is all that a command sees of the machine it runs on.
type env struct {
	args           []string // without the program's name
	stdin          io.Reader
	stdout, stderr io.Writer
	getenv         func(string) string
	cwd            string
	now            func() time.Time

	commands []command
	voice
}

// system is the environment of this process.
func system() *env {
	cwd, err := os.Getwd()
	if err != nil {
		cwd = "." // a folder that was removed; opening a file in it will say so
	}
	return &env{args: os.Args[1:], stdin: os.Stdin, stdout: os.Stdout, stderr: os.Stderr,
		getenv: os.Getenv, cwd: cwd, now: time.Now}
}

// execute runs the command that e.args ask for, tells what went wrong, and
// gives the exit status.
func execute(e *env) status {
	e.voice = newVoice(e.stdout, e.stderr)
	e.commands = commands()
	err := run(e)
	if flushed := e.flush(); err == nil && flushed != nil {
		err = &failure{what: "cannot write to standard output: " + flushed.Error()}
	}
	if err != nil {
		e.complain(err)
	}
	return statusOf(err)
}
