package main

import (
	"path/filepath"

	"pipstake/ids/practice"
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

  pipstake init                  in this folder
  pipstake init ~/breeding       in another one, which is made where needed`,
	define: func(*flags) action {
		return func(e *env, args []string) error {
			dir := e.cwd
			if len(args) > 0 {
				dir = e.abs(args[0])
			}
			return e.initialise(dir)
		}
	},
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
	}
	e.Next(`register a cross, seed parent first: pipstake cross "Larkfield Tessel" "Tarn Amber"`)
	return nil
}
