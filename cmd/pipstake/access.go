package main

import (
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"time"

	"pipstake/ids/problem"
	"pipstake/ids/registry"
)

// lockWait is how long a command waits for another one to finish with the
// registry.
const lockWait = 15 * time.Second

// registryDir finds the registry: the flag, the environment, the nearest
// folder upward.
func (e *env) registryDir(flag string) (string, error) {
	if flag != "" {
		flag = e.abs(flag)
	}
	dir, err := registry.Find(flag, e.getenv("PIPSTAKE_REGISTRY"), e.cwd)
	if err != nil {
		return "", &problem.Problem{Kind: problem.OfAccess, What: firstProblem(asAccess(err)).What, Remedy: e.whereIsIt(), Err: err}
	}
	usedBeforeIn(e.settings).remember(dir)
	return dir, nil
}

// open reads the registry.
func (e *env) open(flag string) (*registry.Registry, error) {
	dir, err := e.registryDir(flag)
	if err != nil {
		return nil, err
	}
	reading := e.Working("reading the registry", 0)
	defer reading.End()
	r, err := registry.Open(dir)
	return r, asAccess(err)
}

// change runs work on the registry and saves all that it changed, or nothing
// where it fails. It may run work again, on a registry that somebody
// else has changed meanwhile, so work starts afresh each time.
func (e *env) change(flag string, work func(r *registry.Registry) error) error {
	dir, err := e.registryDir(flag)
	if err != nil {
		return err
	}
	var worked error
	reading := e.Working("reading the registry", 0)
	saving := reading
	defer func() { saving.End() }()
	err = registry.Change(dir, registry.Options{Wait: lockWait, Command: e.commandLine(), Now: e.now(), Saved: e.keepSaved, DryRun: e.dryRun}, func(r *registry.Registry) error {
		reading.End()
		saving.End() // of a round before
		worked = work(r)
		saving = e.Working("saving the registry", 0)
		return worked
	})
	if worked != nil {
		return worked
	}
	return asAccess(err)
}

// quotedPath shows a path in quotes.
func quotedPath(path string) string { return quotedPathOn(runtime.GOOS, path) }

// quotedPathOn shows a path in quotes. On Windows its backslashes stand as they
// were typed, since names there hold no quotes that they could escape.
func quotedPathOn(goos, path string) string {
	quoted := strconv.Quote(path)
	if goos == "windows" {
		return strings.ReplaceAll(quoted, `\\`, `\`)
	}
	return quoted
}

// asAccess marks an error of the registry as one of access, unless it says
// better itself what it is.
func asAccess(err error) error {
	if err == nil || statusOf(err) != failed {
		return err
	}
	return problem.Access(err)
}

// abs is the absolute form of a path given on the command line.
func (e *env) abs(path string) string {
	if filepath.IsAbs(path) {
		return filepath.Clean(path)
	}
	return filepath.Join(e.cwd, path)
}

// registryIfAny opens the registry where there is one; it is nil where none was
// named and none is found.
func (e *env) registryIfAny(flag string) (*registry.Registry, error) {
	r, err := e.open(flag)
	if err != nil && flag == "" && e.getenv("PIPSTAKE_REGISTRY") == "" {
		if _, none := registry.Find("", "", e.cwd); none != nil {
			return nil, nil
		}
	}
	return r, err
}
