package main

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
)

// jpegFile writes a picture without codes, without its last bytes.
func jpegFile(t *testing.T, name string, lacking int) {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 200, 200))
	for i := range img.Pix {
		img.SetGray(i%200, i/200, color.Gray{Y: byte(i * i % 251)})
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, img, nil); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, out.Bytes()[:out.Len()-lacking], 0o666); err != nil {
		t.Fatal(err)
	}
}

// A photograph that the program falls over, and one that lacks its end, cost a
// line each in every command that looks at photographs, and the others are read.
func TestBadPhotographCostsItselfOnly(t *testing.T) {
	dir := completionSeason(t)
	folder := t.TempDir()
	for name, lacking := range map[string]int{"a.jpg": 0, "b.jpg": 1000, "c.jpg": 0} {
		jpegFile(t, filepath.Join(folder, name), lacking)
	}
	whole := findCodes
	defer func() { findCodes = whole }()
	first, err := os.ReadFile(filepath.Join(folder, "c.jpg"))
	if err != nil {
		t.Fatal(err)
	}
	var left atomic.Int64
	findCodes = func(data []byte) (seenOn, error) {
		if bytes.Equal(data, first) && left.Add(-1) >= 0 { // a or c, whichever is first
			var none []int
			_ = none[len(data)]
		}
		return whole(data)
	}
	const falls, cut = "pipstake falls over it, which is a fault of the program (runtime error: index out of range", "it is cut short, and only what is there was looked at"
	for _, line := range [][]string{
		{"scan", "--photo", folder},
		{"scan", "--json", "--photo", folder},
		{"stocktake", folder},
		{"rebuild", filepath.Join(folder, "new"), filepath.Join(folder, "a.jpg"), filepath.Join(folder, "b.jpg"), filepath.Join(folder, "c.jpg")},
	} {
		left.Store(1)
		status, said, errs := runIn(t, dir, line...)
		if status != problemsSeen {
			t.Errorf("%q: status %d", line, status)
		}
		for what, want := range map[string]int{falls: 1, cut: 1, "b.jpg": 1} {
			if got := strings.Count(said+errs, what); got < want || what != "b.jpg" && got != want {
				t.Errorf("%q says %q %d times: %s%s", line, what, got, said, errs)
			}
		}
	}
}

// However much is asked for, no more is handed out than there is, and everybody
// gets a turn.
func TestMemoryIsShared(t *testing.T) {
	m := newMemory(10)
	var taken, most atomic.Int64
	var all sync.WaitGroup
	for i := range 60 {
		all.Go(func() {
			need := int64(i % 13)
			giveBack := m.take(need)
			now := taken.Add(min(need, 10))
			for {
				seen := most.Load()
				if now <= seen || most.CompareAndSwap(seen, now) {
					break
				}
			}
			taken.Add(-min(need, 10))
			giveBack()
		})
	}
	all.Wait()
	if got := most.Load(); got > 10 || got < 1 {
		t.Errorf("%d were taken together", got)
	}
	if m.left != 10 {
		t.Errorf("%d are left", m.left)
	}
}
