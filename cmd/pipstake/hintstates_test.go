package main

// hintSeason is two seasons as lines "DAY command…"; "= NAME" keeps what there is.
const hintSeason = `2026-04-01 init orchard
= empty
2026-05-02 cross "Larkfield Tessel" "Tarn Amber" --flowers 14
2026-05-03 cross "Tarn Amber" "Gwennol Goch" --flowers 9
2026-05-03 cross "Gwennol Goch" "Otterhay Lade"
2026-05-03 tags 2026X001
= blossom
2026-10-02 picked 2026X001 --fruit 9
2026-10-02 picked 2026X002 --fruit 0
= picked
2026-10-20 bags 2026X001 --lots 3
= bagged
2026-11-14 bench
2026-11-14 extract 2026X001-A --seeds 30 --undeveloped 2
2026-11-14 extract 2026X001-B --seeds 12
= opened
2026-11-20 chill 2026X001-A
2026-12-10 chill 2026X001-A --out
2026-12-12 chill 2026X001-A
2026-12-12 scan 2026X001 2026X001-A 2026X001-B 2026X001-C 2026X003
2027-01-20 due
2027-01-20 sow 2026X001-A --seeds 10,10 --place "frame 1"
= sown
2027-02-20 due
2027-02-20 scan 2026X001-A1
2027-02-20 emerged 2026X001-A1 4
2027-02-27 emerged 2026X001-A1 9
= up
2027-03-20 prick 2026X001-A1 --seedlings 3
= pricked
2027-03-21 plant 2026X001-A1-A --to "row 4"
2027-03-22 select 2026X001-A1-A --name "Sallow Glint"
2027-03-22 graft 2026X001-A1-A --copies 2
= selected
2027-03-23 scan 2026X001-A2 2026X001-A1-A
2027-03-23 variety
`

// hintState is the season after a step, and lines that are run then; what each of
// them proposes is tried. Fill has the words for what hints leave open, beside
// N, which is 1; then is what a hint says in words.
type hintState struct {
	name, after, lines string
	fill               map[string]string
	files              map[string]string // beside the registry; after a full stop goes a check character
	before             string            // a line that runs before what is proposed
	then               string
}

var hintStates = []hintState{
	{name: "no registry", after: "nothing", lines: `2026-05-01 cross "Tarn Amber" "Gwennol Goch"`},
	{name: "no registry there", after: "nothing", lines: `2026-05-01 cross "Tarn Amber" "Gwennol Goch" --registry "my orchard"`},
	{name: "an empty registry", after: "empty", lines: "2026-05-01 variety\n2026-05-01 bench\n2026-05-01 due\n2026-05-01 germination\n2026-05-01 yield",
		fill: map[string]string{"CROSS": "2026X001"}, before: "2026-05-01 cross A B"},

	// Words that are wrong.
	{name: "no such command", after: "empty", lines: "2026-05-01 xyzzy"},
	{name: "a word too many", after: "blossom", lines: "2026-05-04 cross Larkfield Tessel Tarn Amber\n2026-05-04 variety Tarn Amber"},
	{name: "correct nothing", after: "blossom", lines: "2026-05-04 correct\n2026-05-04 correct 2026X001\n2026-05-04 correct 2026X001 5 --flowers 6",
		fill: map[string]string{"ID": "2026X001", "--FACT": "--flowers", "VALUE": "11"}},
	{name: "rename without a name", after: "blossom", lines: `2026-05-04 cross "Larkfeild Tessel" "Tarn Amber"
2026-05-04 correct --variety "Larkfeild Tessel"`},
	{name: "a name that slipped", after: "blossom", lines: "2026-05-04 cross \"Larkfeild Tessel\" \"Otterhay Lade\" --quiet\n2026-05-04 check",
		fill: map[string]string{"TEXT": "kept"}},
	{name: "count without a number", after: "sown", lines: "2027-02-10 emerged 2026X001-A1\n2027-02-10 emerged 2026X001-A1 4 --good-rows", fill: map[string]string{"POT": "2026X001-A1", "FILE": "counts.csv"},
		files: map[string]string{"counts.csv": "pot,on,up\r\n2026X001-A1,2027-02-10,2\r\n"}},
	{name: "plan without a number", after: "up", lines: "2027-03-01 plan"},
	{name: "pick a pot that is none", after: "up", lines: "2027-03-01 gone 2026X001-A1 --how failed\n2027-03-01 gone 2026X001-B --how lost\n2027-03-01 picked 2026X001-A1 --fruit 3\n2027-03-01 prick 2026X002"},
	{name: "germination before a count", after: "sown", lines: "2027-02-10 germination --compare 2026X001,2026X002", fill: map[string]string{"POT": "2026X001-A1"}},

	// Stocks.
	{name: "stock words", after: "empty", lines: `2026-05-01 stock nonsense
2026-05-01 stock list a4-3x8-70x37
2026-05-01 stock show
2026-05-01 stock show nonsense
2026-05-01 stock list
2026-05-01 stock show a4-9x9-1x1
2026-05-01 stock show a4-3x8-70x37 --columns 3
2026-05-01 stock show a4-3x8-70x37 --dx 1
2026-05-01 stock adjust a4-3x8-70x37
2026-05-01 stock adjust a4-3x8-70x37 --dx 1.2 --dy 0
2026-05-01 stock adjust a4-3x8-70x37 --dx 1.2 --dy 0 --printer "the old one"
2026-05-01 stock sheet a4-3x8-70x37
2026-05-01 stock adjust a4-3x8-70x37 --dx 1 --dy 0
2026-05-01 stock add a4-3x8-70x37 --paper a4 --columns 3 --rows 8 --label 70x37 --left 0 --top 0.5`,
		fill: map[string]string{"stock adjust STOCK": "stock adjust a4-3x8-70x37 --dx 1", "stock add": "stock add my-cards --roll 60x30", "stock add my-a4-3x8-70x37": "stock add my-a4-3x8-70x37 --paper a4 --columns 3 --rows 8 --label 70x37 --left 0 --top 0.5"}},
	{name: "a stock of one's own", after: "empty", lines: "2026-05-01 stock add cards --roll 89x36\n2026-05-01 stock sheet cards"},
	{name: "a stock that contradicts itself", after: "empty", lines: `2026-05-01 stock add cards --paper a4 --columns 2 --rows 5 --label 80x40 --left 10 --top 10
edit orchard/stocks.csv 80 800
2026-05-01 stock show cards`, fill: map[string]string{"stock add": "stock add cards-2 --paper a4 --columns 2 --rows 5 --label 80x40 --left 10 --top 10"}},
	{name: "a shift too far", after: "bagged", lines: `+ 2026-10-21 stock adjust a4-3x8-70x37 --dx 1.2 --dy 0
edit orchard/adjustments.csv 1.2 120
2026-10-21 bags 2026X003 --out more.pdf`},
	{name: "a margin too wide", after: "bagged", lines: "+ 2026-10-21 stock adjust a4-3x8-70x37 --margin 5\nedit orchard/adjustments.csv ,5 ,500\n2026-10-21 check"},
	{name: "two sides of a roll", after: "sown", lines: "2027-01-21 labels 2026X001-A1 --replace --stock roll-148x20 --two-sided long"},
	{name: "a label that cannot hold it", after: "bagged", lines: "2026-10-21 labels 2026X001-A --replace --stock a4-cut-20x10"},

	// Slips that undo takes back.
	{name: "nearly a name", after: "blossom", lines: "2026-05-04 cross \"Tarn Ambre\" \"Gwennol Goch\"\n2026-05-04 variety"},
	{name: "nearly a variety", after: "blossom", lines: "2026-05-04 variety \"Tarn Ambre\" --ploidy 2"},
	{name: "a variety not known yet", after: "blossom", lines: `2026-05-04 variety "Fennimore Clasp"`, fill: map[string]string{"A,": "Tarn Amber,", "B\"": "Gwennol Goch\""}},
	{name: "cells to mend", after: "bagged", lines: "edit orchard/crosses.csv 2026X002 2026x002\n2026-10-21 check\n2026-10-21 check --fix --yes"},

	// Words that a shell reads in its own way.
	{name: "names like flags", after: "blossom", lines: `+ 2026-05-04 cross -- "-Pell d'Anwick "'"$x" !y' "Tarn Amber"
+ 2026-05-04 cross --quiet -- "-Pell d'Anwik "'"$x" !y' "Gwennol Goch"
2026-05-04 check
2026-05-04 variety
2026-05-04 variety -- "–Oonagh's $y;"`, fill: map[string]string{"A,": "Tarn Amber,", "B\"": "Gwennol Goch\"", "TEXT": "kept"}},
	{name: "a place with quotes", after: "pricked", lines: `2027-03-25 stocktake walk.txt --place "-Ann's '$frame'"`, files: map[string]string{"walk.txt": "2026X001-A2./1\r\n"}},
	{name: "a printer with quotes", after: "empty", lines: `2026-05-01 stock adjust a4-3x8-70x37 --dx 1 --dy 0 --printer "-Ann's $old"`},
	{name: "a folder like a flag to merge", after: "bagged", lines: `+ 2026-10-21 init -- "-lap's [top] $1"
+ 2026-05-02 cross "Gwennol Goch" "Tarn Amber" --registry "-lap's [top] $1"
2026-10-21 bags 2026X001 --out more.pdf --registry "-lap's [top] $1"
2026-10-22 merge -- "-lap's [top] $1"`},
	{name: "a folder like a flag to begin in", after: "nothing", lines: `2026-05-01 init -- "-my o'rchard"`},
	{name: "a folder with quotes to rebuild in", after: "pricked", lines: `2027-03-25 rebuild "a new'one $x" walk.txt`, files: map[string]string{"walk.txt": "2026X001-A1./1 10 SOWN 2027-01-20 LARKFIELD TESSEL X TARN AMBER\r\n"}},

	// Seed.
	{name: "received", after: "empty", lines: "2026-05-01 received \"Tarn Amber\" --source Ann\n2026-05-01 received \"Tarn Amber\" --source Ann --seeds 24\n2026-05-02 labels 2026X001 --face branch"},
	{name: "bench of what is opened", after: "opened", lines: "2026-11-15 bench 2026X003\n2026-11-15 bench 2026X001-A"},
	{name: "all opened", after: "blossom", lines: "+ 2026-10-01 bags 2026X001\n+ 2026-10-02 extract 2026X001-A --seeds 9\n2026-10-03 bench", fill: map[string]string{"CROSS": "2026X002"}},
	{name: "extracted twice", after: "opened", lines: "2026-11-15 extract 2026X001-A --seeds 31", then: "2026-11-15 extract 2026X001-A --seeds 31 --correct"},
	{name: "not opened yet", after: "opened", lines: "2026-11-15 sow 2026X001-C --seeds 3\n2026-11-15 sow 2026X001-C\n2026-11-15 gone 2026X001-C --how used-up"},
	{name: "more sown than there is", after: "opened", lines: "2026-11-15 sow 2026X001-B --seeds 13\n2026-11-15 gone 2026X001-B --seeds 13 --how discarded"},
	{name: "nothing left to sow", after: "opened", lines: "+ 2026-11-15 sow 2026X001-B --seeds 12\n2026-11-16 sow 2026X001-B", fill: map[string]string{"DATE": "2026-11-15"}},
	{name: "fewer than sown", after: "sown", lines: "2027-01-21 correct 2026X001-A --seeds 19\n2027-01-21 extract 2026X001-A --seeds 19 --correct\n2027-01-21 correct 2026X001-A --seeds -", fill: map[string]string{"N": "40"}},
	{name: "sown without the cold", after: "opened", lines: "2026-11-16 sow 2026X001-B --seeds 5", fill: map[string]string{"DATE": "2026-11-15"}},
	{name: "more fruit than flowers", after: "picked", lines: "2026-10-03 correct 2026X001 --flowers 8\n2026-10-03 correct 2026X001 --fruit 15", fill: map[string]string{"--flowers N --fruit N": "--flowers 16 --fruit 15"}},
	{name: "picked twice", after: "picked", lines: "2026-10-03 picked 2026X001 --fruit 11", fill: map[string]string{"--picked DATE --fruit N": "--picked 2026-10-03 --fruit 11"}},
	{name: "a failed cross with seed", after: "opened", lines: "2026-11-15 gone 2026X001", fill: map[string]string{"N": "2"}},
	{name: "seed is left", after: "sown", lines: "2027-01-21 gone 2026X001-A --how used-up", fill: map[string]string{"N": "22"}},
	{name: "a day before another", after: "sown", lines: "2027-01-21 correct 2026X001-A --extracted 2026-01-01\n2027-01-21 correct 2026X001-A1 --sown 2026-11-01", then: "2027-01-21 correct 2026X001 --pollinated 2026-05-01"},
	{name: "an end twice", after: "sown", lines: "2027-01-21 gone 2026X001-A --how discarded\n2027-01-21 gone 2026X001-A\n2027-01-22 sow 2026X001-A --seeds 2\n2027-01-22 keep 2026X001-A --until 2029\n2027-01-22 labels 2026X001-A"},
	{name: "a cross that failed", after: "blossom", lines: "2026-07-01 gone 2026X003\n2026-07-02 bags 2026X003\n2026-07-02 tags 2026X003\n2026-07-02 labels 2026X003\n2026-07-02 scan 2026X003"},
	{name: "a failed cross and its bags", after: "bagged", lines: "2026-11-01 gone 2026X001\n2026-11-02 extract 2026X001-A --seeds 4\n2026-11-02 gone 2026X001-A --back"},

	// Pots.
	{name: "prick from what was never counted", after: "sown", lines: "2027-02-10 prick 2026X001-A1 --all\n2027-02-10 prick 2026X001-A --all", fill: map[string]string{"POT": "2026X001-A1"}},
	{name: "prick what is gone already", after: "up", lines: "+ 2027-03-01 prick 2026X001-A1 --all\n2027-03-02 prick 2026X001-A1 --all\n2027-03-01 prick 2026X001-A1 --seedlings 2",
		fill: map[string]string{"emerged 2026X001-A1 N": "emerged 2026X001-A1 10", "DATE=N --died DATE=N": "2027-02-27=10 --died 2027-02-27=0"}},
	{name: "a count below one before", after: "up", lines: "2027-03-01 emerged 2026X001-A1 7\n2027-03-01 emerged 2026X001-A1 11\n+ 2027-03-01 emerged 2026X001-A1 10 --died 3\n2027-03-03 emerged 2026X001-A1 10 --died 2",
		fill: map[string]string{"correct 2026X001-A1 --count 2027-02-27=N": "correct 2026X001-A1 --count 2027-02-27=7", "correct 2026X001-A1 --seeds N": "correct 2026X001-A1 --seeds 11"}},
	{name: "a count of a day twice", after: "up", lines: "2027-02-27 emerged 2026X001-A1 8", fill: map[string]string{"N": "8"}},
	{name: "counts of a file", after: "up", lines: "2027-03-01 emerged --from counts.csv", files: map[string]string{"counts.csv": "pot,on,up\r\n2026X001-A1,2027-02-10,9\r\n2026X001-A1,2027-02-27,7\r\n2026X001-A1,2026-12-01,1\r\n"},
		fill: map[string]string{"correct 2026X001-A1 --count 2027-02-27=N": "correct 2026X001-A1 --count 2027-02-27=7", "N": "4"}},
	{name: "emptied with some in it", after: "pricked", lines: "2027-03-21 gone 2026X001-A1 --how emptied", fill: map[string]string{"DATE=N": "2027-02-27=9", "--died DATE=N": "--died 2027-02-27=6"}},
	{name: "a pot smaller than what grew in it", after: "pricked", lines: "2027-03-21 correct 2026X001-A1 --seeds 8\n2027-03-21 correct 2026X001-A1 --seeds 2\n2027-03-21 correct 2026X001-A1 --count 2027-02-27=2\n2027-03-21 correct 2026X001-A1 --died 2027-02-27=8",
		fill: map[string]string{"DATE=N --died DATE=N": "2027-02-27=8 --died 2027-02-27=1", "correct 2026X001-A1 --count 2027-02-27=N": "correct 2026X001-A1 --count 2027-02-27=8", "N": "2"}},
	{name: "a pot that is lost", after: "pricked", lines: "2027-03-25 gone 2026X001-A1 --note mice\n2027-03-25 emerged 2026X001-A1 10\n2027-03-25 prick 2026X001-A1\n2027-03-25 labels 2026X001-A1\n2027-03-25 scan 2026X001-A1\n2027-03-25 gone 2026X001-A1\n2027-03-25 correct 2026X001-A1 --ended 2027-02-01"},
	{name: "void what lived", after: "pricked", lines: "2027-03-21 void 2026X001-A1 --note slip\n2027-03-21 void 2026X001-A --note slip\n2027-03-21 void 2026X001 --note slip\n+ 2027-03-21 gone 2026X001-A1\n2027-03-21 void 2026X001-A1 --note slip",
		fill: map[string]string{"--FACT VALUE": "--place there", "correct 2026X001-A1 --FACT VALUE": "correct 2026X001-A1 --place there"}},
	{name: "void a parent", after: "selected", lines: "+ 2027-04-01 cross 2026X001-A1-A \"Tarn Amber\"\n2027-04-01 void 2026X001-A1-A --note slip", fill: map[string]string{"--FACT": "--place", "VALUE": "there"}},
	{name: "void and lift", after: "bagged", lines: "2026-10-21 void 2026X001-C --note \"one too many\"\n2026-10-21 extract 2026X001-C --seeds 3\n2026-10-21 labels 2026X001-C\n2026-10-21 scan 2026X001-C\n2026-10-21 void 2026X001-C --lift"},
	{name: "void without a reason", after: "bagged", lines: "2026-10-21 void 2026X001-C", then: "2026-10-21 void 2026X001-C --note slip"},
	{name: "cull without a reason", after: "selected", lines: "2027-04-01 gone 2026X001-A1-B --how culled", then: "2027-04-01 gone 2026X001-A1-B --how culled --note weak"},

	// Labels.
	{name: "a sample and labels", after: "bagged", lines: "2026-10-21 labels --sample a4-3x8-70x37 --missing"},
	{name: "labels that wait", after: "opened", lines: "2026-11-20 sow 2026X001-A --seeds 5 --later --out x.pdf\n2026-11-20 sow 2026X001-A --seeds 5 --later", fill: map[string]string{"FILE": "waits.pdf", "DATE": "2026-11-16"}},
	{name: "a card of codes", after: "up", lines: "2027-03-01 scan --card card.pdf"},
	{name: "a batch by a name", after: "bagged", lines: "2026-10-20 undo 2\n2026-10-20 spoil sheet\n2026-10-20 spoil stakes-0002.pdf", fill: map[string]string{"stakes-0011.pdf": "bags-0002.pdf"}},
	{name: "taken back after printing", after: "bagged", lines: "2026-10-20 undo"},
	{name: "taken back after a reprint", after: "pricked", lines: "+ 2027-03-21 labels 2026X001-A1 --replace\n2027-03-21 undo"},
	{name: "taken back after copies", after: "selected", lines: "2027-03-23 undo"},
	{name: "taken back after pricking", after: "pricked", lines: "2027-03-21 undo"},
	{name: "a ruined sheet", after: "bagged", lines: "2026-10-21 spoil 2 --cells 2\n2026-10-21 check\n2026-10-21 scan 2026X001-B\n2026-10-21 labels 2026X001-A 2026X001-C --replace\n2026-10-21 labels --batch 2 --out again.pdf\n2026-10-21 labels --batch 9", then: "2026-10-21 labels --batch 3 --out again.pdf"},
	{name: "a ruined branch tag", after: "blossom", lines: "2026-05-04 spoil 1\n2026-05-04 scan 2026X001\n2026-05-04 labels 2026X001 --face stake\n2026-05-04 labels 2026X001 --face bag"},
	{name: "labels that no longer agree", after: "up", lines: "2027-03-01 correct 2026X001 --swap\n2027-03-01 scan 2026X001 2026X001-A1\n2027-03-01 check\n2027-03-01 scan \"2026X001-A1.X/1 10 SOWN 2027-01-20 TARN AMBER X LARKFIELD TESSEL\""},
	{name: "stakes worn", after: "sown", lines: "2029-06-01 due"},
	{name: "labels that are there already", after: "bagged", lines: "2026-10-21 labels 2026X001-A\n2026-10-21 bags 2026X001\n2026-10-21 labels --missing\n2026-10-21 labels 2026X001"},
	{name: "a PDF that cannot be put in place", after: "bagged", lines: "2026-10-21 bags 2026X003 --out orchard", fill: map[string]string{"FILE": "again.pdf"}},

	// Cells that cannot be read.
	{name: "damage", after: "pricked", lines: `edit orchard/pots.csv 2026X001-A2,10 2026X001-A2,ten
2027-03-21 scan 2026X001-A2
2027-03-21 check
2027-03-21 page --out page.html`},
	{name: "sheets that cannot be read", after: "bagged", lines: "edit orchard/labels.csv a4-3x8-70x37,1,1 a4-3x8-70x37,one,1\n2026-10-21 bags 2026X003\n2026-10-21 labels --missing"},
	{name: "a cross without a row", after: "opened", lines: `edit orchard/crosses.csv 2026X001 2026X004
2026-11-15 labels 2026X001-A --replace
2026-11-15 check`},
	{name: "counts that contradict themselves", after: "up", lines: "edit orchard/emergence.csv 2027-02-27,9 2027-02-27,99\n2027-03-01 germination\n2027-03-01 check"},
	{name: "a pedigree in a circle", after: "selected", lines: "edit orchard/crosses.csv \"2026X001,Larkfield Tessel\" 2026X001,2026X001-A1-A\n2027-04-01 lineage 2026X001\n2027-04-01 check"},

	// The end of a walk, and other folders.
	{name: "stocktake", after: "pricked", lines: `2027-03-25 move 2026X001-A2 --to "frame 2"
2027-03-25 stocktake walk.txt --place "frame 1"`, files: map[string]string{"walk.txt": "2026X001-A2./1\r\n7\r\n"}},
	{name: "stocktake finds none", after: "pricked", lines: "2027-03-25 stocktake walk.txt", files: map[string]string{"walk.txt": "2026X003.\r\n"}},
	{name: "stocktake finds one stake, and one of a pot that is gone", after: "pricked", lines: `2027-03-25 gone 2026X001-A1 --how lost
2027-03-25 stocktake walk.txt`, files: map[string]string{"walk.txt": "2026X001-A1./1\r\n2026X001-A1./2\r\n2026X001-A2./1\r\n"}},
	{name: "stocktake of pairs", after: "pricked", lines: "+ 2027-03-25 sow 2026X001-A --seeds 4\n2027-03-25 spoil 3 --cells 3\n2027-03-25 stocktake walk.txt",
		files: map[string]string{"walk.txt": "2026X001-A1./1\r\n2026X001-A1./2\r\n2026X001-A3./1\r\n2026X001-A2./1\r\n2026X001-A1-A.\r\n2026X001-A1-B.\r\n2026X001-A3./1\r\n"}},
	{name: "merge", after: "bagged", lines: `2026-10-21 init "a laptop"
2026-10-21 merge "a laptop"
+ 2026-05-02 cross "Gwennol Goch" "Tarn Amber" --registry "a laptop"
2026-10-21 bags 2026X001 --out more.pdf --registry "a laptop"
2026-10-22 merge "a laptop"`},
	{name: "merge what has lived", after: "bagged", lines: `+ 2026-05-01 init laptop
+ 2026-05-02 cross "Gwennol Goch" "Tarn Amber" --registry laptop
+ 2026-10-21 bags 2026X001 --registry laptop
+ 2026-10-22 extract 2026X001-A --seeds 9 --registry laptop
+ 2026-10-22 chill 2026X001-A --registry laptop
+ 2026-12-22 sow 2026X001-A --seeds 5 --registry laptop
+ 2027-02-22 emerged 2026X001-A1 3 --registry laptop
+ 2027-03-22 prick 2026X001-A1 --seedlings 2 --registry laptop
2027-03-23 merge laptop`},
	{name: "merge what is one here as well", after: "pricked", lines: `+ 2027-03-21 init other
+ 2027-03-21 merge orchard --registry other
+ 2027-03-22 emerged 2026X001-A2 3
2027-03-22 emerged 2026X001-A2 4 --registry other
2027-03-23 merge other`},
	{name: "rebuild", after: "pricked", lines: "2027-03-25 rebuild anew walk.txt", files: map[string]string{"walk.txt": "2026X001-A1./1 10 SOWN 2027-01-20 LARKFIELD TESSEL X TARN AMBER\r\n"}},
	{name: "a session of counting", after: "up", lines: "2027-03-01 scan << 2026X001-A1 10 undo undo 11 2\n2027-03-01 scan << undo\n2027-03-01 scan << 2026X001-A2 12",
		fill: map[string]string{"emerged 2026X001-A1 N": "emerged 2026X001-A1 10", "correct 2026X001-A1 --seeds N": "correct 2026X001-A1 --seeds 11", "correct 2026X001-A2 --seeds N": "correct 2026X001-A2 --seeds 12"}},
	{name: "a scanner of another layout", after: "up", lines: "2027-03-01 scan 2026X001ßA1\n2027-03-01 scan 2026X009\n2027-03-01 scan 2026X001-A1.7"},
}
