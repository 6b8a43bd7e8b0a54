package main

import (
	"fmt"
	"path"
	"slices"
	"strconv"
	"strings"

	"pipstake/ids/problem"
	"pipstake/ids/registry"
)

// batchName is a batch as it was named: by its number, or by its PDF.
type batchName struct {
	number int
	prefix string // of the file's name, such as "stakes"; "" where it says nothing
	typed  string
}

// mostBatches is more than anybody prints.
const mostBatches = 1_000_000_000

// parseBatch reads a batch's number, or the name of its PDF with or without the
// folder: 11, stakes-0011.pdf, "stakes-0011 (1).pdf" as browsers save it.
func parseBatch(typed string) (batchName, error) {
	b := batchName{typed: typed}
	name := path.Base(strings.ReplaceAll(strings.TrimSpace(typed), `\`, "/"))
	name = strings.TrimSuffix(strings.TrimSuffix(name, ".pdf"), ".PDF")
	name, _, _ = strings.Cut(name, " (")
	digits := name
	if at := strings.LastIndex(name, "-"); at >= 0 {
		b.prefix, digits = name[:at], name[at+1:]
	}
	if n, err := strconv.Atoi(digits); err == nil && 0 < n && n <= mostBatches && strings.Trim(digits, "0123456789") == "" {
		b.number = n
		if !slices.ContainsFunc([]registry.Face{registry.BranchFace, registry.BagFace, registry.StakeFace, registry.SeedlingFace}, func(f registry.Face) bool { return filePrefix(f) == b.prefix }) {
			b.prefix = ""
		}
		return b, nil
	}
	return batchName{}, problem.Use(fmt.Sprintf("batch %q is no number and no name that pipstake gave", typed),
		"the number stands in the name of the PDF: 7 for bags-0007.pdf; pipstake history shows every batch")
}

// check refuses a file's name whose batch is of other labels.
func (b batchName) check(r *registry.Registry) error {
	for _, l := range r.Labels() {
		if l.Batch == b.number && b.prefix != "" && filePrefix(l.Face) != b.prefix {
			return problem.Use(fmt.Sprintf("batch %d is %s-%04d.pdf, and not %q", b.number, filePrefix(l.Face), b.number, b.typed),
				fmt.Sprintf("where that is the one: %d", b.number))
		}
	}
	return nil
}

// batchFlag is a flag's value that is a batch.
type batchFlag struct{ batchName }

func (b *batchFlag) Set(s string) (err error) {
	b.batchName, err = parseBatch(s)
	return err
}

func (b *batchFlag) String() string { return "" }
func (b *batchFlag) Type() string   { return "BATCH" }

// batch adds a flag for a batch.
func (f *flags) batch(name, usage string) *batchFlag {
	b := &batchFlag{}
	f.set.Var(b, name, usage)
	return b
}
