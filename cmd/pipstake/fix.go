package main

import (
	"fmt"
	"slices"
	"strings"

	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
)

// fix shows the cells whose meaning is certain as they are and as they should
// be, asks unless sure, and mends them. What it says goes to standard error,
// since the findings that are left are what was asked for.
func (e *env) fix(dir string, sure bool) error {
	r, err := e.open(dir)
	if err != nil {
		return err
	}
	fixes := r.Fixes()
	if len(fixes) == 0 {
		e.Remark("nothing is certain enough to be mended")
		return nil
	}
	line := e.Tell // for the question
	if sure {
		line = e.Remark
	}
	for _, f := range fixes {
		line("%s row %d, %s", f.Finding.File, f.Finding.Row, f.Finding.Column)
		line("  - %q", f.Finding.Value)
		line("  + %q", f.Want)
	}
	cells := words.Plural(len(fixes), "cell", "cells")
	if e.dryRun {
		e.Remark("%s would be mended", cells)
		return nil
	}
	if !sure && !e.agreed(fmt.Sprintf("mend %s? [y/n] ", cells)) {
		e.Remark("nothing was changed")
		return nil
	}
	err = e.change(dir, func(r *registry.Registry) error {
		if !slices.Equal(r.Mend(), fixes) {
			return problem.Data("the files were changed while you were asked, and nothing was mended", "run pipstake check --fix again")
		}
		return nil
	})
	if err != nil {
		return err
	}
	e.Remark("mended %s; pipstake undo takes that back", cells)
	return nil
}

// agreed asks a question and reports whether the answer is yes. The end of
// standard input is no.
func (e *env) agreed(question string) bool {
	answer, _ := e.ask(question)
	switch strings.ToLower(answer) {
	case "y", "yes":
		return true
	}
	return false
}
