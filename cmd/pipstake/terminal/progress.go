package terminal

import (
	"fmt"
	"io"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"pipstake/ids/words"
)

// The line of progress appears once a command has worked for a second, is drawn
// over itself, and is wiped before anything else is written and when the work
// is done. It takes no escape sequences, only carriage returns and spaces, so
// every terminal can show it. Where standard error is no terminal, and with
// --quiet, there is none.

const (
	patience      = time.Second            // before the first line of a command
	betweenLines  = 200 * time.Millisecond // from one drawing to the next
	leastPatience = betweenLines           // of work that starts late, so that nothing flickers
)

// screen is a terminal on standard error.
type screen struct {
	columns func() int

	mu    sync.Mutex // over all that is written to the terminal
	since time.Time  // the start of a command's work
	shown int        // columns that the line takes up; 0 where there is none
}

// screenOn is the terminal that a stream leads to; nil where it is none.
func screenOn(stream any) *screen {
	if columns := columnsOf(stream); columns != nil {
		return &screen{columns: columns}
	}
	return nil
}

// wipe takes the line of progress away. The caller holds mu.
func (s *screen) wipe(w io.Writer) {
	if s.shown > 0 {
		fmt.Fprintf(w, "\r%s\r", strings.Repeat(" ", s.shown))
		s.shown = 0
	}
}

// draw puts a line over the one that is there. The caller holds mu. The last
// column stays free: some terminals go to the next row once it is filled.
func (s *screen) draw(w io.Writer, line string) {
	line = words.CutColumns(line, max(0, s.columns()-1))
	width := words.Columns(line)
	fmt.Fprintf(w, "\r%s%s", line, strings.Repeat(" ", max(0, s.shown-width)))
	s.shown = max(s.shown, width)
}

// Progress is one piece of work, of which a line on a terminal tells how far it
// has come. Its methods may be called on several goroutines. The zero value
// shows nothing.
type Progress struct {
	voice *Voice // nil where nothing is shown
	what  string
	total int // 0 where it is not known
	count atomic.Int64
	over  bool // guarded by the screen
	stop  chan struct{}
}

// Working starts to tell of work, such as "drawing labels", with so many
// steps, or 0 where nobody knows how many. The caller calls End when it is
// done, and asks the user nothing before.
func (v *Voice) Working(what string, total int) *Progress {
	p := &Progress{what: what, total: total}
	if v.screen == nil || v.Quiet {
		return p
	}
	v.screen.mu.Lock()
	defer v.screen.mu.Unlock()
	if v.screen.since.IsZero() {
		v.screen.since = time.Now()
	}
	p.voice, p.stop = v, make(chan struct{})
	go p.show(max(patience-time.Since(v.screen.since), leastPatience))
	return p
}

// Step says that one more step is done.
func (p *Progress) Step() { p.count.Add(1) }

// End takes the line away. A second End does nothing.
func (p *Progress) End() {
	if p.voice == nil {
		return
	}
	s := p.voice.screen
	s.mu.Lock()
	defer s.mu.Unlock()
	if !p.over {
		p.over = true
		close(p.stop)
		s.wipe(p.voice.err)
	}
}

// show draws the line again and again until the work is done.
func (p *Progress) show(wait time.Duration) {
	timer := time.NewTimer(wait)
	defer timer.Stop()
	for {
		select {
		case <-p.stop:
			return
		case <-timer.C:
		}
		timer.Reset(betweenLines)
		p.drawNow()
	}
}

func (p *Progress) drawNow() {
	s := p.voice.screen
	s.mu.Lock()
	defer s.mu.Unlock()
	if !p.over {
		s.draw(p.voice.err, p.line())
	}
}

// line is what is shown: "drawing labels: 340 of 2400".
func (p *Progress) line() string {
	switch n := p.count.Load(); {
	case p.total > 0:
		return fmt.Sprintf("%s: %d of %d", p.what, n, p.total)
	case n > 0:
		return fmt.Sprintf("%s: %d", p.what, n)
	}
	return p.what + " …"
}
