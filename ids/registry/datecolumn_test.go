package registry

import (
	"slices"
	"testing"
)

// Local forms of dates are common practice; 26 can be no month.
func TestColumnOfLocalDates(t *testing.T) {
	for _, test := range []struct{ column, want []string }{
		{[]string{"26/11/2026", "04/05/2026", "3/4/2026"}, []string{"2026-11-26", "2026-05-04", "2026-04-03"}},
		{[]string{"11/26/2026", "04/05/2026"}, []string{"2026-11-26", "2026-04-05"}},
		{[]string{"26.11.2026", "4.5.2026"}, []string{"2026-11-26", "2026-05-04"}},
		{[]string{" 26/11/2026", "4/5/2026\u00a0"}, []string{"2026-11-26", "2026-05-04"}},
		{[]string{"26/1/2026", "1/12/2026"}, []string{"2026-01-26", "2026-12-01"}},
		{[]string{"0/26/2026", "-1/26/2026", "x/26/2026", "04/05/2026"}, []string{"", "", "", ""}}, // no dates, so they settle nothing
		{[]string{"04/05/2026", "03/04/2026"}, []string{"", ""}},
		{[]string{"26/11/2026", "11/26/2026"}, []string{"", ""}},
		{[]string{"26/11/2026", "soon", "31/02/2026", "40/1/2026"}, []string{"2026-11-26", "", "", ""}},
		{[]string{"32/1/2026", "04/05/2026"}, []string{"", ""}}, // no month has 32 days
		{[]string{"1/32/2026", "04/05/2026"}, []string{"", ""}},
		{[]string{"31/1/2026", "4/5/2026"}, []string{"2026-01-31", "2026-05-04"}},
		{[]string{"1/31/2026", "4/5/2026"}, []string{"2026-01-31", "2026-04-05"}},
		{[]string{"26/11"}, []string{""}},
		{[]string{"26/11/2026", "012/3/2026", "12/003/2026", "12/3/026"}, []string{"2026-11-26", "", "", ""}},
		{[]string{"14.01.27"}, []string{""}},
		{nil, nil},
	} {
		var got []string
		for _, d := range readTogether(test.column) {
			got = append(got, d.String())
		}
		if !slices.Equal(got, test.want) {
			t.Errorf("%q read together: %q, want %q", test.column, got, test.want)
		}
	}
}
