package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"pipstake/cmd/pipstake/terminal"
	"pipstake/ids/problem"
	"pipstake/label/reading"
	"pipstake/label/symbol"
	"pipstake/label/symbol/photo"
)

// mostLog is the size of the largest log that is read, in bytes.
const mostLog = 200 << 20

// saw reads what the walk saw: files, or standard input.
func (w *stocktake) saw(e *env, args []string) error {
	if len(args) == 0 || len(args) == 1 && args[0] == "-" {
		return w.sawTyped(e)
	}
	files, err := e.filesOf(args)
	if err != nil {
		return err
	}
	type found struct {
		picture *photograph
		text    []scanned
		err     error
	}
	working := e.Working("reading what the walk saw", len(files))
	defer working.End()
	return inParallel(len(files), func(i int) found {
		data, err := e.readFile(files[i])
		switch {
		case err != nil:
			return found{err: err}
		case len(bytes.TrimSpace(data)) == 0:
			return found{err: errors.New("it is empty")}
		case photo.IsPicture(data):
			p := lookAt(files[i], data)
			return found{picture: &p, err: p.err}
		}
		text, err := textLines(data)
		return found{text: text, err: err}
	}, func(i int, f found) error {
		working.Step()
		switch {
		case f.err != nil:
			w.refuse(files[i], f.err.Error(), "")
		case f.picture != nil:
			w.sawPhotograph(*f.picture)
		default:
			w.sources.Files++
			w.sawText(files[i], f.text)
		}
		return nil
	})
}

// sawTyped reads lines from standard input.
func (w *stocktake) sawTyped(e *env) error {
	if terminal.IsTerminal(e.stdin) {
		e.Remark("scan label after label; the end of input (Ctrl-D, on Windows Ctrl-Z and Enter) ends it")
	}
	data, err := io.ReadAll(io.LimitReader(e.stdin, mostLog+1))
	switch {
	case err != nil:
		return problem.Failure("standard input: "+problem.Reason(err), "")
	case len(data) > mostLog:
		return problem.Failure("standard input is longer than any log", "")
	}
	text, err := textLines(data)
	if err != nil {
		return problem.Use("standard input: "+err.Error(), "send a scanner's log, and name photographs as FILE")
	}
	w.sources.Files++
	w.sawText("standard input", text)
	return nil
}

func (w *stocktake) refuse(where, what, hint string) {
	w.sources.Refused = append(w.sources.Refused, notTaken{where, what, hint})
}

func (w *stocktake) sawPhotograph(p photograph) {
	w.sources.Photographs++
	w.sources.OtherCodes += len(p.other)
	if p.part != nil {
		w.refuse(p.name, p.part.Error(), "")
	}
	if n := len(p.unread); n > 0 {
		w.sources.NotRead += n
		w.Unclear[p.name] = true
		w.sources.Unread = append(w.sources.Unread, notRead{p.name, placesOf(p.unread)})
	}
	for _, code := range p.read {
		w.see(reading.Sighting{Code: code, Source: p.name, Where: p.name, Photo: true})
	}
}

// sawText takes the codes out of a log or a table.
func (w *stocktake) sawText(name string, lines []scanned) {
	for i, line := range lines {
		where := fmt.Sprintf("%s line %d", name, line.number)
		if line.tooLong != nil {
			w.refuse(where, line.tooLong.Error(), "")
			continue
		}
		switch code, _, err := symbol.ParseScan(line.text); {
		case err == nil:
			w.see(reading.Sighting{Code: code, Source: name, Where: where})
		case isNumber(strings.TrimSpace(line.text)):
			w.sources.Numbers++
		case i == 0 && line.ofTable: // its heading
		default:
			said := firstProblem(err)
			w.refuse(where, said.What, said.Remedy)
		}
	}
}

func (w *stocktake) see(s reading.Sighting) {
	w.sources.Codes++
	w.See(s)
}

// scanned is a text in a file that may be a code.
type scanned struct {
	number  int // of the line it begins on
	text    string
	ofTable bool
	tooLong error // of a line; text is then its beginning
}
