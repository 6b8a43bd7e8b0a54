//go:build linux

package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"pipstake/layout/proof/outside"
)

// BenchmarkPair sows a pot and prints its two stakes, from the start of the
// process to the PDF on disk, by turns with the start alone (version). Times of
// a disk are in it: TMPDIR names another, such as one in memory.
func BenchmarkPair(b *testing.B) {
	p := built(b)
	p.run(b, "cross", "Larkfield Tessel", "Tarn Amber", "--on", "2026-05-01")
	p.run(b, "bags", "2026X001", "--on", "2026-11-01")
	p.run(b, "extract", "2026X001-A", "--seeds", "9999", "--on", "2026-11-02")
	var start, pair time.Duration
	for b.Loop() {
		start += p.run(b, "version").took
		pair += p.run(b, "sow", "2026X001-A", "--seeds", "7", "--on", "2027-01-14").took
	}
	b.ReportMetric(float64(start.Microseconds())/1e3/float64(b.N), "ms/start")
	b.ReportMetric(float64(pair.Microseconds())/1e3/float64(b.N), "ms/pair")
	b.ReportMetric(float64(pair)/float64(start), "×start")
}

// BenchmarkManyStakes prints 10,000 stakes again, and tells the most memory that
// the process takes.
func BenchmarkManyStakes(b *testing.B) {
	p := built(b)
	p.run(b, "cross", "Larkfield Tessel", "Tarn Amber", "--on", "2026-05-01")
	p.run(b, "bags", "2026X001", "--lots", "5", "--on", "2026-11-01")
	sow := []string{"sow", "--pots", "1000", "--on", "2027-01-14", "--dpi", "203"}
	for lot := 'A'; lot <= 'E'; lot++ {
		id := fmt.Sprintf("2026X001-%c", lot)
		p.run(b, "extract", id, "--seeds", "7000", "--on", "2026-11-02")
		sow = append(sow, id)
	}
	p.run(b, sow...)
	for _, dpi := range []string{"203", "600"} {
		b.Run(dpi+"dpi", func(b *testing.B) {
			var most int64
			for b.Loop() {
				most = max(most, p.run(b, "labels", "--batch", "2", "--dpi", dpi, "--out", "again.pdf", "--force").most)
			}
			b.ReportMetric(float64(most)/(1<<20), "MiB")
		})
	}
}

// executable is the built program and a registry for it.
type executable struct{ file, registry string }

func built(b *testing.B) executable {
	b.Helper()
	dir := b.TempDir()
	p := executable{filepath.Join(dir, "pipstake"), filepath.Join(dir, "registry")}
	build := outside.Command("go", "build", "-trimpath", "-ldflags", "-s -w", "-o", p.file, ".")
	build.Env = append(os.Environ(), "CGO_ENABLED=0")
	if out, err := build.CombinedOutput(); err != nil {
		b.Fatalf("%v: %s", err, out)
	}
	if err := os.Mkdir(p.registry, 0o777); err != nil {
		b.Fatal(err)
	}
	p.run(b, "init")
	return p
}

// spent is what a process took.
type spent struct {
	took time.Duration
	most int64 // bytes of memory
}

func (p executable) run(b *testing.B, args ...string) spent {
	b.Helper()
	c := outside.Command(p.file, args...)
	c.Dir = p.registry
	start := time.Now()
	out, err := c.CombinedOutput()
	s := spent{took: time.Since(start)}
	if err != nil {
		b.Fatalf("pipstake %s: %v: %s", strings.Join(args, " "), err, out)
	}
	s.most = c.ProcessState.SysUsage().(*syscall.Rusage).Maxrss * 1024
	return s
}
