package practice

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/season"
	"pipstake/ids/words"
)

// The file that a registry starts with says what holds without it.
func TestCommonProtocolReadsAsCommonPractice(t *testing.T) {
	text := common()
	got, err := Parse([]byte(text))
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(got.Protocol, season.CommonPractice()) || len(got.Crosses) > 0 {
		t.Errorf("%+v", got)
	}
	for _, s := range settings {
		if n := strings.Count(text, "\n"+s.key+" = "); n < 1 {
			t.Errorf("%s is not in the file", s.path())
		}
	}
	if !strings.Contains(text, "common practice") {
		t.Error("the file does not say where its values are from")
	}
	for _, line := range strings.Split(text, "\n") {
		if n := words.Columns(line); n > 80 {
			t.Errorf("a line of %d columns: %q", n, line)
		}
	}
}

// The examples in the file's comments hold as they stand.
func TestCommentedExamplesOfTheProtocol(t *testing.T) {
	var lines []string
	for _, line := range strings.Split(tail, "\n") {
		if bare := strings.TrimPrefix(line, "# "); strings.HasPrefix(bare, "[") || strings.Contains(bare, " = ") {
			lines = append(lines, bare)
		}
	}
	got, err := Parse([]byte(common() + strings.Join(lines, "\n")))
	if err != nil {
		t.Fatal(err)
	}
	if got.Labels.OnStock["a4-cut-148x20"] != 730 || got.For(ids.ID{Year: 2026, Cross: 12}).Cold != (season.Cold{LeastDays: 60, MostDays: 90, Celsius: 4}) {
		t.Errorf("%+v", got)
	}
}

func TestProtocolPerCross(t *testing.T) {
	got, err := Parse([]byte("\ufeff# a comment\r\n[cold]\r\nleast_days = 40\r\n\r\n" +
		"[cross.2026X012]\r\nsowing = { from = \"11-15\", to = \"02-29\", depth_cm = 2 }\r\ncold.celsius = 3.5\r\n" +
		"[cross.2026X012.labels.outdoor_days_on]\r\n\"roll-57x32\" = 90\r\n"))
	if err != nil {
		t.Fatal(err)
	}
	own := got.For(ids.ID{Year: 2026, Cross: 12, Lot: 1})
	want := season.CommonPractice()
	want.Cold.LeastDays = 40 // what holds for all holds here too
	if !reflect.DeepEqual(got.Protocol, want) {
		t.Errorf("all: %+v", got.Protocol)
	}
	want.Sowing.Season = season.Window{From: season.MonthDay{Month: time.November, Day: 15}, To: season.MonthDay{Month: time.February, Day: 29}}
	want.Sowing.DepthCM, want.Cold.Celsius = 2, 3.5
	want.Labels.OnStock = map[string]int{"roll-57x32": 90}
	if !reflect.DeepEqual(own, want) {
		t.Errorf("the cross: %+v", own)
	}
}

func TestBadProtocols(t *testing.T) {
	for _, c := range []struct{ text, what, hint string }{
		{"[cold]\nleast_days = 0\n", `protocol.toml line 2, cold.least_days "0": this is no value for it`, "write a whole number of days from 1 to 365"},
		{"[cold]\n\nleast_days = 30.5", `protocol.toml line 3, cold.least_days "30.5": this is no value for it`, "write a whole number of days from 1 to 365"},
		{"[cold]\nleast_days = \"30\"", `protocol.toml line 2, cold.least_days "30": this is no value for it`, "write a whole number of days from 1 to 365"},
		{"cold.celsius = nan", `protocol.toml line 1, cold.celsius "NaN": this is no value for it`, "write a number of degrees Celsius from -5 to 15"},
		{"[germination]\nexpected_percent = 101", `protocol.toml line 2, germination.expected_percent "101": this is no value for it`, "write a number of percent from 1 to 100"},
		{"[germination]\nexpected_percent = true", `protocol.toml line 2, germination.expected_percent "true": this is no value for it`, "write a number of percent from 1 to 100"},
		{"[sowing]\nfrom = \"2026-12-01\"", `protocol.toml line 2, sowing.from "2026-12-01": this is no value for it`, `write month and day in quotes, such as "12-01"`},
		{"[sowing]\nfrom = 12-01", `protocol.toml line 2, character 10`, "write a key, =, and a value: a number, or a text in quotes"},
		{"[sowing]\nfrom = \"02-30\"", `protocol.toml line 2, sowing.from "02-30": this is no value for it`, `write month and day in quotes, such as "12-01"`},
		{"[bag]\nmaterial = \"\"", `protocol.toml line 2, bag.material "": this is no value for it`, "write a text of one line in quotes, of 60 characters at most"},
		{"[bag]\nmaterial = \"a\\u001b[2J\"", `protocol.toml line 2, bag.material "a\x1b[2J": this is no value for it`, "write a text of one line in quotes, of 60 characters at most"},
		{"[cold]\nleast_day = 30", `protocol.toml line 2, cold.least_day "30": there is no such key`, "did you mean cold.least_days?"},
		{"[cold]\nwarmth = 30", `protocol.toml line 2, cold.warmth "30": there is no such key`, "the keys of [cold] are least_days, most_days and celsius"},
		{"\n[colds]\n", `protocol.toml line 2, colds: there is no such table`, "did you mean [cold]?"},
		{"[weather]\n", `protocol.toml line 1, weather: there is no such table`, "the tables are disinfecting, soaking, bag, cold, sowing, emergence, germination, fruit, labels and passport"},
		{"cold = 3", `protocol.toml line 1, cold "3": there is no such key`, "the keys of [cold] are least_days, most_days and celsius"},
		{"[cold]\nleast_days = 30\nleast_days = 40", `protocol.toml line 3, character 1, least_days`, "write a key, =, and a value: a number, or a text in quotes"},
		{"[cold]\nleast_days = 70", `protocol.toml line 2, cold.least_days "70": least_days is 70 and most_days is 60`, "make the first the smaller one"},
		{"[soaking]\nhours = 12", `protocol.toml line 2, soaking.hours "12": the water is changed every 24 hours, but the soak lasts 12`, "make the first the smaller one"},
		{"[cross.2026X35.cold]\nleast_days = 30", `protocol.toml line 1, cross.2026X35.cold: "2026X35"`, "name the cross as its label does: [cross.2026X012.cold]"},
		{"[cross.2026X012-A.cold]\nleast_days = 30", `protocol.toml line 1, cross.2026X012-A.cold: this is not how a cross is written`, "write [cross.2026X012]"},
		{"[cross.2026X012.cold]\nmost_days = 20", `protocol.toml line 2, cross.2026X012.cold.most_days "20": least_days is 30 and most_days is 20`, "make the first the smaller one"},
		{"[cross.2026X012.cold]\nmost_days = 0", `protocol.toml line 2, cross.2026X012.cold.most_days "0": this is no value for it`, "write a whole number of days from 1 to 730"},
		{"[labels.outdoor_days_on]\n\"a4-cut-148x20\" = -1", `protocol.toml line 2, labels.outdoor_days_on.a4-cut-148x20 "-1": this is no value for it`, "write a whole number of days from 1 to 36500"},
		{"[[cold]]\nleast_days = 30", `protocol.toml line 1, cold: each table stands once`, "write [cold]"},
		{"[cold]\nleast_days = 0\nmost_days = 0\nfoo = 1", `protocol.toml line 2, cold.least_days "0": this is no value for it (2 more values are wrong)`, "write a whole number of days from 1 to 365"},
	} {
		_, err := Parse([]byte(c.text))
		if err == nil || problem.First(err).Kind != problem.OfData {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		r := problem.First(err)
		if !strings.HasPrefix(r.What, c.what) || c.hint != "" && !strings.HasPrefix(r.Remedy, c.hint) {
			t.Errorf("%q:\n%s\n%s\nwant\n%s\n%s", c.text, r.What, r.Remedy, c.what, c.hint)
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add(common())
	f.Add("[cross.2026X012]\nsowing = { from = \"11-15\", depth_cm = 2 }\n")
	f.Add("[[cold]]\nleast_days = [1, {a = 2}]\n\"\" = 1\n")
	f.Fuzz(func(t *testing.T, text string) {
		p, err := Parse([]byte(text))
		if err != nil {
			if problem.First(err).Kind != problem.OfData {
				t.Errorf("%q: %v", text, err)
			}
			return
		}
		for _, own := range append([]season.Protocol{p.Protocol}, p.For(ids.ID{Year: 2026, Cross: 12})) {
			if own.Cold.LeastDays > own.Cold.MostDays || own.Soaking.ChangeHours < 1 || own.Germination.Expected > 100 || own.Fruit.LeastSeeds < 1 {
				t.Errorf("%q gives %+v", text, own)
			}
		}
	})
}

func TestProtocolIsNeverOverwritten(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, File)
	if err := os.WriteFile(path, []byte("# mine\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if wrote, err := Create(dir); wrote || err != nil {
		t.Errorf("%v, %v", wrote, err)
	}
	if got, _ := os.ReadFile(path); string(got) != "# mine\n" {
		t.Errorf("it is now %q", got)
	}
}
