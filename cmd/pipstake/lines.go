package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"

	"pipstake/ids/words"
)

// mostLine is more than a scanner ever sends in one line, in bytes.
const mostLine = 64 << 10

// lineReader reads a text line by line. A line ends at a line feed, at a carriage
// return, or at both, since hand scanners send either; it is there before the
// next one comes. A line of more than mostLine bytes costs itself only: it is
// read past, and memory holds no more of it than that.
type lineReader struct {
	in      *bufio.Reader
	number  int
	endedCR bool // a line feed that follows belongs to the line before
}

// textLine is one line of a text.
type textLine struct {
	number  int // from 1
	text    string
	tooLong error // a *longLineError; text is then its beginning
}

// longLineError says that a line is longer than any that a scanner sends.
type longLineError struct{ bytes int64 }

func (e *longLineError) Error() string {
	return fmt.Sprintf("it is longer than any line that a scanner sends: %s", words.Plural(int(e.bytes>>10), "kilobyte", "kilobytes"))
}

func newLineReader(in io.Reader) *lineReader { return &lineReader{in: bufio.NewReader(in)} }

// next returns the next line; the error is io.EOF after the last one, or one of
// reading, with what was there of a line lost.
func (r *lineReader) next() (textLine, error) {
	var line []byte
	length := int64(0)
	for {
		c, err := r.in.ReadByte()
		switch {
		case err == io.EOF && length > 0:
			return r.line(line, length), nil
		case err != nil:
			return textLine{}, err
		case c == '\n' && r.endedCR && length == 0:
			r.endedCR = false
			continue
		case c == '\n', c == '\r':
			r.endedCR = c == '\r'
			return r.line(line, length), nil
		}
		r.endedCR = false
		if length++; length <= mostLine {
			line = append(line, c)
		}
	}
}

func (r *lineReader) line(text []byte, length int64) textLine {
	r.number++
	l := textLine{number: r.number, text: string(text)}
	if length > mostLine {
		l.text, l.tooLong = string(text[:100]), &longLineError{length}
	}
	return l
}

// eachLine calls do with the lines of a text. An error is one of reading.
func eachLine(in io.Reader, do func(textLine)) error {
	r := newLineReader(in)
	for {
		line, err := r.next()
		switch {
		case errors.Is(err, io.EOF):
			return nil
		case err != nil:
			return err
		}
		do(line)
	}
}
