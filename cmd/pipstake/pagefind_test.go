package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// Words narrow each other; a name that is nearly right finds the right one; what
// ended is listed when asked for, and long lists go on.
func TestPageNarrows(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	ctx, dir := demoPage(t)
	r := opened(t, dir+"/orchard")
	count := func(query string) int {
		t.Helper()
		return evaluate[int](t, ctx, fmt.Sprintf("matches(%q).length", query))
	}
	frame, larkfield, both := count("cold frame"), count("larkfield"), count("frame larkfield b2")
	if frame < 50 || larkfield < 5 || both < 1 || both >= larkfield {
		t.Errorf("found: %d in the cold frame, %d of Larkfield, %d of both", frame, larkfield, both)
	}
	for _, id := range evaluate[[]string](t, ctx, `matches("frame larkfield b2").map(row => row.id)`) {
		if !strings.HasSuffix(id, "-B2") {
			t.Errorf("“frame larkfield b2” finds %s", id)
		}
	}
	for query, want := range map[string]string{"larkfild tesel": "Larkfield Tessel", "morkbey": "Mørkeby", "qqqqqq": "", "tarn ambre": "tarn Amber"} {
		if got := evaluate[string](t, ctx, fmt.Sprintf("nearWords(%q)", query)); got != want {
			t.Errorf("near %q is %q, want %q", query, got, want)
		}
	}
	drive(t, ctx, typed("larkfild"), seeText("p", "Nothing is called “larkfild”. Near it is “Larkfield”."), tap("#near"), see("#found a"))
	// The list goes on, and the focus with it.
	drive(t, ctx, typed("cold frame"), see("#more"))
	before := evaluate[int](t, ctx, `document.querySelectorAll("#found a").length`)
	drive(t, ctx, tap("#more"))
	got := evaluate[[]int](t, ctx, `[document.querySelectorAll("#found a").length, [...document.querySelectorAll("#found a")].indexOf(document.activeElement)]`)
	if before != 40 || got[0] <= before || got[1] != before {
		t.Errorf("%d were listed, then %d with the focus on number %d", before, got[0], got[1])
	}
	// What ended, or is void, is behind a switch.
	over := ""
	for _, p := range r.Pots() {
		if !r.Grows(p.ID) {
			over = p.ID.String()
		}
	}
	if over == "" {
		t.Fatal("nothing in the demo has ended")
	}
	listed := fmt.Sprintf(`[...document.querySelectorAll("#found a")].some(a => a.hash === %q)`, "#"+over)
	drive(t, ctx, typed(over[4:8]), see("#over"))
	if evaluate[bool](t, ctx, listed) {
		t.Errorf("%s ended, and is listed", over)
	}
	drive(t, ctx, tap("#over"), chromedp.WaitVisible(`//button[@aria-pressed="true"]`))
	if !evaluate[bool](t, ctx, listed) {
		t.Errorf("%s is not listed when what ended is asked for", over)
	}
}
