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
// UTF-16, as > of PowerShell 5 writes it, where a byte order mark says so. Nothing
// is read beyond what the first read brings, so that the lines of a terminal
// come one by one. The error is errNoText, or one of reading.
func plainText(in io.Reader) (io.Reader, error) {
	r := bufio.NewReader(in)
	if _, err := r.Peek(1); err != nil && err != io.EOF {
		return nil, err
	}
	start, _ := r.Peek(min(512, r.Buffered())) // it is there
	if isUTF16(start) {
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

// isUTF16 reports whether a text that begins so is in UTF-16: after the byte order
// mark, ASCII characters have a zero byte each, line ends at least.
func isUTF16(start []byte) bool {
	marked := bytes.HasPrefix(start, []byte("\xff\xfe")) || bytes.HasPrefix(start, []byte("\xfe\xff"))
	return marked && (len(start) <= 3 || bytes.IndexByte(start, 0) >= 0)
}

// otherFormats begin what is no text: JPEG, PNG, PDF, ZIP as spreadsheets have it,
// and gzip.
var otherFormats = []string{"\xff\xd8\xff", "\x89PNG", "%PDF-", "PK\x03\x04", "\x1f\x8b"}

// isBinary reports whether a file that begins so is no text. A few control
// characters are none of that: scanners are set to send some, and a line that was
// garbled on its way is one bad line of a good log.
func isBinary(start []byte) bool {
	for _, format := range otherFormats {
		if bytes.HasPrefix(start, []byte(format)) {
			return true
		}
	}
	controls := 0
	for _, c := range start {
		if c < ' ' && c != '\t' && c != '\n' && c != '\r' {
			controls++
		}
	}
	return controls > 8 && controls*10 > len(start)*3
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
	var read []string
	var tooLong error
	err = eachLine(text, func(line textLine) {
		if line.tooLong != nil && tooLong == nil {
			tooLong = problem.Use(fmt.Sprintf("standard input line %d: %s", line.number, line.tooLong), "give an identifier a line")
		}
		if text := strings.TrimSpace(line.text); text != "" {
			read = append(read, text)
		}
	})
	switch {
	case err != nil:
		return nil, problem.Failure("standard input: "+problem.Reason(err), "")
	case tooLong != nil:
		return nil, tooLong
	}
	if len(read) == 0 {
		return nil, problem.Use(fmt.Sprintf("%s: standard input holds no identifier", c.name), "give one a line")
	}
	return slices.Replace(slices.Clone(args), at, at+1, read...), nil
}
