// Package ids knows the identifiers of crosses, seed lots, pots and seedlings:
// how they are written and read, their check character, and which number comes
// next. It knows nothing of tables, labels or files.
//
//	2026X012        cross 12 of 2026
//	2026X012-B      its second seed lot
//	2026X012-B2     the second pot sown from that lot
//	2026X012-B2-C   the third seedling pricked out of that pot
//
// Letters and digits alternate, so the hyphens help the eye and never the
// parser. Letters leave out I and O, which are read as 1 and 0.
//
// # Decisions
//
// Identifier. 2026X012-B2-C with an ISO/IEC 7064 MOD 37,36 check character
// after a full stop: 2026X012-B2.3. Numbers come from the highest found
// anywhere in the registry, so neither a voided row nor one deleted from a
// table is issued again.
package ids

import (
	"cmp"
	"strconv"
)

// The largest number at each level.
const (
	MaxCross    = 99999 // in a year
	MaxLot      = 600   // of a cross: ZZ
	MaxPot      = 9999  // of a seed lot
	MaxSeedling = 600   // of a pot: ZZ
)

// The years that an identifier can hold.
const (
	minYear = 1000
	maxYear = 9999
)

// ID is the identifier of a cross, a seed lot, a pot or a seedling. Each number
// counts within the one before it, from 1; 0 stands for absent. Seed lots and
// seedlings are written as letters: 1 is A, 24 is Z, 25 is AA.
type ID struct{ Year, Cross, Lot, Pot, Seedling int }

// Level is what an identifier stands for.
type Level int

// The levels, from the outermost.
const (
	NoLevel Level = iota
	CrossLevel
	LotLevel
	PotLevel
	SeedlingLevel
)

var levelNames = [...]string{"none", "cross", "seed lot", "pot", "seedling"}

// String is the word of the trade: "cross", "seed lot", "pot", "seedling".
func (l Level) String() string {
	if l < NoLevel || l > SeedlingLevel {
		return "level " + strconv.Itoa(int(l))
	}
	return levelNames[l]
}

// Most is the largest number that can be issued at the level, or 0 for
// NoLevel.
func (l Level) Most() int {
	switch l {
	case CrossLevel:
		return MaxCross
	case LotLevel:
		return MaxLot
	case PotLevel:
		return MaxPot
	case SeedlingLevel:
		return MaxSeedling
	}
	return 0
}

// Level returns what the identifier stands for: NoLevel for one without a cross.
func (id ID) Level() Level {
	switch {
	case id.Cross == 0:
		return NoLevel
	case id.Lot == 0:
		return CrossLevel
	case id.Pot == 0:
		return LotLevel
	case id.Seedling == 0:
		return PotLevel
	}
	return SeedlingLevel
}

// String writes the identifier with its hyphens: "2026X012-B2-C". An
// identifier of NoLevel gives "".
func (id ID) String() string {
	return string(id.append(make([]byte, 0, maxLength), true))
}

// append writes the identifier to the end of b, with its hyphens or without.
func (id ID) append(b []byte, hyphens bool) []byte {
	level := id.Level()
	if level >= CrossLevel {
		b = appendPadded(b, id.Year, 4)
		b = append(b, 'X')
		b = appendPadded(b, id.Cross, 3)
	}
	if level >= LotLevel {
		if hyphens {
			b = append(b, '-')
		}
		b = appendLetters(b, id.Lot)
	}
	if level >= PotLevel {
		b = strconv.AppendInt(b, int64(id.Pot), 10)
	}
	if level >= SeedlingLevel {
		if hyphens {
			b = append(b, '-')
		}
		b = appendLetters(b, id.Seedling)
	}
	return b
}

// appendPadded writes n with leading zeros to at least width digits.
func appendPadded(b []byte, n, width int) []byte {
	for least := 10; width > 1; least *= 10 {
		width--
		if n < least {
			b = append(b, "000"[:width]...)
			break
		}
	}
	return strconv.AppendInt(b, int64(n), 10)
}

// Parent is the identifier one level up; false for a cross, which has none.
func (id ID) Parent() (ID, bool) {
	if id.Level() <= CrossLevel {
		return ID{}, false
	}
	return id.At(id.Level() - 1), true
}

// At cuts the identifier down to a level. One that does not reach down to the
// level stays as it is.
func (id ID) At(level Level) ID {
	if level < SeedlingLevel {
		id.Seedling = 0
	}
	if level < PotLevel {
		id.Pot = 0
	}
	if level < LotLevel {
		id.Lot = 0
	}
	if level < CrossLevel {
		id.Cross = 0
	}
	return id
}

// Child is number n at the level below: the cross of a bare year, the seed lot
// of a cross, the pot of a seed lot, the seedling of a pot. A seedling has none
// and returns the zero ID.
func (id ID) Child(n int) ID {
	switch id.Level() {
	case NoLevel:
		id.Cross = n
	case CrossLevel:
		id.Lot = n
	case LotLevel:
		id.Pot = n
	case PotLevel:
		id.Seedling = n
	default:
		return ID{}
	}
	return id
}

// Ordinal is the last of the identifier's numbers: 2 for pot 2026X012-B2.
func (id ID) Ordinal() int {
	switch id.Level() {
	case CrossLevel:
		return id.Cross
	case LotLevel:
		return id.Lot
	case PotLevel:
		return id.Pot
	case SeedlingLevel:
		return id.Seedling
	}
	return 0
}

// Within reports whether the identifier is outer or stands anywhere below it.
func (id ID) Within(outer ID) bool { return id.At(outer.Level()) == outer }

// How many keys an identifier of a level and all below it take up; see Span.
const (
	potKeys   = MaxSeedling + 1
	lotKeys   = potKeys * (MaxPot + 1)
	crossKeys = lotKeys * (MaxLot + 1)
	yearKeys  = crossKeys * (MaxCross + 1)
)

var levelKeys = [...]uint64{yearKeys, crossKeys, lotKeys, potKeys, 1}

// Span numbers identifiers in the order of Compare: from is the identifier's
// own key, and the keys of all that stand below it come before end. A bare year
// spans its crosses. What no identifier can be spans nothing.
func (id ID) Span() (from, end uint64) {
	if id.Year < 0 || id.Year > maxYear || id.Cross < 0 || id.Cross > MaxCross || id.Lot < 0 || id.Lot > MaxLot ||
		id.Pot < 0 || id.Pot > MaxPot || id.Seedling < 0 || id.Seedling > MaxSeedling {
		return 0, 0
	}
	from = uint64(id.Year)*yearKeys + uint64(id.Cross)*crossKeys + uint64(id.Lot)*lotKeys + uint64(id.Pot)*potKeys + uint64(id.Seedling)
	return from, from + levelKeys[id.Level()]
}

// Compare orders identifiers by their numbers, a parent before its children.
func Compare(a, b ID) int {
	if a.Year != b.Year {
		return cmp.Compare(a.Year, b.Year)
	}
	if a.Cross != b.Cross {
		return cmp.Compare(a.Cross, b.Cross)
	}
	if a.Lot != b.Lot {
		return cmp.Compare(a.Lot, b.Lot)
	}
	if a.Pot != b.Pot {
		return cmp.Compare(a.Pot, b.Pot)
	}
	return cmp.Compare(a.Seedling, b.Seedling)
}
