package ids_test

import (
	"strings"
	"testing"

	"pipstake/ids"
)

// Spaces before the check character change nothing, at any level.
func TestSpacesBeforeTheCheckCharacter(t *testing.T) {
	cross := ids.ID{Year: 2026, Cross: 12}
	for _, id := range []ids.ID{cross, cross.Child(2), cross.Child(2).Child(2), cross.Child(2).Child(2).Child(3)} {
		text := strings.Replace(id.WithCheck(), ".", "  .", 1)
		if read, err := ids.Parse(text); err != nil || read.ID != id || !read.Checked {
			t.Errorf("%q: %+v, %v", text, read, err)
		}
	}
}
