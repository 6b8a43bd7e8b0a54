package registry

import (
	"slices"

	"pipstake/ids"
)

// Fate is how a cross, seed lot, pot or seedling ended. What ended stays in the
// figures: its counts were counted, and its seeds do not come back.
type Fate string

// The fates.
const (
	Growing   Fate = ""
	Failed    Fate = "failed"     // a cross: no fruit
	Discarded Fate = "discarded"  // a seed lot
	UsedUp    Fate = "used-up"    // a seed lot: no seed is left of it
	GivenAway Fate = "given-away" // a seed lot
	Lost      Fate = "lost"       // a pot: mice, frost, tipped over
	Emptied   Fate = "emptied"    // a pot: all was pricked out
	Died      Fate = "died"       // a seedling
	Culled    Fate = "culled"     // a seedling: taken out on purpose
)

// DiaryWord is what an entry of the diary tells.
type DiaryWord string

// The words of the diary.
const (
	Noted         DiaryWord = "note"      // the text, on anything
	Moved         DiaryWord = "moved"     // a pot or seedling, to the place in the text
	SeedGiven     DiaryWord = "given"     // a number of a lot's seeds
	SeedDiscarded DiaryWord = "discarded" // a number of a lot's seeds
	PlantedOut    DiaryWord = "planted"   // a seedling, at the place in the text
	Grafted       DiaryWord = "grafted"   // a number of copies of a seedling
	Flowered      DiaryWord = "flowered"  // a seedling, for the first time
	Fruited       DiaryWord = "fruited"   // a seedling, for the first time
	Selected      DiaryWord = "selected"  // a seedling, under the name in the text
	IntoCold      DiaryWord = "into-cold" // a lot, for a further spell
	OutOfCold     DiaryWord = "out-of-cold"
)

// DiaryEntry is something that happened to a cross, seed lot, pot or seedling
// on a day and that its own row does not tell.
type DiaryEntry struct {
	ID     ids.ID
	On     Date
	What   DiaryWord
	Number Count
	Text   string
}

// Diary gives the entries in the order of their file.
func (r *Registry) Diary() []DiaryEntry { return slices.Clip(r.diary.entries) }

// DiaryOf gives the entries of an identifier by their dates; those of its
// children are not among them.
func (r *Registry) DiaryOf(id ids.ID) []DiaryEntry {
	entries := r.diary.pick(r.diary.exactly(id))
	slices.SortStableFunc(entries, func(a, b DiaryEntry) int { return a.On.compare(b.On) })
	return entries
}
