package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"pipstake/ids/plainfile"
	"pipstake/ids/problem"
	"pipstake/label/symbol"
	"pipstake/label/symbol/photo"
)

// labelsIn reads the labels' codes out of a file: the lines of a scanner's log,
// or a photograph, told by its content.
func (e *env) labelsIn(file string) ([]symbol.Payload, []lost, error) {
	if file == "-" || !isPicture(e.startOf(file)) {
		return e.codesIn(file)
	}
	data, err := plainfile.Read(e.abs(file), photo.MostBytes)
	if size := new(plainfile.SizeError); errors.As(err, &size) {
		return nil, []lost{{file, size.Error() + " for a photograph"}}, nil
	}
	if err != nil {
		return nil, nil, problem.Failure(file+": "+problem.Reason(err), "")
	}
	looking := e.Working("looking at "+file, 0)
	defer looking.End()
	found, err := readPhoto(data)
	if err != nil {
		return nil, []lost{{file, err.Error()}}, nil
	}
	var codes []symbol.Payload
	var left []lost
	read, unread := found.read, found.unread
	if found.part != nil {
		left = append(left, lost{file, found.part.Error()})
	}
	for _, c := range read {
		p, err := provenCode(c.Text)
		if err != nil {
			left = append(left, lost{file, firstProblem(err).What})
			continue
		}
		codes = append(codes, p)
	}
	for _, c := range unread {
		left = append(left, lost{file, fmt.Sprintf("a code %.0f pixels from the left and %.0f from the top is seen and not read; take another picture of it",
			c.Centre().X, c.Centre().Y)})
	}
	if len(read)+len(unread) == 0 {
		left = append(left, lost{file, "no code is seen"})
	}
	return codes, left, nil
}

// startOf returns the first bytes of a file, none where it cannot be read, or
// where it is a pipe, which gives its bytes only once.
func (e *env) startOf(file string) string {
	f, err := plainfile.Open(e.abs(file))
	if err != nil {
		return ""
	}
	defer f.Close()
	start := make([]byte, 16)
	n, _ := io.ReadFull(f, start) // a shorter file is no picture
	return string(start[:n])
}

// isPicture tells from a file's first bytes whether it is a picture of a kind
// that telephones and cameras make.
func isPicture(start string) bool {
	return strings.HasPrefix(start, "\xff\xd8\xff") || strings.HasPrefix(start, "\x89PNG\r\n\x1a\n") || len(start) > 8 && start[4:8] == "ftyp"
}
