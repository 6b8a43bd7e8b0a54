package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pipstake/ids/registry"
	"pipstake/label/reading"
)

// testPress prints by the given flags.
func testPress(t *testing.T, e *env, args ...string) *printRun {
	t.Helper()
	f := newFlags(bagsCommand)
	printing := f.printing()
	if _, err := f.parse(args); err != nil {
		t.Fatal(err)
	}
	p, err := e.newPrintRun(printing)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Where the sheet cannot be put into its place after the registry was saved,
// the message names the batch and the command that writes it again; that
// command does, and no temporary file is left.
func TestSheetLostAfterSaving(t *testing.T) {
	e, _, _ := testEnv(t)
	dir := e.cwd
	if err := registry.Init(dir); err != nil {
		t.Fatal(err)
	}
	p := testPress(t, e, "--out", "bags.pdf")
	var files []sheetFile
	err := e.change(dir, func(r *registry.Registry) error {
		c, err := r.AddCross(registry.NewCross{SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber", Year: 2026})
		if err != nil {
			return err
		}
		lots, err := r.AddLots(c.ID, 2, registry.Date{Year: 2026, Month: 6, Day: 20})
		if err != nil {
			return err
		}
		o := order{on: registry.Date{Year: 2026, Month: 6, Day: 20}}
		for _, l := range lots {
			o.tags = append(o.tags, reading.KeysOf(l.ID)...)
		}
		files, err = p.record(r, o)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	// Somebody makes a folder of that name in the meantime.
	if err := os.Mkdir(filepath.Join(dir, "bags.pdf"), 0o755); err != nil {
		t.Fatal(err)
	}
	err = p.finish(files, unplaced)
	if statusOf(err) != failed {
		t.Fatalf("status %d for %v, want %d", statusOf(err), err, failed)
	}
	said := firstProblem(err)
	if !strings.Contains(said.What, "the labels are recorded, batch 1") || !strings.Contains(said.Remedy, "pipstake labels --batch 1") {
		t.Errorf("the message does not help: %q, hint %q", said.What, said.Remedy)
	}
	if left, _ := filepath.Glob(filepath.Join(dir, ".pipstake-*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}

	again, _, stderr := testEnv(t, "labels", "--batch", "1", "--out", "again.pdf")
	again.cwd = dir
	if got := execute(again); got != fine {
		t.Fatalf("labels --batch 1: status %d, %s", got, stderr)
	}
	pdf, err := os.ReadFile(filepath.Join(dir, "again.pdf"))
	if err != nil || !strings.HasPrefix(string(pdf), "%PDF-") {
		t.Errorf("the sheet was not written again: %v", err)
	}
}

// Work on a registry may run twice, when somebody else saved in between: the
// numbers and the sheet are those of the second run.
func TestPrintingWhenTheRegistryChangesMeanwhile(t *testing.T) {
	e, stdout, stderr := testEnv(t)
	dir := e.cwd
	if err := registry.Init(dir); err != nil {
		t.Fatal(err)
	}
	p := testPress(t, e)
	runs := 0
	day := registry.Date{Year: 2026, Month: 6, Day: 20}
	_, err := p.print(dir, func(r *registry.Registry) (order, error) {
		runs++
		if runs == 1 { // a program that knows of no lock
			rows := "id,seed_parent,pollen_parent,pollinated,flowers,state,notes\r\n2026X004,Gwennol Goch,Tarn Amber,,,,\r\n"
			if err := os.WriteFile(filepath.Join(dir, "crosses.csv"), []byte(rows), 0o644); err != nil {
				return order{}, err
			}
		}
		c, err := r.AddCross(registry.NewCross{SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber", Year: 2026})
		if err != nil {
			return order{}, err
		}
		lots, err := r.AddLots(c.ID, 1, day)
		if err != nil {
			return order{}, err
		}
		return order{on: day, tags: reading.KeysOf(lots[0].ID), lines: []string{lots[0].ID.String()}}, nil
	})
	if err != nil {
		t.Fatal(err, stderr)
	}
	if err := e.Flush(); err != nil {
		t.Fatal(err)
	}
	if runs != 2 || !strings.HasPrefix(stdout.String(), "2026X005-A\n") {
		t.Errorf("%d runs, and it says %q", runs, stdout)
	}
	names, _ := filepath.Glob(filepath.Join(dir, "*.pdf"))
	hidden, _ := filepath.Glob(filepath.Join(dir, ".pipstake-*"))
	if len(names) != 1 || len(hidden) != 0 {
		t.Errorf("sheets %v, left behind %v", names, hidden)
	}
}
