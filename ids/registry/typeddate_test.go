package registry_test

import (
	"strings"
	"testing"

	"pipstake/ids/registry"
)

// How people write dates is common practice; the days were counted by hand.
func TestDatesAsTyped(t *testing.T) {
	today := registry.Date{Year: 2026, Month: 11, Day: 27}
	for text, want := range map[string]string{
		"2026-11-14": "2026-11-14", " 2026-11-14 ": "2026-11-14",
		"14.11.2026": "2026-11-14", "4.3.2027": "2027-03-04", "14.11.26": "2026-11-14", "14. 11. 2026": "2026-11-14",
		"14/11/2026": "2026-11-14", "11/14/2026": "2026-11-14", "7/7/2026": "2026-07-07",
		"14/11": "2026-11-14", "14.11.": "2026-11-14", "14.1.": "2027-01-14", "1.6.": "2026-06-01", "20.5.": "2026-05-20", "26.1.": "2027-01-26", "27.1.": "2026-01-27", "29.2.": "2024-02-29",
		"14 Nov 2026": "2026-11-14", "14 november 2026": "2026-11-14", "Nov 14, 2026": "2026-11-14", "14 Nov": "2026-11-14",
		"14 sept. 2026": "2026-09-14", "2 Jan": "2027-01-02", "29 Feb 2028": "2028-02-29",
		"today": "2026-11-27", "Yesterday": "2026-11-26", "-3d": "2026-11-24", "-0d": "2026-11-27", "-27d": "2026-10-31",
		"-4000d": "2015-12-15", "14.11.0100": "0100-11-14",
		"3 days ago": "2026-11-24", "1 day ago": "2026-11-26",
	} {
		if got, err := registry.ReadDate(text, today); err != nil || got.String() != want {
			t.Errorf("%q: %s, %v; want %s", text, got, err, want)
		}
	}
	// 2100 is no leap year (ISO 8601-1:2019, the Gregorian calendar).
	if got, err := registry.ReadDate("29.2.", registry.Date{Year: 2103, Month: 12, Day: 1}); err != nil || got.String() != "2096-02-29" {
		t.Errorf("29 February in 2103 is %s, %v", got, err)
	}
	if got, err := registry.ReadDate("29.2.", registry.Date{Year: 2103, Month: 12, Day: 31}); err != nil || got.String() != "2104-02-29" {
		t.Errorf("29 February, 60 days ahead, is %s, %v", got, err)
	}
	for text, want := range map[string]string{
		"3/4/2026":    `may be 3 April or 4 March`,
		"4/3":         `may be 4 March or 3 April`,
		"31.11.2026":  "November 2026 has 30 days",
		"31.11.":      "not a date",
		"29.2.2027":   "February 2027 has 28 days",
		"14.13.2026":  "months 01 to 12",
		"2026-13-01":  "months 01 to 12",
		"0.11.2026":   "has 30 days",
		"14 Ju 2026":  "not a date",
		"14":          "not a date",
		"":            "not a date",
		"14 11 2026":  "not a date",
		"14.11.20266": "not a date",
		"-3":          "not a date",
		"3d":          "not a date",
		"-99999d":     "not a date",
		"-4001d":      "not a date",
		"-1.11.2026":  "not a date",
		"--3d":        "not a date",
		"tomorrow":    "not a date",
		"1.2.3.4":     "not a date",
		"Nov Nov":     "not a date",
	} {
		if got, err := registry.ReadDate(text, today); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %s, %v; want an error with %q", text, got, err, want)
		}
	}
}

// FuzzReadDate: nothing panics, and what is read is a day that reads again.
func FuzzReadDate(f *testing.F) {
	for _, seed := range []string{"2026-11-14", "14.11.2026", "14/11", "Nov 14, 2026", "-3d", "3 days ago", "29.2.", "٣.4.2026", "1.2.3.4", "0.0.0000"} {
		f.Add(seed)
	}
	today := registry.Date{Year: 2028, Month: 2, Day: 29}
	f.Fuzz(func(t *testing.T, text string) {
		d, err := registry.ReadDate(text, today)
		if err != nil {
			return
		}
		if again, err := registry.ParseDate(d.String()); err != nil || again != d {
			t.Errorf("%q was read as %s, which reads as %s, %v", text, d, again, err)
		}
	})
}
