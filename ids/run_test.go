package ids

import (
	"fmt"
	"testing"
)

func TestParseRun(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"2026X012-B2", "2026X012-B2"},
		{"2026x012b2.3", "2026X012-B2"},
		{"2026X003..2026X009", "2026X003 to 2026X009"},
		{"2026X003..9", "2026X003 to 2026X009"},
		{"2026X003..009", "2026X003 to 2026X009"},
		{"2026X998..1002", "2026X998 to 2026X1002"},
		{"2026x003 .. 2026x009", "2026X003 to 2026X009"},
		{"2026X012-A1..6", "2026X012-A1 to 2026X012-A6"},
		{"2026X012-A1..2026X012-A6", "2026X012-A1 to 2026X012-A6"},
		{"2026X012-A..c", "2026X012-A to 2026X012-C"},
		{"2026X012-B2-Y..AB", "2026X012-B2-Y to 2026X012-B2-AB"},
		{"2026X012-B2.3..4", "2026X012-B2 to 2026X012-B4"},
		{"2026X012-B2...4", "2026X012-B2 to 2026X012-B4"},
		{"2026X012-B2…4", "2026X012-B2 to 2026X012-B4"},
		{"2026X012-B2..2", "2026X012-B2"},
		{"2026X012-A1..1", "2026X012-A1"},
	} {
		run, _, err := ParseRun(c.text)
		got := run.First.String()
		if !run.One() {
			got += " to " + run.Last.String()
		}
		if err != nil || got != c.want {
			t.Errorf("%q: %s, %v; want %s", c.text, got, err, c.want)
		}
	}
	for _, c := range []struct{ text, want string }{
		{"2026X009..003", `identifier "2026X009..003", character 11: the run ends before it begins, at 2026X003; write "2026X003..9"`},
		{"2026X009..2027X010", `identifier "2026X009..2027X010", character 11: 2026X009 and 2027X010 do not follow one another; name two of the same year`},
		{"2026X012-A1..2026X012-B1", `identifier "2026X012-A1..2026X012-B1", character 14: 2026X012-A1 and 2026X012-B1 do not follow one another; name two of the same seed lot`},
		{"2026X012-A1..2026X012-B", `identifier "2026X012-A1..2026X012-B", character 14: the run begins with a pot and ends with a seed lot; name two of the same kind`},
		{"2026X012-A1..", `identifier "2026X012-A1..", character 14: the end of the run is no pot; write "2026X012-A1..2"`},
		{"2026X012-A1..C", `identifier "2026X012-A1..C", character 14: the end of the run is no pot; write "2026X012-A1..2"`},
		{"2026X012-A..I", `identifier "2026X012-A..I", character 13: the end of the run is no seed lot; write "2026X012-A..B"`},
		{"2026X012-B2.4..4", `identifier "2026X012-B2.4": the check character is 4, but that of 2026X012-B2 is 3; compare each character with the label`},
		{"2026X012-B1..2026X012-B2.4", `identifier "2026X012-B2.4": the check character is 4, but that of 2026X012-B2 is 3; compare each character with the label`},
		{"..4", `identifier "", character 1: nothing is there; write it like "2026X012-B2"`},
	} {
		if run, _, err := ParseRun(c.text); err == nil || err.Error() != c.want {
			t.Errorf("%q: %v, %v\nwant %s", c.text, run, err, c.want)
		}
	}
}

func TestRun(t *testing.T) {
	run, _, err := ParseRun("2026X012-A2..4")
	if err != nil {
		t.Fatal(err)
	}
	if got := fmt.Sprint(run.All(), run.Len()); got != "[2026X012-A2 2026X012-A3 2026X012-A4] 3" {
		t.Errorf("%s", got)
	}
	for id, want := range map[string]bool{"2026X012-A2": true, "2026X012-A4": true, "2026X012-A1": false, "2026X012-A5": false, "2026X012-B3": false, "2026X012-A": false, "2026X012-A3-A": false} {
		if read, err := Parse(id); err != nil || run.Holds(read.ID) != want {
			t.Errorf("%s: %v, %v", id, run.Holds(read.ID), err)
		}
	}
}

// What is read is written, and read again as the same.
func FuzzParseRun(f *testing.F) {
	for _, text := range []string{"2026X003..2026X009", "2026x012a1..6", "2026X012-B2-Y..AB", "2026X012-B2.3/1", "…", "2026X012..", "2026X99998..99999"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		run, _, err := ParseRun(text)
		if err != nil {
			return
		}
		if run.First.Level() != run.Last.Level() || run.Len() < 1 || !run.Holds(run.First) || !run.Holds(run.Last) {
			t.Fatalf("%q: %+v", text, run)
		}
		again, notices, err := ParseRun(run.String())
		if err != nil || again != run || notices != nil {
			t.Fatalf("%q: %s reads as %s, %v, %v", text, run, again, notices, err)
		}
	})
}
