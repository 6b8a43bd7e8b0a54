package main

import (
	"errors"
	"fmt"
	"strings"

	"pipstake/cmd/pipstake/terminal"
	"pipstake/ids"
	"pipstake/ids/plainfile"
	"pipstake/ids/problem"
	"pipstake/label/symbol"
)

// lost is a line that gave no label.
type lost struct {
	where string // "log.txt line 3"
	what  string
}

// codesIn reads the labels' codes out of the lines of a file, or of standard
// input for "-".
func (e *env) codesIn(file string) (codes []symbol.Payload, left []lost, err error) {
	name, in, reading := inputName(file), e.stdin, &terminal.Progress{}
	if file == "-" {
		if terminal.IsTerminal(e.stdin) {
			e.Remark("scan label after label; the end of input (Ctrl-D, on Windows Ctrl-Z and Enter) ends it")
		}
	} else {
		f, err := plainfile.OpenStream(e.abs(file))
		if err != nil {
			return nil, nil, problem.Use(fmt.Sprintf("cannot read %s: %s", quotedPath(file), problem.Reason(err)), "name a file with the lines that a scanner wrote")
		}
		defer f.Close()
		in = f
	}
	if !terminal.IsTerminal(in) {
		reading = e.Working("reading the lines of "+name, 0)
		defer reading.End()
	}
	lines, err := plainText(in)
	switch {
	case errors.Is(err, errNoText):
		return nil, nil, problem.Use(fmt.Sprintf("%s holds no text", quotedPath(name)), "give the lines that a scanner wrote, one code a line")
	case err != nil:
		return nil, nil, problem.Failure(name+": "+problem.Reason(err), "")
	}
	err = eachLine(lines, func(line textLine) {
		reading.Step()
		found, err := codesOf(line)
		if err != nil && !(line.number == 1 && isHeader(line.text)) {
			left = append(left, lost{fmt.Sprintf("%s line %d", name, line.number), firstProblem(err).What})
		}
		codes = append(codes, found...)
	})
	if err != nil {
		return nil, nil, problem.Failure(name+": "+problem.Reason(err), "")
	}
	return codes, left, nil
}

// betweenCells are the signs that stand between the cells of a log and in no
// code.
const betweenCells = ",;\t|\"{}[]"

// isHeader reports whether the first line of a log names its columns.
func isHeader(line string) bool {
	return strings.ContainsAny(line, ",;\t") && !strings.ContainsAny(line, "0123456789")
}

// codesOf finds the labels' codes in a line: alone, or in cells of a log with
// other things beside them; none in a blank one. A code must bear its check character, since nothing
// else proves that it was read right.
func codesOf(line textLine) ([]symbol.Payload, error) {
	switch {
	case line.tooLong != nil:
		return nil, line.tooLong
	case strings.TrimSpace(line.text) == "":
		return nil, nil
	}
	var codes []symbol.Payload
	for _, cell := range strings.FieldsFunc(line.text, func(r rune) bool { return strings.ContainsRune(betweenCells, r) }) {
		if p, err := provenCode(cell); err == nil {
			codes = append(codes, p)
		}
	}
	if len(codes) > 0 {
		return codes, nil
	}
	_, err := provenCode(line.text)
	return nil, err
}

// provenCode reads a code that bears its check character, with whatever a
// scanner puts before and after it.
func provenCode(text string) (symbol.Payload, error) {
	p, _, err := symbol.ParsePayload(text)
	if err != nil {
		p, _, err = symbol.ParseScan(text)
	}
	if err != nil {
		return p, err
	}
	if read, err := ids.Parse(text); err == nil && !read.Checked {
		return p, &symbol.PayloadError{Text: strings.TrimSpace(text), Reason: "the check character is missing, so nothing proves what was read",
			Remedy: "scan the label"}
	}
	return p, nil
}
