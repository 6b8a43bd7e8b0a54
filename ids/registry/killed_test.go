package registry

import (
	"bufio"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"pipstake/ids"
)

// soakEnv sets how many processes TestKilledProcesses kills; without it, a few.
const soakEnv = "PIPSTAKE_SOAK"

// Processes that are killed at random moments while they save leave the old
// state or the new one, whole; what they had said to be saved is there, and the
// next command carries on.
func TestKilledProcesses(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	kills := 40
	if s := os.Getenv(soakEnv); s != "" {
		n, err := strconv.Atoi(s)
		if err != nil || n < 1 {
			t.Fatalf("%s=%q is no number of processes", soakEnv, s)
		}
		kills = n
	}
	random := rand.New(rand.NewPCG(2026, 11))
	issued, midway, killed := 0, 0, 0
	for killed < kills || midway == 0 && killed < 10*kills { // a busy machine saves little before it is stopped
		dir := newRegistry(t, nil)
		var said []string
		for range min(max(kills-killed, 8), 25) {
			said = append(said, issueAndKill(t, dir, random)...)
			if interrupted(t, dir) {
				midway++
			}
			whole(t, dir, said)
			killed++
		}
		if _, err := issueOne(dir); err != nil {
			t.Fatal(err)
		}
		for _, e := range entriesIn(t, dir) {
			if e == journalFile || e == claimFile || strings.HasSuffix(e, newSuffix) {
				t.Errorf("%s was left behind", e)
			}
		}
		issued += len(said)
	}
	t.Logf("%d processes killed, %d of them while they saved; %d identifiers issued before, none lost", killed, midway, issued)
	if midway == 0 {
		t.Error("no process was killed while it saved")
	}
}

// issueAndKill starts a process that issues crosses, kills it some time after
// it has issued its first, and returns those that it said to have issued.
func issueAndKill(t *testing.T, dir string, random *rand.Rand) []string {
	t.Helper()
	c := child(dir, 1_000_000)
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	said := bufio.NewReader(out)
	first, err := said.ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	time.Sleep(time.Duration(random.IntN(40_000)) * time.Microsecond)
	if err := c.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	rest, err := io.ReadAll(said)
	if err != nil {
		t.Fatal(err)
	}
	_ = c.Wait() // it was killed
	lines := strings.SplitAfter(first+string(rest), "\n")
	return lines[:len(lines)-1] // the last was cut off, or is empty
}

func entriesIn(t *testing.T, dir string) []string {
	t.Helper()
	names, err := systemDisk{}.Names(dir)
	if err != nil {
		t.Fatal(err)
	}
	return names
}

// interrupted reports whether a process was killed in the midst of a commit.
func interrupted(t *testing.T, dir string) bool {
	for _, e := range entriesIn(t, dir) {
		if e == journalFile || strings.HasSuffix(e, newSuffix) {
			return true
		}
	}
	return false
}

// whole looks whether a registry is in the state after some commit: every cross
// with its seed lot and its history, and all that was said to be issued.
func whole(t *testing.T, dir string, said []string) {
	t.Helper()
	r, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(r.Crosses()); len(r.Lots()) != n || len(r.History()) != 2*n || len(r.Damage()) > 0 {
		t.Fatalf("%d crosses, %d lots, %d rows of history, %v in %s", n, len(r.Lots()), len(r.History()), r.Damage(), filepath.Base(dir))
	}
	for i, c := range r.Crosses() {
		if c.ID != (ids.ID{Year: 2026, Cross: i + 1}) || r.Lots()[i].ID != c.ID.Child(1) {
			t.Fatalf("row %d holds %s and %s", i, c.ID, r.Lots()[i].ID)
		}
	}
	for _, line := range said {
		read, err := ids.Parse(strings.TrimSpace(line))
		if err != nil || r.Status(read.ID) != Issued {
			t.Fatalf("%q was issued and is lost: %v", line, err)
		}
	}
}
