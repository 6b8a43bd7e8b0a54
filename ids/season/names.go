package season

import (
	"strings"

	"golang.org/x/text/unicode/norm"
)

// nameKey is the same for two ways to write a name: it ignores case, spaces
// between words, and how accents are encoded.
func nameKey(name string) string {
	return strings.ToLower(strings.Join(strings.Fields(norm.NFC.String(name)), " "))
}
