package main

import (
	"fmt"
	"io"
	"os"

	"pipstake/ids/plainfile"
	"pipstake/ids/problem"
)

// fromFile is a kind of table that --from takes in.
type fromFile struct {
	noun  string // "file of counts"
	hint  string // where there is no such file
	which string // where it is too large: which one to name
}

// mostFromFile is more than such a table takes, in bytes.
const mostFromFile = 64 << 20

// textFrom returns what a table holds, or standard input for "-". The error is
// a *usageError.
func (e *env) textFrom(name string, kind fromFile) ([]byte, error) {
	in := e.stdin
	if name != "-" {
		f, err := e.openFrom(name, kind)
		if err != nil {
			return nil, err
		}
		defer f.Close()
		in = f
	}
	text, err := plainText(in)
	var data []byte
	if err == nil {
		data, err = io.ReadAll(io.LimitReader(text, mostFromFile+1))
	}
	switch {
	case err != nil:
		return nil, problem.Use(fmt.Sprintf("--from %s: %s", quotedPath(name), problem.Reason(err)), kind.hint)
	case len(data) > mostFromFile:
		return nil, kind.tooLarge(name)
	}
	return data, nil
}

// openFrom opens a table.
func (e *env) openFrom(name string, kind fromFile) (*os.File, error) {
	info, err := os.Stat(e.abs(name))
	switch {
	case err == nil && info.IsDir():
		return nil, problem.Use(fmt.Sprintf("--from %s is a folder", quotedPath(name)), "name the CSV file in it")
	case err == nil && info.Size() > mostFromFile:
		return nil, kind.tooLarge(name)
	}
	f, err := plainfile.OpenStream(e.abs(name))
	if err != nil {
		return nil, problem.Use(fmt.Sprintf("--from %s: %s", quotedPath(name), problem.Reason(err)), kind.hint)
	}
	return f, nil
}

func (kind fromFile) tooLarge(name string) error {
	return problem.Use(fmt.Sprintf("--from %s is too large for a %s", quotedPath(name), kind.noun), kind.which)
}
