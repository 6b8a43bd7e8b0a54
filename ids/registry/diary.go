package registry

import (
	"fmt"
	"slices"
	"strings"

	"pipstake/ids"
)

// DiaryWord is what an entry of the diary tells.
type DiaryWord string

// The words of the diary.
const (
	Noted         DiaryWord = "note"      // the text, on anything
	Moved         DiaryWord = "moved"     // a pot or seedling, to the place in the text
	SeedGiven     DiaryWord = "given"     // a number of a lot's seeds, as the text says
	SeedDiscarded DiaryWord = "discarded" // a number of a lot's seeds, as the text says
	PlantedOut    DiaryWord = "planted"   // a seedling, at the place in the text
	Grafted       DiaryWord = "grafted"   // a number of copies of a seedling, as the text says
	Flowered      DiaryWord = "flowered"  // a seedling, for the first time
	Fruited       DiaryWord = "fruited"   // a seedling, for the first time
	Selected      DiaryWord = "selected"  // a seedling, under the name in the text
	IntoCold      DiaryWord = "into-cold" // a lot, for a further spell
	OutOfCold     DiaryWord = "out-of-cold"
)

// diaryWords are all of them.
var diaryWords = []DiaryWord{Noted, Moved, SeedGiven, SeedDiscarded, PlantedOut, Grafted, Flowered, Fruited, Selected, IntoCold, OutOfCold}

// levels returns the levels that a word may be said of.
func (w DiaryWord) levels() []ids.Level {
	switch w {
	case Noted:
		return []ids.Level{ids.CrossLevel, ids.LotLevel, ids.PotLevel, ids.SeedlingLevel}
	case Moved:
		return []ids.Level{ids.PotLevel, ids.SeedlingLevel}
	case SeedGiven, SeedDiscarded, IntoCold, OutOfCold:
		return []ids.Level{ids.LotLevel}
	}
	return []ids.Level{ids.SeedlingLevel}
}

// event is the word as the name of an event.
func (w DiaryWord) event() string {
	switch w {
	case Noted:
		return "note"
	case Moved:
		return "move"
	case SeedGiven:
		return "giving away of seeds"
	case SeedDiscarded:
		return "discarding of seeds"
	case PlantedOut:
		return "planting out"
	case Grafted:
		return "grafting"
	case Flowered:
		return "first flowering"
	case Fruited:
		return "first fruit"
	case Selected:
		return "selection"
	case IntoCold:
		return "return to the cold"
	case OutOfCold:
		return "taking out of the cold"
	}
	return string(w)
}

// DiaryEntry is something that happened to a cross, seed lot, pot or seedling
// on a day and that its own row does not tell.
type DiaryEntry struct {
	ID     ids.ID
	On     Date
	What   DiaryWord
	Number Count
	Text   string
}

// Diary returns the entries in the order of their file.
func (r *Registry) Diary() []DiaryEntry { return slices.Clip(r.diary.entries) }

// DiaryOf returns the entries of an identifier by their dates; those of its
// children are not among them.
func (r *Registry) DiaryOf(id ids.ID) []DiaryEntry {
	entries := r.diary.pick(r.diary.exactly(id))
	slices.SortStableFunc(entries, func(a, b DiaryEntry) int { return a.On.Compare(b.On) })
	return entries
}

// told returns the entries of an identifier with a word, by their dates.
func (r *Registry) told(id ids.ID, word DiaryWord) []DiaryEntry {
	return slices.DeleteFunc(r.DiaryOf(id), func(e DiaryEntry) bool { return e.What != word })
}

// tell writes an entry. The error is a *Refusal.
func (r *Registry) tell(e DiaryEntry) (err error) {
	if e.Text, err = oneLine("text", e.Text); err != nil {
		return err
	}
	switch {
	case !slices.Contains(e.What.levels(), e.ID.Level()):
		return &Refusal{fmt.Sprintf("%s is a %s, and there is no %s of one", e.ID, e.ID.Level(), e.What.event()), "give the identifier of " + levelList(e.What.levels())}
	case e.On.IsZero():
		return &Refusal{fmt.Sprintf("the day of the %s is not given", e.What.event()), "give it {with day}"}
	}
	r.diary.append(e)
	return nil
}

// levelList names levels to choose from: "a pot or seedling".
func levelList(levels []ids.Level) string {
	words := make([]string, len(levels))
	for i, l := range levels {
		words[i] = l.String()
	}
	return "a " + strings.Join(words, " or ")
}

// Note records a remark on anything that is not void, whether it grows or has
// ended. The error is a *Refusal or a *DamageError.
func (r *Registry) Note(id ids.ID, on Date, text string) error {
	if _, err := r.usable(id, max(id.Level(), ids.CrossLevel)); err != nil {
		return err
	}
	if strings.TrimSpace(text) == "" {
		return &Refusal{fmt.Sprintf("the note on %s is empty", id), "write what is to be kept"}
	}
	return r.tell(DiaryEntry{ID: id, On: on, What: Noted, Text: text})
}

// numbered reports whether an entry with the word has a number.
func (w DiaryWord) numbered() bool { return w == SeedGiven || w == SeedDiscarded || w == Grafted }
