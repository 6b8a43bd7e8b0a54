package registry

const calendarFile = "calendar.csv"

// CalendarState tells whether an entry of the calendar stands.
type CalendarState string

// The states of an entry of the calendar.
const (
	Stands    CalendarState = ""
	TakenBack CalendarState = "taken back"
)

// CalendarEntry is an entry of the calendar as it was last written for a phone,
// so that the next calendar can change it or take it back there.
type CalendarEntry struct {
	UID      string
	Day      Date
	Sequence int // of its change
	State    CalendarState
	Print    string // of its texts, to know whether they change
	Summary  string
}

var calendarColumns = []column[CalendarEntry]{
	nameColumn("uid", required, func(e *CalendarEntry) *string { return &e.UID }),
	dateColumn("day", func(e *CalendarEntry) *Date { return &e.Day }),
	numberColumn("sequence", optional, func(e *CalendarEntry) *int { return &e.Sequence }),
	wordColumn("state", func(e *CalendarEntry) *CalendarState { return &e.State }, Stands, TakenBack),
	nameColumn("print", optional, func(e *CalendarEntry) *string { return &e.Print }),
	textColumn("summary", func(e *CalendarEntry) *string { return &e.Summary }),
}

// Calendar returns the entries that were written for phones, in the order of
// their file. Rows with a cell that cannot be read are left out.
func (r *Registry) Calendar() []CalendarEntry {
	var whole []CalendarEntry
	for i, e := range r.calendar.entries {
		if r.calendar.unreadable(i) == nil {
			whole = append(whole, e)
		}
	}
	return whole
}

// KeepCalendar records entries as written for phones, in the place of those with
// the same UID.
func (r *Registry) KeepCalendar(entries []CalendarEntry) {
	place := map[string]int{}
	for i, e := range r.calendar.entries {
		place[e.UID] = i
	}
	for _, e := range entries {
		if i, ok := place[e.UID]; ok {
			r.calendar.replace(i, e)
		} else {
			place[e.UID] = len(r.calendar.entries)
			r.calendar.append(e)
		}
	}
}
