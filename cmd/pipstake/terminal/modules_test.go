package terminal

import (
	"bytes"
	"strings"
	"testing"
)

// pattern is a square with nothing alike about its sides, of an odd size.
var pattern = []string{
	"##.#.",
	".#..#",
	"#####",
	"...#.",
	"#.#..",
}

// drawn returns a voice on a terminal of so many columns, and what it writes.
func drawn(columns int, paints bool) (v *Voice, out *bytes.Buffer) {
	out = &bytes.Buffer{}
	voice := NewVoice(out, &bytes.Buffer{})
	voice.columns, voice.paints = func() int { return columns }, paints
	return &voice, out
}

// The modules stand there as they are, two rows a line, with their border: dark on
// a white ground that is set for each line, or light on a ground that is dark.
func TestModulesAreDrawn(t *testing.T) {
	dark := func(x, y int) bool { return pattern[y][x] == '#' }
	const border = 2
	for _, paints := range []bool{true, false} {
		v, out := drawn(9, paints)
		if !v.SayModules(5, border, dark) {
			t.Fatal("it is not drawn")
		}
		if err := v.Flush(); err != nil {
			t.Fatal(err)
		}
		var rows []string
		for line := range strings.Lines(out.String()) {
			line = strings.TrimSuffix(line, "\n")
			if strings.HasPrefix(line, "\x1b[30;47;107m") != paints || strings.HasSuffix(line, "\x1b[0m") != paints {
				t.Errorf("painted %v: the line is %q", paints, line)
			}
			line = strings.TrimSuffix(strings.TrimPrefix(line, "\x1b[30;47;107m"), "\x1b[0m")
			upper, lower := "", ""
			for _, c := range line {
				for half, drawnBy := range map[*string]string{&upper: "▀█", &lower: "▄█"} {
					if strings.ContainsRune(drawnBy, c) == paints {
						*half += "#"
					} else {
						*half += "."
					}
				}
			}
			rows = append(rows, upper, lower)
		}
		empty := strings.Repeat(".", 9)
		want := []string{empty, empty}
		for _, row := range pattern {
			want = append(want, ".."+row+"..")
		}
		want = append(want, empty, empty, empty) // the last one completes its line
		if got := strings.Join(rows, "\n"); got != strings.Join(want, "\n") {
			t.Errorf("painted %v: drawn is\n%s", paints, got)
		}
	}
}

// Nothing is drawn where it has no room, or where there is no terminal.
func TestModulesNeedRoom(t *testing.T) {
	v, out := drawn(8, true)
	if v.SayModules(5, 2, func(int, int) bool { return true }) {
		t.Error("nine columns are drawn in eight")
	}
	v.columns = nil
	if v.SayModules(5, 2, func(int, int) bool { return true }) {
		t.Error("it is drawn into a file")
	}
	if v.Flush(); out.Len() > 0 {
		t.Errorf("there is %q", out)
	}
}
