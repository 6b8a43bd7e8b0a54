package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"

	"pipstake/ids/problem"
)

// errNoText says that what was read is a picture, a PDF or the like.
var errNoText = errors.New("it is no text")

// plainText returns a text as UTF-8 without a byte order mark. It may come in
// UTF-16, as > of PowerShell 5 writes it, if a byte order mark says so. Nothing
// is read beyond what the first read brings, so that the lines of a terminal
// come one by one. The error is errNoText, or one of reading.
func plainText(in io.Reader) (io.Reader, error) {
	r := bufio.NewReader(in)
	if _, err := r.Peek(1); err != nil && err != io.EOF {
		return nil, err
	}
	start, _ := r.Peek(min(512, r.Buffered())) // it is there
	if bytes.HasPrefix(start, []byte("\xff\xfe")) || bytes.HasPrefix(start, []byte("\xfe\xff")) {
		return transform.NewReader(r, unicode.UTF16(unicode.LittleEndian, unicode.ExpectBOM).NewDecoder()), nil
	}
	if isBinary(start) {
		return nil, errNoText
	}
	if mark := "\ufeff"; bytes.HasPrefix(start, []byte(mark)) {
		_, err := r.Discard(len(mark))
		return r, err
	}
	return r, nil
}

// inputName is what messages call a file that is read; "-" is standard input.
func inputName(file string) string {
	if file == "-" {
		return "standard input"
	}
	return file
}

// isBinary reports whether a file that begins so is no text.
func isBinary(start []byte) bool {
	return bytes.IndexByte(start, 0) >= 0 || bytes.HasPrefix(start, []byte("\xff\xd8\xff")) || bytes.HasPrefix(start, []byte("%PDF-"))
}

// idWords are the arguments of commands that take a list of identifiers.
var idWords = []string{"CROSS…", "[CROSS…]", "LOT…", "[LOT…]", "POT…", "ID…", "[ID…]"}

// expandStdin puts the lines of standard input in the place of the argument - of a
// command that takes a list of identifiers.
func (e *env) expandStdin(c command, args []string) ([]string, error) {
	at := slices.Index(args, "-")
	if at < 0 || !slices.Contains(idWords, c.arguments) {
		return args, nil
	}
	if slices.Contains(args[at+1:], "-") {
		return nil, problem.Use(c.name+": standard input can only be read once", "write - once")
	}
	text, err := plainText(e.stdin)
	if err != nil {
		return nil, problem.Failure("standard input: "+problem.Reason(err), "")
	}
	lines := bufio.NewScanner(text)
	lines.Buffer(nil, mostLine)
	lines.Split(splitLines)
	var read []string
	for lines.Scan() {
		if line := strings.TrimSpace(lines.Text()); line != "" {
			read = append(read, line)
		}
	}
	if err := lines.Err(); err != nil {
		return nil, problem.Failure("standard input: "+problem.Reason(err), "")
	}
	if len(read) == 0 {
		return nil, problem.Use(fmt.Sprintf("%s: standard input holds no identifier", c.name), "give one a line")
	}
	return slices.Replace(slices.Clone(args), at, at+1, read...), nil
}

// mostLine is more than a scanner ever sends in one line, in bytes.
const mostLine = 64 << 10

// splitLines ends a line at a line feed or a carriage return: hand scanners
// send either, or both.
func splitLines(data []byte, atEOF bool) (advance int, line []byte, err error) {
	if i := bytes.IndexAny(data, "\r\n"); i >= 0 {
		return i + 1, data[:i], nil
	}
	if atEOF && len(data) > 0 {
		return len(data), data, nil
	}
	return 0, nil, nil
}
