package registry

import (
	"fmt"
	"strings"
	"testing"
)

// What holds of a pot is sown ≥ up ≥ died + pricked out, on each day. Each request
// goes as far as that allows, and one more is refused, with the numbers.
func TestNumbersOfAPot(t *testing.T) {
	const pot = "2025X007-A1"
	count := func(on string, up, died int) func(*Registry) error {
		return func(r *Registry) error {
			_, err := r.CountPot(Emergence{Pot: mustID(t, pot), On: mustDate(t, on), Up: Known(up), Died: Known(died)})
			return err
		}
	}
	prick := func(on string, n int) func(*Registry) error {
		return func(r *Registry) error { _, err := r.AddSeedlings(mustID(t, pot), n, mustDate(t, on)); return err }
	}
	seeds := func(n int) func(*Registry) error {
		return func(r *Registry) error {
			sown := Known(n)
			_, err := r.Correct(mustID(t, pot), Correction{Seeds: &sown})
			return err
		}
	}
	mend := func(on string, up, died int) func(*Registry) error { // −1 leaves a number
		return func(r *Registry) error {
			var c CountCorrection
			if n := Known(up); up >= 0 {
				c.Up = &n
			}
			if n := Known(died); died >= 0 {
				c.Died = &n
			}
			_, err := r.CorrectCount(mustID(t, pot), mustDate(t, on), c)
			return err
		}
	}
	empty := func(on string) func(*Registry) error {
		return func(r *Registry) error {
			_, err := r.End(Ending{ID: mustID(t, pot), How: Emptied, On: mustDate(t, on)})
			return err
		}
	}
	const two = "A,2026-03-20,,,,,,\nB,2026-03-20,,,,,,\nC,2026-03-20,void,,,,,"
	const unknown = "A,,,,,,,\nB,2026-03-20,,,,,,"
	for _, c := range []struct {
		name, counts, seedlings string
		do                      func(*Registry) error
		want                    string // words of the refusal; "" for none
	}{
		{"all up", "", "", count("2026-03-01", 9, 0), ""},
		{"more up than sown", "", "", count("2026-03-01", 10, 0), "10 seedlings are more than the 9 seeds sown in " + pot},
		{"none up", "", "", count("2026-03-01", 0, 0), ""},
		{"all dead", "", "", count("2026-03-01", 4, 4), ""},
		{"more dead than up", "", "", count("2026-03-01", 4, 5), "5 died of 4 that came up"},
		{"as many as before", "2026-02-20,3,1,", "", count("2026-03-01", 3, 1), ""},
		{"fewer than before", "2026-02-20,3,1,", "", count("2026-03-01", 2, 1), "2 up on 2026-03-01 does not go with 3 up on 2026-02-20"},
		{"fewer dead than before", "2026-02-20,3,1,", "", count("2026-03-01", 3, 0), "0 died by 2026-03-01 does not go with 1 by 2026-02-20"},
		{"as many as later", "2026-03-20,3,1,", "", count("2026-03-01", 3, 1), ""},
		{"more than later", "2026-03-20,3,1,", "", count("2026-03-01", 4, 1), "4 up on 2026-03-01 does not go with 3 up on 2026-03-20"},
		{"more dead than later", "2026-03-20,3,1,", "", count("2026-03-01", 3, 2), "2 died by 2026-03-01 does not go with 1 by 2026-03-20"},
		{"dead where a later count leaves them out", "2026-03-20,3,,", "", count("2026-03-01", 3, 2), ""},
		{"what was pricked out was up", "", two, count("2026-03-20", 2, 0), ""},
		{"fewer up than pricked out by then", "", two, count("2026-03-20", 1, 0), pot + " had 1 up on 2026-03-20, and 0 died and 2 pricked out by then are more"},
		{"fewer up than pricked out the day after", "", two, count("2026-03-19", 1, 0), ""},
		{"died and pricked out", "", two, count("2026-03-25", 3, 1), ""},
		{"fewer up than died and pricked out", "", two, count("2026-03-25", 3, 2), pot + " had 3 up on 2026-03-25, and 2 died and 2 pricked out by then are more"},
		{"pricked out on a day that is not known", "", unknown, count("2026-03-20", 1, 0), ""},
		{"died before, and pricked out", "2026-03-01,4,2,", two, count("2026-03-25", 4, 2), ""},

		{"all seeds pricked out", "", "", prick("2026-04-01", 9), ""},
		{"more than the seeds", "", "", prick("2026-04-01", 10), pot + " was sown with 9 seeds, 0 seedlings were issued already, and 10 more are asked for; issue at most 9"},
		{"more than is left of the seeds", "2026-03-01,5,1,", two, prick("2026-04-01", 7), pot + " was sown with 9 seeds, 1 died, 2 seedlings were issued already, and 7 more are asked for; issue at most 6"},
		{"what is left of the seeds", "2026-03-01,5,1,", two, prick("2026-04-01", 6), ""},
		{"what is alive", "2026-03-01,5,1,", "", prick("2026-03-01", 4), ""},
		{"more than is alive", "2026-03-01,5,1,", "", prick("2026-03-01", 5), pot + " had 5 up on 2026-03-01, 1 died, 0 pricked out by then: 4 alive, and 5 more are asked for; issue at most 4"},
		{"before a count", "2026-03-01,5,1,", "", prick("2026-02-01", 5), pot + " had 5 up on 2026-03-01, 1 died"},
		{"the least of two counts", "2026-02-20,3,0,\n2025X007-A1,2026-03-01,5,1,", "", prick("2026-02-20", 4), pot + " had 3 up on 2026-02-20, 0 pricked out by then: 3 alive, and 4 more"},
		{"between two counts", "2026-02-20,3,0,\n2025X007-A1,2026-03-01,5,1,", "", prick("2026-02-21", 4), ""},
		{"of later deaths", "2026-02-20,5,0,\n2025X007-A1,2026-03-01,5,4,", "", prick("2026-02-20", 2), pot + " had 5 up on 2026-03-01, 4 died, 0 pricked out by then: 1 alive, and 2 more"},
		{"on a day that is not known", "2026-03-01,5,1,", "", prick("", 8), ""},
		{"none is left", "2026-03-01,2,0,", "A,2026-03-01,,,,,,\nB,2026-03-01,,,,,,", prick("2026-03-01", 1), "0 alive, and 1 more are asked for; none is left to issue"},

		{"seeds down to those up", "2026-03-01,5,1,", "", seeds(5), ""},
		{"fewer seeds than up", "2026-03-01,5,1,", "", seeds(4), "5 seedlings, counted on 2026-03-01, are more than the 4 seeds sown in " + pot},
		{"seeds down to died and pricked out", "2026-03-01,2,1,", two, seeds(3), ""},
		{"fewer seeds than died and pricked out", "2026-03-01,2,1,", two, seeds(2), pot + " was sown with 2 seeds, and 1 died and 2 pricked out are more"},
		{"no seed at all", "", "", seeds(0), "a pot with 0 seeds cannot be sown"},
		{"one seed", "", "", seeds(1), ""},
		{"more seeds than the lot had", "", "", seeds(21), "2025X007-A would have 20 seeds, 0 undeveloped, 21 sown already: 1 more than there are"},
		{"all seeds of the lot", "", "", seeds(20), ""},

		{"a count up to the seeds", "2026-03-01,5,1,", "", mend("2026-03-01", 9, -1), ""},
		{"a count beyond the seeds", "2026-03-01,5,1,", "", mend("2026-03-01", 10, -1), "10 seedlings are more than the 9 seeds"},
		{"a count down to the dead", "2026-03-01,5,1,", "", mend("2026-03-01", 1, -1), ""},
		{"a count below the dead", "2026-03-01,5,1,", "", mend("2026-03-01", 0, -1), "1 died of 0 that came up"},
		{"a count down to the one before", "2026-02-20,3,0,\n2025X007-A1,2026-03-01,5,1,", "", mend("2026-03-01", 3, -1), ""},
		{"a count below the one before", "2026-02-20,3,0,\n2025X007-A1,2026-03-01,5,1,", "", mend("2026-03-01", 2, -1), "2 up on 2026-03-01 does not go with 3 up on 2026-02-20"},
		{"deaths below those before", "2026-02-20,3,1,\n2025X007-A1,2026-03-01,5,1,", "", mend("2026-03-01", -1, 0), "0 died by 2026-03-01 does not go with 1 by 2026-02-20"},
		{"a count below what was pricked out", "2026-03-25,5,1,", two, mend("2026-03-25", 2, -1), "had 2 up on 2026-03-25, and 1 died and 2 pricked out by then are more"},

		{"emptied, all pricked out or dead", "2026-03-25,3,1,", two, empty("2026-04-01"), ""},
		{"emptied, one is left", "2026-03-25,4,1,", two, empty("2026-04-01"), "1 of the seedlings that came up in " + pot + " are neither dead nor pricked out"},
		{"emptied, never counted", "", "", empty("2026-04-01"), ""},
	} {
		files := lived()
		files["pots.csv"], files["emergence.csv"], files["seedlings.csv"], files["diary.csv"] = pot+",9,2026-01-14,,,,,", "", "", ""
		files["lots.csv"] = "2025X007-A,2025-08-01,2025-11-16,2,20,0,2025-11-20,,,,,"
		if c.counts != "" {
			files["emergence.csv"] = pot + "," + c.counts
		}
		if c.seedlings != "" {
			files["seedlings.csv"] = pot + "-" + strings.ReplaceAll(c.seedlings, "\n", "\n"+pot+"-")
		}
		d := season(files)
		before := fmt.Sprint(tablesOf(t, d))
		err := testStore(d).change(c.do)
		switch {
		case c.want == "" && err != nil:
			t.Errorf("%s: %v", c.name, err)
		case c.want != "" && (!refused(err) || !strings.Contains(err.Error(), c.want)):
			t.Errorf("%s: %v\nwant %s", c.name, err, c.want)
		case c.want != "" && fmt.Sprint(tablesOf(t, d)) != before:
			t.Errorf("%s: refused, but the files changed", c.name)
		}
	}
}

// What is known of a pot beyond its counts: deaths that a count leaves out, what was
// pricked out before it was counted, and the deaths with which a lost pot ended.
func TestCountsWithAllThatIsKnown(t *testing.T) {
	const pot = "2025X007-A1"
	for _, c := range []struct {
		counts, seedlings, end string
		want                   string // day up/died
		alive                  string
	}{
		{"", "", ",", "", ""},
		{"2026-02-20,3,,", "", ",", "02-20 3/", "3"},
		{"2026-02-20,3,1,\n2026-03-01,5,,", "", ",", "02-20 3/1 03-01 5/1", "4"},
		{"2026-02-20,3,1,\n2026-03-01,5,2,", "", ",", "02-20 3/1 03-01 5/2", "3"},
		{"", "2026-03-20", ",", "03-20 1/", "0"},
		{"", "2026-03-20 2026-03-20 2026-03-25", ",", "03-20 2/ 03-25 3/", "0"},
		{"2026-03-01,1,,", "2026-03-20 2026-03-20", ",", "03-01 1/ 03-20 2/", "0"},
		{"2026-03-01,2,,", "2026-03-20 2026-03-20", ",", "03-01 2/", "0"},
		{"2026-03-01,3,1,", "2026-03-20 2026-03-20 2026-03-20", ",", "03-01 3/1 03-20 4/1", "0"},
		{"2026-03-20,1,,", "2026-03-20 2026-03-20", ",", "03-20 2/", "0"}, // the count left them out
		{"2026-03-25,5,,", "2026-03-20 2026-03-25", ",", "03-20 1/ 03-25 5/", "3"},
		{"2026-03-19,0,,\n2026-03-25,1,1,", "2026-03-20", ",", "03-19 0/ 03-20 1/ 03-25 2/1", "0"},
		{",3,,\n2026-03-01,5,,", "", ",", " 3/ 03-01 5/", "5"},
		{"2026-02-20,3,1,", "", "2026-04-01,lost", "02-20 3/1 04-01 3/3", "0"},
		{"2026-02-20,3,1,", "2026-03-01", "2026-04-01,lost", "02-20 3/1 04-01 3/2", "0"},
		{"2026-02-20,3,1,", "", "2026-02-20,lost", "02-20 3/3", "0"},
		{"2026-02-20,3,1,", "", "2026-02-19,lost", "02-20 3/1", "0"}, // which cannot be
		{"2026-02-20,3,3,", "", "2026-04-01,lost", "02-20 3/3", "0"},
		{"2026-02-20,3,1,", "", ",lost", "02-20 3/1", "0"},
		{"2026-02-20,3,1,", "", "2026-04-01,emptied", "02-20 3/1", "0"},
		{"2026-02-20,3,1,", "", "2026-04-01,", "02-20 3/1", "0"},
		{"", "", "2026-04-01,lost", "", "0"},
		{"2026-02-20,0,,", "", ",", "02-20 0/", "0"},
	} {
		files := lived()
		files["pots.csv"], files["emergence.csv"], files["seedlings.csv"], files["diary.csv"] = pot+",9,2026-01-14,,,,"+c.end, "", "", ""
		if c.counts != "" {
			files["emergence.csv"] = pot + "," + strings.ReplaceAll(c.counts, "\n", "\n"+pot+",")
		}
		var rows []string
		for i, on := range strings.Fields(c.seedlings) {
			rows = append(rows, fmt.Sprintf("%s-%c,%s,,,,,,", pot, 'A'+i, on))
		}
		files["seedlings.csv"] = strings.Join(rows, "\n")
		r := open(t, season(files))
		var got []string
		for _, e := range r.CountsOf(mustID(t, pot)) {
			got = append(got, strings.TrimPrefix(e.On.String(), "2026-")+" "+e.Up.String()+"/"+e.Died.String())
		}
		if s := strings.Join(got, " "); s != c.want {
			t.Errorf("%q, pricked out %q, ended %q: %q, want %q", c.counts, c.seedlings, c.end, s, c.want)
		}
		if got := r.AliveIn(mustID(t, pot)).String(); got != c.alive {
			t.Errorf("%q, pricked out %q, ended %q: %q alive, want %q", c.counts, c.seedlings, c.end, got, c.alive)
		}
	}
}
