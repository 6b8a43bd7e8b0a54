package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
)

// source is a package that is to be broken.
type source struct {
	dir, path, root string // its folder, its import path and the module's folder
	files           *token.FileSet
	names           []string // of the files, whole paths
	texts           map[string][]byte
	trees           map[string]*ast.File
	importer        types.Importer
	info            *types.Info
	types           *types.Package
}

// load reads a package and what the compiler knows of its imports.
func load(name string) (*source, error) {
	out, err := exec.Command("go", "list", "-export", "-deps", "-json=Dir,ImportPath,Name,Export,GoFiles,Module,DepOnly", name).Output()
	if err != nil {
		return nil, err
	}
	s := &source{files: token.NewFileSet(), texts: map[string][]byte{}, trees: map[string]*ast.File{}}
	exports := map[string]string{}
	for decoder := json.NewDecoder(bytes.NewReader(out)); ; {
		var listed struct {
			Dir, ImportPath, Export string
			GoFiles                 []string
			DepOnly                 bool
			Module                  struct{ Dir string }
		}
		if err := decoder.Decode(&listed); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return nil, err
		}
		exports[listed.ImportPath] = listed.Export
		if listed.DepOnly {
			continue
		}
		s.dir, s.path, s.root = listed.Dir, listed.ImportPath, listed.Module.Dir
		for _, file := range listed.GoFiles {
			s.names = append(s.names, filepath.Join(s.dir, file))
		}
	}
	s.importer = importer.ForCompiler(s.files, "gc", func(path string) (io.ReadCloser, error) { return os.Open(exports[path]) })
	for _, file := range s.names {
		if s.texts[file], err = os.ReadFile(file); err != nil {
			return nil, err
		}
		if s.trees[file], err = parser.ParseFile(s.files, file, s.texts[file], 0); err != nil {
			return nil, err
		}
	}
	s.info = &types.Info{Types: map[ast.Expr]types.TypeAndValue{}}
	s.types, err = s.check("", nil, s.info)
	return s, err
}

// check looks whether the package compiles with another text of a file.
func (s *source) check(changed string, text []byte, info *types.Info) (*types.Package, error) {
	var trees []*ast.File
	for _, file := range s.names {
		tree := s.trees[file]
		if file == changed {
			var err error
			if tree, err = parser.ParseFile(s.files, file, text, 0); err != nil {
				return nil, err
			}
		}
		trees = append(trees, tree)
	}
	if changed != "" {
		help, err := parser.ParseFile(s.files, helpFile, helpText(s.trees[s.names[0]].Name.Name), 0)
		if err != nil {
			return nil, err
		}
		trees = append(trees, help)
	}
	return (&types.Config{Importer: s.importer}).Check(s.path, s.files, trees, info)
}

// compiles reports whether the package compiles with a break in it.
func (s *source) compiles(m *mutant) bool {
	_, err := s.check(m.file, s.render(m.file, []*mutant{m}), nil)
	return err == nil
}

// helpFile is added to the package; its function says which break is switched
// on, and, where MUTATE_REACH names a file, writes down the breaks it is asked
// about.
const helpFile = "mutated_by_choice.go"

func helpText(name string) string {
	return fmt.Sprintf(`package %s

import (
	mutateos "os"
	mutatestrconv "strconv"
	mutatesync "sync"
)

var (
	mutateOn, _ = mutatestrconv.Atoi(mutateos.Getenv("MUTATE"))
	mutateReach = mutateos.Getenv("MUTATE_REACH")
	mutateSeen  mutatesync.Map
)

func mutated(n int) bool {
	if mutateReach != "" {
		if _, seen := mutateSeen.LoadOrStore(n, true); !seen {
			if f, err := mutateos.OpenFile(mutateReach, mutateos.O_APPEND|mutateos.O_CREATE|mutateos.O_WRONLY, 0o666); err == nil {
				f.WriteString(mutatestrconv.Itoa(n) + "\n")
				f.Close()
			}
		}
	}
	return n == mutateOn
}
`, name)
}
