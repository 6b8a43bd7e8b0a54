package season

import (
	"pipstake/ids/registry"
)

// Agenda returns what a calendar for phones has to say so that whoever takes it
// in, and took in any of those before, has the entries that stand now and no
// others. Was is what earlier calendars said, now what stands, by UID; the
// sequences of now are set here. Entries that stand no more are taken back, and
// go on being taken back, since nobody knows which of the calendars a phone has
// seen. The entries of now come first, in their order.
func Agenda(was, now []registry.CalendarEntry) []registry.CalendarEntry {
	said := map[string]registry.CalendarEntry{}
	for _, e := range was {
		said[e.UID] = e
	}
	var all []registry.CalendarEntry
	stands := map[string]bool{}
	for _, e := range now {
		stands[e.UID] = true
		if before, ok := said[e.UID]; ok {
			e.Sequence = before.Sequence
			if before.State != registry.Stands || before.Print != e.Print || before.Day != e.Day {
				e.Sequence++
			}
		}
		all = append(all, e)
	}
	for _, e := range was {
		if stands[e.UID] {
			continue
		}
		if e.State == registry.Stands {
			e.State = registry.TakenBack
			e.Sequence++
		}
		all = append(all, e)
	}
	return all
}
