package problem_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pipstake/ids/problem"
)

func Example() {
	sow := func(left, asked int) error {
		if asked > left {
			return problem.Use(fmt.Sprintf("%d seeds are left, and %d are asked for", left, asked), "sow fewer")
		}
		return nil
	}
	for _, p := range problem.Of(problem.In("2026X012-B", sow(3, 7))) {
		fmt.Println(p.What)
		fmt.Println("hint:", p.Remedy)
	}
	// Output:
	// 2026X012-B: 3 seeds are left, and 7 are asked for
	// hint: sow fewer
}

func TestOfTakesTheOutermostTeller(t *testing.T) {
	inner := problem.Data("pots.csv row 3 cannot be read", "mend it")
	for _, c := range []struct {
		err  error
		kind problem.Kind
		what string
	}{
		{inner, problem.OfData, "pots.csv row 3 cannot be read"},
		{fmt.Errorf("sowing: %w", inner), problem.OfData, "pots.csv row 3 cannot be read"},
		{&problem.Problem{Kind: problem.OfUse, What: "no such pot", Err: inner}, problem.OfUse, "no such pot"},
		{problem.In("the stake", inner), problem.OfData, "the stake: pots.csv row 3 cannot be read"},
		{errors.New("anything"), problem.Other, "anything"},
	} {
		got := problem.First(c.err)
		if got.Kind != c.kind || got.What != c.what {
			t.Errorf("%v is of kind %d: %q, want %d: %q", c.err, got.Kind, got.What, c.kind, c.what)
		}
	}
	if got := problem.Of(nil); got != nil {
		t.Errorf("nil has the problems %v", got)
	}
	if !errors.Is(problem.In("the stake", inner), inner) {
		t.Error("the cause is lost")
	}
}

func TestReasonLeavesPathsOut(t *testing.T) {
	_, err := os.Open(filepath.Join(t.TempDir(), "none"))
	if err == nil || problem.Reason(err) != errors.Unwrap(err).Error() {
		t.Errorf("%q", problem.Reason(err))
	}
	cause := problem.Access(err)
	if got := problem.Reason(cause); got != errors.Unwrap(err).Error() {
		t.Errorf("%q", got)
	}
}

func TestSpell(t *testing.T) {
	spell := func(act string, about []string) (string, bool) {
		switch act {
		case "with day":
			return "with --on", true
		case "extract":
			return "pipstake extract " + strings.Join(about, "|") + " --seeds N", true
		}
		return "", false
	}
	for _, c := range []struct{ remedy, want string }{
		{"give it {with day}", "give it with --on"},
		{"first: {extract: 2026X012-B}, {with day}", "first: pipstake extract 2026X012-B --seeds N, with --on"},
		{"sow fewer", "sow fewer"},
		{"look at {frost", "look at {frost"},
		{"the note {of} a {grower} {with day}", "the note {of} a {grower} with --on"},
		{"", ""},
		{`{extract: 2026X012-A 2026X012-B}`, "pipstake extract 2026X012-A|2026X012-B --seeds N"},
		{`{extract: "a } b" "c\"d: {with day}" x}!`, `pipstake extract a } b|c"d: {with day}|x --seeds N!`},
		{`{extract: "no end}`, `pipstake extract "no|end --seeds N`},
		{`{extract: a`, `{extract: a`},
	} {
		if got := problem.Spell(c.remedy, spell); got != c.want {
			t.Errorf("Spell(%q) = %q, want %q", c.remedy, got, c.want)
		}
	}
}
