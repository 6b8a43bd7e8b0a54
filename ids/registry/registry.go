// Package registry keeps the crosses, seed lots, pots, seedlings and labels of
// a grower in a folder of CSV files that a person may open, read and edit in a
// spreadsheet. It reads hand-edited files, leaves what it does not change byte
// for byte as it was, and commits all of a command's changes or none. It knows
// nothing of label faces, pages or PDF.
//
// # Decisions
//
//   - Ends. How and when something ended stands in its own row, and what
//     follows is derived: that it grows, that the bags of a failed cross ended
//     with it, what is left of a lot. Seedlings outlive their pot, and pots the
//     lot. What has ended stays in the figures and asks for nothing; void
//     leaves the figures, and is refused for what lived.
//   - Counts of a pot. Sown ≥ up ≥ died + pricked out, on each day. CountsOf
//     gives the counts with what else is known: a count without the dead keeps
//     those known before, what was pricked out counts as up, what was alive in
//     a lost pot died with it. Random seasons are compared with a second tally
//     (random_test.go).
//   - Varieties. The names of parents stand in the crosses; varieties.csv holds
//     what is known beyond them. registry.Names puts the two together. A sport
//     is a plant of its own in a tree and the same genotype in every
//     coefficient; a named selection is the seedling of that name. Nearly alike
//     names are noticed and never joined by themselves.
//   - Pollen of no one plant. registry.ReadParent has the table of what people
//     write for open pollination, mixtures, selfings and parents that nobody
//     knows. It is never a founder, so F is then told as "or more". Seed from
//     elsewhere is a cross with a source.
//   - Cold comes in spells: the first in the lot's row, further ones in
//     diary.csv, the table of dated remarks and events of plants.
//   - A commit writes new files beside the old ones, then a journal, then
//     renames. Whoever finds a journal reads the new files (commit.go). What
//     was read is compared with what is there before anything is written, so an
//     edit by a spreadsheet is seen.
//   - Two guards keep commands apart: the lock of the operating system, and a
//     file .changing, for network drives whose locks do nothing (lock.go).
//   - Late columns. Where a cell beyond the last column would seem to belong to
//     a column that is to be added, nothing is saved.
//   - Formulas. A text that a spreadsheet would run is written with an
//     apostrophe before it, and reading takes one away (registry.Guard, used by
//     exports too). Every text comes back, and five saves write the same cell.
//   - Damaged cells are never guessed. check says what was probably meant;
//     --fix writes only what is certain, after showing it, in one commit that
//     undo takes back.
//   - History gets a row for every cell that a command changed and every row it
//     added, in the same commit. Numbers of rows that undo took away stay
//     spent. Labels are never taken back: what was printed exists.
//   - Merge. What was written since the two parted tells which of two cells is
//     later. What an identifier stands for must agree, or nothing is merged.
package registry

import (
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"sync"
	"time"

	"pipstake/ids"
)

// Registry holds the tables of a registry, as they were read.
type Registry struct {
	dir       string
	crosses   *table[Cross]
	lots      *table[Lot]
	pots      *table[Pot]
	seedlings *table[Seedling]
	emergence *table[Emergence]
	labels    *table[Label]
	diary     *table[DiaryEntry]

	varieties   *listing[Variety]
	stocks      *listing[Stock]
	adjustments *listing[Adjustment]
	calendar    *listing[CalendarEntry]
	marks       *listing[markRow]
	history     *history

	beside []string // the names of what else is in the folder
	head   func(name string) string
}

// tableFile is what the tables have in common.
type tableFile interface {
	fileName() string
	blankFile() string
	load(path, text string) error
	changed() bool
	render() string
	changes() []fileChange
	takeBack(e Event) error
	reindex()
	fixes() []Fix
	fix(f Fix)
	last(outer ids.ID) (ids.ID, bool)
	damages() []Finding
	oddities() []Finding
	beyond() []Finding
}

// tables in the order in which findings name them.
func (r *Registry) tables() []tableFile {
	return append([]tableFile{r.crosses, r.lots, r.pots, r.seedlings, r.emergence, r.labels}, r.optional()...)
}

// optional returns the tables whose files come with their first row.
func (r *Registry) optional() []tableFile { return append([]tableFile{r.diary}, r.listings()...) }

// fileNames lists the registry's files.
func fileNames() []string {
	var names []string
	for _, t := range newTables().tables() {
		names = append(names, t.fileName())
	}
	return names
}

// Open reads a registry. Where a command was interrupted while it saved, the
// state before it or after it is read, whole. The error is an *AccessError or
// a *ChangedError.
func Open(dir string) (*Registry, error) {
	s := newStore(dir, Options{})
	states, err := s.read()
	if err != nil {
		return nil, err
	}
	return s.load(states)
}

// load reads the tables out of the files, at once.
func (s store) load(states []fileState) (*Registry, error) {
	r := newTables()
	r.dir = s.dir
	tables := r.tables()
	errs := make([]error, len(tables))
	var all sync.WaitGroup
	for i, t := range tables {
		all.Go(func() { errs[i] = t.load(states[i].path, states[i].text) })
	}
	all.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	names, err := s.disk.Names(s.dir)
	if err != nil {
		return nil, cannotRead(s.dir, err)
	}
	r.beside, r.head = names, s.head
	return r, nil
}

// Options of Change.
type Options struct {
	Wait time.Duration // for another command to finish; 0 for ten seconds

	// Command and Now are what the command line said and when, for the history.
	// Without a command, none is written.
	Command string
	Now     time.Time

	// Saved is called once changes are saved, with the number of their entry in
	// the history, and with them; nil for nobody.
	Saved func(entry int, events []Event)

	// DryRun saves nothing, once all is found to be in order.
	DryRun bool
}

// newStore is a registry's folder on the real file system.
func newStore(dir string, opt Options) store {
	return store{registryDisk(), dir, fileNames(), opt, 100 * time.Millisecond}
}

// Change locks the registry, reads it, lets work change it, and saves all of
// the changes or none. Where the files were changed by something else in the
// meantime, work is called again on what they hold now; it must be able to. An
// error of work comes back as it is, and nothing is saved. Otherwise the error
// is an *AccessError, or a *ChangedError.
func Change(dir string, opt Options, work func(r *Registry) error) error {
	return changeUnder(flocked, dir, opt, work)
}

// changeUnder is Change with any lock.
func changeUnder(take locker, dir string, opt Options, work func(r *Registry) error) error {
	if marker := filepath.Join(dir, MarkerFile); !isRegistry(dir) {
		return cannotRead(marker, fs.ErrNotExist)
	}
	unlock, err := lock(take, dir, opt.Wait)
	if err != nil {
		return err
	}
	defer unlock()
	return newStore(dir, opt).change(work)
}

// change does the work of Change under its lock.
func (s store) change(work func(r *Registry) error) error {
	const tries = 5
	if err := s.recover(); err != nil {
		return err
	}
	for range tries {
		states, err := s.read()
		if err != nil {
			return err
		}
		r, err := s.load(states)
		if err != nil {
			return err
		}
		if err := work(r); err != nil {
			return err
		}
		texts, err := r.save(s.opt)
		if err != nil || len(texts) == 0 || s.opt.DryRun {
			return err
		}
		err = s.commit(states, texts)
		if errors.Is(err, errChanged) {
			continue
		}
		if entry, events := r.history.latest(); err == nil && s.opt.Saved != nil && s.opt.Command != "" {
			s.opt.Saved(entry, events)
		}
		return err
	}
	return &ChangedError{File: s.dir}
}

// save returns the new texts of the files that were changed, by name, and
// writes the changes into the history. The error is a *DamageError where cells
// stand in the way of a column that is to be added.
func (r *Registry) save(opt Options) (map[string]string, error) {
	if opt.Command != "" {
		r.record(opt)
	}
	texts := map[string]string{}
	for _, t := range r.tables() {
		if found := t.beyond(); found != nil {
			return nil, &DamageError{found}
		}
		if t.changed() {
			texts[t.fileName()] = t.render()
		}
	}
	return texts, nil
}

// Dir is the registry's folder.
func (r *Registry) Dir() string { return r.dir }

// Crosses in the order of their file. Rows with a damaged identifier are left
// out, here and in the other tables. The slices are the registry's own: read
// them, and change nothing in them.
func (r *Registry) Crosses() []Cross { return slices.Clip(r.crosses.entries) }

// Lots in the order of their file.
func (r *Registry) Lots() []Lot { return slices.Clip(r.lots.entries) }

// Pots in the order of their file.
func (r *Registry) Pots() []Pot { return slices.Clip(r.pots.entries) }

// Seedlings in the order of their file.
func (r *Registry) Seedlings() []Seedling { return slices.Clip(r.seedlings.entries) }

// Emergences in the order of their file.
func (r *Registry) Emergences() []Emergence { return slices.Clip(r.emergence.entries) }

// Labels in the order of their file.
func (r *Registry) Labels() []Label { return slices.Clip(r.labels.entries) }

// Cross finds a cross by its identifier.
func (r *Registry) Cross(id ids.ID) (Cross, bool) { return r.crosses.find(id) }

// Lot finds a seed lot by its identifier.
func (r *Registry) Lot(id ids.ID) (Lot, bool) { return r.lots.find(id) }

// Pot finds a pot by its identifier.
func (r *Registry) Pot(id ids.ID) (Pot, bool) { return r.pots.find(id) }

// Seedling finds a seedling by its identifier.
func (r *Registry) Seedling(id ids.ID) (Seedling, bool) { return r.seedlings.find(id) }

// LotsOf returns the seed lots of a cross in the order of their letters.
func (r *Registry) LotsOf(cross ids.ID) []Lot { return r.lots.pick(r.lots.within(cross)) }

// PotsOf returns the pots of a seed lot in the order of their numbers.
func (r *Registry) PotsOf(lot ids.ID) []Pot { return r.pots.pick(r.pots.within(lot)) }

// SeedlingsOf returns the seedlings of a pot in the order of their letters.
func (r *Registry) SeedlingsOf(pot ids.ID) []Seedling {
	return r.seedlings.pick(r.seedlings.within(pot))
}

// LabelsOf returns the labels that were printed for an identifier, in the order
// of their file; those of its children are not among them.
func (r *Registry) LabelsOf(id ids.ID) []Label { return r.labels.pick(r.labels.exactly(id)) }

// EmergenceOf returns the counts of a pot by their dates.
func (r *Registry) EmergenceOf(pot ids.ID) []Emergence {
	counts := r.emergence.pick(r.emergence.exactly(pot))
	slices.SortStableFunc(counts, func(a, b Emergence) int { return a.On.Compare(b.On) })
	return counts
}

// Damage returns the cells that cannot be read, by file and row.
func (r *Registry) Damage() []Finding {
	var found []Finding
	for _, t := range r.tables() {
		found = append(found, t.damages()...)
	}
	return found
}
