package main

import (
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// contents are the files below a folder, by their paths, but for locks.
func contents(t *testing.T, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || d.Name() == ".lock" {
			return err
		}
		text, err := os.ReadFile(path)
		files[filepath.ToSlash(path[len(dir):])] = string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// With --dry-run each command that records something says what it says without,
// and changes nothing. The others do not take it, since they change nothing.
func TestDryRunChangesNothing(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	t.Parallel()
	season := endingsSeason(t)
	// run returns what a command says, and whether it changed the registry or the
	// folder that it ran in.
	run := func(t *testing.T, args ...string) (got status, said, told string, changed bool) {
		registry := endingsRegistry(t, season, args[0])
		e, stdout, stderr := testEnv(t, args...)
		e.getenv = func(name string) string { return map[string]string{"PIPSTAKE_REGISTRY": registry}[name] }
		endingsFiles(t, season, e.cwd)
		here, there := contents(t, e.cwd), contents(t, registry)
		got = execute(e)
		changed = !maps.Equal(here, contents(t, e.cwd)) || !maps.Equal(there, contents(t, registry))
		return got, notNaming(registry, stdout.String()), notNaming(registry, stderr.String()), changed
	}
	for _, c := range commands() {
		if slices.Contains([]string{"demo", "init", "help"}, c.name) {
			continue // they make a registry, or take no flags
		}
		t.Run(c.name, func(t *testing.T) {
			args := append([]string{c.name}, endings[c.name]...)
			if other := endingsRecording[c.name]; other != nil {
				args = append([]string{c.name}, other...)
			}
			was, said, told, changed := run(t, args...)
			got, saidDry, toldDry, changedDry := run(t, append(args, "--dry-run")...)
			if !c.records {
				if got != wrongUsage || !strings.Contains(toldDry, "--dry-run") {
					t.Errorf("--dry-run: status %d, %s", got, toldDry)
				}
				return
			}
			if !changed {
				t.Fatalf("%q changes nothing: %s%s", args, said, told)
			}
			if changedDry {
				t.Error("a dry run changes something")
			}
			const first = "dry run: nothing below is recorded, and no file is written\n"
			if c.name == "check" { // what is still to be mended is still found
				if !strings.HasPrefix(saidDry, first) || !strings.Contains(toldDry, "1 cell would be mended\n") {
					t.Errorf("says\n%s\n%s", saidDry, toldDry)
				}
				return
			}
			said = first + said
			would := strings.NewReplacer("would be merged", "merged", "would be taken back", "taken back")
			if got != was || would.Replace(saidDry) != said {
				t.Errorf("status %d, says\n%s\n%s\nwithout --dry-run it is %d:\n%s", got, saidDry, toldDry, was, said)
			}
		})
	}
}
