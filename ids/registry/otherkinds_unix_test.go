//go:build unix

package registry

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"pipstake/layout/proof/outside"
)

// A named pipe or a folder in the place of any file of the registry is refused
// as what it is, by reading and by changing, and waited for by neither
// (psviderski/uncloud#331).
func TestOtherKindsInPlaceOfFiles(t *testing.T) {
	names := append(fileNames(), lockFile, claimFile, journalFile)
	for _, name := range names {
		for kind, make := range map[string]func(path string) error{
			"a named pipe": func(path string) error { return syscall.Mkfifo(path, 0o666) },
			"a device":     func(path string) error { return os.Symlink("/dev/zero", path) },
			"a folder":     func(path string) error { return os.Mkdir(path, 0o777) },
		} {
			dir := newRegistry(t, nil)
			path := filepath.Join(dir, name)
			if err := os.RemoveAll(path); err != nil {
				t.Fatal(err)
			}
			if err := make(path); err != nil {
				t.Fatal(err)
			}
			var read, changed error
			if err := outside.Ends(func() {
				_, read = Open(dir)
				changed = Change(dir, Options{Wait: time.Minute}, func(r *Registry) error { return nil })
			}); err != nil {
				t.Fatalf("%s is %s: %v", name, kind, err)
			}
			if name == lockFile || name == claimFile { // of which reading needs none
				if read != nil {
					t.Errorf("%s is %s: %v", name, kind, read)
				}
				read = changed
			}
			for _, err := range []error{read, changed} {
				var access *AccessError
				if !errors.As(err, &access) {
					t.Fatalf("%s is %s: %v", name, kind, err)
				}
				if says := access.Error(); !strings.Contains(says, kind) && !(name == MarkerFile && kind == "a folder") {
					t.Errorf("%s is %s: %s", name, kind, says)
				}
			}
		}
	}
}
