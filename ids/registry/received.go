package registry

import "fmt"

// NewSeed is seed that came from elsewhere: given, bought, found. Nobody here
// pollinated a flower for it.
type NewSeed struct {
	SeedParent, PollenParent string // as those of a cross; "unknown" is one
	Source                   string
	On                       Date // when it came
	Year                     int  // of the harvest, and of the identifier; 0 for that of On
	Lots                     int  // bags to keep it in
	Seeds                    Count
	Notes                    string
}

// Receive registers seed from elsewhere as a cross without a pollination, and
// issues its lots. What is in a bag is recorded where there is one bag alone. The
// error is a *Refusal or a *DamageError.
func (r *Registry) Receive(s NewSeed) (Cross, []Lot, error) {
	year := s.Year
	if year == 0 {
		year = s.On.Year
	}
	switch {
	case s.Source == "":
		return Cross{}, nil, &Refusal{"the source of the seed is not given", "say who or where it came from"}
	case s.On.IsZero():
		return Cross{}, nil, &Refusal{"the day on which the seed came is not given", "give it {with day}"}
	case year > s.On.Year:
		return Cross{}, nil, &Refusal{fmt.Sprintf("seed of %d cannot have come on %s", year, s.On), "correct one of the two"}
	case s.Seeds.Known && s.Lots > 1:
		return Cross{}, nil, &Refusal{fmt.Sprintf("%s in %d bags: how many are in which is open", several(s.Seeds.N, "seed"), s.Lots), "leave the seeds out, and count each bag"}
	}
	if err := countFrom0("seeds", s.Seeds); err != nil {
		return Cross{}, nil, err
	}
	cross, err := r.AddCross(NewCross{SeedParent: s.SeedParent, PollenParent: s.PollenParent, Year: year, Notes: s.Notes, Source: s.Source})
	if err != nil {
		return Cross{}, nil, err
	}
	lots, err := r.AddLots(cross.ID, s.Lots, s.On)
	if err != nil {
		return Cross{}, nil, err
	}
	if s.Seeds.Known {
		at := r.lots.exactly(lots[0].ID)[0]
		lots[0].Seeds = s.Seeds
		r.lots.replace(at, lots[0])
	}
	return cross, lots, nil
}
