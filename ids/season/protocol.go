// Package season is the arithmetic of a season on the registry's rows: how many
// seeds to sow, what is due on which day, and how well the seed came up. It
// reads rows and gives numbers and dates; it opens no file, knows no clock and
// words nothing.
//
// # Decisions
//
//   - Due. Seeds may be sown from the first to the last day in the cold, within
//     the season of sowing where the two meet. Every task has a last day, and
//     is silent after it. The bench sheet and the calendar take their days from
//     the same functions.
//   - Calendar. One entry for each kind of task and day. calendar.csv keeps
//     what was said; an entry that stands no more is sent as cancelled until
//     400 days after its day.
//   - Germination is of the seeds in pots with a count. Verdicts and T50 come
//     from pots whose counting is over; T50 is reckoned on the sum of the pots'
//     own curves, each a straight line between two counts, and is "at most"
//     where the first count is past half. Straight lines were chosen over
//     Turnbull's estimator: root mean squared errors of 1,000 simulated groups
//     of 6 pots with 10 seedlings, counted weekly, are 0.79 days against 1.18.
//   - Yield. A percentage rests on rows in which both counts are known and do
//     not contradict each other; a count that nobody made is not known, never
//     0.
//   - Comparing. Pots are dealt out anew to groups of the same sizes, all ways
//     up to 100,000, else with a fixed seed. Fisher's test takes seeds of one
//     pot for independent, so it is believed only where pots are too few for
//     the other to reach 0.05.
package season

import (
	"time"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// Protocol is a grower's practice, from the opened fruit to the seedling.
type Protocol struct {
	Disinfecting Disinfecting
	Soaking      Soaking
	Bag          Bag
	Cold         Cold
	Sowing       Sowing
	Emergence    Emergence
	Germination  Germination
	Fruit        Fruit
	Labels       Labels
	Passport     PassportPractice
}

// PassportPractice is what a gene bank wants to know of the holder.
type PassportPractice struct {
	Institute string // FAO WIEWS code; "" where there is none
	Origin    string // the country by ISO 3166-1 alpha-3; "" where not said
}

// Soaking in plain water follows the disinfecting.
type Soaking struct {
	Hours       int
	ChangeHours int // the water is changed after each so many hours
}

// Bag is what the seeds are kept moist in while they are in the cold.
type Bag struct {
	Material  string
	Teaspoons float64
	Water     float64 // ml
}

// Cold is the time that seeds need in the cold before they sprout.
type Cold struct {
	LeastDays, MostDays int
	Celsius             float64
}

// Sowing is how and when seeds go into pots.
type Sowing struct {
	Place       string
	Season      Window
	DepthCM     float64
	SeedsPerPot int
}

// Emergence is when seedlings are looked for.
type Emergence struct {
	Season    Window
	CountDays int // from one count to the next
}

// Germination is what is expected of good seed.
type Germination struct {
	Expected float64 // percent of the seeds sown
}

// Fruit is how many fruit and seeds are reckoned with.
type Fruit struct {
	LeastSeeds, MostSeeds int     // in an apple
	BelievedSeeds         int     // in an apple; more are noticed
	SetPercent            float64 // of the flowers pollinated
}

// Labels is how long labels stay readable outdoors.
type Labels struct {
	OutdoorDays int            // where the stock is not named
	OnStock     map[string]int // days, by the name of the stock
}

// Lasts is how many days a label on a stock stands outdoors.
func (l Labels) Lasts(stock string) int {
	if days, ok := l.OnStock[stock]; ok {
		return days
	}
	return l.OutdoorDays
}

// CommonPractice is the protocol of a grower who has not written one. Its
// values are common practice among growers and have no published source; how
// long labels last is an assumption to be replaced.
func CommonPractice() Protocol {
	return Protocol{
		Disinfecting: Disinfecting{Kind: CalciumHypochlorite, Product: "calcium hypochlorite", Active: 65, Grams: 10, Water: 150, PerLot: 10, Minutes: 5, Scale: 1},
		Soaking:      Soaking{Hours: 72, ChangeHours: 24},
		Bag:          Bag{Material: "vermiculite", Teaspoons: 1, Water: 0.5},
		Cold:         Cold{LeastDays: 30, MostDays: 60, Celsius: 4},
		Sowing: Sowing{Place: "cold frame", Season: Window{MonthDay{time.December, 1}, MonthDay{time.February, 29}},
			DepthCM: 1, SeedsPerPot: 10},
		Emergence:   Emergence{Season: Window{MonthDay{time.February, 15}, MonthDay{time.March, 15}}, CountDays: 7},
		Germination: Germination{Expected: 85},
		Fruit:       Fruit{LeastSeeds: 5, MostSeeds: 10, BelievedSeeds: 12, SetPercent: 50},
		Labels:      Labels{OutdoorDays: 365, OnStock: map[string]int{}},
	}
}

// Practice is a protocol with those of single crosses that differ from it.
type Practice struct {
	Protocol
	Crosses map[ids.ID]Protocol
}

// For is the protocol of the cross that an identifier belongs to.
func (p Practice) For(id ids.ID) Protocol {
	if own, ok := p.Crosses[id.At(ids.CrossLevel)]; ok {
		return own
	}
	return p.Protocol
}

// MonthDay is a day of every year. The 29th of February is the 28th in years
// that have none.
type MonthDay struct {
	Month time.Month
	Day   int
}

// In is the day in a year.
func (m MonthDay) In(year int) registry.Date {
	last := registry.Date{Year: year, Month: m.Month + 1, Day: 1}.AddDays(-1) // of the month
	last.Day = min(m.Day, last.Day)
	return last
}

// Window is a part of every year, both its days included. It runs over the new
// year where From is the later day of the two.
type Window struct{ From, To MonthDay }

// After is the window that a day lies in, or else the next one.
func (w Window) After(day registry.Date) (from, to registry.Date) {
	for year := day.Year - 1; ; year++ {
		from, to = w.From.In(year), w.To.In(year)
		if to.Before(from) {
			to = w.To.In(year + 1)
		}
		if !to.Before(day) {
			return from, to
		}
	}
}
