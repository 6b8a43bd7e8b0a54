package main

import (
	"pipstake/ids/registry"
	"pipstake/ids/words"
)

var undoCommand = command{
	name:    "undo",
	summary: "take back what the last command changed",
	options: "[--dry-run]",
	surplus: "it takes back what the last command changed; of a batch that was printed, pipstake spoil stakes-0011.pdf says that it is ruined",
	help: `Puts the cells back that the last command changed and takes the rows away that
it added; once more takes back the command before that. Numbers that were issued
stay spent and are never issued again. What was printed cannot be taken back by
typing: destroy the labels, say so with pipstake spoil, and take back what should
never have been with pipstake void. What was edited by hand since is not touched.

  pipstake undo --dry-run
  pipstake undo`,
	define: func(f *flags) action {
		dry := f.onOff("dry-run", "only tell what would be taken back")
		dir := f.registry()
		return func(e *env, args []string) error {
			if *dry {
				r, err := e.open(*dir)
				if err != nil {
					return err
				}
				events, err := r.Undo()
				if err != nil {
					return err
				}
				e.tellUndone("would be taken back", events)
				return nil
			}
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
	e.tellUndone("taken back", events)
	return nil
}

// tellUndone lists what a command had changed.
func (e *env) tellUndone(what string, events []registry.Event) {
	e.Say("%s: %s, of %s", what, words.OneLine(events[0].Command), day(events[0].When))
	for _, event := range events {
		e.Say("  %s", change(event))
	}
}
