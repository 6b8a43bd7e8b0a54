package season

import (
	"encoding/csv"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/layout/proof/outside"
)

// emptyRegistry is a folder with a new registry, made once.
var emptyRegistry = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "season")
	if err == nil {
		err = registry.Init(dir)
	}
	return dir, err
})

func TestMain(m *testing.M) {
	outside.KeepFilesInMemory()
	status := m.Run()
	if dir, err := emptyRegistry(); err == nil {
		os.RemoveAll(dir)
	}
	os.Exit(status)
}

// blank is a folder with a registry of its own: a copy, since making one waits
// for the disk.
func blank(t *testing.T) string {
	t.Helper()
	from, err := emptyRegistry()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(from)); err != nil {
		t.Fatal(err)
	}
	return dir
}

// orchard makes a registry with one cross of 2026 and a number of lots, and
// lets work go on with it.
func orchard(t *testing.T, lots int, work func(r *registry.Registry) error) *registry.Registry {
	t.Helper()
	dir := blank(t)
	err := registry.Change(dir, registry.Options{}, func(r *registry.Registry) error {
		cross, err := r.AddCross(registry.NewCross{SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber", Pollinated: day(t, "2025-05-02"), Year: 2025})
		if err != nil {
			return err
		}
		if _, err := r.AddLots(cross.ID, lots, day(t, "2025-06-01")); err != nil {
			return err
		}
		return work(r)
	})
	if err != nil {
		t.Fatal(err)
	}
	r, err := registry.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// with opens a registry again with some cells of a row changed; columns that the
// file lacks are added to it.
func with(t *testing.T, r *registry.Registry, file string, id ids.ID, cells map[string]string) *registry.Registry {
	t.Helper()
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(r.Dir())); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, file)
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(string(text), "\ufeff"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	changed := 0
	for _, name := range slices.Sorted(maps.Keys(cells)) {
		column := slices.Index(rows[0], name)
		if column < 0 {
			column = len(rows[0])
			for i := range rows {
				rows[i] = append(rows[i], "")
			}
			rows[0][column] = name
		}
		for _, row := range rows[1:] {
			if row[0] == id.String() {
				row[column] = cells[name]
				changed++
			}
		}
	}
	if changed != len(cells) {
		t.Fatalf("%s is not in one row of %s", id, file)
	}
	var b strings.Builder
	if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(b.String()), 0o666); err != nil {
		t.Fatal(err)
	}
	if r, err = registry.Open(dir); err != nil {
		t.Fatal(err)
	}
	if found := r.Damage(); found != nil {
		t.Fatalf("%+v", found)
	}
	return r
}

// written is a registry whose files hold these rows, each file with its header.
// Files that are not named have none.
func written(t *testing.T, files map[string]string) *registry.Registry {
	t.Helper()
	dir := blank(t)
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text+"\n"), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	r, err := registry.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	if found := r.Damage(); found != nil {
		t.Fatalf("%+v", found)
	}
	return r
}

func extracted(t *testing.T, r *registry.Registry, lot ids.ID, on string) error {
	_, err := r.Extract(lot, registry.Extraction{Seeds: registry.Known(10), Undeveloped: registry.Known(2), On: day(t, on)})
	return err
}

// shown writes tasks as "kind from..to n/of".
func shown(tasks []Task) string {
	names := map[Kind]string{ChangeWater: "water", EndSoak: "end", ColdOpens: "opens", Sow: "sow", ColdCloses: "closes",
		ColdOver: "over", FirstLook: "look", CountAgain: "count", LabelWorn: "worn", KeptUntil: "kept"}
	var all []string
	for _, t := range tasks {
		s := fmt.Sprintf("%s %s", names[t.Kind], t.From)
		if t.To != t.From {
			s += ".." + t.To.String()
		}
		if t.N > 0 {
			s += fmt.Sprintf(" %d/%d", t.N, t.Of)
		}
		all = append(all, s)
	}
	return strings.Join(all, ", ")
}

var (
	crossOne = ids.ID{Year: 2025, Cross: 1}
	lotA     = crossOne.Child(1)
	potA1    = lotA.Child(1)
)
