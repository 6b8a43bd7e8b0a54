package main

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/layout/proof/outside"
)

// demoRegistry is the demo's registry without sheets.
func demoRegistry(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	if err := registry.Init(dir); err != nil {
		t.Fatal(err)
	}
	for _, work := range []func(*registry.Registry) (order, error){pollinate, extractAndSow, countAndSlip} {
		err := registry.Change(dir, registry.Options{}, func(r *registry.Registry) error { _, err := work(r); return err })
		if err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// pythonWithCalendars finds Debian's python3-icalendar. The first python3 of a
// machine need not be Debian's.
func pythonWithCalendars(t *testing.T) string {
	t.Helper()
	for _, python := range []string{"/usr/bin/python3", "python3"} {
		if outside.Command(python, "-c", "import icalendar").Run() == nil {
			return python
		}
	}
	if os.Getenv("CI") == "true" {
		t.Fatal("python3-icalendar is missing")
	}
	t.Skip("python3-icalendar is missing")
	return ""
}

// mergeScript takes calendars in, one after the other, as a phone does: by UID,
// the one with the higher sequence. After each it compares what the phone shows
// with a fresh calendar of the same day.
const mergeScript = `
import sys, icalendar, pathlib
folder, steps = pathlib.Path(sys.argv[1]), int(sys.argv[2])
def entries(name):
    calendar = icalendar.Calendar.from_ical((folder / name).read_bytes())
    return calendar.walk("VEVENT")
def shown(e): # but for the registry's name in the UID
    alarms = [str(a.decoded("TRIGGER")) for a in e.walk("VALARM")]
    return (str(e["UID"]).split("-", 1)[1], e.decoded("DTSTART"), e.decoded("DTEND"), str(e["SUMMARY"]), str(e["DESCRIPTION"]), tuple(alarms))
phone, back, most, names = {}, 0, 0, set()
for step in range(steps):
    seen = set()
    for e in entries("%d.ics" % step):
        uid = str(e["UID"])
        if uid in seen: sys.exit("step %d: %s stands there twice" % (step, uid))
        seen.add(uid)
        names.add(uid.split("-")[0])
        if uid not in phone or int(e["SEQUENCE"]) > int(phone[uid]["SEQUENCE"]):
            phone[uid] = e
    standing = [e for e in phone.values() if e["STATUS"] != "CANCELLED"]
    back = max(back, len(phone) - len(standing))
    most = max(most, len(standing))
    mine = sorted(map(shown, standing))
    fresh = sorted(map(shown, entries("fresh-%d.ics" % step)))
    if mine != fresh:
        for e in mine:
            if e not in fresh: print("only on the phone:", e)
        for e in fresh:
            if e not in mine: print("only in the fresh one:", e)
        sys.exit("step %d: %d entries on the phone, %d in a fresh calendar" % (step, len(mine), len(fresh)))
    days = [(e[1], e[0].split("-")[1]) for e in mine]
    if len(days) != len(set(days)): sys.exit("step %d: two entries of a kind on a day" % step)
print(back, most, len(names))
`

// Over a whole season of a few crosses, each time something is recorded or a day
// passes, a phone that takes the next calendar in shows exactly what a fresh one
// holds. Some calendars never reach the phone.
func TestCalendarsTakenInOneAfterTheOther(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	python := pythonWithCalendars(t)
	s := newSeasonGame(t, 12)
	folder := t.TempDir()
	steps := 0
	for day := demoDay("2026-10-25"); day.Before(demoDay("2027-06-01")); day = day.AddDays(1 + s.random.IntN(3)) {
		s.play(t, day)
		file := s.post(t, s.dir, day)
		if s.random.IntN(4) == 0 {
			continue // the phone was not at hand
		}
		write(t, filepath.Join(folder, fmt.Sprintf("%d.ics", steps)), file)
		write(t, filepath.Join(folder, fmt.Sprintf("fresh-%d.ics", steps)), s.post(t, s.copy(t), day))
		steps++
	}
	cmd := outside.Command(python, "-c", mergeScript, folder, fmt.Sprint(steps))
	cmd.Env = append(os.Environ(), "PYTHONUTF8=1")
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	var back, most, names int
	if _, err := fmt.Sscan(string(out), &back, &most, &names); err != nil || back < 20 || most < 8 || names != 1 || steps < 60 {
		t.Errorf("%d calendars: %d entries taken back, %d at the most, %d names: %v", steps, back, most, names, err)
	}
}

func write(t *testing.T, path string, data []byte) {
	t.Helper()
	if err := os.WriteFile(path, data, 0o666); err != nil {
		t.Fatal(err)
	}
}

// seasonGame records what a season brings, at random.
type seasonGame struct {
	dir    string
	random *rand.Rand
	p      season.Protocol
}

func newSeasonGame(t *testing.T, seed uint64) *seasonGame {
	t.Helper()
	s := &seasonGame{t.TempDir(), rand.New(rand.NewPCG(seed, seed)), season.CommonPractice()}
	if err := registry.Init(s.dir); err != nil {
		t.Fatal(err)
	}
	s.change(t, func(r *registry.Registry) error {
		for _, names := range [][2]string{{"Larkfield Tessel", "Tarn Amber"}, {"Härmä Punanen", "Otterhay Lade"}, {"Gwennol Goch", "Tarn Amber"}} {
			cross, err := r.AddCross(registry.NewCross{SeedParent: names[0], PollenParent: names[1], Pollinated: demoDay("2026-05-02")})
			if err != nil {
				return err
			}
			if _, err := r.AddLots(cross.ID, 3, demoDay("2026-10-01")); err != nil {
				return err
			}
		}
		return nil
	})
	return s
}

func (s *seasonGame) change(t *testing.T, work func(*registry.Registry) error) {
	t.Helper()
	var no *registry.Refusal
	if err := registry.Change(s.dir, registry.Options{}, work); err != nil && !errors.As(err, &no) {
		t.Fatal(err)
	}
}

// play records one thing, if it can be on that day.
func (s *seasonGame) play(t *testing.T, day registry.Date) {
	t.Helper()
	s.change(t, func(r *registry.Registry) error {
		lots, pots := r.Lots(), r.Pots()
		lot := lots[s.random.IntN(len(lots))]
		if len(pots) > 0 && s.random.IntN(3) > 0 {
			return s.playPot(r, pots[s.random.IntN(len(pots))], day)
		}
		var err error
		switch {
		case lot.Extracted.IsZero():
			_, err = r.Extract(lot.ID, registry.Extraction{Seeds: registry.Known(8 + s.random.IntN(12)), On: day})
		case lot.Chilled.IsZero():
			_, err = r.Chill(lot.ID, registry.Chilling{On: day})
		case s.random.IntN(8) == 0:
			_, err = r.Chill(lot.ID, registry.Chilling{On: lot.Chilled.AddDays(1), Correct: true})
		default:
			var pots []registry.Pot
			if pots, err = r.Sow(lot.ID, registry.Sowing{Seeds: []int{4, 4}, On: day, Place: "cold frame"}); err == nil {
				_, err = r.AddLabels(day, []registry.Print{{Face: registry.StakeFace, ID: pots[0].ID, Copy: 1, Stock: "roll-57x32", Sheet: 1, Cell: 1}})
			}
		}
		return err
	})
	if s.random.IntN(15) == 0 { // the practice changes
		s.p.Emergence.CountDays = 5 + s.random.IntN(5)
		s.p.Cold.MostDays = 55 + s.random.IntN(20)
	}
}

func (s *seasonGame) playPot(r *registry.Registry, pot registry.Pot, day registry.Date) error {
	up := 0
	if counts := r.EmergenceOf(pot.ID); len(counts) > 0 {
		up = counts[len(counts)-1].Up.N
	}
	var err error
	switch s.random.IntN(8) {
	case 0:
		err = r.Void(pot.ID, "slip")
	case 1:
		_, err = r.AddSeedlings(pot.ID, 1, day)
	default:
		_, err = r.AddEmergence(pot.ID, day, up+s.random.IntN(3))
	}
	return err
}

// post writes a calendar of a registry.
func (s *seasonGame) post(t *testing.T, dir string, day registry.Date) []byte {
	t.Helper()
	var said posting
	err := registry.Change(dir, registry.Options{}, func(r *registry.Registry) error {
		practice := season.Practice{Protocol: s.p}
		said = post(r, season.Due(r, practice, day), day, mostDays)
		r.KeepCalendar(said.kept)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return said.file(time.Date(2027, time.January, 1, 0, 0, 0, 0, time.UTC))
}

// copy is the registry without what it knows of calendars.
func (s *seasonGame) copy(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(s.dir)); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(filepath.Join(dir, "calendar.csv")); err != nil {
		t.Fatal(err)
	}
	return dir
}

// What lies beyond the days asked for stays as it was said: it is neither sent
// nor taken back.
func TestCalendarOfFewDays(t *testing.T) {
	dir := demoRegistry(t)
	days := func(within int) (stand, back int) {
		var said posting
		err := registry.Change(dir, registry.Options{}, func(r *registry.Registry) error {
			on := demoDay("2026-01-10")
			said = post(r, season.Due(r, season.Practice{Protocol: season.CommonPractice()}, on), on, within)
			r.KeepCalendar(said.kept)
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range said.events {
			if e.Cancelled {
				back++
			} else {
				stand++
			}
		}
		return stand, back
	}
	for i, c := range []struct{ within, stand, back int }{
		{5, 1, 0},        // sow
		{mostDays, 3, 0}, // the last day in the cold, a count
		{5, 1, 0},
		{mostDays, 3, 0},
	} {
		if stand, back := days(c.within); stand != c.stand || back != c.back {
			t.Errorf("%d: %d entries and %d taken back, want %d and %d", i, stand, back, c.stand, c.back)
		}
	}
}

// An entry says what it is for, pot by pot.
func TestEntriesNameTheirPots(t *testing.T) {
	r, err := registry.Open(demoRegistry(t))
	if err != nil {
		t.Fatal(err)
	}
	tasks := season.Due(r, season.Practice{Protocol: season.CommonPractice()}, demoDay("2026-03-14"))
	var pots []ids.ID
	for _, task := range tasks {
		if task.Kind == season.CountAgain {
			pots = append(pots, task.ID)
		}
	}
	said := post(r, tasks, demoDay("2026-03-14"), 7)
	if len(said.events) != 1 || len(pots) < 50 {
		t.Fatalf("%d entries, %d pots", len(said.events), len(pots))
	}
	event := said.events[0]
	if want := fmt.Sprintf("Count seedlings, count 4: %d pots", len(pots)); event.Summary != want || event.Alarm != 7*time.Hour {
		t.Errorf("%q, want %q; alarm %v", event.Summary, want, event.Alarm)
	}
	lines := strings.Split(event.Details, "\n")
	for _, pot := range pots {
		if !slices.Contains(lines, "  "+pot.String()+"  cold frame") {
			t.Errorf("%s is not named", pot)
		}
	}
	if !slices.Contains(lines, "2025X001  ♀ Larkfield Tessel × ♂ Tarn Amber") {
		t.Errorf("parents are not named in\n%s", event.Details)
	}
}
