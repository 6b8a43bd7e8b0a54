package registry

import (
	"encoding/csv"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pipstake/ids"
)

var (
	scale   = flag.Int("scale", 10_000, "pots in the registry that the benchmarks read")
	largeTo = flag.String("large", "", "write that registry into this new folder, to try commands on")
)

// TestLarge looks whether the benchmarks' registry is one without a finding.
func TestLarge(t *testing.T) {
	d := large(*scale)
	r, err := testStore(d).load(mustRead(t, d))
	if err != nil || len(r.Pots()) != *scale {
		t.Fatalf("%d pots, %v", len(r.Pots()), err)
	}
	if found := r.Check(); len(found) > 0 {
		t.Errorf("%d findings, the first is %s", len(found), found[0])
	}
	if *largeTo == "" {
		return
	}
	if err := Init(*largeTo); err != nil {
		t.Fatal(err)
	}
	for path, f := range d.now {
		if err := os.WriteFile(filepath.Join(*largeTo, filepath.Base(path)), []byte(f.data), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// large returns a registry without a finding: pots, five to a seed lot and a
// hundred to a cross, with their lots, labels and a count each, and a note and an
// entry of the calendar for each cross.
func large(pots int) *testDisk {
	files := emptyFiles()
	var crosses, lots, rows, counts, labels, stakes, diary, calendar strings.Builder
	const aYear = 200_000 // pots; a year's bags are printed before its stakes
	for i := range pots {
		if i%aYear == 0 {
			labels.WriteString(stakes.String())
			stakes.Reset()
		}
		pot := ids.ID{Year: 2000 + i/100/2000, Cross: 1 + i/100%2000, Lot: 1 + i/5%20, Pot: 1 + i%5}
		if i%100 == 0 {
			fmt.Fprintf(&diary, "%s,%d-05-20,note,,a late frost\r\n", pot.At(ids.CrossLevel), pot.Year)
			fmt.Fprintf(&calendar, "o-cold-%s,%d-11-20,1,taken back,abc,end the soak\r\n", pot.At(ids.CrossLevel), pot.Year)
			fmt.Fprintf(&crosses, "%s,Larkfield Tessel,Härmä Punanen,%d-05-04,12,,\r\n", pot.At(ids.CrossLevel), pot.Year)
		}
		if i%5 == 0 {
			lot := pot.At(ids.LotLevel)
			fmt.Fprintf(&lots, "%s,%d-08-01,%d-11-15,4,26,1,%d-11-20,,\r\n", lot, pot.Year, pot.Year, pot.Year)
			fmt.Fprintf(&labels, "%d,%d-08-01,bag,%s,,a4-3x8-70x37,%d,%d,%s LARKFIELD TESSEL X HARMA PUNANEN,\r\n", 1+i/100, pot.Year, lot, 1+i/120, 1+i/5%24, lot.WithCheck())
		}
		fmt.Fprintf(&rows, "%s,5,%d-01-14,bench %d,,\r\n", pot, pot.Year+1, i%12)
		fmt.Fprintf(&counts, "%s,%d-03-01,%d,,\r\n", pot, pot.Year+1, i%6)
		for stake := 1; stake <= 2; stake++ {
			fmt.Fprintf(&stakes, "%d,%d-01-14,stake,%s,%d,a4-cut-148x20,%d,%d,%s/%d 5 SOWN %d-01-14 LARKFIELD TESSEL X HARMA PUNANEN,\r\n",
				1+i/100, pot.Year+1, pot, stake, 1+i/10, i%10*2+stake, pot.WithCheck(), stake, pot.Year+1)
		}
	}
	labels.WriteString(stakes.String())
	for name, b := range map[string]*strings.Builder{"crosses.csv": &crosses, "lots.csv": &lots, "pots.csv": &rows, "emergence.csv": &counts, "labels.csv": &labels, diaryFile: &diary, calendarFile: &calendar} {
		files["r/"+name] += b.String()
	}
	return newTestDisk(files)
}

// BenchmarkLarge measures what a command does with a large registry, against
// what encoding/csv takes merely to read the same bytes.
func BenchmarkLarge(b *testing.B) {
	s := testStore(large(*scale))
	states, err := s.read()
	if err != nil {
		b.Fatal(err)
	}
	load := func(b *testing.B) *Registry {
		r, err := s.load(states)
		if err != nil || len(r.pots.entries) != *scale {
			b.Fatal(err, len(r.pots.entries))
		}
		return r
	}
	b.Run("encoding-csv", func(b *testing.B) {
		for b.Loop() {
			for _, f := range states {
				r := csv.NewReader(strings.NewReader(strings.TrimPrefix(f.text, bom)))
				r.ReuseRecord, r.FieldsPerRecord = true, -1
				for {
					if _, err := r.Read(); err == io.EOF {
						break
					} else if err != nil {
						b.Fatal(err)
					}
				}
			}
		}
	})
	b.Run("open", func(b *testing.B) {
		for b.Loop() {
			load(b)
		}
	})
	b.Run("open-and-check", func(b *testing.B) {
		for b.Loop() {
			if found := load(b).Check(); len(found) > 0 {
				b.Fatal(found[0])
			}
		}
	})
	b.Run("look-up", func(b *testing.B) {
		r := load(b)
		pot := r.pots.entries[*scale/2].ID
		for b.Loop() {
			if len(r.PotsOf(pot.At(ids.LotLevel))) != 5 || len(r.LabelsOf(pot)) != 2 || len(r.EmergenceOf(pot)) != 1 || r.Status(pot) != Issued {
				b.Fatal(pot)
			}
		}
	})
	b.Run("sow", func(b *testing.B) {
		for b.Loop() {
			err := testStore(newTestDisk(filesOf(states))).change(func(r *Registry) error {
				c, err := r.AddCross(NewCross{SeedParent: "A", PollenParent: "B", Year: 2026})
				if err != nil {
					return err
				}
				_, err = r.AddLots(c.ID, 20, Date{})
				return err
			})
			if err != nil {
				b.Fatal(err)
			}
		}
	})
}

func filesOf(states []fileState) map[string]string {
	files := map[string]string{}
	for _, f := range states {
		files["r/"+f.name] = f.text
	}
	return files
}
