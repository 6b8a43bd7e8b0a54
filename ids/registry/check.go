package registry

import (
	"cmp"
	"fmt"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"pipstake/ids"
)

// Check returns everything in the files that needs a person's eye, by file and
// row: cells that cannot be read or are written oddly; identifiers that are
// there twice, skipped, or without the row they belong under; counts and dates
// that contradict one another; labels printed twice or missing; copies of the
// files that a sync program left beside them. Whether a printed label still
// says what the registry does is not looked at here.
func (r *Registry) Check() []Finding {
	looks := []func(c *checker){
		(*checker).cells,
		func(c *checker) { checkTree(c, r.crosses, func(e *Cross) State { return e.State }) },
		func(c *checker) { checkTree(c, r.lots, func(e *Lot) State { return e.State }) },
		func(c *checker) { checkTree(c, r.pots, func(e *Pot) State { return e.State }) },
		func(c *checker) { checkTree(c, r.seedlings, func(e *Seedling) State { return e.State }) },
		func(c *checker) { checkOwners(c, r.emergence) },
		func(c *checker) { checkOwners(c, r.labels) },
		func(c *checker) { checkOwners(c, r.diary) },
		(*checker).ends,
		(*checker).diary,
		(*checker).lots,
		(*checker).pots,
		(*checker).seedlings,
		(*checker).emergence,
		(*checker).labelsTwice,
		(*checker).labelsMissing,
		(*checker).cellsTwice,
		(*checker).listedTwice,
		(*checker).namesAlike,
		(*checker).namesSlipped,
		(*checker).varietiesTwice,
		(*checker).copies,
	}
	found := make([][]Finding, len(looks))
	var next atomic.Int32
	var all sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		all.Go(func() {
			for i := next.Add(1) - 1; int(i) < len(looks); i = next.Add(1) - 1 {
				c := checker{r: r, cursor: r.Cursor()}
				looks[i](&c)
				found[i] = c.found
			}
		})
	}
	all.Wait()
	c := checker{found: slices.Concat(found...)}
	c.sort()
	return c.found
}

// checker collects findings.
type checker struct {
	r      *Registry
	cursor *Cursor
	found  []Finding
}

// cells gives what there is to say of single cells.
func (c *checker) cells() {
	for _, t := range c.r.tables() {
		c.found = append(c.found, t.damages()...)
		c.found = append(c.found, t.oddities()...)
	}
}

func (c *checker) add(f Finding) { c.found = append(c.found, f) }

// sort puts the findings in the order of files and rows.
func (c *checker) sort() {
	names := fileNames()
	rank := func(f Finding) int {
		if i := slices.Index(names, f.File); i >= 0 {
			return i
		}
		return len(names)
	}
	slices.SortStableFunc(c.found, func(a, b Finding) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(a.Row, b.Row))
	})
}

// checkTree looks at the identifiers of a table: each once, under a row of its
// own parent, none skipped, none live below a void one.
func checkTree[T any](c *checker, t *table[T], state func(*T) State) {
	var last, parent ids.ID
	var row parentRow
	number := 0 // of the sibling before
	order := t.sorted()
	for i, place := range order {
		e := &t.entries[place]
		id := *t.id(e)
		if id == last {
			c.add(t.finding(place, "id", fmt.Sprintf("stands in row %d already", t.number(int(t.at[order[i-1]]))),
				"delete one of the two rows, or give it its right identifier"))
			continue
		}
		if p := id.At(id.Level() - 1); p != parent { // at first none: every identifier has a year
			parent, row, number = p, c.parentRow(p), 0
			if id.Level() == ids.CrossLevel {
				number = id.Ordinal() - 1 // a registry may be begun in the middle of a season
			}
		}
		c.underParent(t, place, id, state(e), row)
		if id.Ordinal() > number+1 {
			checkSkipped(c, t, place, parent.Child(number+1), id)
		}
		last, number = id, id.Ordinal()
	}
}

// underParent looks at an entry against the row of its parent.
func (c *checker) underParent(t rowsOf, place int32, id ids.ID, state State, row parentRow) {
	parent := id.At(id.Level() - 1)
	switch {
	case parent.Level() == ids.NoLevel:
	case !row.exists:
		c.add(t.finding(place, "id", fmt.Sprintf("belongs to %s %s, which has no row in %s", parent.Level(), parent, row.file),
			"put that row back, or correct the identifier"+row.hint))
	case row.void != (ids.ID{}) && state == Live:
		c.add(t.finding(place, "state", fmt.Sprintf("is not void, but %s %s is", row.void.Level(), row.void),
			"void "+id.String()+" as well, or take the word out of the other row"))
	}
}

// parentRow is what the row of a parent says.
type parentRow struct {
	exists bool
	file   string
	void   ids.ID // the parent or one above it, where void
	hint   string // where a row that cannot be read may be the parent's
}

func (c *checker) parentRow(id ids.ID) parentRow {
	t := c.r.level(id.Level())
	if t == nil {
		return parentRow{}
	}
	p := parentRow{file: t.fileName()}
	_, p.exists = c.cursor.state(id)
	if lost := t.lost(); len(lost) > 0 {
		p.hint = fmt.Sprintf("; it may be %s row %d, which cannot be read", lost[0].File, lost[0].Row)
	}
	p.void, _ = c.cursor.voidedBy(id)
	return p
}

// checkSkipped reports the numbers from skipped up to id that no table knows.
func checkSkipped[T any](c *checker, t *table[T], place int32, skipped, id ids.ID) {
	parent := id.At(id.Level() - 1)
	var missing []ids.ID
	for n := skipped.Ordinal(); n < id.Ordinal(); n++ {
		if id := parent.Child(n); !c.named(id) { // else said where it is named
			missing = append(missing, id)
		}
	}
	if missing == nil {
		return
	}
	what := missing[0].String() + " is missing"
	if len(missing) > 1 {
		what = fmt.Sprintf("%s to %s are missing", missing[0], missing[len(missing)-1])
	}
	remedy := "put the row back; if the number was given up, with the state void"
	if lost := t.lost(); len(lost) > 0 {
		remedy += fmt.Sprintf("; it may be row %d, which cannot be read", lost[0].Row)
	}
	c.add(t.finding(place, "id", "does not follow on the one before: "+what, remedy))
}

// named reports whether any table names an identifier or one below it.
func (c *checker) named(id ids.ID) bool {
	for _, t := range c.r.tables() {
		if _, ok := t.last(id); ok {
			return true
		}
	}
	return false
}

// checkOwners looks whether what a table's rows are about has a row of its own.
func checkOwners[T any](c *checker, t *table[T]) {
	var last ids.ID
	exists := false
	name := t.columns[t.idColumn].name
	for _, place := range t.sorted() {
		id := *t.id(&t.entries[place])
		if id != last {
			last = id
			_, exists = c.cursor.state(id)
		}
		if !exists {
			row := c.parentRow(id)
			c.add(t.finding(place, name, fmt.Sprintf("has no row in %s", row.file), "put that row back, or correct the identifier"+row.hint))
		}
	}
}
