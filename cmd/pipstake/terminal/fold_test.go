package terminal

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"pipstake/ids/words"
)

func TestFold(t *testing.T) {
	for _, c := range []struct {
		name, line string
		columns    int
		want       []string
	}{
		{"what fits stays", "2026X012-B2  9 of 10 up", 40, []string{"2026X012-B2  9 of 10 up"}},
		{"at a space, two columns in", "notice: the pot stands in frame 2 by now", 24,
			[]string{"notice: the pot stands", "  in frame 2 by now"}},
		{"below the text of a line with a heading", "  keep  sheet 1 has room for 16 labels more than that", 40,
			[]string{"  keep  sheet 1 has room for 16 labels", "        more than that"}},
		{"a command in one piece", "hint: take it back first: pipstake undo --registry \"my orchard\"; then again", 40,
			[]string{"hint: take it back first:", "  pipstake undo --registry \"my orchard\";", "  then again"}},
		{"a long command on a row of its own, whole", "next: pipstake correct --variety \"Larkfeild Tessel\" \"Larkfield Tessel\"", 30,
			[]string{"next:", "  pipstake correct --variety \"Larkfeild Tessel\" \"Larkfield Tessel\""}},
		{"a command with quotes in quotes", `next: pipstake check --registry 'it'\''s "my" orchard'; and then`, 20,
			[]string{"next:", `  pipstake check --registry 'it'\''s "my" orchard';`, "  and then"}},
		{"a number with its percent sign", "germination stands at 85 % here", 25, []string{"germination stands at", "  85 % here"}},
		{"a long word", "see /a/very/long/path/of/an/orchard and on", 20,
			[]string{"see", "  /a/very/long/path/of/an/orchard", "  and on"}},
		{"by display width", "湖琥湖琥 湖琥湖琥 湖琥", 18, []string{"湖琥湖琥 湖琥湖琥", "  湖琥"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := fold(c.line, c.columns); !slices.Equal(got, c.want) {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

// Folding loses no word, adds none, and is no wider than it must be.
func FuzzFold(f *testing.F) {
	f.Add("hint: as it is: pipstake scan 2026X012-B2; or \"so\"", 30)
	f.Add("0 %o\xff\xff\xff\xff\x17\xff\xff\xff", 16)
	f.Add("  cut   along the lines, from edge to edge", 20)
	f.Fuzz(func(t *testing.T, line string, columns int) {
		line = words.Clean(strings.ReplaceAll(line, "\n", " "))
		columns = 10 + (columns&0x7fffffff)%100
		rows := fold(line, columns)
		if got := strings.Fields(strings.Join(rows, " ")); !slices.Equal(got, strings.Fields(line)) {
			t.Errorf("%q became %q", line, rows)
		}
		for _, row := range rows {
			breakable := strings.ReplaceAll(strings.TrimLeft(row, " "), " %", "%") // a number keeps its sign
			if words.Columns(row) > columns && strings.Contains(breakable, " ") && !command.MatchString(row) {
				t.Errorf("%q is wider than %d and could be broken", row, columns)
			}
		}
	})
}

func TestTableOnANarrowScreen(t *testing.T) {
	var text Table
	text.Row("parents", "Larkfield Tessel by Tarn Amber, in the lower orchard")
	text.Row("place", "frame 2")
	want := []string{
		"parents  Larkfield Tessel by Tarn Amber,",
		"         in the lower orchard",
		"place    frame 2",
	}
	if got := text.LinesWithin("", 40); !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}

	var figures Table
	figures.Row("cross", "flowers", "fruit", "seeds", "so far")
	figures.Row("2026X001", "120", "33", "231")
	figures.Row("2026X002", "80", "11", "77", "yes")
	want = []string{
		"cross     flowers  fruit",
		"2026X001  120      33",
		"2026X002  80       11",
		"",
		"cross     seeds  so far",
		"2026X001  231",
		"2026X002  77     yes",
	}
	if got := figures.LinesWithin("", 26); !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if got := figures.LinesWithin("", 80); !slices.Equal(got, figures.Lines("")) {
		t.Errorf("what fits was cut: %q", got)
	}
	if got := new(Table).LinesWithin("", 20); len(got) != 0 {
		t.Errorf("an empty table has lines: %q", got)
	}
}

// A voice folds where it speaks to a terminal, and nowhere else.
func TestVoiceFoldsOnATerminal(t *testing.T) {
	const said = "9 of 10 seeds have come up in the pot by now"
	var out, err bytes.Buffer
	v := NewVoice(&out, &err)
	v.Say("%s", said)
	v.Tell("%s", said)
	v.Flush()
	if out.String() != said+"\n" || err.String() != said+"\n" {
		t.Errorf("no terminal: %q, %q", out.String(), err.String())
	}
	out.Reset()
	err.Reset()
	v.columns = func() int { return 24 }
	v.screen = &screen{columns: v.columns}
	v.Say("%s", said)
	v.Tell("%s", said)
	var table Table
	table.Row("cross", "flowers", "fruit", "seeds")
	v.SayTable(&table, "")
	v.Flush()
	const folded = "9 of 10 seeds have come\n  up in the pot by now\n"
	if got, want := out.String(), folded+"cross  flowers  fruit\n\ncross  seeds\n"; got != want || err.String() != folded {
		t.Errorf("%q, %q; want %q", got, err.String(), want)
	}
}
