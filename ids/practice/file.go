package practice

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"pipstake/ids/problem"
	"pipstake/ids/season"
)

const head = `# How you raise seedlings. pipstake due, bench, germination and plan follow it.
# The values are common practice among growers, without a published source:
# change them to your own. What is left out counts as it stands here.
`

const tail = `
# Days for labels on a stock of its own, as pipstake stock list names it:
#
# [labels.outdoor_days_on]
# "a4-cut-148x20" = 730

# One cross may differ from the rest:
#
# [cross.2026X012.cold]
# least_days = 60
# most_days = 90
`

// common is the file that a new registry starts with.
func common() string {
	var b strings.Builder
	b.WriteString(head)
	p := season.CommonPractice()
	for _, table := range tables {
		b.WriteString("\n")
		for line := range strings.SplitSeq(table.comment, "\n") {
			fmt.Fprintf(&b, "# %s\n", line)
		}
		fmt.Fprintf(&b, "[%s]\n", table.name)
		for _, s := range settings {
			if s.table != table.name {
				continue
			}
			line := s.key + " = " + s.written(&p)
			if s.comment != "" {
				line = fmt.Sprintf("%-32s # %s", line, s.comment)
			}
			b.WriteString(line + "\n")
		}
	}
	return b.String() + tail
}

// Create puts the common protocol into a new registry. One that is
// there already stays; wrote tells which.
func Create(dir string) (wrote bool, err error) {
	f, err := os.OpenFile(filepath.Join(dir, File), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if errors.Is(err, fs.ErrExist) {
		return false, nil
	}
	if err != nil {
		return false, problem.Access(err)
	}
	_, err = f.WriteString(common())
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err != nil {
		return false, problem.Access(err)
	}
	return true, nil
}
