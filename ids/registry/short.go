package registry

import (
	"fmt"
	"slices"

	"pipstake/ids"
)

// Complete returns the identifier that is meant where its year was left out, as
// Parse reads it: the one that grows or, where none does, the one that there is;
// where there is none at all, that of the newest year in which the cross is. The
// error is a *Refusal where several years have one.
func (r *Registry) Complete(s ids.Short) (string, error) {
	var grow, exist, crosses []string
	for _, c := range r.Crosses() {
		if c.ID.Cross != s.Cross {
			continue
		}
		full := s.In(c.ID.Year)
		crosses = append(crosses, full)
		read, err := ids.Parse(full)
		if err != nil {
			continue // a wrong check character says that another year is meant
		}
		if r.Status(read.ID) != Unknown {
			exist = append(exist, full)
		}
		if r.Grows(read.ID) {
			grow = append(grow, full)
		}
	}
	for _, which := range [][]string{grow, exist, crosses} {
		slices.Sort(which)
		switch newest := len(which) - 1; {
		case newest < 0:
			continue
		case newest > 0 && len(exist) > 0:
			return "", &Refusal{fmt.Sprintf("without its year it may be %s", either(which)), "write it with its year: " + which[newest]}
		default:
			return which[newest], nil
		}
	}
	return "", &Refusal{fmt.Sprintf("there is no cross %d", s.Cross), "write the identifier in full, as it stands on the label"}
}

// either lists what something may be: "a, b or c".
func either(all []string) string {
	last := len(all) - 1
	text := ""
	for i, one := range all {
		switch {
		case i == last && i > 0:
			text += " or "
		case i > 0:
			text += ", "
		}
		text += one
	}
	return text
}
