package layout

import (
	"fmt"
	"slices"
	"strings"

	"pipstake/ids/words"
)

// UnknownStockError says that there is no stock of a name.
type UnknownStockError struct {
	Name string
	Near []string // names of stocks that may have been meant, the nearest first
}

func (e *UnknownStockError) Error() string {
	if len(e.Near) == 0 {
		return fmt.Sprintf("there is no stock %q", e.Name)
	}
	return fmt.Sprintf("there is no stock %q; did you mean %s?", e.Name, strings.Join(e.Near, " or "))
}

// near finds the built-in stocks whose names differ least from name: three at
// most, and none that has little in common with it.
func near(name string) []string {
	if len(name) > 40 {
		return nil
	}
	type guess struct {
		name string
		far  int
	}
	var guesses []guess
	for _, s := range builtIn {
		far := words.Distance(name, s.Name)
		if strings.HasPrefix(s.Name, name) && name != "" {
			far = 1
		}
		if far <= len(s.Name)/3 {
			guesses = append(guesses, guess{s.Name, far})
		}
	}
	slices.SortStableFunc(guesses, func(a, b guess) int { return a.far - b.far })
	var names []string
	for _, g := range guesses[:min(3, len(guesses))] {
		names = append(names, g.name)
	}
	return names
}
