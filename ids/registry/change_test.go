package registry

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"pipstake/ids"
)

// issueEnv names a registry for a child process of the test to issue crosses
// in; its standard output lists them.
const issueEnv = "PIPSTAKE_TEST_ISSUE"

func TestMain(m *testing.M) {
	if dir := os.Getenv(issueEnv); dir != "" {
		for range 20 {
			id, err := issueOne(dir)
			if err != nil {
				fmt.Fprintln(os.Stderr, err)
				os.Exit(1)
			}
			fmt.Println(id)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

func issueOne(dir string) (ids.ID, error) {
	var id ids.ID
	err := Change(dir, Options{Wait: time.Minute}, func(r *Registry) error {
		c, err := r.AddCross(NewCross{SeedParent: "Larkfield Russet", PollenParent: "Tarn Amber", Year: 2026})
		id = c.ID
		return err
	})
	return id, err
}

// Goroutines and processes that issue crosses at once get different ones, and
// none is lost.
func TestIssuingAtOnce(t *testing.T) {
	dir := newRegistry(t, nil)
	var mu sync.Mutex
	var issued []string
	note := func(id string) {
		mu.Lock()
		defer mu.Unlock()
		issued = append(issued, id)
	}
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			for range 10 {
				id, err := issueOne(dir)
				if err != nil {
					t.Error(err)
					return
				}
				note(id.String())
			}
		})
		wg.Go(func() {
			child := exec.Command(os.Args[0])
			child.Env = append(os.Environ(), issueEnv+"="+dir)
			child.Stderr = os.Stderr
			out, err := child.Output()
			if err != nil {
				t.Error(err)
			}
			for lines := bufio.NewScanner(strings.NewReader(string(out))); lines.Scan(); {
				note(lines.Text())
			}
		})
	}
	stop := make(chan struct{})
	reader := make(chan error, 1)
	go func() { // reads all the while, and never half a commit
		for {
			if _, err := Open(dir); err != nil {
				reader <- err
				return
			}
			select {
			case <-stop:
				reader <- nil
				return
			default:
			}
		}
	}()
	wg.Wait()
	close(stop)
	if err := <-reader; err != nil {
		t.Error(err)
	}
	slices.Sort(issued)
	if n := len(slices.Compact(slices.Clone(issued))); len(issued) != 120 || n != 120 {
		t.Errorf("%d identifiers were issued, %d of them different; want 120", len(issued), n)
	}
	r, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(r.Crosses()); n != 120 || r.Crosses()[119].ID.String() != "2026X120" {
		t.Errorf("%d crosses are recorded, the last is %s", n, r.Crosses()[n-1].ID)
	}
	if found := r.Check(); len(found) > 0 {
		t.Errorf("%v", found)
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
