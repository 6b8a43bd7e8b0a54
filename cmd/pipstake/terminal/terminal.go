// Package terminal is the voice of the program: lines, tables, progress,
// prompts. It does not know a pot. All that the program says goes through it,
// by these rules:
//
//   - What a command was asked for goes to standard output, and nothing else.
//   - Notices ("notice: …"), what to do next ("next: …"), prompts and errors go
//     to standard error.
//   - An error is one line, "pipstake: …", that says where, what was found, in
//     quotes, and what is wrong with it. A line "hint: …" says what to do.
//   - Messages start with a small letter and have no full stop at their end.
//   - On a terminal, lines are folded at its width; elsewhere they stay whole.
//   - Text from files, codes and arguments is shown with its control characters
//     escaped, so that nothing can steer the terminal.
//   - With --quiet nothing but errors and questions goes to standard error.
//   - Colour carries nothing, so there is none, and no other escape sequence:
//     NO_COLOR has nothing to switch off. The pattern of a 2D code alone is drawn
//     black on white, since readers want it so.
package terminal

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"

	"golang.org/x/term"

	"pipstake/ids/words"
)

// Voice writes to standard output and standard error. Its methods may be
// called while progress is shown.
type Voice struct {
	out     *bufio.Writer
	err     io.Writer
	columns func() int // of the terminal that out is; nil where it is none
	paints  bool       // out is a terminal that knows colours
	screen  *screen    // nil where err is no terminal
	Quiet   bool       // leave remarks out
}

// NewVoice returns the voice on two streams, of which standard output is
// buffered until Flush.
func NewVoice(stdout, stderr io.Writer) Voice {
	return Voice{out: bufio.NewWriter(stdout), err: stderr, columns: columnsOf(stdout), paints: paintsOn(stdout), screen: screenOn(stderr)}
}

// pauseProgress keeps progress off the terminal until the function that it
// returns is called.
func (v *Voice) pauseProgress() (done func()) {
	if v.screen == nil {
		return func() {}
	}
	v.screen.mu.Lock()
	v.screen.wipe(v.err)
	return v.screen.mu.Unlock
}

// Flush brings standard output up to date.
func (v *Voice) Flush() error {
	defer v.pauseProgress()()
	return v.out.Flush()
}

// Write passes bytes of results on as they are. A failure to write is kept
// until Flush.
func (v *Voice) Write(p []byte) (int, error) {
	defer v.pauseProgress()()
	return v.out.Write(p)
}

// Say prints a line of results. A failure to write is kept until flush.
func (v *Voice) Say(format string, args ...any) {
	defer v.pauseProgress()()
	text := words.Clean(fmt.Sprintf(format, args...))
	text = foldText(text, v.Columns())
	fmt.Fprintln(v.out, text)
}

// Columns is the width of the terminal that standard output is; a very large
// number where it is none.
func (v *Voice) Columns() int {
	if v.columns == nil {
		return math.MaxInt
	}
	return v.columns()
}

// SayTable prints the rows of a table, with indent in front of each.
func (v *Voice) SayTable(t *Table, indent string) {
	for _, line := range t.LinesWithin(indent, v.Columns()) {
		v.Say("%s", line)
	}
}

// SayJSON prints a value as one line of JSON.
func (v *Voice) SayJSON(value any) error {
	defer v.pauseProgress()()
	enc := json.NewEncoder(escaper{v.out})
	enc.SetEscapeHTML(false)
	return enc.Encode(value)
}

// Tell prints a line on standard error.
func (v *Voice) Tell(format string, args ...any) {
	defer v.pauseProgress()()
	v.out.Flush() // what was said before stands before; its error is kept
	text := words.Clean(fmt.Sprintf(format, args...))
	if v.screen != nil {
		text = foldText(text, v.screen.columns())
	}
	fmt.Fprintln(v.err, text)
}

// Remark prints a line on standard error that --quiet leaves out.
func (v *Voice) Remark(format string, args ...any) {
	if !v.Quiet {
		v.Tell(format, args...)
	}
}

// Notice says something that the user should know and need not act on.
func (v *Voice) Notice(format string, args ...any) { v.Remark("notice: "+format, args...) }

// Next says what to do next.
func (v *Voice) Next(format string, args ...any) { v.Remark("next: "+format, args...) }

// Prompt asks for a line without ending its own.
func (v *Voice) Prompt(text string) {
	defer v.pauseProgress()()
	v.out.Flush()
	fmt.Fprint(v.err, words.Clean(text))
}

// escaper cleans JSON on its way out. Inside JSON such characters stand in
// strings only, where the escape means the same.
type escaper struct{ w io.Writer }

func (e escaper) Write(p []byte) (int, error) {
	if _, err := io.WriteString(e.w, words.Clean(string(p))); err != nil {
		return 0, err
	}
	return len(p), nil
}

// IsTerminal reports whether a stream is a terminal.
func IsTerminal(stream any) bool {
	f, ok := stream.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// usualColumns is the width of a terminal that does not tell it.
const usualColumns = 80

// columnsOf tells the width of the terminal that a stream leads to; it is nil
// where that is none.
func columnsOf(stream any) func() int {
	f, ok := stream.(*os.File)
	if !ok || !IsTerminal(stream) {
		return nil
	}
	return func() int {
		width, _, err := term.GetSize(int(f.Fd()))
		if err != nil || width < 1 {
			return usualColumns
		}
		return width
	}
}
