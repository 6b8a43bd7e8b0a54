package main

import (
	"fmt"
	"slices"

	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
)

// stepWords are what a step and the one before it are called.
var stepWords = map[season.Step][2]string{
	season.AtPicking:     {"picking", "pollination"},
	season.AtExtraction:  {"extraction", "pollination"},
	season.AtSowing:      {"sowing", "extraction"},
	season.AtFirstSight:  {"seedlings up", "sowing"},
	season.AtPrickingOut: {"pricking out", "sowing"},
}

// noteOdd adds to what is to be noticed that a step's day is far from when such
// a step usually comes; once for all that share both days.
func noteOdd(notices []string, step season.Step, on, after registry.Date) []string {
	d, odd := season.OddDayOf(step, on, after)
	if !odd {
		return notices
	}
	w := stepWords[d.Step]
	said := fmt.Sprintf("%s on %s, %s after %s on %s: %d to %d are usual; is one of the days wrong?",
		w[0], d.On, words.Plural(d.Days, "day", "days"), w[1], d.After, d.Least, d.Most)
	if slices.Contains(notices, said) {
		return notices
	}
	return append(notices, said)
}

// farFromBlossom says that a cross is dated far from the season of all others;
// "" where it is not.
func farFromBlossom(r *registry.Registry, c registry.Cross) string {
	first, last, far := season.FarFromBlossom(r, c)
	if !far {
		return ""
	}
	return fmt.Sprintf("%s is far from the blossom of all other crosses, %d %s to %d %s: is the day right?",
		c.Pollinated, first.Day, first.Month, last.Day, last.Month)
}

// noticeAll tells notices one after the other.
func (e *env) noticeAll(notices []string) {
	for _, n := range notices {
		e.Notice("%s", n)
	}
}
