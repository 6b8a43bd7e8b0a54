//go:build unix

package plainfile

import (
	"errors"
	"net"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"pipstake/layout/proof/outside"
)

// Each of these would keep a program waiting, or feed it for ever
// (psviderski/uncloud#331: a named pipe where a file is expected).
func TestNoFileIsOpenedThatIsNone(t *testing.T) {
	dir := t.TempDir()
	pipe, socket, link := filepath.Join(dir, "pipe"), filepath.Join(dir, "socket"), filepath.Join(dir, "link")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	l, err := net.Listen("unix", socket)
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	if err := os.Symlink(pipe, link); err != nil {
		t.Fatal(err)
	}
	for path, kind := range map[string]string{pipe: "a named pipe", socket: "a socket", link: "a named pipe", "/dev/zero": "a device", dir: "a folder"} {
		var opened, streamed, read error
		if err := outside.Ends(func() {
			_, opened = Open(path)
			_, streamed = OpenStream(path)
			_, read = Read(path, 100)
		}); err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		for _, err := range []error{opened, streamed, read} {
			var what *KindError
			if !errors.As(err, &what) || what.Kind != kind {
				t.Errorf("%s: %v, want %s", path, err, kind)
			}
		}
	}
}

// What a shell hands over is read though it is a pipe.
func TestOpenStreamTakesWhatAShellHasOpened(t *testing.T) {
	if !handedOver("/dev/fd/63") || !handedOver("/dev/stdin") || handedOver("/dev/zero") || handedOver("/dev/fd/../zero") {
		t.Error("it is not told what a shell has opened")
	}
}

func TestReadKeepsToItsSize(t *testing.T) {
	path := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(path, []byte("2026X012"), 0o600); err != nil {
		t.Fatal(err)
	}
	if data, err := Read(path, 8); err != nil || string(data) != "2026X012" {
		t.Errorf("%q, %v", data, err)
	}
	var size *SizeError
	if _, err := Read(path, 7); !errors.As(err, &size) || !strings.Contains(err.Error(), path) {
		t.Errorf("7 bytes at most: %v", err)
	}
	if _, err := Read(path+"2", 8); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("no file: %v", err)
	}
}
