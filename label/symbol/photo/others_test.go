package photo_test

import (
	"encoding/json"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"pipstake/layout/proof/outside"
)

// reader is another program that reads codes.
type reader struct {
	name string
	args []string // those that restrict it to the kinds in use
}

// otherReaders are the programs of Debian for comparison. A current zxing-cpp
// comes with the npm package zxing-wasm; the variable ZXING_WASM names the
// folder in whose node_modules it lies.
var otherReaders = []reader{
	{"ZXingReader", []string{"-1", "-format", "QRCode,DataMatrix"}},
	{"zbarimg", []string{"-q", "--raw", "-Sdisable", "-Sqrcode.enable"}},
	{"dmtxread", []string{"-n", "-m", "5000"}},
	{"zxing-wasm", nil},
}

// readBy gives the texts that another reader finds, and the processor time that
// it took; false where it is not installed.
func readBy(tb testing.TB, r reader, file string) ([]string, time.Duration, bool) {
	tb.Helper()
	if r.name == "zxing-wasm" {
		return readByWasm(tb, file)
	}
	if _, err := exec.LookPath(r.name); err != nil {
		if os.Getenv("CI") == "true" {
			tb.Fatal(err)
		}
		return nil, 0, false
	}
	command := outside.Command(r.name, append(r.args, file)...)
	out, err := command.Output() // an error where there is no code
	if _, ran := err.(*exec.ExitError); err != nil && !ran {
		tb.Fatal(err)
	}
	var texts []string
	for line := range strings.Lines(string(out)) {
		line = strings.TrimSuffix(line, "\n")
		if first, last := strings.IndexByte(line, '"'), strings.LastIndexByte(line, '"'); first < last {
			line = line[first+1 : last] // ZXingReader quotes the text
		}
		texts = append(texts, line)
	}
	return texts, command.ProcessState.UserTime() + command.ProcessState.SystemTime(), true
}

// readByWasm reads with a current zxing-cpp; false where none is named.
func readByWasm(tb testing.TB, file string) ([]string, time.Duration, bool) {
	tb.Helper()
	folder := os.Getenv("ZXING_WASM")
	if folder == "" {
		return nil, 0, false
	}
	out, err := outside.Command("node", "testdata/zxing.mjs", folder, file).Output()
	if err != nil {
		tb.Fatalf("node testdata/zxing.mjs: %v", err)
	}
	var found struct {
		Texts []string
		MS    float64
	}
	if err := json.Unmarshal(out, &found); err != nil {
		tb.Fatalf("node testdata/zxing.mjs wrote %q: %v", out, err)
	}
	return found.Texts, time.Duration(found.MS * float64(time.Millisecond)), true
}
