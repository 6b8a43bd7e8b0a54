package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// Each part that a room below leaves to the command line is spelled here, and
// nothing is spelled that no room asks for. What is spelled is a flag or a
// command that there is.
func TestRemediesOfAllRoomsAreSpelled(t *testing.T) {
	part := regexp.MustCompile(`"[^"\n]*?\{((?:with )?[a-z][a-z ]*)(?:: (?:%[sq] ?)+(?:on %s)?)?\}`)
	asked := map[string]bool{}
	for _, room := range []string{"ids", "label", "layout"} {
		err := filepath.WalkDir(filepath.Join("..", "..", room), func(path string, d fs.DirEntry, err error) error {
			if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			text, err := os.ReadFile(path)
			for _, line := range strings.Split(string(text), "\n") {
				if strings.HasPrefix(strings.TrimSpace(line), "//") {
					continue
				}
				for rest := line; ; {
					m := part.FindStringSubmatchIndex(rest)
					if m == nil {
						break
					}
					asked[rest[m[2]:m[3]]] = true
					rest = `"` + rest[m[1]:]
				}
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	for act := range asked {
		if remedies[act] == "" {
			t.Errorf("{%s} is not spelled", act)
		}
	}
	for act := range remedies {
		if !asked[act] {
			t.Errorf("{%s} is spelled, and no room asks for it", act)
		}
	}
	if len(asked) < 10 {
		t.Errorf("only %d parts were found", len(asked))
	}
	e, _, _ := testEnv(t)
	e.commands = commands()
	for act, words := range remedies {
		if name, ok := strings.CutPrefix(words, "pipstake "); ok {
			name, _, _ = strings.Cut(name, " ")
			if _, err := e.command(name); err != nil {
				t.Errorf("{%s}: %v", act, err)
			}
		}
	}
}
