package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"os"

	"golang.org/x/term"

	"pipstake/ids/words"
)

// The terminal's voice. All that pipstake says goes through this file, by
// these rules:
//
//   - What a command was asked for goes to standard output, and nothing else.
//   - Notices ("notice: …"), what to do next ("next: …"), prompts and errors go
//     to standard error.
//   - An error is one line, "pipstake: …", that says where, what was found, in
//     quotes, and what is wrong with it. A line "hint: …" says what to do.
//   - Messages start with a small letter and have no full stop at their end.
//   - Text from files, codes and arguments is shown with its control characters
//     escaped, so that nothing can steer the terminal.
//   - With --quiet nothing but errors and questions goes to standard error.
//   - Colour carries nothing, so there is none, and no other escape sequence:
//     NO_COLOR and TERM have nothing to switch off.

// voice writes to the terminal.
type voice struct {
	out    *bufio.Writer
	err    io.Writer
	screen *screen // nil where err is no terminal
	quiet  bool
}

func newVoice(stdout, stderr io.Writer) voice {
	return voice{out: bufio.NewWriter(stdout), err: stderr, screen: screenOn(stderr)}
}

// alone keeps progress off the terminal until the function that it gives is
// called.
func (v *voice) alone() (done func()) {
	if v.screen == nil {
		return func() {}
	}
	v.screen.mu.Lock()
	v.screen.wipe(v.err)
	return v.screen.mu.Unlock
}

// flush brings standard output up to date.
func (v *voice) flush() error {
	defer v.alone()()
	return v.out.Flush()
}

// say prints a line of results. A failure to write is kept until flush.
func (v *voice) say(format string, args ...any) {
	defer v.alone()()
	fmt.Fprintln(v.out, words.Clean(fmt.Sprintf(format, args...)))
}

// sayJSON prints a value as one line of JSON.
func (v *voice) sayJSON(value any) error {
	defer v.alone()()
	enc := json.NewEncoder(escaper{v.out})
	enc.SetEscapeHTML(false)
	return enc.Encode(value)
}

// tell prints a line on standard error.
func (v *voice) tell(format string, args ...any) {
	defer v.alone()()
	v.out.Flush() // what was said before stands before; its error is kept
	fmt.Fprintln(v.err, words.Clean(fmt.Sprintf(format, args...)))
}

// remark prints a line on standard error that --quiet leaves out.
func (v *voice) remark(format string, args ...any) {
	if !v.quiet {
		v.tell(format, args...)
	}
}

// notice tells something that the user should know and need not act on.
func (v *voice) notice(format string, args ...any) { v.remark("notice: "+format, args...) }

// next tells what comes next in the season.
func (v *voice) next(format string, args ...any) { v.remark("next: "+format, args...) }

// prompt asks for a line without ending its own.
func (v *voice) prompt(text string) {
	defer v.alone()()
	v.out.Flush()
	fmt.Fprint(v.err, words.Clean(text))
}

// complain reports the error that a command ended with.
func (v *voice) complain(err error) {
	for _, r := range reportsOf(err) {
		v.tell("pipstake: %s", r.what)
		if r.hint != "" {
			v.tell("hint: %s", r.hint)
		}
	}
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

// isTerminal reports whether a stream is a terminal.
func isTerminal(stream any) bool {
	f, ok := stream.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}
