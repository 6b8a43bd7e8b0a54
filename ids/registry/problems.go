package registry

import (
	"fmt"

	"pipstake/ids/problem"
	"pipstake/ids/words"
)

// Problems returns what stands in the way, and what to do.
func (e *Refusal) Problems() []problem.Problem { return problem.Use(e.What, e.Remedy).Problems() }

// Problems returns one problem for each cell.
func (e *DamageError) Problems() []problem.Problem {
	var all []problem.Problem
	for _, f := range e.Findings {
		all = append(all, problem.Problem{Kind: problem.OfData, What: f.Where() + ": " + f.What, Remedy: f.Remedy, Err: e})
	}
	return all
}

// Problems returns which file it is about and why.
func (e *AccessError) Problems() []problem.Problem {
	what := e.What
	if e.Path != "" {
		what = e.Path + ": " + what
	}
	if e.Err != nil {
		what += ": " + reason(e.Err)
	}
	return []problem.Problem{{Kind: problem.OfAccess, What: what, Remedy: e.Remedy, Err: e}}
}

// Problems returns which file changed.
func (e *ChangedError) Problems() []problem.Problem { return problem.Access(e).Problems() }

// Where names the cell of a finding: `pots.csv row 14, sown "14/01/27"`.
func (f Finding) Where() string {
	where := f.File
	if f.Row > 0 {
		where += fmt.Sprintf(" row %d", f.Row)
	}
	if f.Column != "" {
		where += ", " + f.Column
	}
	if f.Value != "" {
		where += " " + words.Shown(f.Value)
	}
	return where
}
