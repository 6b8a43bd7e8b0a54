package registry

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
)

func TestFind(t *testing.T) {
	dir := newRegistry(t, nil)
	other := newRegistry(t, nil)
	deep := filepath.Join(dir, "sheets", "2026")
	if err := os.MkdirAll(deep, 0o777); err != nil {
		t.Fatal(err)
	}
	none := t.TempDir()
	for _, c := range []struct{ flag, env, cwd, want string }{
		{"", "", dir, dir},
		{"", "", deep, dir},
		{"", other, deep, other},
		{other, dir, deep, other},
		{"../..", "", deep, dir},
		{"", "", none, none + ": neither this folder nor one above it holds a registry; make one with: {init}, or name one {with registry}"},
		{"apples", dir, none, filepath.Join(none, "apples") + `: holds no registry, though --registry says so; make one with: {init: "apples"}`},
		{"", none, dir, none + `: holds no registry, though PIPSTAKE_REGISTRY says so; make one with: {init: "` + none + `"}`},
	} {
		got, err := Find(c.flag, c.env, c.cwd)
		var access *AccessError
		if err != nil {
			got = err.Error()
			if !errors.As(err, &access) {
				t.Errorf("%T", err)
			}
		}
		if got != c.want {
			t.Errorf("Find(%q, %q, %q): %s\nwant %s", c.flag, c.env, c.cwd, got, c.want)
		}
	}
}

func TestInitWritesTheTables(t *testing.T) {
	dir := newRegistry(t, nil)
	// The columns are part of the file format, so they stand here once more.
	for name, header := range map[string]string{
		"crosses.csv":   "id,seed_parent,pollen_parent,pollinated,flowers,state,notes",
		"lots.csv":      "id,issued,extracted,fruit,seeds,undeveloped,chilled,state,notes",
		"pots.csv":      "id,seeds,sown,place,state,notes",
		"seedlings.csv": "id,pricked,state,notes",
		"emergence.csv": "pot,on,up,notes",
		"labels.csv":    "batch,printed,face,id,copy,stock,sheet,cell,payload,state",
	} {
		if got := readFile(t, dir, name); got != "\ufeff"+header+"\r\n" {
			t.Errorf("%s is %q", name, got)
		}
	}
	r, err := Open(dir)
	if err != nil || r.Dir() != dir || len(r.Check()) > 0 || len(r.Crosses())+len(r.Labels()) > 0 {
		t.Errorf("%v, %v", r, err)
	}
}

func TestInitRefusesWhatIsThere(t *testing.T) {
	dir := newRegistry(t, map[string]string{"pots.csv": "mine"})
	err := Init(dir)
	var refusal *Refusal
	if want := dir + " holds a registry already; use it, or name another folder"; !errors.As(err, &refusal) || err.Error() != want {
		t.Errorf("%v\nwant %s", err, want)
	}
	if err := os.Remove(filepath.Join(dir, MarkerFile)); err != nil {
		t.Fatal(err)
	}
	err = Init(dir)
	if want := filepath.Join(dir, "lots.csv") + " is there already; use it, or name another folder"; !errors.As(err, &refusal) || err.Error() != want {
		t.Errorf("%v\nwant %s", err, want)
	}
	if got := readFile(t, dir, "pots.csv"); got != "mine" {
		t.Errorf("pots.csv is %q", got)
	}
}

// An error at each operation leaves no file behind.
func TestInitFailsWhole(t *testing.T) {
	for at := 1; ; at++ {
		d := newTestDisk(nil)
		d.failAt = at
		dir := t.TempDir()
		err := store{disk: d, dir: dir, names: fileNames()}.init(newTables())
		if err == nil {
			if at < 20 || len(d.now) != 7 {
				t.Errorf("%d operations, %d files", at, len(d.now))
			}
			return
		}
		if len(d.now) > 0 {
			t.Fatalf("operation %d: %d files are left after %v", at, len(d.now), err)
		}
	}
}
