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
	"slices"
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
	s.types, err = s.check(nil, s.info, nil)
	return s, err
}

// check looks whether the package compiles with other texts of some files.
// Where fault is not nil it is told of each error, and does not end the check.
func (s *source) check(changed map[string][]byte, info *types.Info, fault func(file string)) (*types.Package, error) {
	var trees []*ast.File
	for _, file := range s.names {
		tree := s.trees[file]
		if text, ok := changed[file]; ok {
			var err error
			if tree, err = parser.ParseFile(s.files, file, text, 0); err != nil {
				if fault == nil {
					return nil, err
				}
				fault(file)
				tree = s.trees[file]
			}
		}
		trees = append(trees, tree)
	}
	if changed != nil {
		help, err := parser.ParseFile(s.files, helpFile, helpText(s.trees[s.names[0]].Name.Name), 0)
		if err != nil {
			return nil, err
		}
		trees = append(trees, help)
	}
	config := types.Config{Importer: s.importer}
	if fault != nil {
		config.Error = func(err error) {
			if e, ok := errors.AsType[types.Error](err); ok {
				fault(s.files.Position(e.Pos).Filename)
			}
		}
	}
	return config.Check(s.path, s.files, trees, info)
}

// compiling returns those breaks with which the package compiles, in their
// order. One break of each file is looked at at a time.
func (s *source) compiling(all []*mutant) []*mutant {
	fails := map[*mutant]bool{}
	for left := all; len(left) > 0; {
		round, texts := map[string]*mutant{}, map[string][]byte{}
		var later []*mutant
		for _, m := range left {
			if round[m.file] != nil {
				later = append(later, m)
				continue
			}
			round[m.file], texts[m.file] = m, s.render(m.file, []*mutant{m})
		}
		s.check(texts, nil, func(file string) { fails[round[file]] = true })
		left = later
	}
	return slices.DeleteFunc(slices.Clone(all), func(m *mutant) bool { return fails[m] })
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
