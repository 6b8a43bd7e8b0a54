package main

import (
	"fmt"
	"strings"

	"pipstake/cmd/pipstake/terminal"
	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/ids/words"
)

// stateRow says how it ended, or that nothing more can come of a pot.
func (a *answer) stateRow(t *terminal.Table) {
	switch {
	case a.End != nil && a.End.ID != a.Code.ID:
		t.Row("ended", fmt.Sprintf("with its %s, which %s on %s", a.End.ID.Level(), a.End.How.Past(), a.ago(a.End.On)))
	case a.End != nil:
		t.Row("ended", fmt.Sprintf("it %s on %s", a.End.How.Past(), a.ago(a.End.On)))
	case a.AllOut && a.Code.ID.Level() == ids.PotLevel:
		came := "all that came up is pricked out or dead, and no more is looked for"
		if n := len(a.Counts); n > 0 && a.Counts[n-1].Up.N >= a.Pot.Seeds.N {
			came = "every seed came up, and all are pricked out or dead"
		}
		t.Row("ended", "by itself: "+came)
	}
}

// diaryRows tell what happened, by day.
func (a *answer) diaryRows(t *terminal.Table) {
	head := "diary"
	for _, d := range a.Diary {
		t.Row(head, fmt.Sprintf("%s  %s", d.On, diaryWords(d)))
		head = ""
	}
}

// diaryWords is an entry of the diary in words.
func diaryWords(d registry.DiaryEntry) string {
	text := words.OneLine(d.Text)
	switch d.What {
	case registry.Noted:
		return text
	case registry.Moved:
		return "moved to " + text
	case registry.PlantedOut:
		return "planted out at " + text
	case registry.SeedGiven:
		return withText(words.Plural(d.Number.N, "seed", "seeds")+" given away", text)
	case registry.SeedDiscarded:
		return withText(words.Plural(d.Number.N, "seed", "seeds")+" discarded", text)
	case registry.Grafted:
		return withText(words.Plural(d.Number.N, "copy", "copies")+" grafted", text)
	case registry.Flowered:
		return withText("flowered for the first time", text)
	case registry.Fruited:
		return withText("bore fruit for the first time", text)
	case registry.Selected:
		if text != "" {
			return "selected as " + text
		}
		return "selected"
	}
	return withText(strings.ReplaceAll(string(d.What), "-", " "), text)
}

// withText puts a remark behind what happened.
func withText(what, text string) string {
	if text == "" {
		return what
	}
	return what + ": " + text
}

// endFacts is an end in JSON.
type endFacts struct {
	How string `json:"how"`
	On  string `json:"on,omitempty"`
	Of  string `json:"of"` // itself, or the cross that it ended with
}

// diaryFacts is an entry of the diary in JSON.
type diaryFacts struct {
	On     string `json:"on"`
	What   string `json:"what"`
	Number *int   `json:"number,omitempty"`
	Text   string `json:"text,omitempty"`
}

// lifeJSON adds the end and the diary.
func (a *answer) lifeJSON(f *answerFacts) {
	if a.End != nil {
		f.Ended = &endFacts{string(a.End.How), a.End.On.String(), a.End.ID.String()}
	}
	if a.Code.ID.Level() == ids.PotLevel {
		f.Alive = number(a.Alive)
	}
	for _, d := range a.Diary {
		f.Diary = append(f.Diary, diaryFacts{d.On.String(), string(d.What), number(d.Number), d.Text})
	}
}
