package registry

import (
	"os"
	"path/filepath"
	"testing"

	"pipstake/ids"
)

// A finding names the row and shows the cell as it stands in the file, blank
// rows counted.
func TestFindingOn(t *testing.T) {
	dir := t.TempDir()
	if err := Init(dir); err != nil {
		t.Fatal(err)
	}
	rows := "id,seed_parent,pollen_parent,pollinated,flowers,state,notes\n\n2026x001, Larkfield Tessel ,Tarn Amber,,,,\n2026X001,again,Tarn Amber,,,,\n"
	if err := os.WriteFile(filepath.Join(dir, MarkerFile), []byte(rows), 0o666); err != nil {
		t.Fatal(err)
	}
	r, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		id, column string
		want       Finding
	}{
		{"2026X001", "seed_parent", Finding{"crosses.csv", 3, "seed_parent", " Larkfield Tessel ", "what", "remedy"}},
		{"2026X001", "id", Finding{"crosses.csv", 3, "id", "2026x001", "what", "remedy"}},
		{"2026X002", "id", Finding{"crosses.csv", 0, "id", "", "what", "remedy"}},
		{"2026X001-A", "state", Finding{"lots.csv", 0, "state", "", "what", "remedy"}},
		{"", "id", Finding{What: "what", Remedy: "remedy"}},
	} {
		id := ids.ID{}
		if c.id != "" {
			id = mustID(t, c.id)
		}
		if got := r.FindingOn(id, c.column, "what", "remedy"); got != c.want {
			t.Errorf("%q, %s: %+v, want %+v", c.id, c.column, got, c.want)
		}
	}
}
