package terminal

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"
)

// paper notes all that is written to a terminal.
type paper struct {
	mu    sync.Mutex
	bytes bytes.Buffer
}

func (p *paper) Write(b []byte) (int, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.bytes.Write(b)
}

func (p *paper) String() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.bytes.String()
}

// rows is what somebody sees in front of the terminal: a carriage return goes
// back to the first column of the row, a line feed to the next row, and letters
// write over what was there.
func rows(written string) []string {
	seen, at := [][]rune{{}}, 0
	for _, r := range written {
		last := len(seen) - 1
		switch {
		case r == '\r':
			at = 0
		case r == '\n':
			seen, at = append(seen, []rune{}), 0
		case at < len(seen[last]):
			seen[last][at] = r
			at++
		default:
			seen[last] = append(seen[last], r)
			at++
		}
	}
	var lines []string
	for _, line := range seen {
		lines = append(lines, strings.TrimRight(string(line), " "))
	}
	return lines
}

// onTerminal returns a voice on a terminal of 40 columns.
func onTerminal() (*Voice, *paper) {
	p := &paper{}
	v := NewVoice(io.Discard, p)
	v.screen = &screen{columns: func() int { return 40 }}
	return &v, p
}

// look lets the time pass and returns the terminal's rows.
func look(p *paper, after time.Duration) string {
	time.Sleep(after)
	synctest.Wait()
	return strings.Join(rows(p.String()), "\n")
}

// Time in these tests is that of a synctest bubble.
func TestProgressAppearsAfterASecondAndGoes(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		v, screen := onTerminal()
		p := v.Working("drawing labels", 240)
		if got := look(screen, 999*time.Millisecond); got != "" {
			t.Errorf("before a second the terminal shows %q", got)
		}
		for range 7 {
			p.Step()
		}
		if got, want := look(screen, 2*time.Millisecond), "drawing labels: 7 of 240"; got != want {
			t.Errorf("after a second the terminal shows %q, want %q", got, want)
		}
		p.Step()
		if got, want := look(screen, time.Second), "drawing labels: 8 of 240"; got != want {
			t.Errorf("a second later the terminal shows %q, want %q", got, want)
		}
		v.Notice("one name was shortened")
		if got, want := look(screen, 0), "notice: one name was shortened\n"; got != want {
			t.Errorf("after a notice the terminal shows %q, want %q", got, want)
		}
		if got, want := look(screen, time.Second), "notice: one name was shortened\ndrawing labels: 8 of 240"; got != want {
			t.Errorf("with work going on the terminal shows %q, want %q", got, want)
		}
		p.End()
		p.End()
		if got, want := look(screen, time.Minute), "notice: one name was shortened\n"; got != want {
			t.Errorf("in the end the terminal shows %q, want %q", got, want)
		}
		if strings.Contains(screen.String(), "\x1b") {
			t.Errorf("an escape sequence was written: %q", screen)
		}
	})
}

func TestProgressOfShortWorkIsNotShown(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		v, screen := onTerminal()
		p := v.Working("reading the registry", 0)
		time.Sleep(990 * time.Millisecond)
		p.End()
		if look(screen, time.Minute); screen.String() != "" {
			t.Errorf("%q was written", screen)
		}
	})
}

// Several pieces of work that are short each, and long together, are shown.
func TestProgressCountsTheTimeOfTheWholeCommand(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		v, screen := onTerminal()
		for _, part := range []string{"reading the registry", "looking for duplicates"} {
			p := v.Working(part, 0)
			time.Sleep(900 * time.Millisecond)
			p.End()
		}
		if !strings.Contains(screen.String(), "looking for duplicates …") || strings.Contains(screen.String(), "reading") {
			t.Errorf("the terminal got %q", screen)
		}
	})
}

func TestProgressKeepsToTheWidthOfTheTerminal(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		v, screen := onTerminal()
		p := v.Working("reading photographs of Błota Żniwiarka and 湖琥 湖琥", 0)
		defer p.End()
		got := look(screen, 2*time.Second)
		if want := "reading photographs of Błota Żniwiarka"; got != want {
			t.Errorf("the terminal of 40 columns shows %q, want %q", got, want)
		}
	})
}

func TestNoProgressWithoutATerminalOrWithQuiet(t *testing.T) {
	for _, quiet := range []bool{false, true} {
		t.Run(fmt.Sprintf("quiet %v", quiet), func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				v, screen := onTerminal()
				v.Quiet = quiet
				if !quiet {
					v.screen = screenOn(screen)
				}
				p := v.Working("drawing labels", 3)
				p.Step()
				look(screen, time.Minute)
				p.End()
				if screen.String() != "" {
					t.Errorf("%q was written", screen)
				}
			})
		})
	}
}

// Nothing that is written while work goes on mixes with its line.
func TestProgressAmongLines(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		v, screen := onTerminal()
		p := v.Working("drawing", 0)
		var all sync.WaitGroup
		for n := range 50 {
			all.Go(func() {
				time.Sleep(time.Duration(n) * 100 * time.Millisecond)
				v.Tell("line %d", n)
				p.Step()
			})
		}
		all.Wait()
		p.End()
		lines := rows(screen.String())
		for n, line := range lines[:len(lines)-1] {
			if want := fmt.Sprintf("line %d", n); line != want {
				t.Errorf("row %d is %q, want %q", n, line, want)
			}
		}
		if len(lines) != 51 || lines[50] != "" {
			t.Errorf("there are %d rows, the last one %q; want 50 and an empty one", len(lines), lines[len(lines)-1])
		}
	})
}
