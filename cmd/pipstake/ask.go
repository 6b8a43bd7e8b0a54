package main

import (
	"strings"

	"pipstake/ids/words"
)

// Questions are asked only where somebody can see and answer them: where standard
// input and standard output are both terminals. Elsewhere what is left out is an
// error, so that a script never waits.

// ask asks for a line, and returns it without the spaces around it. It is not ok
// where the input has ended.
func (e *env) ask(question string) (answer string, ok bool) {
	if e.typed == nil {
		e.typed = newLineReader(e.stdin)
	}
	e.Prompt(question)
	line, err := e.typed.next()
	if err != nil {
		e.Tell("")
		return "", false
	}
	return strings.TrimSpace(line.text), true
}

// argumentQuestions are what is asked for an argument that is left out, by its
// word in the usage line.
var argumentQuestions = map[string]string{
	"CROSS": "which cross", "LOT": "which seed lot", "POT": "which pot", "SEEDLING": "which seedling", "ID": "which identifier",
	"SEED": "seed parent (♀)", "TEXT": "remark", "BATCH": "which batch, or the name of its PDF",
}

// askArguments asks on a terminal for the arguments that a command needs and that
// were left out. What is answered belongs to the command line from then on.
func (e *env) askArguments(c command, args []string) []string {
	if !e.onTerminal {
		return args
	}
	for i, word := range strings.Fields(c.arguments) {
		question, known := argumentQuestions[strings.TrimSuffix(word, "…")]
		if i < len(args) || !known {
			continue
		}
		answer, ok := e.ask(question + "? ")
		if !ok || answer == "" {
			break
		}
		answers := []string{answer}
		if strings.HasSuffix(word, "…") {
			answers = strings.Fields(answer)
		}
		args = append(args, answers...)
		e.args = append(e.args, answers...)
	}
	return args
}

// askFlag asks on a terminal for the value of a flag that a command needs, until
// it can be read. It reports whether there is one.
func (e *env) askFlag(f *flags, name, question string) bool {
	if !e.onTerminal {
		return false
	}
	flag := f.set.Lookup(name)
	for {
		answer, ok := e.ask(question + "? ")
		if !ok || answer == "" {
			return false
		}
		err := flag.Value.Set(answer)
		if err == nil {
			e.args = append(e.args, "--"+name, answer)
			return true
		}
		e.tellWrong(answer, err)
	}
}

// tellWrong tells what is wrong with an answer.
func (e *env) tellWrong(answer string, err error) {
	said := firstProblem(err)
	what := strings.TrimPrefix(said.What, words.Shown(answer)+": ")
	if strings.HasPrefix(what, words.Shown(answer)) {
		e.Tell("  %s", what)
	} else {
		e.Tell("  %s: %s", words.Shown(answer), what)
	}
	if said.Remedy != "" {
		e.Tell("  hint: %s", said.Remedy)
	}
}

// ended is the answer that ends a session: q, quit or exit, as people try.
func ended(answer string) bool {
	switch strings.ToLower(answer) {
	case "q", "quit", "exit", "bye", "end":
		return true
	}
	return false
}

// askPollen asks on a terminal for the pollen parent.
func (e *env) askPollen(args []string) []string {
	if !e.onTerminal {
		return args
	}
	pollen, ok := e.ask("pollen parent (♂)? ")
	if !ok || pollen == "" {
		return args
	}
	e.args = append(e.args, pollen)
	return append(args, pollen)
}

// asking returns the environment of a command that records one thing by itself,
// so that the history tells what would do the same again.
func (e *env) asking(args ...string) *env {
	one := *e
	one.args, one.inRound = args, true
	return &one
}
