package registry

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"pipstake/ids"
	"pipstake/layout/proof/outside"
)

// Environment of a child process of the test: the registry to issue crosses in,
// how many, and whether the lock is to do nothing. Its standard output lists
// them, each once it is saved.
const (
	issueEnv  = "PIPSTAKE_TEST_ISSUE"
	countEnv  = "PIPSTAKE_TEST_COUNT"
	noLockEnv = "PIPSTAKE_TEST_NO_LOCK"
)

func TestMain(m *testing.M) {
	if dir := os.Getenv(issueEnv); dir != "" {
		if err := issueMany(dir); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	outside.KeepFilesInMemory()
	os.Exit(m.Run())
}

func issueMany(dir string) error {
	n, err := strconv.Atoi(os.Getenv(countEnv))
	if err != nil {
		return err
	}
	take := flocked
	if os.Getenv(noLockEnv) != "" {
		take = noLock
	}
	for range n {
		id, err := issueUnder(take, dir)
		if err != nil {
			return err
		}
		fmt.Println(id)
	}
	return nil
}

// noLock is a lock that does nothing, as on some network drives.
func noLock(context.Context, string) (func(), bool, error) { return func() {}, false, nil }

func issueOne(dir string) (ids.ID, error) { return issueUnder(flocked, dir) }

// issueUnder issues a cross and its first seed lot: a commit of three files.
func issueUnder(take locker, dir string) (ids.ID, error) {
	var id ids.ID
	opt := Options{Wait: 2 * time.Minute, Command: "pipstake cross", Now: time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)}
	err := changeUnder(take, dir, opt, func(r *Registry) error {
		c, err := r.AddCross(NewCross{SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber", Year: 2026})
		if err == nil {
			id = c.ID
			_, err = r.AddLots(c.ID, 1, Date{2026, 5, 4})
		}
		return err
	})
	return id, err
}

// child is a process that issues n crosses.
func child(dir string, n int, env ...string) *exec.Cmd {
	c := outside.Command(os.Args[0])
	c.Env = append(append(os.Environ(), issueEnv+"="+dir, fmt.Sprintf("%s=%d", countEnv, n)), env...)
	return c
}

// 20 processes that issue 10 crosses each at once get 200 different ones, and
// none is lost; where the lock does nothing as well. Whoever reads meanwhile
// never sees half a commit.
func TestIssuingAtOnce(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	for name, env := range map[string]string{"lock": noLockEnv + "=", "no lock": noLockEnv + "=1"} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			issueAtOnce(t, 20, 10, env)
		})
	}
}

func issueAtOnce(t *testing.T, processes, each int, env string) {
	dir := newRegistry(t, nil)
	var mu sync.Mutex
	var issued []string
	var wg sync.WaitGroup
	for range processes {
		wg.Go(func() {
			c := child(dir, each, env)
			c.Stderr = os.Stderr
			out, err := c.Output()
			if err != nil {
				t.Error(err)
			}
			mu.Lock()
			defer mu.Unlock()
			issued = append(issued, strings.Fields(string(out))...)
		})
	}
	stop := make(chan struct{})
	reader := make(chan error, 1)
	go func() { reader <- readUntil(dir, stop) }()
	wg.Wait()
	close(stop)
	if err := <-reader; err != nil {
		t.Error(err)
	}
	want := processes * each
	slices.Sort(issued)
	if n := len(slices.Compact(slices.Clone(issued))); len(issued) != want || n != want {
		t.Errorf("%d identifiers were issued, %d of them different; want %d", len(issued), n, want)
	}
	r, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(r.Crosses()); n != want || len(r.Lots()) != want || len(r.History()) != 2*want {
		t.Errorf("%d crosses and %d lots are recorded, in %d rows of the history", n, len(r.Lots()), len(r.History()))
	}
}

// readUntil reads a registry again and again, and reports half a commit.
func readUntil(dir string, stop chan struct{}) error {
	for {
		r, err := Open(dir)
		if err != nil {
			return err
		}
		if len(r.Crosses()) != len(r.Lots()) || 2*len(r.Lots()) != len(r.History()) {
			return fmt.Errorf("%d crosses and %d lots, in %d rows of the history", len(r.Crosses()), len(r.Lots()), len(r.History()))
		}
		select {
		case <-stop:
			return nil
		case <-time.After(5 * time.Millisecond):
		}
	}
}

// A claim that a killed command left behind is cleared away where the lock
// proves that no other is at work; that of another computer is waited for.
func TestClaims(t *testing.T) {
	for _, c := range []struct {
		name, claim string
		take        locker
		want        string
	}{
		{"a remnant", hostName(), flocked, ""},
		{"cut off while it was made", "", flocked, ""},
		{"another computer's", "orchard laptop", flocked, "a command on orchard laptop has been changing it for 700ms; wait until that command is done; if none runs there, it was cut off, so delete the file .changing"},
		{"no lock to prove it", hostName(), noLock, "a command on " + hostName() + " has been changing it for 700ms; wait until that command is done; if none runs there, it was cut off, so delete the file .changing"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel() // they wait
			dir := newRegistry(t, map[string]string{claimFile: c.claim})
			err := changeUnder(c.take, dir, Options{Wait: 700 * time.Millisecond}, saveSeason)
			if c.want == "" {
				if err != nil {
					t.Error(err)
				}
				if _, err := os.Stat(filepath.Join(dir, claimFile)); !errors.Is(err, os.ErrNotExist) {
					t.Errorf("the claim stays: %v", err)
				}
				return
			}
			var access *AccessError
			if !errors.As(err, &access) || err.Error() != dir+": "+c.want {
				t.Errorf("%v\nwant %s", err, c.want)
			}
			if got := readFile(t, dir, claimFile); got != c.claim {
				t.Errorf("the claim is now %q", got)
			}
			if err := os.Remove(filepath.Join(dir, claimFile)); err != nil {
				t.Fatal(err)
			}
			if err := changeUnder(c.take, dir, Options{Wait: time.Minute}, saveSeason); err != nil {
				t.Errorf("once the claim is gone: %v", err)
			}
		})
	}
}

func TestLockIsWaitedForNoLongerThanAsked(t *testing.T) {
	dir := newRegistry(t, nil)
	err := Change(dir, Options{}, func(*Registry) error {
		return Change(dir, Options{Wait: 30 * time.Millisecond}, nothing)
	})
	want := dir + ": another command has been changing it for 30ms; wait until that command is done, or end it, and run this one again"
	var access *AccessError
	if !errors.As(err, &access) || err.Error() != want {
		t.Errorf("%v\nwant %s", err, want)
	}
}

func TestChangeNeedsARegistry(t *testing.T) {
	dir := t.TempDir()
	err := Change(dir, Options{}, nothing)
	want := filepath.Join(dir, "crosses.csv") + ": cannot be read: file does not exist; put the file back from a copy"
	if err == nil || err.Error() != want {
		t.Errorf("%v\nwant %s", err, want)
	}
	if left, _ := os.ReadDir(dir); len(left) > 0 {
		t.Errorf("%s was made", left[0].Name())
	}
}

func TestMissingTableIsNamed(t *testing.T) {
	dir := newRegistry(t, nil)
	path := filepath.Join(dir, "pots.csv")
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	_, err := Open(dir)
	if err == nil || err.Error() != path+": cannot be read: no such file or directory; put the file back from a copy" {
		t.Error(err)
	}
}

// A save keeps the mode of a file and a symbolic link to it.
func TestSaveKeepsModeAndLink(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("Windows keeps no such modes, and links need a right of their own")
	}
	dir := newRegistry(t, nil)
	elsewhere := filepath.Join(t.TempDir(), "my crosses.csv")
	if err := os.Rename(filepath.Join(dir, "crosses.csv"), elsewhere); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(elsewhere, filepath.Join(dir, "crosses.csv")); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(elsewhere, 0o664); err != nil {
		t.Fatal(err)
	}
	if _, err := issueOne(dir); err != nil {
		t.Fatal(err)
	}
	link, err := os.Readlink(filepath.Join(dir, "crosses.csv"))
	if err != nil || link != elsewhere {
		t.Errorf("the link is %q, %v", link, err)
	}
	info, err := os.Stat(elsewhere)
	if err != nil || info.Mode().Perm() != 0o664 {
		t.Errorf("the mode is %v, %v", info.Mode(), err)
	}
	if text := readFile(t, dir, "crosses.csv"); !strings.Contains(text, "2026X001") {
		t.Errorf("crosses.csv is %q", text)
	}
	for _, folder := range []string{dir, filepath.Dir(elsewhere)} {
		entries, err := os.ReadDir(folder)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range entries {
			if strings.HasSuffix(e.Name(), newSuffix) || e.Name() == journalFile {
				t.Errorf("%s was left behind", e.Name())
			}
		}
	}
}

// A save by another user leaves a file with its owner and group.
func TestSaveKeepsOwner(t *testing.T) {
	if os.Getuid() != 0 {
		t.Skip("only root may give files away")
	}
	dir := newRegistry(t, nil)
	const uid, gid = 4321, 8765
	path := filepath.Join(dir, "crosses.csv")
	if err := os.Chown(path, uid, gid); err != nil {
		t.Fatal(err)
	}
	if _, err := issueOne(dir); err != nil {
		t.Fatal(err)
	}
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	if got := fmt.Sprintf("%+v", reflect.Indirect(reflect.ValueOf(info.Sys()))); !strings.Contains(got, "Uid:4321") || !strings.Contains(got, "Gid:8765") {
		t.Errorf("the file is now %s", got)
	}
}

// A registry that is a link to a folder is the folder.
func TestLinkedRegistry(t *testing.T) {
	dir := newRegistry(t, nil)
	link := filepath.Join(t.TempDir(), "orchard")
	if err := os.Symlink(dir, link); err != nil {
		t.Skip(err)
	}
	if _, err := issueOne(link); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link is %v, %v", info, err)
	}
	r, err := Open(dir)
	if err != nil || len(r.Crosses()) != 1 {
		t.Errorf("%v, %v", r, err)
	}
}
