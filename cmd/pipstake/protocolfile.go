package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"pipstake/ids/season"
)

const protocolHead = `# How you raise seedlings. pipstake due, bench, germination and plan follow it.
# The values are common practice among growers, without a published source:
# change them to your own. What is left out counts as it stands here.
`

const protocolTail = `
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

// commonProtocol is the file that a new registry starts with.
func commonProtocol() string {
	var b strings.Builder
	b.WriteString(protocolHead)
	p := season.CommonPractice()
	for _, table := range protocolTables {
		b.WriteString("\n")
		for line := range strings.SplitSeq(table.comment, "\n") {
			fmt.Fprintf(&b, "# %s\n", line)
		}
		fmt.Fprintf(&b, "[%s]\n", table.name)
		for _, s := range protocolSettings {
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
	return b.String() + protocolTail
}

// writeProtocol puts the common protocol into a new registry. One that is
// there already stays; wrote tells which.
func writeProtocol(dir string) (wrote bool, err error) {
	f, err := os.OpenFile(filepath.Join(dir, protocolFile), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if errors.Is(err, fs.ErrExist) {
		return false, nil
	}
	if err != nil {
		return false, &accessError{err}
	}
	_, err = f.WriteString(commonProtocol())
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err != nil {
		return false, &accessError{err}
	}
	return true, nil
}
