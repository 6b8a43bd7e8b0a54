package season

import (
	"fmt"
	"testing"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// A cross is far from blossom where it is more than 60 days from three others or
// more, years aside, and over the new year where that is nearer. 1 May and 60 days
// are 30 June, 20 May less 60 days 21 March; 10 January is 365 − 294 = 71 days
// before 31 October of another year's and 61 after 10 November (counted by hand).
func TestFarFromBlossom(t *testing.T) {
	const may = "2025X001,Ann,Bob,2025-05-01,,,\n2024X001,Ann,Bob,2024-05-20,,,\n2023X001,Ann,Bob,2023-05-10,,,"
	const winter = "2025X001,Ann,Bob,2025-12-31,,,\n2024X001,Ann,Bob,2024-12-31,,,\n2023X001,Ann,Bob,2023-12-31,,,"
	for _, c := range []struct{ others, on, want string }{
		{may, "2026-05-04", ""},
		{may, "2026-07-19", ""}, // 60 days after 20 May
		{may, "2026-07-20", "2026-05-01 to 2026-05-20"},
		{may, "2026-03-02", ""}, // 60 days before 1 May
		{may, "2026-03-01", "2026-05-01 to 2026-05-20"},
		{may, "2026-11-14", "2026-05-01 to 2026-05-20"},
		{may, "", ""},
		{winter, "2026-01-10", ""}, // ten days later
		{winter, "2026-03-01", ""}, // 60 days after the end of a year of 365
		{winter, "2026-03-02", "2026-12-31 to 2026-12-31"},
		{"2025X001,Ann,Bob,2025-05-01,,,\n2024X001,Ann,Bob,2024-05-20,,,", "2026-11-14", ""}, // two say nothing
		{may + "\n2022X001,Ann,Bob,2022-11-01,,,", "2026-11-14", ""},
		{may + "\n2022X001,Ann,Bob,2022-11-01,,void,", "2026-11-14", "2026-05-01 to 2026-05-20"},
		{may + "\n2022X001,Ann,Bob,,,,", "2026-11-14", "2026-05-01 to 2026-05-20"},
		{"2025X001,Ann,Bob,2025-05-01,,,\n2024X001,Ann,Bob,,,,\n2023X001,Ann,Bob,2023-05-10,,,", "2026-11-14", ""},
		{"2025X001,Ann,Bob,2025-05-01,,,\n2024X001,Ann,Bob,2024-05-20,,void,\n2023X001,Ann,Bob,2023-05-10,,,", "2026-11-14", ""},
		{"2025X001,Ann,Bob,2025-05-20,,,\n2024X001,Ann,Bob,2024-02-29,,,\n2023X001,Ann,Bob,2023-05-10,,,", "2026-11-14", "2026-03-01 to 2026-05-20"},
	} {
		row := "\n2026X001,Ann,Bob," + c.on + ",,,"
		r := familyRows(t, c.others+row)
		cross, _ := r.Cross(ids.ID{Year: 2026, Cross: 1})
		first, last, far := FarFromBlossom(r, cross)
		got := ""
		if far {
			got = fmt.Sprintf("%s to %s", first, last)
		}
		if got != c.want {
			t.Errorf("on %s beside\n%s\n%q, want %q", c.on, c.others, got, c.want)
		}
	}
}

// A day that is not known is not odd, on either side.
func TestUnknownDaysAreNotOdd(t *testing.T) {
	for _, c := range [][2]registry.Date{{{}, day(t, "2026-05-02")}, {day(t, "2026-05-02"), {}}, {}} {
		if d, odd := OddDayOf(AtPicking, c[0], c[1]); odd || d != (OddDay{}) {
			t.Errorf("%v after %v: %+v", c[0], c[1], d)
		}
	}
	d, odd := OddDayOf(AtSowing, day(t, "2026-11-13"), day(t, "2026-11-14"))
	if want := (OddDay{AtSowing, day(t, "2026-11-13"), day(t, "2026-11-14"), -1, 0, 430}); !odd || d != want {
		t.Errorf("%+v, want %+v", d, want)
	}
}
