package registry

import (
	"strings"
	"testing"
)

// A season with nothing to find.
const (
	cleanCrosses   = "2026X011,Larkfield Tessel,Tarn Amber,2026-05-04,12,,\n2026X012,Härmä Punanen,Gwennol Goch,2026-05-06,,,"
	cleanLots      = "2026X011-A,2026-08-01,2026-11-15,4,14,1,2026-11-20,,\n2026X011-B,2026-08-01,,,,,,,"
	cleanPots      = "2026X011-A1,7,2027-01-14,,,\n2026X011-A2,6,2027-01-14,,,"
	cleanSeedlings = "2026X011-A1-A,2027-04-01,,"
	cleanEmergence = "2026X011-A1,2027-03-01,5,\n2026X011-A1,2027-02-20,3,"
	cleanLabels    = "1,2026-08-01,bag,2026X011-A,,s,1,1,P,\n1,2026-08-01,bag,2026X011-B,,s,1,2,P,\n" +
		"2,2027-01-14,stake,2026X011-A1,1,t,1,1,P,\n2,2027-01-14,stake,2026X011-A1,2,t,1,2,P,\n" +
		"2,2027-01-14,stake,2026X011-A2,1,t,1,3,P,\n2,2027-01-14,stake,2026X011-A2,2,t,1,4,P,\n" +
		"3,2027-04-01,seedling,2026X011-A1-A,,s,1,3,P,"
)

func cleanSeason() map[string]string {
	return map[string]string{"crosses.csv": cleanCrosses, "lots.csv": cleanLots, "pots.csv": cleanPots,
		"seedlings.csv": cleanSeedlings, "emergence.csv": cleanEmergence, "labels.csv": cleanLabels}
}

// change is a text in a file of the clean season that is replaced; with an
// empty old text the new one is added at the end.
type change struct{ file, old, new string }

// withBag adds a bag label, so that it is not the label that is missed.
func withBag(lot string) change {
	return change{"labels.csv", "", "\n4,,bag," + lot + ",,s,2,1,,"}
}

func TestCheck(t *testing.T) {
	for _, c := range []struct {
		name    string
		changes []change
		want    string
	}{
		{"nothing", nil, ""},

		{"an identifier twice", []change{{"lots.csv", "", "\n2026X011-A,,,,,,,,"}},
			`lots.csv row 4, column id: "2026X011-A" stands in row 2 already; delete one of the two rows, or give it its right identifier`},
		{"a cross twice, written in two ways", []change{{"crosses.csv", "", "\n2026x012,A,B,,,,"}},
			`crosses.csv row 4, column id: "2026x012" is read as 2026X012, but not written so; write 2026X012
crosses.csv row 4, column id: "2026x012" stands in row 3 already; delete one of the two rows, or give it its right identifier`},

		{"numbers from the middle", []change{{"crosses.csv", "", "\n2027X100,A,B,,,,"}}, ""},
		{"a cross skipped", []change{{"crosses.csv", "2026X012", "2026X013"}},
			`crosses.csv row 3, column id: "2026X013" does not follow on the one before: 2026X012 is missing; put the row back; if the number was given up, with the state void`},
		{"crosses skipped", []change{{"crosses.csv", "2026X012", "2026X1000"}},
			`crosses.csv row 3, column id: "2026X1000" does not follow on the one before: 2026X012 to 2026X999 are missing; put the row back; if the number was given up, with the state void`},
		{"the first lot skipped", []change{{"lots.csv", "", "\n2026X012-B,,,,,,,,"}, withBag("2026X012-B")},
			`lots.csv row 4, column id: "2026X012-B" does not follow on the one before: 2026X012-A is missing; put the row back; if the number was given up, with the state void`},
		{"a pot skipped", []change{{"pots.csv", "2026X011-A2", "2026X011-A3"}, {"labels.csv", "2026X011-A2,1", "2026X011-A3,1"}, {"labels.csv", "2026X011-A2,2", "2026X011-A3,2"}},
			`pots.csv row 3, column id: "2026X011-A3" does not follow on the one before: 2026X011-A2 is missing; put the row back; if the number was given up, with the state void`},
		{"a void pot is not skipped", []change{{"pots.csv", "", "\n2026X011-A3,2,2027-01-20,,void,"}}, ""},
		{"a lost row may be the one", []change{{"pots.csv", "2026X011-A2", "2-Feb"}},
			`pots.csv row 3, column id: "2-Feb" is not an identifier: a spreadsheet made a date of it; take the identifier from the label, and format the column as text
labels.csv row 6, column id: "2026X011-A2" has no row in pots.csv; put that row back, or correct the identifier; it may be pots.csv row 3, which cannot be read
labels.csv row 7, column id: "2026X011-A2" has no row in pots.csv; put that row back, or correct the identifier; it may be pots.csv row 3, which cannot be read`},
		{"skipped, and a lost row may be the one", []change{{"pots.csv", "2026X011-A1,", "1-Feb,"}, {"labels.csv", "2026X011-A1,1", "2026X011-A2,3"}, {"labels.csv", "2026X011-A1,2", "2026X011-A2,4"},
			{"emergence.csv", cleanEmergence, ""}, {"seedlings.csv", cleanSeedlings, ""}, {"labels.csv", "3,2027-04-01,seedling,2026X011-A1-A,,s,1,3,P,", ""}},
			`pots.csv row 2, column id: "1-Feb" is not an identifier: a spreadsheet made a date of it; take the identifier from the label, and format the column as text
pots.csv row 3, column id: "2026X011-A2" does not follow on the one before: 2026X011-A1 is missing; put the row back; if the number was given up, with the state void; it may be row 2, which cannot be read`},

		{"a lot without its cross", []change{{"lots.csv", "", "\n2026X013-A,,,,,,,,"}, withBag("2026X013-A")},
			`lots.csv row 4, column id: "2026X013-A" belongs to cross 2026X013, which has no row in crosses.csv; put that row back, or correct the identifier`},
		{"a pot without its lot", []change{{"pots.csv", "", "\n2026X012-A1,3,,,,"}, {"labels.csv", "", "\n4,,stake,2026X012-A1,1,t,2,1,,\n4,,stake,2026X012-A1,2,t,2,2,,"}},
			`pots.csv row 4, column id: "2026X012-A1" belongs to seed lot 2026X012-A, which has no row in lots.csv; put that row back, or correct the identifier`},
		{"a seedling without its pot", []change{{"seedlings.csv", "", "\n2026X011-A3-A,,,"}, {"labels.csv", "", "\n4,,seedling,2026X011-A3-A,,t,2,1,,"}},
			`seedlings.csv row 3, column id: "2026X011-A3-A" belongs to pot 2026X011-A3, which has no row in pots.csv; put that row back, or correct the identifier`},
		{"a count without its pot", []change{{"emergence.csv", "", "\n2026X011-A3,2027-03-01,1,"}},
			`emergence.csv row 4, column pot: "2026X011-A3" has no row in pots.csv; put that row back, or correct the identifier`},
		{"a label without its lot", []change{withBag("2026X011-D")},
			`labels.csv row 9, column id: "2026X011-D" has no row in lots.csv; put that row back, or correct the identifier`},
		{"a row in the wrong table", []change{{"lots.csv", "", "\n2026X011-A9,,,,,,,,"}},
			`lots.csv row 4, column id: "2026X011-A9" is the identifier of a pot, not of a seed lot; move the row to the table it belongs to, or correct the identifier`},

		{"live below a void cross", []change{{"crosses.csv", "2026-05-04,12,,", "2026-05-04,12,void,"}},
			`lots.csv row 2, column state: is not void, but cross 2026X011 is; void 2026X011-A as well, or take the word out of the other row
lots.csv row 3, column state: is not void, but cross 2026X011 is; void 2026X011-B as well, or take the word out of the other row
pots.csv row 2, column state: is not void, but cross 2026X011 is; void 2026X011-A1 as well, or take the word out of the other row
pots.csv row 3, column state: is not void, but cross 2026X011 is; void 2026X011-A2 as well, or take the word out of the other row
seedlings.csv row 2, column state: is not void, but cross 2026X011 is; void 2026X011-A1-A as well, or take the word out of the other row`},
		{"void below live", []change{{"lots.csv", "2026X011-B,2026-08-01,,,,,,,", "2026X011-B,2026-08-01,,,,,,void,"}}, ""},

		{"more sown than there was", []change{{"pots.csv", "A2,6", "A2,7"}},
			`lots.csv row 2, column seeds: "14" less 1 undeveloped is fewer than the 14 sown in its pots; correct it, or the pots in pots.csv`},
		{"a void pot's seeds went back", []change{{"pots.csv", "", "\n2026X011-A3,9,2027-01-14,,void,"}}, ""},
		{"sown without seeds", []change{{"lots.csv", "4,14,1", "4,,"}},
			`lots.csv row 2, column seeds: no seeds are recorded, but 13 are sown in its pots; write in how many seeds were found`},
		{"more undeveloped than seeds", []change{{"lots.csv", "4,14,1", "4,14,15"}},
			`lots.csv row 2, column undeveloped: "15" is more than the 14 seeds; correct one of the two`},
		{"a pot without its count", []change{{"pots.csv", "A2,6", "A2,"}},
			`pots.csv row 3, column seeds: the number of seeds sown is missing; write it in, as the stake says it`},
		{"more seedlings than seeds", []change{{"pots.csv", "A1,7", "A1,5"}, {"seedlings.csv", "", "\n2026X011-A1-B,,,\n2026X011-A1-C,,,\n2026X011-A1-D,,,\n2026X011-A1-E,,,\n2026X011-A1-F,,,"},
			{"labels.csv", "", "\n4,,seedling,2026X011-A1-B,,s,2,1,,\n4,,seedling,2026X011-A1-C,,s,2,2,,\n4,,seedling,2026X011-A1-D,,s,2,3,,\n4,,seedling,2026X011-A1-E,,s,2,4,,\n4,,seedling,2026X011-A1-F,,s,2,5,,"}},
			`seedlings.csv row 7, column id: "2026X011-A1-F" is one seedling more than the 5 seeds sown in 2026X011-A1; void those that were never pricked out, or correct the pot`},

		{"more up than sown", []change{{"emergence.csv", "2027-03-01,5", "2027-03-01,8"}},
			`emergence.csv row 2, column up: "8" is more than the 7 seeds sown in 2026X011-A1; correct one of the two`},
		{"falling", []change{{"emergence.csv", "2027-03-01,5", "2027-03-01,2"}},
			`emergence.csv row 3, column up: "3" on 2027-02-20 does not go with 2 on 2027-03-01 in row 2; correct one of the two: each is of all that had come up by then`},
		{"the same day twice", []change{{"emergence.csv", "2027-03-01,5", "2027-02-20,5"}},
			`emergence.csv row 3, column on: "2027-02-20" is the day of the count in row 2 too; keep the one that is right`},
		{"a count without day", []change{{"emergence.csv", "2027-03-01,5", ",5"}},
			`emergence.csv row 2, column on: the day of the count is missing; write it in`},
		{"a day without count", []change{{"emergence.csv", "2027-03-01,5", "2027-03-01,"}},
			`emergence.csv row 2, column up: the count is missing; write it in`},

		{"extracted before pollination", []change{{"lots.csv", "2026-11-15", "2026-05-03"}},
			`lots.csv row 2, column extracted: "2026-05-03" comes before the pollination of 2026X011 on 2026-05-04; correct one of the two dates`},
		{"on the same day", []change{{"lots.csv", "2026-11-15", "2026-05-04"}}, ""},
		{"chilled before extraction", []change{{"lots.csv", "2026-11-20", "2026-11-14"}},
			`lots.csv row 2, column chilled: "2026-11-14" comes before the extraction on 2026-11-15; correct one of the two dates`},
		{"chilled before pollination, extraction not known", []change{{"lots.csv", "2026-11-20", "2026-05-01"}, {"lots.csv", "2026-11-15", ""}},
			`lots.csv row 2, column chilled: "2026-05-01" comes before the pollination of 2026X011 on 2026-05-04; correct one of the two dates`},
		{"sown before the cold", []change{{"pots.csv", "A1,7,2027-01-14", "A1,7,2026-11-19"}},
			`pots.csv row 2, column sown: "2026-11-19" comes before the start of the cold of 2026X011-A on 2026-11-20; correct one of the two dates`},
		{"sown before extraction, cold not known", []change{{"pots.csv", "A1,7,2027-01-14", "A1,7,2026-11-14"}, {"lots.csv", "2026-11-20", ""}},
			`pots.csv row 2, column sown: "2026-11-14" comes before the extraction of 2026X011-A on 2026-11-15; correct one of the two dates`},
		{"sown before pollination, all else not known", []change{{"pots.csv", "A1,7,2027-01-14", "A1,7,2026-05-03"}, {"lots.csv", "2026-11-20", ""}, {"lots.csv", "2026-11-15", ""}},
			`pots.csv row 2, column sown: "2026-05-03" comes before the pollination of 2026X011 on 2026-05-04; correct one of the two dates`},
		{"counted before sowing", []change{{"emergence.csv", "2027-02-20,3", "2027-01-13,3"}},
			`emergence.csv row 3, column on: "2027-01-13" comes before the sowing of 2026X011-A1 on 2027-01-14; correct one of the two dates`},
		{"pricked out before sowing", []change{{"seedlings.csv", "2027-04-01", "2027-01-13"}},
			`seedlings.csv row 2, column pricked: "2027-01-13" comes before the sowing of 2026X011-A1 on 2027-01-14; correct one of the two dates`},

		{"a label printed twice", []change{withBag("2026X011-A")},
			`labels.csv row 9, column id: "2026X011-A" has its bag label in use already, in row 2 of batch 1; destroy one of the labels and write "replaced" or "spoilt" into its state`},
		{"a stake printed twice", []change{{"labels.csv", "", "\n4,,stake,2026X011-A2,2,t,2,1,,"}},
			`labels.csv row 9, column id: "2026X011-A2" has its stake label, copy 2, in use already, in row 7 of batch 2; destroy one of the labels and write "replaced" or "spoilt" into its state`},
		{"printed twice and replaced", []change{withBag("2026X011-A"), {"labels.csv", "bag,2026X011-A,,s,1,1,P,", "bag,2026X011-A,,s,1,1,P,Replaced"}},
			`labels.csv row 2, column state: "Replaced" is read as replaced, but not written so; write replaced`},
		{"printed twice for what is void", []change{withBag("2026X011-B"), {"lots.csv", "2026X011-B,2026-08-01,,,,,,,", "2026X011-B,2026-08-01,,,,,,void,"}}, ""},
		{"a spoilt stake", []change{{"labels.csv", "2026X011-A2,2,t,1,4,P,", "2026X011-A2,2,t,1,4,P,spoilt"}},
			`pots.csv row 3, column id: "2026X011-A2" has no stake in use as copy 2; print it with: {missing labels}`},
		{"no stake at all", []change{{"labels.csv", "2026X011-A2,1,t,1,3,P,", "2026X011-A2,1,t,1,3,P,spoilt"}, {"labels.csv", "2026X011-A2,2,t,1,4,P,", "2026X011-A2,2,t,1,4,P,spoilt"}},
			`pots.csv row 3, column id: "2026X011-A2" has neither of its two stakes in use; print it with: {missing labels}`},
		{"no bag label", []change{{"labels.csv", "bag,2026X011-B,,s,1,2,P,", "bag,2026X011-B,,s,1,2,P,spoilt"}},
			`lots.csv row 3, column id: "2026X011-B" has no bag label in use; print it with: {missing labels}`},
		{"no bag label, but the bag is empty", []change{{"labels.csv", "bag,2026X011-A,,s,1,1,P,", "bag,2026X011-A,,s,1,1,P,spoilt"}}, ""},
		{"no seedling label", []change{{"labels.csv", "2026X011-A1-A,,s,1,3,P,", "2026X011-A1-A,,s,1,3,P,spoilt"}},
			`seedlings.csv row 2, column id: "2026X011-A1-A" has no seedling label in use; print it with: {missing labels}`},

		{"a local date", []change{{"lots.csv", "2026-11-15", "15/11/2026"}},
			`lots.csv row 2, column extracted: "15/11/2026" is not a date; probably 2026-11-15; write it so if that is right`},
		{"a date that is none", []change{{"lots.csv", "2026-11-15", "2026-11-31"}},
			`lots.csv row 2, column extracted: "2026-11-31" is not a date: November 2026 has 30 days; write year-month-day, like 2026-11-14`},
		{"a decimal", []change{{"pots.csv", "A2,6", `A2,"6,0"`}},
			`pots.csv row 3, column seeds: "6,0" is not a whole number; probably 6; write it so if that is right`},
		{"a negative count", []change{{"pots.csv", "A2,6", "A2,-6"}}, `pots.csv row 3, column seeds: "-6" is less than none; write what was counted`},
		{"a huge count", []change{{"pots.csv", "A2,6", "A2,6000000"}}, `pots.csv row 3, column seeds: "6000000" is more than 1000000; write what was counted`},
		{"an exponent for an identifier", []change{{"crosses.csv", "2026X012", "2.026E+38"}},
			`crosses.csv row 3, column id: "2.026E+38" is not an identifier: a spreadsheet made a number of it; take the identifier from the label, and format the column as text`},
		{"an identifier short of a zero", []change{{"crosses.csv", "2026X012", "2026X12"}},
			`crosses.csv row 3, column id: "2026X12" is not an identifier: the number of a cross has at least 3 digits; if that is what is meant, write "2026X012"`},
		{"a wrong check character", []change{{"crosses.csv", "2026X012", "2026X012.A"}},
			`crosses.csv row 3, column id: "2026X012.A" has the check character A, but that of 2026X012 is M; take the identifier from the label, and format the column as text`},
		{"no identifier", []change{{"crosses.csv", "2026X012", " "}},
			`crosses.csv row 3, column id: " " is not an identifier: nothing is there; take the identifier from the label, and format the column as text`},
		{"an empty identifier", []change{{"crosses.csv", "2026X012", ""}},
			`crosses.csv row 3, column id: the identifier is missing; take it from the label, or delete the row if it stands for nothing`},
		{"a look-alike dash", []change{{"lots.csv", "2026X011-B", "2026X011–B"}},
			`lots.csv row 3, column id: "2026X011–B" is read as 2026X011-B, but not written so; write 2026X011-B`},
		{"a letter of another script", []change{{"lots.csv", "2026X011-B", "2026X011-В"}, {"labels.csv", "2026X011-B", "2026X011-В"}},
			`lots.csv row 3, column id: "2026X011-В" is not an identifier: the letter 'В' (U+0412) is Cyrillic, not Latin; take the identifier from the label, and format the column as text
labels.csv row 3, column id: "2026X011-В" is not an identifier: the letter 'В' (U+0412) is Cyrillic, not Latin; take the identifier from the label, and format the column as text`},
		{"an unknown state", []change{{"lots.csv", "2026X011-B,2026-08-01,,,,,,,", "2026X011-B,2026-08-01,,,,,,gone,"}},
			`lots.csv row 3, column state: "gone" is none of the words for state; write void or nothing`},
		{"an unknown face", []change{{"labels.csv", "3,2027-04-01,seedling", "3,2027-04-01,plant"}},
			`seedlings.csv row 2, column id: "2026X011-A1-A" has no seedling label in use; print it with: {missing labels}
labels.csv row 8, column face: "plant" is none of the words for face; write bag, stake, seedling, branch`},
		{"no place on a sheet", []change{{"labels.csv", "s,1,3,P", "s,,0,P"}},
			`labels.csv row 8, column sheet: the number is missing; write it in
labels.csv row 8, column cell: "0" is no number from 1; write a number from 1`},
		{"a name on two lines", []change{{"crosses.csv", "Gwennol Goch", "\"Gwennol\nGoch\""}},
			`crosses.csv row 3, column pollen_parent: "Gwennol\r\nGoch" holds a line break or a control character; write it on one line`},
		{"no name", []change{{"crosses.csv", "Gwennol Goch", ""}},
			`crosses.csv row 3, column pollen_parent: the name is missing; write it in, or "unknown"`},
		{"a delimiter inside a cell", []change{{"crosses.csv", "2026-05-04,12,,", "2026-05-04,12,,cold, wet"}},
			`crosses.csv row 2: " wet" stands beyond the last column; look whether a delimiter inside a cell moved the others, and put that cell into quotes`},
	} {
		files := cleanSeason()
		for _, ch := range c.changes {
			was := files[ch.file]
			if files[ch.file] = strings.Replace(was, ch.old, ch.new, 1); ch.old == "" {
				files[ch.file] = was + ch.new
			} else if files[ch.file] == was {
				t.Fatalf("%s: %s holds no %q", c.name, ch.file, ch.old)
			}
		}
		var got []string
		for _, f := range open(t, season(files)).Check() {
			got = append(got, f.String())
		}
		if got := strings.Join(got, "\n"); got != c.want {
			t.Errorf("%s:\n%s\nwant\n%s", c.name, got, c.want)
		}
	}
}

// Sync programs call copies as they like (skilion/onedrive#265: a name with the
// computer's in it), and so do people: a table is known by its columns.
func TestCheckAnnouncesCopies(t *testing.T) {
	d := season(cleanSeason())
	for name, text := range map[string]string{
		"crosses.sync-conflict-20261114-101500-ABCDEFG.csv": "", "lots (1).csv": "", "Copy of pots.csv": "", "labels (conflicted copy 2026-11-14).csv": "",
		"crosses-summary.csv": "seed_parent,crosses\n", "scab copy.csv": "id,scab\n", "lots (1).txt": "", ".~lock.crosses.csv#": "", "protocol.toml": "", "blank.csv": " \n",
		"pots-LAPTOP.csv":         d.now["r/pots.csv"].data,
		"Kopie von crosses.CSV":   "sep=;\r\n" + strings.ReplaceAll(strings.TrimPrefix(d.now["r/crosses.csv"].data, bom), ",", ";"),
		"old.csv":                 newHistory().blankFile(),
		"of last year.csv":        "notes,id,state,pricked,colour\n\"a quote that is not closed",
		"counts of the frame.csv": "pot,on,up,died,notes\n2026X001-A1,2027-03-01,2,,\n",
		"list.csv":                newTables().varieties.blankFile(),
		"PC-varieties.csv":        newTables().varieties.blankFile(),
	} {
		d.now["r/"+name] = &testFile{data: text}
	}
	var got []string
	for _, f := range open(t, d).Check() {
		got = append(got, f.String())
	}
	const rest = ", and is not read; compare the two, carry over what is missing, and delete the copy"
	const other = rest + "; what is kept for another purpose belongs into another folder"
	want := strings.Join([]string{
		"Copy of pots.csv: looks like a second copy of pots.csv" + rest,
		"Kopie von crosses.CSV: has the columns of crosses.csv" + other,
		"PC-varieties.csv: has the columns of varieties.csv" + other,
		"crosses.sync-conflict-20261114-101500-ABCDEFG.csv: looks like a second copy of crosses.csv" + rest,
		"labels (conflicted copy 2026-11-14).csv: looks like a second copy of labels.csv" + rest,
		"lots (1).csv: looks like a second copy of lots.csv" + rest,
		"of last year.csv: has the columns of seedlings.csv" + other,
		"old.csv: has the columns of history.csv" + other,
		"pots-LAPTOP.csv: has the columns of pots.csv" + other,
	}, "\n")
	if got := strings.Join(got, "\n"); got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
}

// What the events write gives nothing to find.
func TestCheckAfterEvents(t *testing.T) {
	d := newTestDisk(emptyFiles())
	for range 3 {
		err := testStore(d).change(func(r *Registry) error {
			if err := saveSeason(r); err != nil {
				return err
			}
			var prints []Print
			fresh := r.LastSheet("s") + 1
			for i, p := range r.Missing() {
				p.Stock, p.Sheet, p.Cell = "s", fresh, i+1
				prints = append(prints, p)
			}
			_, err := r.AddLabels(Date{2026, 10, 2}, prints)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	r := open(t, d)
	if found := r.Check(); len(found) > 0 || len(r.Pots()) != 6 || len(r.Labels()) != 15 {
		t.Errorf("%d pots, %d labels, %v", len(r.Pots()), len(r.Labels()), found)
	}
}
