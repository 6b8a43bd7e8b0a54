package main

import (
	_ "embed"
	"strings"

	"pipstake/ids/problem"
	"pipstake/ids/words"
)

// The scripts of the shells, which ask the program for what may come next.
var (
	//go:embed shell/pipstake.bash
	bashScript string
	//go:embed shell/pipstake.zsh
	zshScript string
	//go:embed shell/pipstake.fish
	fishScript string
)

var completionCommand = command{
	name:      "completion",
	summary:   "print a script that lets a shell complete commands and identifiers",
	arguments: "bash|zsh|fish",
	help: `With the script in place, the tab key completes commands, flags, what flags
take, and the identifiers, parents and stocks of the registry that holds good
here.

  pipstake completion bash > ~/.local/share/bash-completion/completions/pipstake
  pipstake completion zsh > ~/.zfunc/_pipstake
                               where ~/.zfunc is in fpath before compinit runs
  pipstake completion fish > ~/.config/fish/completions/pipstake.fish

It begins to work in the next shell; in this one, bash and zsh take it with
source <(pipstake completion bash), or zsh for bash.`,
	define: func(*flags) action {
		return func(e *env, args []string) error {
			scripts := map[string]string{"bash": bashScript, "zsh": zshScript, "fish": fishScript}
			script, ok := scripts[args[0]]
			if !ok {
				return problem.Use("completion: there is no script for "+words.Shown(args[0]), "name bash, zsh or fish")
			}
			e.Say("%s", strings.TrimSuffix(script, "\n"))
			return nil
		}
	},
}
