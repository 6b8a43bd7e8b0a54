package ids

import "fmt"

// NumberError says that there is no further number to issue.
type NumberError struct {
	In   string // what the number would count in: "2026", "2026X012-B"
	Next Level  // what was to be issued
	Most int    // the largest number there is; 0 where In can hold none
}

func (e *NumberError) Error() string {
	if e.Most == 0 {
		return fmt.Sprintf("%q can hold no %s", e.In, e.Next)
	}
	return fmt.Sprintf("%s: number %d was the last %s there can be", e.In, e.Most, e.Next)
}

// NextCross is the first cross of a year that was never issued: one more than
// the largest among issued. Identifiers of seed lots, pots and seedlings count
// for their cross. The error is a *NumberError.
func NextCross(year int, issued []ID) (ID, error) {
	if year < minYear || year > maxYear {
		return ID{}, &NumberError{In: fmt.Sprint(year), Next: CrossLevel}
	}
	return next(ID{Year: year}, fmt.Sprint(year), issued)
}

// NextChild is the first seed lot of a cross, pot of a seed lot or seedling of
// a pot that was never issued: one more than the largest among issued, voided
// ones included as they stand there. Deeper identifiers count for those above
// them. The error is a *NumberError.
func NextChild(parent ID, issued []ID) (ID, error) {
	if l := parent.Level(); l == NoLevel || l == SeedlingLevel {
		return ID{}, &NumberError{In: parent.String(), Next: min(l+1, SeedlingLevel)}
	}
	return next(parent, parent.String(), issued)
}

func next(parent ID, name string, issued []ID) (ID, error) {
	level := parent.Level() + 1
	last := 0
	for _, id := range issued {
		if id.Level() >= level && id.At(level-1) == parent {
			last = max(last, id.At(level).Ordinal())
		}
	}
	if most := level.Most(); last >= most {
		return ID{}, &NumberError{In: name, Next: level, Most: most}
	}
	return parent.Child(last + 1), nil
}
