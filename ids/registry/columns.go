package registry

import "pipstake/ids"

// MarkerFile is the file whose presence makes a folder a registry.
const MarkerFile = "crosses.csv"

// The tables' files and columns, in the order in which new files have them.

const (
	crossesFile   = MarkerFile
	lotsFile      = "lots.csv"
	potsFile      = "pots.csv"
	seedlingsFile = "seedlings.csv"
	emergenceFile = "emergence.csv"
	labelsFile    = "labels.csv"
	diaryFile     = "diary.csv"
)

var crossColumns = []column[Cross]{
	idColumn("id", ids.CrossLevel, func(c *Cross) *ids.ID { return &c.ID }),
	parentColumn("seed_parent", required, func(c *Cross) *string { return &c.SeedParent }),
	parentColumn("pollen_parent", required, func(c *Cross) *string { return &c.PollenParent }),
	dateColumn("pollinated", func(c *Cross) *Date { return &c.Pollinated }),
	countColumn("flowers", func(c *Cross) *Count { return &c.Flowers }),
	wordColumn("state", func(c *Cross) *State { return &c.State }, Live, Void),
	textColumn("notes", func(c *Cross) *string { return &c.Notes }),
	late(nameColumn("source", optional, func(c *Cross) *string { return &c.Source })),
	late(countColumn("fruit", func(c *Cross) *Count { return &c.Fruit })),
	late(dateColumn("picked", func(c *Cross) *Date { return &c.Picked })),
	late(dateColumn("ended", func(c *Cross) *Date { return &c.Ended })),
	late(wordColumn("fate", func(c *Cross) *Fate { return &c.Fate }, Growing, Failed)),
}

var lotColumns = []column[Lot]{
	idColumn("id", ids.LotLevel, func(l *Lot) *ids.ID { return &l.ID }),
	dateColumn("issued", func(l *Lot) *Date { return &l.Issued }),
	dateColumn("extracted", func(l *Lot) *Date { return &l.Extracted }),
	countColumn("fruit", func(l *Lot) *Count { return &l.Fruit }),
	countColumn("seeds", func(l *Lot) *Count { return &l.Seeds }),
	countColumn("undeveloped", func(l *Lot) *Count { return &l.Undeveloped }),
	dateColumn("chilled", func(l *Lot) *Date { return &l.Chilled }),
	wordColumn("state", func(l *Lot) *State { return &l.State }, Live, Void),
	textColumn("notes", func(l *Lot) *string { return &l.Notes }),
	late(numberColumn("kept", optional, func(l *Lot) *int { return &l.Kept })),
	late(dateColumn("ended", func(l *Lot) *Date { return &l.Ended })),
	late(wordColumn("fate", func(l *Lot) *Fate { return &l.Fate }, Growing, Discarded, UsedUp, GivenAway)),
}

var potColumns = []column[Pot]{
	idColumn("id", ids.PotLevel, func(p *Pot) *ids.ID { return &p.ID }),
	countColumn("seeds", func(p *Pot) *Count { return &p.Seeds }),
	dateColumn("sown", func(p *Pot) *Date { return &p.Sown }),
	nameColumn("place", optional, func(p *Pot) *string { return &p.Place }),
	wordColumn("state", func(p *Pot) *State { return &p.State }, Live, Void),
	textColumn("notes", func(p *Pot) *string { return &p.Notes }),
	late(dateColumn("ended", func(p *Pot) *Date { return &p.Ended })),
	late(wordColumn("fate", func(p *Pot) *Fate { return &p.Fate }, Growing, Lost, Emptied)),
}

var seedlingColumns = []column[Seedling]{
	idColumn("id", ids.SeedlingLevel, func(s *Seedling) *ids.ID { return &s.ID }),
	dateColumn("pricked", func(s *Seedling) *Date { return &s.Pricked }),
	wordColumn("state", func(s *Seedling) *State { return &s.State }, Live, Void),
	textColumn("notes", func(s *Seedling) *string { return &s.Notes }),
	late(nameColumn("place", optional, func(s *Seedling) *string { return &s.Place })),
	late(nameColumn("name", optional, func(s *Seedling) *string { return &s.Name })),
	late(dateColumn("ended", func(s *Seedling) *Date { return &s.Ended })),
	late(wordColumn("fate", func(s *Seedling) *Fate { return &s.Fate }, Growing, Died, Culled)),
}

var emergenceColumns = []column[Emergence]{
	idColumn("pot", ids.PotLevel, func(e *Emergence) *ids.ID { return &e.Pot }),
	dateColumn("on", func(e *Emergence) *Date { return &e.On }),
	countColumn("up", func(e *Emergence) *Count { return &e.Up }),
	late(countColumn("died", func(e *Emergence) *Count { return &e.Died })),
	textColumn("notes", func(e *Emergence) *string { return &e.Notes }),
}

var diaryColumns = []column[DiaryEntry]{
	idColumn("id", ids.NoLevel, func(e *DiaryEntry) *ids.ID { return &e.ID }),
	dateColumn("on", func(e *DiaryEntry) *Date { return &e.On }),
	wordColumn("what", func(e *DiaryEntry) *DiaryWord { return &e.What }, diaryWords...),
	countColumn("number", func(e *DiaryEntry) *Count { return &e.Number }),
	textColumn("text", func(e *DiaryEntry) *string { return &e.Text }),
}

var labelColumns = []column[Label]{
	numberColumn("batch", required, func(l *Label) *int { return &l.Batch }),
	dateColumn("printed", func(l *Label) *Date { return &l.Printed }),
	wordColumn("face", func(l *Label) *Face { return &l.Face }, BagFace, StakeFace, SeedlingFace, BranchFace),
	idColumn("id", ids.NoLevel, func(l *Label) *ids.ID { return &l.ID }),
	numberColumn("copy", optional, func(l *Label) *int { return &l.Copy }),
	nameColumn("stock", optional, func(l *Label) *string { return &l.Stock }),
	numberColumn("sheet", required, func(l *Label) *int { return &l.Sheet }),
	numberColumn("cell", required, func(l *Label) *int { return &l.Cell }),
	nameColumn("payload", optional, func(l *Label) *string { return &l.Payload }),
	wordColumn("state", func(l *Label) *LabelState { return &l.State }, LabelLive, Spoilt, Replaced),
}

// newTables returns a table without rows for each file. The identifiers' columns
// are those that the rows are found by.
func newTables() *Registry {
	return &Registry{
		crosses:   newTable(crossesFile, "id", crossColumns, func(c *Cross) *ids.ID { return &c.ID }),
		lots:      newTable(lotsFile, "id", lotColumns, func(l *Lot) *ids.ID { return &l.ID }),
		pots:      newTable(potsFile, "id", potColumns, func(p *Pot) *ids.ID { return &p.ID }),
		seedlings: newTable(seedlingsFile, "id", seedlingColumns, func(s *Seedling) *ids.ID { return &s.ID }),
		emergence: newTable(emergenceFile, "pot", emergenceColumns, func(e *Emergence) *ids.ID { return &e.Pot }),
		labels:    newTable(labelsFile, "id", labelColumns, func(l *Label) *ids.ID { return &l.ID }),
		diary:     newTable(diaryFile, "id", diaryColumns, func(e *DiaryEntry) *ids.ID { return &e.ID }),

		varieties:   newListing(varietiesFile, varietyColumns),
		stocks:      newListing(stocksFile, stockColumns),
		adjustments: newListing(adjustmentsFile, adjustmentColumns),
		calendar:    newListing(calendarFile, calendarColumns),
		marks:       newListing(marksFile, markColumns),
		history:     newHistory(),
	}
}
