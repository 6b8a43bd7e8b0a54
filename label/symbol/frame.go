package symbol

import "strings"

// Labels of a batch have codes of one kind, size and module, whatever each of
// them says.

// Carrying is the code in the same place for another payload: of the same kind
// and module, a QR code of the same number of modules as well, with the highest
// error correction that holds the payload there. A Data Matrix may be smaller.
// It reports false where none does: where c is of level M or better, so must the
// other be.
func (c Choice) Carrying(payload string) (Choice, bool) {
	if checkAlphabet(payload) != nil {
		return Choice{}, false
	}
	c.Payload = payload
	if c.Kind == DataMatrix {
		own := dmCandidates(payload)
		if len(own) == 0 || own[0].size > c.Size {
			return Choice{}, false
		}
		c.Size = own[0].size
		return c, true
	}
	weakest := 1
	if c.Level == levels[0] {
		weakest = 0
	}
	version := (c.Size - qrSize(0)) / 4
	for l := len(levels) - 1; l >= weakest; l-- {
		if len(payload) <= qrCapacity[version-1][l] {
			c.Level = levels[l]
			return c, true
		}
	}
	return Choice{}, false
}

// Outgrows reports whether payload a needs more of a code than b does, in one
// kind of code or the other.
func Outgrows(a, b string) bool {
	return len(a) > len(b) || dmCodewords(a) > dmCodewords(b)
}

// version is the smallest version of a QR code that holds n characters at the
// level, by its place among levels; 0 for none.
func version(n, level int) int {
	for v := range qrCapacity {
		if n <= qrCapacity[v][level] {
			return v + 1
		}
	}
	return 0
}

// levelOf is the place of a level among levels, -1 for none.
func levelOf(level byte) int { return strings.IndexByte(levels, level) }
