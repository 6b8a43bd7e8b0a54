package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"pipstake/ids"
	"pipstake/label/symbol"
	"pipstake/layout/proof/outside"
)

// linesOf are the lines of a text, with what stands in the place of one that is
// too long.
func linesOf(t *testing.T, in io.Reader) []string {
	t.Helper()
	var lines []string
	err := eachLine(in, func(line textLine) {
		if line.number != len(lines)+1 {
			t.Errorf("line %d is numbered %d", len(lines)+1, line.number)
		}
		text := line.text
		if line.tooLong != nil {
			text = "too long: " + text[:1]
		}
		lines = append(lines, text)
	})
	if err != nil {
		t.Fatal(err)
	}
	return lines
}

func TestLines(t *testing.T) {
	long := strings.Repeat("x", mostLine)
	for text, want := range map[string][]string{
		"":                             nil,
		"\n":                           {""},
		"a":                            {"a"},
		"a\r\nb\r\n":                   {"a", "b"},
		"a\rb\r":                       {"a", "b"},
		"a\n\nb":                       {"a", "", "b"},
		"a\r\r\nb\n\r":                 {"a", "", "b", ""},
		"a\x00b\n\x1b[2J\n":            {"a\x00b", "\x1b[2J"},
		long + "\nb":                   {long, "b"},
		"a\n" + long + "x\r\nb":        {"a", "too long: x", "b"},
		"a\n" + long + long + long:     {"a", "too long: x"},
		long + "x\r" + long + "x\r\nb": {"too long: x", "too long: x", "b"},
	} {
		for how, in := range map[string]io.Reader{"at once": strings.NewReader(text), "byte by byte": iotest.OneByteReader(strings.NewReader(text))} {
			if got := linesOf(t, in); strings.Join(got, "|") != strings.Join(want, "|") || len(got) != len(want) {
				t.Errorf("%.40q %s: %.60q, want %.60q", text, how, got, want)
			}
		}
	}
	broken := errors.New("broken")
	if err := eachLine(io.MultiReader(strings.NewReader("a\nb"), iotest.ErrReader(broken)), func(textLine) {}); !errors.Is(err, broken) {
		t.Errorf("a reader that fails: %v", err)
	}
}

// A line that ended in a carriage return is there before the next byte comes.
func TestLineWaitsForNoMore(t *testing.T) {
	in, out := io.Pipe()
	defer out.Close()
	defer time.AfterFunc(outside.Patience, func() { out.CloseWithError(errors.New("it waits for more")) }).Stop()
	go out.Write([]byte("2026X001\r"))
	if line, err := newLineReader(in).next(); err != nil || line.text != "2026X001" {
		t.Errorf("read %q, %v", line.text, err)
	}
}

// However a text is cut into lines, all of it but their ends is in them, and none
// holds more than it may.
func FuzzLines(f *testing.F) {
	f.Add([]byte("2026X001\r\n\r2026X002\n\x00"), uint16(3))
	f.Add([]byte("\r\n\n\r"), uint16(50))
	f.Fuzz(func(t *testing.T, text []byte, often uint16) {
		text = bytes.Repeat(text, 1+int(often)%2000)
		if len(text) > 4*mostLine {
			return
		}
		var all []byte
		tooLong := false
		numbers := 0
		err := eachLine(bytes.NewReader(text), func(line textLine) {
			all = append(all, line.text...)
			tooLong = tooLong || line.tooLong != nil
			if numbers++; line.number != numbers || len(line.text) > mostLine {
				t.Errorf("line %d has number %d and %d bytes", numbers, line.number, len(line.text))
			}
		})
		if err != nil {
			t.Fatal(err)
		}
		if want := regexp.MustCompile(`[\r\n]`).ReplaceAll(text, nil); !tooLong && !bytes.Equal(all, want) {
			t.Errorf("%d bytes came back as %d", len(want), len(all))
		}
		if lone := regexp.MustCompile(`\r\n|\r|\n`).Split(string(text), -1); numbers != len(lone) && (lone[len(lone)-1] != "" || numbers != len(lone)-1) {
			t.Errorf("%d lines, want %d", numbers, len(lone))
		}
	})
}

// badLines are kinds of a line that cost their neighbours something once, or could.
var badLines = map[string]string{
	"too long (junegunn/fzf#248: an input line over 64 KiB ends the session)": strings.Repeat("7", 3*mostLine),
	"NUL":                             strings.Repeat("\x00", 7),
	"steering":                        "\x1b[2J\x07\x9b\x1b]0;x\x07",
	"no UTF-8":                        "\xff\xfe\xfa",
	"a quote":                         `"`,
	"quotes":                          `""" "" "`,
	"a row with a quote":              `2026-05-03;"found it`,
	"U+FFFD":                          "2026X\ufffd01",
	"right to left":                   "\u202e2026X001",
	"a letter of another alphabet":    "2026Х001.E",
	"nothing but signs between cells": ";;,,\t|",
}

// A bad line in what a scanner wrote costs itself only, in every command that
// reads one, first or last, and in a table.
func TestBadLineCostsItselfOnly(t *testing.T) {
	t.Parallel()
	dir := completionSeason(t)
	pot := ids.ID{Year: 2026, Cross: 1, Lot: 1, Pot: 1}
	codes := []string{pot.WithCheck() + "/1", pot.At(ids.LotLevel).WithCheck(), pot.At(ids.CrossLevel).WithCheck()}
	log := filepath.Join(t.TempDir(), "log.txt")
	for kind, bad := range badLines {
		for at := range len(codes) + 1 {
			ends := []string{"\r\n"}
			if at == 0 {
				ends = append(ends, "\n", "\r")
			}
			for _, end := range ends {
				for _, row := range []string{"%s", "2026-05-02;%s;x", "\"a\",%s"} {
					var lines []string
					for _, code := range codes {
						lines = append(lines, fmt.Sprintf(row, code))
					}
					lines = slices.Insert(lines, at, bad)
					if err := os.WriteFile(log, []byte(strings.Join(lines, end)+end), 0o666); err != nil {
						t.Fatal(err)
					}
					about := fmt.Sprintf("%s as line %d of rows like %q that end in %q", kind, at+1, row, end)
					readsAll(t, about, dir, log, codes, row == "%s" && at < 2)
				}
			}
		}
	}
}

// readsAll fails where a command that reads a log does not find all codes in it.
func readsAll(t *testing.T, about, dir, log string, codes []string, alone bool) {
	t.Helper()
	same := func(command string, got []string) {
		if !slices.Equal(got, codes) {
			t.Errorf("%s: %s reads %q, want %q", about, command, got, codes)
		}
	}
	e, _, _ := testEnv(t)
	read, _, err := e.codesIn(log)
	if err != nil {
		t.Errorf("%s: rebuild: %v", about, err)
	}
	var got []string
	for _, p := range read {
		got = append(got, p.Compact())
	}
	same("rebuild", got)

	data, err := os.ReadFile(log)
	if err != nil {
		t.Fatal(err)
	}
	cells, err := textLines(data)
	if err != nil {
		t.Errorf("%s: stocktake: %v", about, err)
	}
	got = nil
	for _, cell := range cells {
		if p, _, err := symbol.ParseScan(cell.text); err == nil && cell.tooLong == nil {
			got = append(got, p.Compact())
		}
	}
	same("stocktake", got)
	if !alone {
		return // a hand scanner types no tables
	}
	in, err := os.Open(log)
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	e, stdout, _ := testEnv(t, "scan", "--json", "--registry", dir)
	e.stdin = in
	if got := execute(e); got != problemsSeen && got != fine {
		t.Errorf("%s: scan ends with %d", about, got)
	}
	got = nil
	for line := range strings.Lines(stdout.String()) {
		var a answerFacts
		if err := json.Unmarshal([]byte(line), &a); err != nil {
			t.Fatal(err)
		}
		if a.Status == "issued" {
			got = append(got, strings.TrimSuffix(fmt.Sprintf("%s.%s/%d", a.ID, a.Check, a.Copy), "/0"))
		}
	}
	same("scan", got)
}
