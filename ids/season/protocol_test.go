package season

import (
	"testing"
	"time"

	"pipstake/ids"
	"pipstake/ids/registry"
)

func day(t *testing.T, iso string) registry.Date {
	t.Helper()
	d, err := registry.ParseDate(iso)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestWindowAfter(t *testing.T) {
	winter := Window{MonthDay{time.December, 1}, MonthDay{time.February, 29}}
	spring := Window{MonthDay{time.February, 15}, MonthDay{time.March, 15}}
	for _, c := range []struct {
		w            Window
		on, from, to string
	}{
		{winter, "2026-11-30", "2026-12-01", "2027-02-28"},
		{winter, "2026-12-01", "2026-12-01", "2027-02-28"},
		{winter, "2027-02-28", "2026-12-01", "2027-02-28"},
		{winter, "2027-03-01", "2027-12-01", "2028-02-29"}, // a leap year
		{winter, "2028-02-29", "2027-12-01", "2028-02-29"},
		{spring, "2027-01-01", "2027-02-15", "2027-03-15"},
		{spring, "2027-03-15", "2027-02-15", "2027-03-15"},
		{spring, "2027-03-16", "2028-02-15", "2028-03-15"},
	} {
		from, to := c.w.After(day(t, c.on))
		if from.String() != c.from || to.String() != c.to {
			t.Errorf("on %s: %s to %s, want %s to %s", c.on, from, to, c.from, c.to)
		}
	}
}

// Common practice, without a published source.
func TestCommonPractice(t *testing.T) {
	p := CommonPractice()
	if p.Disinfecting.Grams != 10 || p.Disinfecting.Water != 150 || p.Disinfecting.Minutes != 5 {
		t.Errorf("bath %+v", p.Disinfecting)
	}
	if p.Soaking.Hours != 72 || p.Soaking.ChangeHours != 24 || p.Cold.LeastDays != 30 || p.Cold.MostDays != 60 || p.Cold.Celsius != 4 {
		t.Errorf("soak %+v, cold %+v", p.Soaking, p.Cold)
	}
	if p.Disinfecting.Active != 65 || p.Disinfecting.PerLot != 10 || p.Disinfecting.Scale != 1 || p.Bag != (Bag{"vermiculite", 1, 0.5}) || p.Labels.OutdoorDays != 365 {
		t.Errorf("bath %+v, bag %+v, labels %+v", p.Disinfecting, p.Bag, p.Labels)
	}
	for _, c := range []struct {
		window Window
		year   int
		want   string
	}{
		{p.Sowing.Season, 2026, "2025-12-01 to 2026-02-28"}, {p.Sowing.Season, 2028, "2027-12-01 to 2028-02-29"},
		{p.Emergence.Season, 2026, "2026-02-15 to 2026-03-15"},
	} {
		from, to := c.window.After(registry.Date{Year: c.year, Month: time.February, Day: 20})
		if got := from.String() + " to " + to.String(); got != c.want {
			t.Errorf("%s, want %s", got, c.want)
		}
	}
	if p.Sowing.SeedsPerPot != 10 || p.Emergence.CountDays != 7 {
		t.Errorf("sowing %+v, emergence %+v", p.Sowing, p.Emergence)
	}
	if p.Germination.Expected != 85 || p.Fruit != (Fruit{5, 10, 12, 50}) || p.Sowing.DepthCM != 1 {
		t.Errorf("%+v", p)
	}
}

func TestPracticeOfACross(t *testing.T) {
	own := CommonPractice()
	own.Cold.LeastDays = 60
	p := Practice{Protocol: CommonPractice(), Crosses: map[ids.ID]Protocol{{Year: 2026, Cross: 12}: own}}
	if got := p.For(ids.ID{Year: 2026, Cross: 12, Lot: 2, Pot: 1}).Cold.LeastDays; got != 60 {
		t.Errorf("pot of the cross: %d", got)
	}
	if got := p.For(ids.ID{Year: 2026, Cross: 36}).Cold.LeastDays; got != 30 {
		t.Errorf("another cross: %d", got)
	}
}

func TestLabelsLast(t *testing.T) {
	l := Labels{OutdoorDays: 365, OnStock: map[string]int{"roll-57x32": 90}}
	if l.Lasts("roll-57x32") != 90 || l.Lasts("a4-cut-148x20") != 365 {
		t.Errorf("%v", l)
	}
}
