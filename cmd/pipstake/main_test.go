package main

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"github.com/rogpeppe/go-internal/testscript"

	"pipstake/layout/proof/outside"
)

// The scripts in testdata/script run the program, except that its clock stands
// still and that it can be put into a narrow place; see confine. status and mistake
// run it within this process where they can: to start one takes as long as most
// commands. Behind exec it is a process of its own.
func TestMain(m *testing.M) {
	outside.KeepFilesInMemory()
	testscript.Main(m, map[string]func(){
		"pipstake": func() {
			e := system()
			err := scripted(e)
			if err == nil {
				err = confine()
			}
			if err != nil {
				fmt.Fprintln(os.Stderr, "cannot run for a script:", err)
				os.Exit(99)
			}
			os.Exit(int(execute(e)))
		},
	})
}

// deafTo is standard input in a script that goes to the next process, before a
// command for which none is started.
var deafTo = regexp.MustCompile(`(?m)^stdin .*\n(#.*\n|\n)*(status|mistake) [0-9]+ pipstake.*`)

// scripted sets up what a script says of the world in its variables.
func scripted(e *env) error {
	if day := e.getenv("TODAY"); day != "" {
		noon, err := time.Parse(time.DateTime, day+" 12:00:00")
		if err != nil {
			return err
		}
		e.now = func() time.Time { return noon }
	}
	if e.getenv("ON_TERMINAL") != "" { // as if it were one; see also tmux_test.go
		e.onTerminal = true
	}
	e.neighbours = e.getenv("NEIGHBOURS") != "" // scripts run side by side
	return nil
}

func TestScripts(t *testing.T) {
	t.Parallel()
	scripts, err := filepath.Glob("testdata/script/*.txtar")
	if err != nil || len(scripts) == 0 {
		t.Fatalf("no scripts: %v", err)
	}
	if testing.Short() { // a season, and some of what goes wrong
		scripts = []string{"testdata/script/season.txtar", "testdata/script/check.txtar"}
	}
	for _, script := range scripts {
		text, err := os.ReadFile(script)
		if err != nil {
			t.Fatal(err)
		}
		if lost := deafTo.Find(text); lost != nil && !bytes.Contains(text, []byte("env APART=")) {
			t.Errorf("%s: write typed in place of stdin: %q", script, lost)
		}
	}
	testscript.Run(t, testscript.Params{
		Files:               scripts,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		UpdateScripts:       os.Getenv("UPDATE_SCRIPTS") != "",
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"status":  scriptStatus,
			"mistake": scriptMistake,
			"absent":  scriptAbsent,
			"typed":   scriptTyped,
		},
		Condition: func(name string) (bool, error) {
			if name == "confined" {
				return canConfine, nil
			}
			return false, fmt.Errorf("unknown condition %q", name)
		},
		Setup: func(env *testscript.Env) error {
			env.Values[typedKey{}] = new(string)
			env.Setenv("TODAY", "2027-03-01")
			env.Setenv("PIPSTAKE_REGISTRY", "")
			env.Setenv("LF", "\n")
			env.Setenv("BEL", "\a")
			env.Setenv("FONT", filepath.Join(env.WorkDir, "..", "names.ttf"))
			if err := os.WriteFile(env.Getenv("FONT"), liberationsansregular.TTF, 0o644); err != nil {
				return err
			}
			// Another user may have to find the way in; see confine.
			return os.Chmod(filepath.Dir(env.WorkDir), 0o755)
		},
	})
}

// typedKey is under which a script keeps what is typed into the next program.
type typedKey struct{}

// scriptTyped is the standard input of the next program that status or mistake
// runs:
// typed answers.txt
func scriptTyped(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: typed file")
	}
	*ts.Value(typedKey{}).(*string) = ts.ReadFile(args[0])
}

// scriptStatus runs a program, most often this one, and compares its exit status:
// status 2 pipstake …
// This one gets a process of its own where it is confined, or APART says so.
func scriptStatus(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N program [args…]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	run := runHere
	if args[1] != "pipstake" || ts.Getenv("LARGEST_FILE")+ts.Getenv("NOT_ROOT")+ts.Getenv("APART") != "" {
		run = runApart
	}
	got, said := run(ts, args[1], args[2:])
	if got != want {
		ts.Fatalf("exit status %d, want %d\n%s", got, want, said)
	}
}

// runApart runs a program as a process of its own, and returns its exit status and
// what it complained of.
func runApart(ts *testscript.TestScript, program string, args []string) (status int, said string) {
	if *ts.Value(typedKey{}).(*string) != "" {
		ts.Fatalf("a process of its own does not see what is typed: write stdin")
	}
	if err := ts.Exec(program, args...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		status = exit.ExitCode()
	}
	return status, ts.ReadFile("stderr")
}

// runHere is runApart for this program, within this process.
func runHere(ts *testscript.TestScript, _ string, args []string) (status int, said string) {
	typed := ts.Value(typedKey{}).(*string)
	settings := ts.Getenv("XDG_CONFIG_HOME")
	if settings == "" {
		settings = filepath.Join(ts.Getenv("HOME"), ".config")
	}
	var complaints strings.Builder
	e := &env{settings: settings, args: args, getenv: ts.Getenv, cwd: ts.MkAbs("."), now: time.Now,
		stdin: strings.NewReader(*typed), stdout: ts.Stdout(), stderr: io.MultiWriter(ts.Stderr(), &complaints)}
	*typed = ""
	ts.Check(scripted(e))
	return int(execute(e)), complaints.String()
}

// scriptMistake runs a program as status does and fails where any file in the
// script's folder is not as it was.
func scriptMistake(ts *testscript.TestScript, neg bool, args []string) {
	root := ts.Getenv("WORK")
	before := snapshot(ts, root)
	scriptStatus(ts, neg, args)
	after := snapshot(ts, root)
	for name, sum := range after {
		if before[name] != sum {
			ts.Fatalf("%s was changed or made", name)
		}
		delete(before, name)
	}
	for name := range before {
		ts.Fatalf("%s is gone", name)
	}
}

// snapshot is what each file below root holds, with its mode.
func snapshot(ts *testscript.TestScript, root string) map[string]string {
	files := map[string]string{}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		sum := ""
		if info.Mode().IsRegular() {
			data, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			sum = fmt.Sprintf("%x", sha256.Sum256(data))
		}
		files[path] = info.Mode().String() + sum
		return nil
	})
	ts.Check(err)
	return files
}

// scriptAbsent fails where a file matches a pattern: absent *.tmp
func scriptAbsent(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: absent pattern")
	}
	names, err := filepath.Glob(ts.MkAbs(args[0]))
	ts.Check(err)
	if len(names) > 0 {
		ts.Fatalf("there should be no %s", strings.Join(names, ", "))
	}
}
