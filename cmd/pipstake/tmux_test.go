package main

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"pipstake/layout/proof/outside"
)

// tmux is a shell in a terminal emulator of that name, which nobody looks at.
type tmux struct {
	t            *testing.T
	tmux, socket string
}

// newTerminal starts a shell with the program pipstake on its path, in dir.
func newTerminal(t *testing.T, dir string, shell ...string) *tmux {
	t.Helper()
	if runtime.GOOS == "windows" {
		t.Skip("there is no tmux on Windows")
	}
	bin, home := t.TempDir(), t.TempDir()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(self, filepath.Join(bin, "pipstake")); err != nil {
		t.Fatal(err)
	}
	sockets, err := os.MkdirTemp("", "tmux") // a socket's path must be short
	if err != nil {
		t.Fatal(err)
	}
	term := &tmux{t, program(t, "tmux"), filepath.Join(sockets, "s")}
	t.Cleanup(func() {
		term.end()
		os.RemoveAll(sockets)
	})
	words := append([]string{"-u", "-f", os.DevNull, "new-session", "-d", "-x", "100", "-y", "40", "-c", dir,
		"env", "-i", "PATH=" + bin + string(os.PathListSeparator) + os.Getenv("PATH"), "HOME=" + home, "TERM=screen", "LC_ALL=C.UTF-8", "TODAY=2027-03-01"}, shell...)
	term.run(words...)
	return term
}

// end ends the terminal, and waits for its shell: that may write into its home to
// the last.
func (m *tmux) end() {
	pid, err := outside.Command(m.tmux, "-S", m.socket, "display-message", "-p", "#{pane_pid}").Output()
	outside.Command(m.tmux, "-S", m.socket, "kill-server").Run() // it may have ended
	for range 200 {
		if err != nil || outside.Command("kill", "-0", strings.TrimSpace(string(pid))).Run() != nil {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
}

func (m *tmux) run(args ...string) string {
	m.t.Helper()
	out, err := outside.Command(m.tmux, append([]string{"-S", m.socket}, args...)...).CombinedOutput()
	if err != nil {
		m.t.Fatalf("tmux %q: %v: %s", args, err, out)
	}
	return string(out)
}

// keys presses keys: names such as Tab, and texts.
func (m *tmux) keys(keys ...string) {
	m.t.Helper()
	for _, k := range keys {
		if name, special := strings.CutPrefix(k, "key:"); special {
			m.run("send-keys", name)
		} else {
			m.run("send-keys", "-l", "--", k)
		}
	}
}

// screen is what the terminal shows, rows without what is blank behind.
func (m *tmux) screen() string { return strings.TrimRight(m.run("capture-pane", "-p"), "\n") }

// until waits for the screen to look as wanted. It gives up in the end, so that
// a test fails instead of hanging.
func (m *tmux) until(what string, looks func(screen string) bool) {
	m.t.Helper()
	for range 1200 {
		if looks(m.screen()) {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	m.t.Fatalf("%s did not come; the terminal shows:\n%s", what, m.screen())
}

// clear empties the screen and waits until it is empty but for the shell's prompt, so
// that what is looked for next is not what stood there before.
func (m *tmux) clear() {
	m.t.Helper()
	m.keys("clear", "key:Enter")
	m.until("an empty screen", func(s string) bool {
		return strings.TrimSpace(s) != "" && !strings.Contains(s, "\n") && !strings.Contains(s, "clear")
	})
}

// Long work shows its line on a terminal, and leaves nothing behind. The lines
// come from a pipe, so the work lasts for as long as this test wants.
func TestProgressOnATerminal(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	dir := t.TempDir()
	term := newTerminal(t, dir, "bash", "--norc", "--noprofile", "-i")
	pipe := filepath.Join(dir, "codes")
	if out, err := outside.Command("mkfifo", pipe).CombinedOutput(); err != nil {
		t.Fatalf("mkfifo: %v: %s", err, out)
	}
	term.keys("PS1='> '; clear; cat codes | pipstake rebuild orchard -", "key:Enter")
	codes, err := os.OpenFile(pipe, os.O_RDWR, 0) // to write only would wait for a reader
	if err != nil {
		t.Fatal(err)
	}
	defer codes.Close()
	if _, err := codes.WriteString("2026X012-B2.3/1 7 SOWN 2027-01-14 LARKFIELD TESSEL X TARN AMBER\n"); err != nil {
		t.Fatal(err)
	}
	term.until("progress", func(s string) bool { return s == "reading the lines of standard input: 1" })
	if err := codes.Close(); err != nil {
		t.Fatal(err)
	}
	term.until("the prompt", func(s string) bool { return strings.HasSuffix(s, "\n>") })
	const want = "1 cross, 1 seed lot, 1 pot and 0 seedlings from 1 label, in orchard"
	if got := term.screen(); !strings.HasPrefix(got, want) || strings.Contains(got, "reading") {
		t.Errorf("the terminal shows\n%s\nwant first: %s", got, want)
	}
}
