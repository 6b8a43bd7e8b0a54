package main

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"pipstake/ids/practice"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
)

var initCommand = command{
	name:      "init",
	summary:   "start a new registry",
	arguments: "[DIR]",
	help: `A registry is a folder of tables (CSV files) that a spreadsheet opens. It says
which crosses, seed lots, pots and labels exist. Keep one registry for all of
your seasons, in a folder that is backed up. Beside the tables, protocol.toml
holds how you raise seedlings: soaking, cold, sowing, what is expected to come
up. It starts out as common practice; edit it to your own.

Other commands use the registry of the folder they run in, or of the nearest
folder above it.

A folder inside or beside another registry is refused, since it is hardly ever
meant: one registry holds all seasons.

  pipstake init                  in this folder
  pipstake init ~/breeding       in another one, which is made where needed
  pipstake init ~/trials --another`,
	define: func(f *flags) action {
		another := f.onOff("another", "make it inside or beside another registry all the same")
		return func(e *env, args []string) error {
			dir := e.cwd
			if len(args) > 0 {
				dir = e.abs(args[0])
			}
			if !*another {
				if err := e.alone(dir); err != nil {
					return err
				}
			}
			e.there = strings.Join(args, "")
			return e.initialise(dir)
		}
	},
}

// alone refuses a folder for a new registry that is inside or beside another one.
func (e *env) alone(dir string) error {
	refuse := func(where, other string) error {
		return problem.Use(fmt.Sprintf("%s would stand %s another registry, %s", dir, where, other),
			"use that one, since one registry holds all seasons; where a second is meant: --another")
	}
	parent := filepath.Dir(dir)
	if above, err := registry.Find("", "", parent); err == nil {
		return refuse("inside", above)
	}
	if !e.neighbours {
		return nil
	}
	folders, _ := os.ReadDir(parent) // one that cannot be read holds none that is known
	for _, f := range folders {
		other := filepath.Join(parent, f.Name())
		if _, err := registry.Find(other, "", parent); f.IsDir() && other != dir && err == nil {
			return refuse("beside", other)
		}
	}
	return nil
}

func (e *env) initialise(dir string) error {
	above, aboveErr := registry.Find("", "", filepath.Dir(dir))
	if err := registry.Init(dir); err != nil {
		return asAccess(err)
	}
	e.saved.add("a new registry in " + quotedPath(dir))
	wrote, err := practice.Create(dir)
	if err != nil {
		return err
	}
	e.Say("new registry in %s", dir)
	if !wrote {
		e.Notice("%s was there already and stays as it is", practice.File)
	}
	if aboveErr == nil {
		e.Notice("%s above it is a registry too; here, commands use the new one", above)
	}
	if other := e.getenv("PIPSTAKE_REGISTRY"); other != "" && e.abs(other) != dir {
		e.Notice("PIPSTAKE_REGISTRY is set, so commands will still use %s", other)
		e.there = cmp.Or(e.there, dir)
	}
	e.Next(`register a cross, seed parent first: pipstake cross "Larkfield Tessel" "Tarn Amber"`)
	return nil
}
