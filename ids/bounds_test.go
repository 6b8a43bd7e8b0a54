package ids_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"pipstake/ids"
)

// atTheBounds are identifiers of all levels with the least and the largest of their
// numbers.
func atTheBounds() []ids.ID {
	var all []ids.ID
	for _, year := range []int{1000, 2026, 9999} {
		for _, cross := range []int{1, 9, 10, 99, 100, 999, 1000, 99999} {
			id := ids.ID{Year: year, Cross: cross}
			all = append(all, id)
			for _, lot := range []int{1, 8, 9, 13, 14, 24, 25, 600} {
				all = append(all, id.Child(lot))
				for _, pot := range []int{1, 9, 10, 9999} {
					all = append(all, id.Child(lot).Child(pot))
					for _, seedling := range []int{1, 24, 25, 600} {
						all = append(all, id.Child(lot).Child(pot).Child(seedling))
					}
				}
			}
		}
	}
	return all
}

// What is written reads again, as exact, with nothing folded and nothing guessed;
// typed in any other way it is the same identifier, and not exact.
func TestWrittenReadsAgain(t *testing.T) {
	for _, id := range atTheBounds() {
		text := id.String()
		if r, err := ids.Parse(text); err != nil || r.ID != id || !r.Exact || r.Checked || r.Guessed || r.Notices != nil {
			t.Errorf("%s: %+v, %v", text, r, err)
		}
		for _, other := range []string{strings.ToLower(text), text + " ", strings.ReplaceAll(text, "-", ""), id.WithCheck()} {
			r, err := ids.Parse(other)
			if err != nil || r.ID != id || r.Guessed || r.Exact != (other == text) || r.Checked != strings.Contains(other, ".") {
				t.Errorf("%s: %+v, %v", other, r, err)
			}
		}
	}
}

// A letter in the place of a digit is a guess, unless the check character confirms
// it. A small l is the digit where one must stand.
func TestGuessedDigits(t *testing.T) {
	id := ids.ID{Year: 2011, Cross: 101, Lot: 1, Pot: 10}
	if r, err := ids.Parse("2026x012b2l"); err != nil || r.ID.String() != "2026X012-B2-L" || r.Guessed {
		t.Errorf("a letter where one may stand: %+v, %v", r, err)
	}
	for text, guessed := range map[string]bool{
		"20l1X101-A10": true, "2O11X101-A10": true, "2011XlO1-A10": true, "2011X101-AIO": true, "2011X101-A10": false,
		"20l1X101-A10." + string(id.Check()): false, "2011X101-A1O." + string(id.Check()): false,
	} {
		if r, err := ids.Parse(text); err != nil || r.ID != id || r.Guessed != guessed {
			t.Errorf("%s: %+v, %v", text, r, err)
		}
	}
}

// A wrong check character is refused whatever the right one is, but for the twins
// O and 0, I and 1, and a small l for 1.
func TestEveryWrongCheckCharacter(t *testing.T) {
	seen := map[byte]bool{}
	for n := 1; len(seen) < 36; n++ {
		id := ids.ID{Year: 2026, Cross: n}
		want := id.Check()
		if seen[want] {
			continue
		}
		seen[want] = true
		for _, got := range "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZl" {
			twins := map[string]bool{"0O": true, "O0": true, "1I": true, "I1": true, "1l": true, "Ll": true}
			right := byte(got) == want || twins[string(want)+string(got)]
			_, err := ids.Parse(id.String() + "." + string(got))
			if (err == nil) != right || err != nil && !errors.As(err, new(*ids.CheckError)) {
				t.Errorf("%s with %c, where %c is right: %v", id, got, want, err)
			}
		}
	}
}

// Full-width forms are read, and so are their dashes and full stops; what stands
// beside them in Unicode is not. A text may have 200 bytes, spaces among them.
func TestWideAndLongTexts(t *testing.T) {
	for text, ok := range map[string]bool{
		"２０２６Ｘ０１２－Ｂ２．３": true, "２０２６ｘ０１２ｂ２": true, "2026X012\uff00": false, "2026X012\uff01": false, "2026X012\uff5e": false, "2026X012\uff5f": false, "2026X012\u0080": false,
		"2026X012" + strings.Repeat(" ", 192): true, "2026X012" + strings.Repeat(" ", 193): false,
	} {
		if r, err := ids.Parse(text); (err == nil) != ok || ok && r.ID.At(ids.CrossLevel) != (ids.ID{Year: 2026, Cross: 12}) {
			t.Errorf("%q: %+v, %v", text, r, err)
		}
	}
}

// The remedy for a cross of too few digits is written out, also for none but zeros.
func TestRemediesForTooFewDigits(t *testing.T) {
	for text, want := range map[string]string{"2026X00": `write "2026X001"`, "2026X0": `write "2026X001"`, "2026X2": `write "2026X002"`, "2026X12": `write "2026X012"`} {
		var wrong *ids.ParseError
		if _, err := ids.Parse(text); !errors.As(err, &wrong) || wrong.Remedy != want {
			t.Errorf("%s: %v, want %s", text, err, want)
		}
	}
}

// Problems say where in a text the fault is, where it is in one place.
func TestProblemsNameTheCharacter(t *testing.T) {
	for text, want := range map[string]string{"2026Y012": "2026Y012, character 5: ", "Y026X012": "Y026X012, character 1: ", strings.Repeat("2", 201): "22…: "} {
		var wrong *ids.ParseError
		if _, err := ids.Parse(text); !errors.As(err, &wrong) {
			t.Fatalf("%s: %v", text, err)
		}
		told := wrong.Problems()
		if len(told) != 1 || !strings.Contains(strings.ReplaceAll(told[0].What, `"`, ""), want) || strings.Contains(told[0].What, "character 0") {
			t.Errorf("%s: %+v, want %q", text, told, want)
		}
	}
}

// A year is digits alone, wherever a letter stands in it.
func TestLettersInAYear(t *testing.T) {
	for _, text := range []string{"A026X012", "2A26X012", "20A6X012", "202AX012", "20-6X012"} {
		if r, err := ids.Parse(text); err == nil {
			t.Errorf("%s: %+v", text, r)
		}
	}
}

// What is said across a bench has up to three digits, or five behind an X, and
// letters that are no year cut short.
func TestShortAtTheBounds(t *testing.T) {
	for text, want := range map[string]string{
		"999-A": "2026X999-A", "1000-A": "", "X99999-A": "2026X99999-A", "X00001-A": "2026X001-A", "X000001-A": "", "X100000": "", "X0": "", "X1": "2026X001",
		"26X": "2026X026-X", "26X-1": "2026X026-X-1", "26X0": "", "26X9": "", "26XA": "2026X026-XA", "12Z": "2026X012-Z", "12-AZ9": "2026X012-AZ9", "x 12 b": "2026X012-B", "× 12": "2026X012", "XX12": "", "X×12": "",
	} {
		got := ""
		if s, ok := ids.ParseShort(text); ok {
			got = s.In(2026)
		}
		if got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

// The end of a run may be a number or letters alone, with spaces around them; too
// long a one is none.
func TestEndsOfRuns(t *testing.T) {
	for text, want := range map[string]string{
		"2026X012-A1.. 6": "2026X012-A1..6", "2026X012-A1 .. 6 ": "2026X012-A1..6", "2026X012-A1..9999": "2026X012-A1..9999", "2026X012-A1..10000": "", "2026X012-A1..00006": "2026X012-A1..6", "2026X012-A1..000006": "",
		"2026X003..99999": "2026X003..99999", "2026X003..100000": "", "2026X012-A..ZZ": "2026X012-A..ZZ", "2026X012-A..ABC": "", "2026X012-A1..0": "", "2026X012-B2-A..b": "2026X012-B2-A..B", "2026X012-B2-A..": "",
		"2026X012-A..2026X012-C": "2026X012-A..C", "2026X012-A1..2026X012-A3.": "",
	} {
		run, _, err := ids.ParseRun(text)
		got := ""
		if err == nil {
			got = run.String()
		}
		if got != want {
			t.Errorf("%q: %q (%v), want %q", text, got, err, want)
		}
	}
}

// Numbers are issued from the first year of four digits to the last, and up to the
// most of each level.
func TestNumbersThatCanBeIssued(t *testing.T) {
	for year, ok := range map[int]bool{999: false, 1000: true, 9999: true, 10000: false} {
		if id, err := ids.NextCross(year, nil); (err == nil) != ok || ok && id != (ids.ID{Year: year, Cross: 1}) {
			t.Errorf("%d: %v, %v", year, id, err)
		}
	}
	for level, most := range map[ids.Level]int{ids.NoLevel: 0, ids.CrossLevel: 99999, ids.LotLevel: 600, ids.PotLevel: 9999, ids.SeedlingLevel: 600, ids.SeedlingLevel + 1: 0} {
		if name := level.String(); (level > ids.SeedlingLevel) != (name == fmt.Sprintf("level %d", int(level))) {
			t.Errorf("level %d is called %s", int(level), name)
		}
		if got := level.Most(); got != most {
			t.Errorf("%s: at most %d, want %d", level, got, most)
		}
	}
	if name := ids.Level(-1).String(); name != "level -1" {
		t.Errorf("level -1 is called %s", name)
	}
	parent := ids.ID{Year: 2026}
	for range 4 {
		most := (parent.Level() + 1).Most()
		next := func(last int) (ids.ID, error) {
			if parent.Level() == ids.NoLevel {
				return ids.NextCross(parent.Year, []ids.ID{parent.Child(last)})
			}
			return ids.NextChild(parent, []ids.ID{parent.Child(last)})
		}
		if id, err := next(most - 1); err != nil || id.Ordinal() != most {
			t.Errorf("the last below %v: %v, %v", parent, id, err)
		}
		if id, err := next(most); err == nil {
			t.Errorf("beyond the last below %v: %v", parent, id)
		}
		parent = parent.Child(1)
	}
	if _, err := ids.NextChild(parent, nil); err == nil || !strings.Contains(fmt.Sprint(err), "seedling") {
		t.Errorf("below a seedling: %v", err)
	}
}
