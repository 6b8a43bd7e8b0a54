package season

// Rise is how many seedlings were first counted on a day, in days from sowing.
type Rise struct{ Day, New int }

// Timing is how long seedlings took to come up, in days from sowing. Days are
// those of the counts: what came up between two counts belongs to the later.
type Timing struct {
	First, Last int // days of the first and the last rise
	Mean        float64
	// Half is T50, the day by which half of them were up, interpolated between
	// two counts.
	HalfCoolbear, HalfFarooq float64
}

// TimingOf reckons the timing of rises in the order of their days. It is false
// where nothing came up.
//
// Mean germination time is Σnt/Σn. T50 is by Coolbear et al. (1984), where half
// of N is (N+1)/2, and by Farooq et al. (2005), where it is N/2.
func TimingOf(rises []Rise) (Timing, bool) {
	var t Timing
	total, weighted := 0, 0
	for _, r := range rises {
		if r.New == 0 {
			continue
		}
		if total == 0 {
			t.First = r.Day
		}
		t.Last = r.Day
		total += r.New
		weighted += r.New * r.Day
	}
	if total == 0 {
		return t, false
	}
	t.Mean = float64(weighted) / float64(total)
	t.HalfCoolbear = dayOf(rises, float64(total+1)/2)
	t.HalfFarooq = dayOf(rises, float64(total)/2)
	return t, true
}

// dayOf is the day on which so many were up: tᵢ + (H−Nᵢ)(tⱼ−tᵢ)/(Nⱼ−Nᵢ), where
// Nᵢ ≤ H ≤ Nⱼ are the counts around it. At sowing none was up.
func dayOf(rises []Rise, half float64) float64 {
	day, up := 0, 0
	for _, r := range rises {
		if before := up; float64(up+r.New) >= half {
			return float64(day) + (half-float64(before))*float64(r.Day-day)/float64(r.New)
		}
		day, up = r.Day, up+r.New
	}
	return float64(day)
}
