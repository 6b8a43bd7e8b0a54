package main

import (
	"cmp"
	"errors"
	"fmt"
	"path/filepath"
	"slices"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
)

// fileOfCounts is what emerged --from takes in.
var fileOfCounts = fromFile{"file of counts", "name a CSV file with the columns pot, on and up", "name the file that the field page saved"}

// countsFile is a file of counts as it was read.
type countsFile struct {
	shown string
	name  string // that of the file alone
	rows  []registry.CountRow
	wrong []registry.Finding // cells that cannot be read
}

// taken is what became of the rows of a file of counts.
type taken struct {
	recorded int
	there    int                // recorded already
	wrong    []registry.Finding // what is wrong with the others, by row
}

// wrongRows refuses a file of counts for the rows that are wrong.
type wrongRows struct {
	*registry.DamageError
	good int // rows that are right and new
}

// emergedFrom takes in a file of counts: all of its rows or none or, where the
// grower agrees, those that are right.
func (e *env) emergedFrom(dir, name string, goodRows bool) error {
	f, err := e.readCounts(name)
	if err != nil {
		return err
	}
	got, err := e.takeCounts(dir, f, goodRows)
	var refused *wrongRows
	if errors.As(err, &refused) && refused.good > 0 && e.onTerminal && !e.dryRun {
		e.complain(err)
		if !e.agreed(fmt.Sprintf("record the %s without these? [y/n] ", words.Plural(refused.good, "good row", "good rows"))) {
			e.Remark("nothing was recorded")
			return errTold
		}
		e.args = append(e.args, "--good-rows") // as the history tells it
		if got, err = e.takeCounts(dir, f, true); err == nil {
			e.tellTaken(f, got)
			return errTold
		}
	}
	if err != nil {
		return err
	}
	e.tellTaken(f, got)
	if len(got.wrong) == 0 {
		return nil
	}
	e.complain(&registry.DamageError{Findings: got.wrong})
	return errTold
}

// takeCounts records the counts of a file.
func (e *env) takeCounts(dir string, f *countsFile, goodRows bool) (taken, error) {
	var got taken
	err := e.change(dir, func(r *registry.Registry) (err error) {
		if got, err = f.record(r); err != nil {
			return err
		}
		if len(got.wrong) > 0 && (!goodRows || got.recorded+got.there == 0) {
			return &wrongRows{&registry.DamageError{Findings: got.wrong}, got.recorded}
		}
		return nil
	})
	return got, err
}

// tellTaken says what was recorded.
func (e *env) tellTaken(f *countsFile, got taken) {
	e.Say("%s recorded from %s", words.Plural(got.recorded, "count", "counts"), f.shown)
	if got.there > 0 {
		e.Notice("%s recorded already", words.Plural(got.there, "count was", "counts were"))
	}
	e.warnOfDays(f.rows)
}

// readCounts reads a file of counts.
func (e *env) readCounts(name string) (*countsFile, error) {
	shown := inputName(name)
	data, err := e.textFrom(name, fileOfCounts)
	if err != nil {
		return nil, err
	}
	f := &countsFile{shown: shown, name: filepath.Base(shown)}
	f.rows, f.wrong, err = registry.ReadCounts(shown, string(data))
	var access *registry.AccessError
	switch {
	case errors.As(err, &access):
		return nil, problem.Data(fmt.Sprintf("%s: %s", shown, access.What), access.Remedy)
	case err != nil:
		return nil, err
	case len(f.rows)+len(f.wrong) == 0:
		return nil, problem.Data(fmt.Sprintf("%s holds no counts", shown), "enter some on the field page, and save them again")
	}
	return f, nil
}

// inCountsFile are remedies as they are typed into a file of counts.
var inCountsFile = map[string]string{"with day": "in the column on"}

// record puts the counts that are right into the registry. The error is a
// *registry.DamageError where the registry's own cells stand in the way.
func (f *countsFile) record(r *registry.Registry) (taken, error) {
	got := taken{wrong: slices.Clone(f.wrong)}
	contradicted := f.contradicted()
	for _, row := range f.rows {
		refuse := func(f registry.Finding) { got.wrong = append(got.wrong, f) }
		switch other, twice := contradicted[row.Row]; {
		case f.unreadable(row):
			continue
		case row.Registry != "" && !r.IsMarked(row.Registry):
			refuse(f.elsewhere(r, row))
			continue
		case twice:
			refuse(registry.Finding{File: f.name, Row: row.Row, What: fmt.Sprintf("%s was counted on %s in row %d as well: %s up",
				row.Pot, row.On, other.Row, other.Up), Remedy: "keep the row that is right"})
			continue
		case r.HasCount(row.Emergence):
			got.there++
			continue
		}
		_, err := r.CountPot(row.Emergence)
		switch {
		case is[*registry.DamageError](err):
			return taken{}, err
		case err != nil:
			said := problem.First(err)
			refuse(registry.Finding{File: f.name, Row: row.Row, What: said.What, Remedy: asTypedWith(inCountsFile, said.Remedy)})
		default:
			got.recorded++
		}
	}
	slices.SortStableFunc(got.wrong, func(a, b registry.Finding) int { return cmp.Compare(a.Row, b.Row) })
	return got, nil
}

// unreadable reports whether a row has a cell that cannot be read.
func (f *countsFile) unreadable(row registry.CountRow) bool {
	return slices.ContainsFunc(f.wrong, func(w registry.Finding) bool { return w.Row == row.Row })
}

// elsewhere says that a row is meant for another registry.
func (f *countsFile) elsewhere(r *registry.Registry, row registry.CountRow) registry.Finding {
	return registry.Finding{File: f.name, Row: row.Row, Column: "registry", Value: row.Registry,
		What:   "is not the registry in " + quotedPath(r.Dir()),
		Remedy: "take it in where its page was made, with --registry; if it was made here all the same, empty the cell"}
}

// contradicted are the rows that give a pot and day another count than another
// row does, each with that row, by their numbers.
func (f *countsFile) contradicted() map[int]registry.CountRow {
	type potDay struct {
		pot ids.ID
		on  registry.Date
	}
	first := map[potDay]registry.CountRow{}
	found := map[int]registry.CountRow{}
	for _, row := range f.rows {
		if f.unreadable(row) {
			continue
		}
		key := potDay{row.Pot, row.On}
		before, twice := first[key]
		switch {
		case !twice:
			first[key] = row
		case before.Up != row.Up || before.Died.N != row.Died.N:
			found[row.Row] = before
			if _, told := found[before.Row]; !told {
				found[before.Row] = row
			}
		}
	}
	return found
}

// warnOfDays notices counts of days that have yet to come, since the clock of
// a telephone may be wrong.
func (e *env) warnOfDays(rows []registry.CountRow) {
	today := registry.DateOf(e.now())
	for _, row := range rows {
		if today.Before(row.On) {
			e.Notice("row %d: %s has yet to come: today is %s", row.Row, row.On, today)
			return
		}
	}
}
