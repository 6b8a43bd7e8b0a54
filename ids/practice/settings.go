// Package practice is how a grower raises seedlings, as protocol.toml of the
// registry tells it: its settings with their bounds, the lines that are wrong, and
// what holds where nothing is said. It does not know the clock.
//
// # Decisions
//
// Protocol. The values of a new file are common practice among growers, without
// a published source. go-toml tells on which line a key stands.
package practice

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"time"

	"pipstake/ids/season"
	"pipstake/ids/words"
)

// File is the grower's practice, in the registry's folder.
const File = "protocol.toml"

// setting is one value of the protocol: where it stands in the file, what it
// may be, and what is said of it there.
type setting struct {
	table, key string
	comment    string
	field      func(*season.Protocol) any // *string, *int, *float64 or *season.MonthDay
	least      float64                    // of a number
	most       float64
	wanted     string // of a number, with its unit: "grams"
}

// path is the setting's name, as messages have it: "cold.least_days".
func (s setting) path() string { return s.table + "." + s.key }

// tables are the tables of the file, with what is said at their heads.
var tables = []struct{ name, comment string }{
	{"disinfecting", "The bath after extraction. The label of your own product, local rules and\nlicensed practice come first; pipstake bench prints the cautions. Kinds are\ncalcium hypochlorite (a powder), sodium hypochlorite and hydrogen peroxide\n(liquids), and none."},
	{"soaking", "Plain water after the bath, from the day of extraction."},
	{"bag", "What keeps the seeds of a lot moist in the cold."},
	{"cold", "From the day of pipstake chill. Seed that sprouts early may be sown early."},
	{"sowing", "The season of sowing; it may run over the new year."},
	{"emergence", "When to look for seedlings, and how often to count them."},
	{"germination", "What good seed should do; pipstake germination flags what falls short."},
	{"fruit", "How many flowers set fruit, and how many seeds an apple holds, for pipstake\nplan, as long as there are too few figures of your own."},
	{"labels", "How long labels stay readable outdoors. Your own experience goes here: the\nvalue is an assumption."},
	{"passport", "Who holds the plants, and in which country they are bred: for passport."},
}

// outdoorTable holds days by the name of a stock.
const outdoorTable = "labels.outdoor_days_on"

var settings = []setting{
	{"disinfecting", "kind", "", func(p *season.Protocol) any { return &p.Disinfecting.Kind }, 0, 0, ""},
	{"disinfecting", "product", "", func(p *season.Protocol) any { return &p.Disinfecting.Product }, 0, 0, ""},
	{"disinfecting", "active_percent", "available chlorine: see the product's label", func(p *season.Protocol) any { return &p.Disinfecting.Active }, 0, 100, "percent"},
	{"disinfecting", "grams", "of the product", func(p *season.Protocol) any { return &p.Disinfecting.Grams }, 0.01, 1000, "grams"},
	{"disinfecting", "ml", "of a liquid product, in place of grams", func(p *season.Protocol) any { return &p.Disinfecting.ML }, 0, 100_000, "millilitres"},
	{"disinfecting", "water_ml", "that it goes into", func(p *season.Protocol) any { return &p.Disinfecting.Water }, 1, 100_000, "millilitres"},
	{"disinfecting", "ml_per_lot", "5 to 10 are common", func(p *season.Protocol) any { return &p.Disinfecting.PerLot }, 0.1, 10_000, "millilitres"},
	{"disinfecting", "minutes", "", func(p *season.Protocol) any { return &p.Disinfecting.Minutes }, 0.1, 1440, "minutes"},
	{"disinfecting", "scale_grams", "that your scales tell apart", func(p *season.Protocol) any { return &p.Disinfecting.Scale }, 0.001, 100, "grams"},
	{"soaking", "hours", "", func(p *season.Protocol) any { return &p.Soaking.Hours }, 1, 720, "hours"},
	{"soaking", "change_hours", "the water is changed after each so many", func(p *season.Protocol) any { return &p.Soaking.ChangeHours }, 1, 720, "hours"},
	{"bag", "material", "", func(p *season.Protocol) any { return &p.Bag.Material }, 0, 0, ""},
	{"bag", "teaspoons", "", func(p *season.Protocol) any { return &p.Bag.Teaspoons }, 0.1, 100, "teaspoons"},
	{"bag", "water_ml", "", func(p *season.Protocol) any { return &p.Bag.Water }, 0, 1000, "millilitres"},
	{"cold", "least_days", "published values run from 30 to 90", func(p *season.Protocol) any { return &p.Cold.LeastDays }, 1, 365, "days"},
	{"cold", "most_days", "", func(p *season.Protocol) any { return &p.Cold.MostDays }, 1, 730, "days"},
	{"cold", "celsius", "", func(p *season.Protocol) any { return &p.Cold.Celsius }, -5, 15, "degrees Celsius"},
	{"sowing", "place", "", func(p *season.Protocol) any { return &p.Sowing.Place }, 0, 0, ""},
	{"sowing", "from", "month-day", func(p *season.Protocol) any { return &p.Sowing.Season.From }, 0, 0, ""},
	{"sowing", "to", "", func(p *season.Protocol) any { return &p.Sowing.Season.To }, 0, 0, ""},
	{"sowing", "depth_cm", "pointed end down", func(p *season.Protocol) any { return &p.Sowing.DepthCM }, 0.1, 20, "centimetres"},
	{"sowing", "seeds_per_pot", "for pipstake plan", func(p *season.Protocol) any { return &p.Sowing.SeedsPerPot }, 1, 1000, "seeds"},
	{"emergence", "from", "month-day", func(p *season.Protocol) any { return &p.Emergence.Season.From }, 0, 0, ""},
	{"emergence", "to", "", func(p *season.Protocol) any { return &p.Emergence.Season.To }, 0, 0, ""},
	{"emergence", "count_days", "from one count to the next", func(p *season.Protocol) any { return &p.Emergence.CountDays }, 1, 90, "days"},
	{"germination", "expected_percent", "of the seeds sown", func(p *season.Protocol) any { return &p.Germination.Expected }, 1, 100, "percent"},
	{"fruit", "least_seeds", "", func(p *season.Protocol) any { return &p.Fruit.LeastSeeds }, 1, 100, "seeds"},
	{"fruit", "most_seeds", "", func(p *season.Protocol) any { return &p.Fruit.MostSeeds }, 1, 100, "seeds"},
	{"fruit", "believed_seeds", "more are noticed; ten ovules are the rule", func(p *season.Protocol) any { return &p.Fruit.BelievedSeeds }, 1, 1000, "seeds"},
	{"fruit", "set_percent", "of the flowers pollinated", func(p *season.Protocol) any { return &p.Fruit.SetPercent }, 0.1, 100, "percent"},
	{"labels", "outdoor_days", "on a stock that is not named below", func(p *season.Protocol) any { return &p.Labels.OutdoorDays }, mostOutdoor.least, mostOutdoor.most, "days"},
	{"passport", "institute", "FAO WIEWS code, such as ABC123", func(p *season.Protocol) any { return &p.Passport.Institute }, 0, 0, ""},
	{"passport", "origin", "three letters of ISO 3166-1, such as NOR", func(p *season.Protocol) any { return &p.Passport.Origin }, 0, 0, ""},
}

// mostOutdoor are the days that a label may stand outdoors.
var mostOutdoor = struct{ least, most float64 }{1, 36_500}

// put reads a value of the file into the protocol. The error says what the
// value must be.
func (s setting) put(p *season.Protocol, value any) error {
	switch field := s.field(p).(type) {
	case *string:
		text, ok := value.(string)
		common := season.CommonPractice()
		mayBeEmpty := *s.field(&common).(*string) == "" // where common practice has nothing either
		if !ok || text == "" && !mayBeEmpty || len([]rune(text)) > 60 || words.Clean(text) != text || words.OneLine(text) != text {
			return fmt.Errorf("write a text of one line in quotes, of 60 characters at most")
		}
		*field = text
	case *season.ProductKind:
		kind, _ := value.(string)
		if !slices.Contains(season.ProductKinds, season.ProductKind(kind)) {
			return fmt.Errorf("write %q, %q, %q or %q", season.CalciumHypochlorite, season.SodiumHypochlorite, season.HydrogenPeroxide, season.NoProduct)
		}
		*field = season.ProductKind(kind)
	case *season.MonthDay:
		day, ok := monthDay(value)
		if !ok {
			return fmt.Errorf("write month and day in quotes, such as %q", "12-01")
		}
		*field = day
	case *int:
		n, err := s.number(value)
		if err != nil || n != math.Trunc(n) {
			return fmt.Errorf("write a whole number of %s from %.0f to %.0f", s.wanted, s.least, s.most)
		}
		*field = int(n)
	case *float64:
		n, err := s.number(value)
		if err != nil {
			return err
		}
		*field = n
	}
	return nil
}

// number reads a number within the setting's bounds.
func (s setting) number(value any) (float64, error) {
	var n float64
	switch v := value.(type) {
	case int64:
		n = float64(v)
	case float64:
		n = v
	default:
		n = math.NaN()
	}
	if !(n >= s.least && n <= s.most) {
		return 0, fmt.Errorf("write a number of %s from %s to %s", s.wanted, words.Plain(s.least), words.Plain(s.most))
	}
	return n, nil
}

var monthDayPattern = regexp.MustCompile(`^(\d\d)-(\d\d)$`)

// monthDay reads "12-01". The 29th of February is a day of the year.
func monthDay(value any) (season.MonthDay, bool) {
	text, _ := value.(string)
	if !monthDayPattern.MatchString(text) {
		return season.MonthDay{}, false
	}
	t, err := time.Parse(time.DateOnly, "2024-"+text) // a leap year
	return season.MonthDay{Month: t.Month(), Day: t.Day()}, err == nil
}

// written is a setting's value as the file has it.
func (s setting) written(p *season.Protocol) string {
	switch field := s.field(p).(type) {
	case *string:
		return strconv.Quote(*field)
	case *season.ProductKind:
		return strconv.Quote(string(*field))
	case *season.MonthDay:
		return fmt.Sprintf("\"%02d-%02d\"", field.Month, field.Day)
	case *int:
		return strconv.Itoa(*field)
	case *float64:
		return words.Plain(*field)
	}
	return ""
}
