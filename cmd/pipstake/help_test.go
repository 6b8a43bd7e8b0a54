package main

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"pipstake/ids/words"
)

// The overview names each command once, those of the season by the time of year.
func TestOverviewNamesEachCommandOnce(t *testing.T) {
	listed, _, _ := strings.Cut(says(t, t.TempDir()), "\nA season:")
	rows := strings.Split(listed, "\n")
	season := 0
	for _, c := range commands() {
		var found []string
		for _, row := range rows {
			if strings.HasSuffix(row, c.summary) && slices.Contains(strings.Fields(row), c.name) {
				found = append(found, row)
			}
		}
		if len(found) != 1 {
			t.Errorf("%s stands in %d rows: %q", c.name, len(found), found)
		}
	}
	for _, time := range timesOfYear {
		season += len(time.commands)
	}
	if season < 12 || season > 20 {
		t.Errorf("%d commands are of the season: about a dozen can be taken in", season)
	}
}

// What all printing commands share is told once; each of them names that place.
func TestPrintingFlagsAreToldOnce(t *testing.T) {
	dir := t.TempDir()
	shared := says(t, dir, "help", "printing")
	for _, flag := range printingFlags() {
		if !strings.Contains(shared, "--"+flag.Name) {
			t.Errorf("help printing lacks --%s", flag.Name)
		}
	}
	for _, name := range []string{"bags", "sow", "prick", "labels"} {
		help := says(t, dir, name, "--help")
		if !strings.Contains(help, "pipstake help printing") || regexp.MustCompile(`(?m)^  --(stock|gain|dpi) `).MatchString(help) {
			t.Errorf("%s --help reads\n%s", name, help)
		}
	}
	if page := says(t, dir, "manual"); strings.Count(page, `.It Fl \-gain`) != 1 {
		t.Errorf("the manual has --gain %d times", strings.Count(page, `.It Fl \-gain`))
	}
}

// What a flag is for is folded where it is told, so it has no line breaks of its own.
func TestFlagsAreToldInOneLine(t *testing.T) {
	for _, c := range commands() {
		f := newFlags(c)
		c.define(f)
		for _, flag := range f.all() {
			if flag.Usage == "" || strings.Contains(flag.Usage, "\n") {
				t.Errorf("%s --%s: %q", c.name, flag.Name, flag.Usage)
			}
		}
	}
}

// The topics fit a terminal of 80 columns, and every command in them runs.
func TestHelpTopics(t *testing.T) {
	dir := t.TempDir()
	known := map[string]bool{}
	for _, c := range commands() {
		known[c.name] = true
	}
	for topic := range helpTopics {
		for line := range strings.SplitSeq(says(t, dir, "help", topic), "\n") {
			if words.Columns(line) > helpColumns {
				t.Errorf("%s: %q is too wide", topic, line)
			}
			rest, ok := strings.CutPrefix(line, "  pipstake ")
			if !ok {
				continue
			}
			typed, _, _ := strings.Cut(rest, "   ")
			args := splitWords(typed)
			if !known[args[0]] {
				t.Errorf("%s: there is no command %q", topic, args[0])
				continue
			}
			c := commands()[slices.IndexFunc(commands(), func(c command) bool { return c.name == args[0] })]
			f := newFlags(c)
			c.define(f)
			if read, err := f.parse(args[1:]); err != nil {
				t.Errorf("%s: %q: %v", topic, typed, err)
			} else if err := c.checkArguments(read); err != nil {
				t.Errorf("%s: %q: %v", topic, typed, err)
			}
		}
	}
}

// splitWords splits a command line as a shell does, with double quotes.
func splitWords(line string) []string {
	var args []string
	for i, part := range strings.Split(line, `"`) {
		if i%2 == 1 {
			args = append(args, part)
			continue
		}
		args = append(args, strings.Fields(part)...)
	}
	return args
}
