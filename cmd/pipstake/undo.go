package main

import (
	"pipstake/ids/registry"
	"pipstake/ids/words"
)

var undoCommand = command{
	name:    "undo",
	records: true,
	summary: "take back what the last command changed",
	options: "[--dry-run]",
	surplus: "it takes back what the last command changed; of a batch that was printed, pipstake spoil stakes-0011.pdf says that it is ruined",
	help: `Puts the cells back that the last command changed and takes the rows away that
it added; once more takes back the command before that. Numbers that were issued
stay spent and are never issued again. What was printed cannot be taken back by
typing: destroy the labels, say so with pipstake spoil, and take back what
should never have been with pipstake void. What was edited by hand since is not
touched.

  pipstake undo --dry-run
  pipstake undo`,
	define: func(f *flags) action {
		dir := f.registry()
		return func(e *env, args []string) error {
			return e.undo(*dir)
		}
	},
}

func (e *env) undo(dir string) error {
	var events []registry.Event
	err := e.change(dir, func(r *registry.Registry) (err error) {
		events, err = r.Undo()
		return err
	})
	if err != nil {
		return err
	}
	what := "taken back"
	if e.dryRun {
		what = "would be taken back"
	}
	e.Say("%s: %s, of %s", what, words.OneLine(events[0].Command), day(events[0].When))
	for _, event := range events {
		e.Say("  %s", change(event))
	}
	return nil
}
