package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
)

// jsonSeen compares values with the types that help tells of, and notes the names
// that it saw.
type jsonSeen map[string]bool

func (s jsonSeen) check(t *testing.T, at string, of reflect.Type, value any) {
	t.Helper()
	of, list := plainType(of)
	if list {
		all, ok := value.([]any)
		if !ok {
			t.Errorf("%s is no list: %v", at, value)
		}
		for _, v := range all {
			s.check(t, at, of, v)
		}
		return
	}
	ok := false
	switch jsonKind(of) {
	case "text":
		_, ok = value.(string)
	case "number":
		_, ok = value.(float64)
	case "true or false":
		_, ok = value.(bool)
	case "object":
		_, ok = value.(map[string]any)
	}
	if !ok {
		t.Errorf("%s is no %s: %v", at, jsonKind(of), value)
		return
	}
	if of.Kind() != reflect.Struct {
		return
	}
	object := value.(map[string]any)
	known := map[string]bool{}
	for _, f := range jsonFields(of) {
		known[f.name] = true
		v, there := object[f.name]
		switch {
		case there:
			s[of.Name()+"."+f.name] = true
			s.check(t, at+"."+f.name, f.of, v)
		case !f.optional:
			t.Errorf("%s lacks %s", at, f.name)
		}
	}
	for name := range object {
		if !known[name] {
			t.Errorf("%s has %s, of which help says nothing", at, name)
		}
	}
}

// Every answer in JSON is as pipstake help json says, and what that says of is
// answered.
func TestHelpTellsTheShapeOfJSON(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	demoIn(t, dir)
	orchard := filepath.Join(dir, "orchard")
	for _, args := range []string{
		"prick 2025X001-A1 --seedlings 2 --out s.pdf", "gone 2025X002-A1 --how lost --note mice", "note 2025X001-A1 slow",
		"move 2025X001-A1 --to frame", "undo", "void 2025X012-D --note gone", "stock add --paper a4 --columns 2 --rows 2 --label 70x37 --pitch 70x37 --left 10 --top 10",
		"stock adjust a4-3x8-70x37 --dx 0.5", "variety Zwillen --ploidy 3 --s-alleles S1,S2,S3", "cross 2025X001-A1-A Zwillen --year 2026",
	} {
		runs(t, orchard, strings.Fields(args)...)
	}
	writePNG(t, filepath.Join(orchard, "bags.png"), pageOf(t, filepath.Join(orchard, demoBags), 1, 150))
	log := filepath.Join(orchard, "walk.txt")
	if err := os.WriteFile(log, []byte("2025X001-A1\n2025X001-A2.X\n2099X001\n5\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	seen := jsonSeen{}
	for _, c := range []struct {
		answer int // among the answers of the command
		args   string
	}{
		{0, "variety"}, {0, "variety Zwillen"},
		{0, "scan 2025X001"}, {0, "scan 2025X001-A"}, {0, "scan 2025X001-A1"}, {0, "scan 2025X001-A1-A"}, {0, "scan 2025X002-A1"},
		{0, "scan 2099X001"}, {0, "scan 2026X001"}, {0, "scan nonsense"}, {0, "scan 2025X012-D"},
		{0, "stocktake walk.txt --of 2025X001"}, {1, "scan"}, {2, "scan --photo walk.txt"}, {2, "scan --photo bags.png"},
		{0, "due --on 2026-03-14"}, {0, "germination"}, {0, "germination --compare 2025X001,2025X003"}, {0, "yield"},
		{0, "plan --seedlings 20"}, {0, "lineage 2026X001"}, {0, "check"}, {0, "history"}, {0, "stock list"}, {0, "stock show a4-3x8-70x37"}, {0, "stock show a4-cut-30x10"},
	} {
		args := strings.Fields(c.args)
		e, stdout, _ := testEnv(t, append(args, "--json")...)
		e.cwd, e.stdin = orchard, strings.NewReader("2025X001-A1\n14\nundo\n")
		execute(e)
		out := stdout.String()
		n := c.answer
		for _, a := range jsonAnswers {
			if a.command != args[0] {
				continue
			}
			if n--; n >= 0 {
				continue
			}
			for line := range strings.Lines(out) {
				if c.args == "scan" && !strings.Contains(line, `"count"`) && !strings.Contains(line, `"undone"`) {
					continue // the pot before the counts
				}
				var value any
				if err := json.Unmarshal([]byte(line), &value); err != nil {
					t.Errorf("%s: %v: %s", c.args, err, line)
					continue
				}
				of := reflect.TypeOf(a.value)
				if all, list := value.([]any); list {
					for _, v := range all {
						seen.check(t, c.args, of, v)
					}
					continue
				}
				seen.check(t, c.args, of, value)
			}
			break
		}
	}
	checkNames(t, seen)
	for _, name := range []string{"codeFacts.text", "codeFacts.id", "codeFacts.symbology", "codeFacts.corners", "cornerFacts.x", "cornerFacts.y"} {
		if !seen[name] {
			t.Errorf("no answer had %s", name)
		}
	}
}

// checkNames compares the names that help tells of with those that were seen.
func checkNames(t *testing.T, seen jsonSeen) {
	t.Helper()
	named, told := map[string]bool{}, map[reflect.Type]bool{}
	var visit func(of reflect.Type)
	visit = func(of reflect.Type) {
		of, _ = plainType(of)
		if of.Kind() != reflect.Struct || told[of] {
			return
		}
		told[of] = true
		for _, f := range jsonFields(of) {
			named[f.name], named[of.Name()+"."+f.name] = true, true
			if jsonMeaning(of.Name(), f.name) == "" {
				t.Errorf("help does not say what %s means", f.name)
			}
			visit(f.of)
		}
	}
	for _, a := range jsonAnswers {
		of, _ := plainType(reflect.TypeOf(a.value))
		for _, f := range jsonFields(of) {
			if !f.optional && !seen[of.Name()+"."+f.name] {
				t.Errorf("%s %s did not answer with %s", a.command, a.when, f.name)
			}
		}
		visit(of)
	}
	for name := range jsonNames {
		if !named[name] {
			t.Errorf("no answer has the name %s", name)
		}
	}
}
