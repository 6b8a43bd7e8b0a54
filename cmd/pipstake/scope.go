package main

import (
	"strconv"
	"strings"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/ids/season"
)

// scopeOf reads years and identifiers, of the level given at the lowest, as what
// of the registry to look at.
func (e *env) scopeOf(r *registry.Registry, args []string, lowest ids.Level) (season.Scope, error) {
	var scope season.Scope
	for _, arg := range args {
		if year, ok := asYear(arg); ok {
			scope.Years = append(scope.Years, year)
			continue
		}
		named, err := e.readSelection([]string{arg})
		if err != nil {
			return season.Scope{}, err
		}
		for _, id := range named[0].All() {
			if id.Level() > lowest {
				return season.Scope{}, levelIs(id, lowest)
			}
			if err := live(r, id); err != nil {
				return season.Scope{}, err
			}
			scope.Within = append(scope.Within, id)
		}
	}
	return scope, nil
}

// asYear reads a year of four digits.
func asYear(arg string) (int, bool) {
	if len(arg) != 4 || strings.Trim(arg, "0123456789") != "" {
		return 0, false
	}
	year, err := strconv.Atoi(arg)
	return year, err == nil
}

// groupWord is a word for what is put together by.
type groupWord struct {
	word string
	by   season.By
}

// groupWords are the words alone.
func groupWords(groups []groupWord) []string {
	var all []string
	for _, g := range groups {
		all = append(all, g.word)
	}
	return all
}

// groupedBy is what a word stands for.
func groupedBy(groups []groupWord, word string) season.By {
	for _, g := range groups {
		if g.word == word {
			return g.by
		}
	}
	return season.ByCross
}
