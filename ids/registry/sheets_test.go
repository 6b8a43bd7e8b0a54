package registry

import (
	"runtime"
	"strings"
	"testing"
)

// The largest numbers of sheets and cells that are read, which nobody prints, cost no more memory than
// small ones, wherever they are looked at.
func TestAbsurdSheetsCostRowsNotNumbers(t *testing.T) {
	cost := func(labels string) uint64 {
		files := cleanSeason()
		files["labels.csv"] = labels
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		r := open(t, season(files))
		r.Check()
		if sheet := r.SheetOf("s", r.LastSheet("s")); len(sheet.Used) == 0 {
			t.Errorf("no cell of sheet %d is used", sheet.Number)
		}
		if _, err := r.Merge(open(t, season(files)), Here); err != nil {
			t.Fatal(err)
		}
		runtime.ReadMemStats(&after)
		return after.TotalAlloc - before.TotalAlloc
	}
	cost(cleanLabels) // what is made once
	plain := cost(cleanLabels)
	absurd := cost(strings.NewReplacer(",s,1,", ",s,1000000,", ",t,1,1,", ",t,1,1000000,").Replace(cleanLabels))
	if absurd > plain+1<<20 {
		t.Errorf("%d bytes, and %d with sheets and cells of small numbers", absurd, plain)
	}
}
