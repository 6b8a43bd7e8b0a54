package season

import "pipstake/ids/problem"

// Problems returns which plant is its own ancestor.
func (e *CycleError) Problems() []problem.Problem {
	return problem.Data("crosses.csv: "+e.Error(), "correct the parents of one of these crosses; see {check}").Problems()
}
