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
	name  string
	rows  []registry.CountRow
	wrong []registry.Finding // cells that cannot be read, and then rows that contradict the registry
}

// emergedFrom takes in a file of counts, all of its rows or none.
func (e *env) emergedFrom(dir, name string) error {
	f, err := e.readCounts(name)
	if err != nil {
		return err
	}
	var recorded, there int
	err = e.change(dir, func(r *registry.Registry) (err error) {
		recorded, there, err = f.record(r)
		return err
	})
	if err != nil {
		return err
	}
	e.Say("%s recorded from %s", words.Plural(recorded, "count", "counts"), inputName(name))
	if there > 0 {
		e.Notice("%s recorded already", words.Plural(there, "count was", "counts were"))
	}
	e.warnOfDays(f.rows)
	return nil
}

// readCounts reads a file of counts.
func (e *env) readCounts(name string) (*countsFile, error) {
	shown := inputName(name)
	data, err := e.textFrom(name, fileOfCounts)
	if err != nil {
		return nil, err
	}
	f := &countsFile{name: filepath.Base(shown)}
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

// record puts the counts into the registry: how many are new, and how many
// were there. The error is a *registry.DamageError that lists every row at
// fault.
func (f *countsFile) record(r *registry.Registry) (recorded, there int, err error) {
	wrong := slices.Clone(f.wrong)
	type potDay struct {
		pot ids.ID
		on  registry.Date
	}
	first := map[potDay]registry.CountRow{}
	for _, row := range f.rows {
		if slices.ContainsFunc(f.wrong, func(w registry.Finding) bool { return w.Row == row.Row }) {
			continue
		}
		key := potDay{row.Pot, row.On}
		if before, twice := first[key]; twice && (before.Up != row.Up || before.Died.N != row.Died.N) {
			wrong = append(wrong, registry.Finding{File: f.name, Row: row.Row, What: fmt.Sprintf("%s was counted on %s in row %d already: %s up",
				row.Pot, row.On, before.Row, before.Up), Remedy: "keep the row that is right"})
			continue
		}
		first[key] = row
		if r.HasCount(row.Emergence) {
			there++
			continue
		}
		_, err := r.CountPot(row.Emergence)
		switch {
		case is[*registry.DamageError](err):
			return 0, 0, err // the registry's own cells stand in the way
		case err != nil:
			said := problem.First(err)
			wrong = append(wrong, registry.Finding{File: f.name, Row: row.Row, What: said.What, Remedy: asTypedWith(inCountsFile, said.Remedy)})
		default:
			recorded++
		}
	}
	if len(wrong) > 0 {
		slices.SortStableFunc(wrong, func(a, b registry.Finding) int { return cmp.Compare(a.Row, b.Row) })
		return 0, 0, &registry.DamageError{Findings: wrong}
	}
	return recorded, there, nil
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
