package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// room is a package, as a folder below the module's, and what it may not import.
type room struct {
	folder string
	never  []string // rooms, and packages of the standard library
}

var (
	openFiles = []string{"os", "io/fs", "path/filepath"}
	theSystem = append([]string{"os/exec", "net", "net/http", "syscall"}, openFiles...)
)

// rooms are all packages, from the lowest to the highest: each may import only
// those above it in this list, and of these none that its own line forbids. A new
// package takes its place here.
var rooms = []room{
	{"ids/words", theSystem},
	{"ids/problem", []string{"os/exec", "net", "net/http"}}, // it takes errors of the theSystem apart
	{"ids/plainfile", []string{"os/exec", "net", "net/http"}},
	{"ids", theSystem},
	{"ids/registry", []string{"os/exec", "net", "net/http"}},
	{"ids/season", theSystem},
	{"ids/practice", []string{"os/exec", "net", "net/http"}},
	{"label/symbol/kind", append([]string{"ids"}, theSystem...)},
	{"label/symbol", append([]string{"ids/registry", "ids/season"}, theSystem...)},
	{"label/symbol/decode", append([]string{"ids/registry", "ids/season"}, theSystem...)},
	{"label/symbol/photo", append([]string{"ids/registry", "ids/season"}, theSystem...)},
	{"label", append([]string{"ids/registry", "ids/season"}, theSystem...)},
	{"label/reading", append([]string{"label"}, theSystem...)},
	{"layout", append([]string{"ids/registry", "ids/season", "label/reading"}, theSystem...)},
	{"layout/plot", append([]string{"label/reading", "layout"}, theSystem...)},
	{"cmd/pipstake/terminal", []string{"ids", "ids/registry", "ids/season", "label", "layout"}},
	{"cmd/pipstake/icalendar", append([]string{"ids", "ids/registry", "label", "layout"}, theSystem...)},
	{"cmd/pipstake/fieldpage/reader", append([]string{"ids", "ids/registry", "label/symbol", "label", "layout"}, theSystem...)},
	{"cmd/pipstake/fieldpage", append([]string{"label", "layout"}, "os", "os/exec", "net", "net/http")},
	{"cmd/pipstake/serve", append([]string{"ids", "ids/registry", "label", "layout", "cmd/pipstake/fieldpage", "os/exec", "syscall"}, openFiles...)},
	{"cmd/pipstake/notices", append([]string{"ids", "ids/registry", "label", "layout"}, theSystem...)},
	{"cmd/pipstake", []string{"net", "net/http", "unsafe"}},
}

// testRooms are for tests and checks: the program never imports them.
var testRooms = []string{"layout/proof", ".ci"}

// No room imports upward, and none what its sentence says that it never does.
func TestRoomsImportDownward(t *testing.T) {
	order := map[string]int{}
	for i, r := range rooms {
		order[r.folder] = i
	}
	seen := map[string]bool{}
	imports := 0
	top := filepath.Join("..", "..")
	err := filepath.WalkDir(top, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		folder, err := filepath.Rel(top, filepath.Dir(path))
		if err != nil {
			return err
		}
		folder = filepath.ToSlash(folder)
		if slices.ContainsFunc(testRooms, func(r string) bool { return folder == r || strings.HasPrefix(folder, r+"/") }) {
			return nil
		}
		at, known := order[folder]
		if !known {
			t.Errorf("%s is no room: give it a place among the rooms", folder)
			return nil
		}
		seen[folder] = true
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, text, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, spec := range file.Imports {
			imported, _ := strconv.Unquote(spec.Path.Value) // the parser has read it
			other, own := strings.CutPrefix(imported, "pipstake/")
			if slices.Contains(rooms[at].never, other) {
				t.Errorf("%s imports %s, which its room never does", path, imported)
			}
			if !own {
				continue
			}
			imports++
			if below, ok := order[other]; !ok || below >= at {
				t.Errorf("%s imports %s, which does not stand below its room", path, imported)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range rooms {
		if !seen[r.folder] {
			t.Errorf("there is no room %s any more", r.folder)
		}
	}
	if imports < 100 {
		t.Errorf("only %d imports were looked at", imports)
	}
}
