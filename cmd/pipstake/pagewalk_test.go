package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"pipstake/ids"
)

// A walk goes along the pots of a place in their order; counts start from those
// known, and undo takes back the last.
func TestPageWalks(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	ctx, dir := demoPage(t)
	r := opened(t, dir+"/orchard")
	growing := 0
	for _, p := range r.Pots() {
		if r.Grows(p.ID) && p.Place == "cold frame" {
			growing++
		}
	}
	drive(t, ctx, tap("#to-walk"), see("#walk a.go"))
	if got, want := flat(textOf(t, ctx, "#walk a.go")), fmt.Sprintf("cold frame 0 of %d counted today", growing); got != want {
		t.Errorf("a walk begins at %q, want %q", got, want)
	}
	drive(t, ctx, tap("#walk a.go"), see("#step"))
	at := func(id, up, died, counted string) {
		t.Helper()
		got := evaluate[string](t, ctx, `[document.querySelector("#walk .id").innerText, document.querySelector("#up").value, document.querySelector("#died").value, document.querySelector(".progress span").innerText].join("; ")`)
		if want := fmt.Sprintf("%s; %s; %s; cold frame: %s of %d counted", id, up, died, counted, growing); got != want {
			t.Errorf("the walk is at %q, want %q", got, want)
		}
	}
	at("2025X001-A1", "13", "0", "0")
	if got := evaluate[string](t, ctx, "document.activeElement.innerText"); !strings.HasPrefix(got, "2025X001-A1") {
		t.Errorf("the focus is on %q", got)
	}
	if got := evaluate[string](t, ctx, `document.querySelector("#walk .curve").getAttribute("aria-label")`); !strings.HasPrefix(got, "counts: 2026-02-21, ") || !strings.HasSuffix(got, "2026-03-10, 13 up") {
		t.Errorf("the curve is of %q", got)
	}
	drive(t, ctx, tap(`#dock [aria-label="one more: Died of these"]`), tap("#step [type=submit]"), seeText("p", "Kept in this browser: 2025X001-A1: 13 of 14 up, 1 died."))
	at("2025X001-A2", "12", "0", "1")
	// What cannot be is refused, and the walk stays.
	drive(t, ctx, fill("#up", "99"), tap("#step [type=submit]"), seeText("p", "99 are more than the 14 seeds sown."))
	at("2025X001-A2", "99", "0", "1")
	drive(t, ctx, tap("#dock .onward button"), see("#step"))
	at("2025X001-A1", "13", "1", "1") // deaths start from those known
	drive(t, ctx, tap("#dock .onward :last-child"), tap("#step [type=submit]"), tap("#undo"), seeText("p", "Undone."))
	at("2025X001-B1", "10", "0", "1")
	// What ended is passed by.
	drive(t, ctx, tap("#gone summary"), fill("#reason", "mice, all of it"), tap("#gone [type=submit]"), seeText("p", "Kept in this browser: 2025X001-B1: lost"))
	growing--
	// An ended pot's sheet has a way on that looks like a place's, until the places come.
	drive(t, ctx, tap("#to-walk"), tap(`#walk a[href^="#walk/"]`), see("#step"))
	at("2025X001-A2", "12", "0", "1")
	drive(t, ctx, tap("#step [type=submit]"), see("#undo"))
	at("2025X001-B2", "9", "0", "2")
}

// What was removed comes back by undo. Ends and notes go home as commands that the
// program takes, and a page made afterwards knows them.
func TestPageEntriesComeHomeByCommands(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	ctx, dir := demoPage(t)
	drive(t, ctx, typed("2025X001-B1"), seeText("h1", "2025X001-B1"),
		tap("#gone summary"), fill("#reason", `mice "and" slugs`), fill("#gone-on", "2026-03-14"), tap("#gone [type=submit]"),
		seeText("p", "2025X001-B1: lost on 2026-03-14 (mice 'and' slugs)."),
		typed("2025X001-B2"), seeText("h1", "2025X001-B2"), tap("#remark summary"))
	for text, want := range map[string]string{"": "Write what is to be noted.", "for 5 $": "Leave out $", "a`b": "Leave out $", "50 % of 60 %": "Leave out $"} {
		drive(t, ctx, fill("#note", text), tap("#remark [type=submit]"))
		if got := textOf(t, ctx, "#wrong"); !strings.Contains(got, want) {
			t.Errorf("the note %q: %q", text, got)
		}
	}
	drive(t, ctx, fill("#note", "two with red leaves, 50 %"), fill("#note-on", "2026-03-14"), tap("#remark [type=submit]"), seeText("p", "Kept in this browser"),
		tap("#to-counts"), tap(".kept button"), seeText("p", "Removed: 2025X001-B1"))
	if got := evaluate[string](t, ctx, "document.activeElement.id + entered().length"); got != "undo1" {
		t.Errorf("after one was removed: %s", got)
	}
	drive(t, ctx, tap("#undo"), seeText("p", "Undone."))
	const want = "pipstake gone 2025X001-B1 --how lost --on 2026-03-14 --note \"mice 'and' slugs\"\npipstake note 2025X001-B2 \"two with red leaves, 50 %\" --on 2026-03-14"
	if got := evaluate[string](t, ctx, `document.querySelector("#commands").value`); got != want {
		t.Fatalf("the commands are\n%s\nwant\n%s", got, want)
	}
	runs(t, dir, "gone", "2025X001-B1", "--how", "lost", "--on", "2026-03-14", "--note", "mice 'and' slugs", "--registry", "orchard")
	runs(t, dir, "note", "2025X001-B2", "two with red leaves, 50 %", "--on", "2026-03-14", "--registry", "orchard")
	if end, ended := opened(t, dir+"/orchard").EndOf(ids.ID{Year: 2025, Cross: 1, Lot: 2, Pot: 1}); !ended || end.String() != "2025X001-B1 was lost on 2026-03-14" {
		t.Errorf("the registry has %v", end)
	}
	runs(t, dir, "page", "--registry", "orchard", "--out", "orchard.html", "--force")
	drive(t, ctx, chromedp.Reload(), see("#counts"), seeText("p", "Nothing yet."))
	drive(t, ctx, typedOn("2025X001-B1"), seeText("p", "Ended: lost on 2026-03-14."), typed("2025X001-B2"), seeText("p", "two with red leaves, 50 %"))
}

// typedOn is typed from any view.
func typedOn(text string) step { return chromedp.Steps(tap("#to-find"), typed(text)) }
