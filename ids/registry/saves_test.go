package registry

import "time"

// emptyFiles are the files of a new registry in the folder "r".
func emptyFiles() map[string]string {
	files := map[string]string{}
	for _, t := range newTables().tables() {
		files["r/"+t.fileName()] = t.blankFile()
	}
	return files
}

// testStore is a store whose commands go into the history.
func testStore(d *testDisk) store {
	return store{disk: d, dir: "r", names: fileNames(), opt: Options{Command: "pipstake test", Now: time.Date(2026, 11, 14, 9, 30, 0, 0, time.UTC)}}
}

// saveSeason changes five of the files and the history in one commit.
func saveSeason(r *Registry) error {
	c, err := r.AddCross(NewCross{SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber", Pollinated: Date{2026, 5, 4}})
	if err != nil {
		return err
	}
	lots, err := r.AddLots(c.ID, 2, Date{2026, 8, 1})
	if err != nil {
		return err
	}
	if _, err = r.Extract(lots[0].ID, Extraction{Seeds: Known(9), On: Date{2026, 10, 1}}); err != nil {
		return err
	}
	pots, err := r.Sow(lots[0].ID, Sowing{Seeds: []int{5, 4}, On: Date{2026, 10, 2}})
	if err != nil {
		return err
	}
	if _, err := r.AddEmergence(pots[0].ID, Date{2026, 11, 2}, 3); err != nil {
		return err
	}
	_, err = r.AddLabels(Date{2026, 10, 2}, []Print{{Face: StakeFace, ID: pots[0].ID, Copy: 1, Stock: "s", Sheet: r.LastSheet("s") + 1, Cell: 1, Payload: "P"}})
	return err
}

// saveLife changes the diary and the calendar, and with them the history, in one
// commit.
func saveLife(r *Registry) error {
	cross := r.Crosses()[0].ID
	if err := r.Note(cross, Date{2026, 6, 1}, "a late frost"); err != nil {
		return err
	}
	r.KeepCalendar([]CalendarEntry{{UID: "o-cold-20261120", Day: Date{2026, 11, 20}, Sequence: 1, State: TakenBack, Summary: "end the soak"},
		{UID: "o-sow-20270110", Day: Date{2027, 1, 10}, Summary: "sow"}})
	return nil
}
