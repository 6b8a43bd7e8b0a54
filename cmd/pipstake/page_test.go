package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/chromedp"

	"pipstake/ids"
	"pipstake/label/symbol"
)

// demoPage makes the demo and its field page, and opens the page.
func demoPage(t *testing.T, extra ...step) (ctx context.Context, dir string) {
	t.Helper()
	return demoPageIn(t, startBrowser(t), nil, extra...)
}

// demoPageIn is demoPage in a browser that was started, with more flags for the
// page.
func demoPageIn(t *testing.T, ctx context.Context, flags []string, extra ...step) (_ context.Context, dir string) {
	t.Helper()
	dir = t.TempDir()
	demoIn(t, dir)
	runs(t, dir, append([]string{"page", "--registry", "orchard", "--out", "orchard.html"}, flags...)...)
	drive(t, ctx, extra...)
	drive(t, ctx, openFile(filepath.Join(dir, "orchard.html")))
	return ctx, dir
}

// A pot is found by what is typed, and refused with a wrong check character.
func TestPageFinds(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	ctx, _ := demoPage(t)
	for _, text := range []string{"2025X001-B2", "2025x001b2", "2O25XOO1–B2", "2025X001-B2.7", "２０２５Ｘ００１-B2", "2025X001-B2.7/1 10 SOWN 2026-01-17 LARKFIELD TESSEL X TARN AMBER"} {
		drive(t, ctx, typed(text), see("#shown h1"))
		got := textOf(t, ctx, "#shown")
		for _, want := range []string{"2025X001-B2", "♀ Larkfield Tessel × ♂ Tarn Amber", "10 seeds on 2026-01-17", "9 of 10 up (90 %)",
			"cold frame", "3 fruit, 22 seeds, 1 undeveloped", "2025-11-19", "2025X001-B1 10 of 11 up (91 %)", "2026-02-21"} {
			if !strings.Contains(flat(got), want) {
				t.Fatalf("typed %q: %q is not in %q", text, want, flat(got))
			}
		}
	}
	drive(t, ctx, typed("2025X001-B2.K"), chromedp.WaitNotVisible(chromedp.CSS("#shown")))
	if got := textOf(t, ctx, "#wrong"); !strings.Contains(got, "the check character K is wrong: 2025X001-B2 ends in 7") {
		t.Errorf("a wrong check character: %q", got)
	}
	if links := evaluate[int](t, ctx, `document.querySelectorAll("#found a").length`); links != 0 {
		t.Errorf("a wrong check character: %d pots are offered all the same", links)
	}
	for text, want := range map[string]string{
		"2025X001-B9": "2025X001-B9 is not in the registry as of 2026-03-14.",
		"77-99":       "“77-99”: a year of four digits comes first; write it like 2026X012-B2.",
		"zzz 9":       "Nothing is called “zzz 9”.",
	} {
		drive(t, ctx, typed(text))
		if got := strings.TrimSpace(textOf(t, ctx, "#wrong")); got != want {
			t.Errorf("typed %q: %q, want %q", text, got, want)
		}
	}
	for text, want := range map[string]string{"blota": "♀ Błota Struga", "morkeby": "♀ Mørkeby Vindal", "1-b2": "2025X001-B2", "dancelle": "Orlie d'Ancelle"} {
		drive(t, ctx, typed(text))
		if got := flat(textOf(t, ctx, "#found")); !strings.Contains(got, want) {
			t.Errorf("typed %q: found %q, which lacks %q", text, got, want)
		}
	}
}

// flat puts a text on one line.
func flat(s string) string { return strings.Join(strings.Fields(s), " ") }

// awkwardTexts are typed and scanned texts, good and bad.
var awkwardTexts = []string{"", " ", "2026X012", "2026x12", "2026X0012", "2026X00012", "2026X12345", "2026X123456", "2026X000", "0926X012", "2O26XO12", "202lX012", "2026X03l",
	"2026X012l", "2026X012-L2", "2026X012I2", "2026X012-I2", "2026X012-B", "2026X012 - B2", "2026X012-B 2", "2026X012-B-2", "2026X012-B02", "2026X012-BO2", "2026X012-B0", "2026X012-B99999",
	"2026X012-ABC", "2026X012-B2-C", "2026X012-B2C", "2026X012-B2 C", "2026X012-B2-", "2026X012-", "2026X012-B2.3", "2026X012-B2-c.h", "2026X012-B2.K", "2026X012-B2.", "2026X012-B2.33", "2026X012-B2 .3",
	"2026X012-B2.3/1", "2026X012-B2.3/0", "2026X012-B2.3/07", "2026X012-B2.3/100", "2026X012-B2.3/1x", "2026X012-B2/1", "2026X012-B2.3/1 7 SOWN 2027-01-14 LARKFIELD TESSEL X TARN AMBER",
	"2026X012-B2.3 7 Ä", "2026X012-B2.3 LARKFIELD TESSEL X TARN AMBER", "2026X012‑B2", "2026×012−B2", "2026Х012", "２０２６Ｘ０１２－Ｂ２", "2026X012\u200b-B2", "\u00a02026X012-B2\u3000", "2026X012-B2\r\n",
	"2026\u00adX012", "2026X012ßB2", "éàé-Xà&é)Bé", "https://x.example/2026X012", "2026X012-B2.3\t/1", strings.Repeat("2026X012", 40), "2026X012\u0085", "\ufeff2026X012", "2026X012\ufeff.M"}

// corpusOf returns the texts that the reading of codes is fuzzed from.
func corpusOf(t *testing.T) []string {
	t.Helper()
	corpus, err := filepath.Glob("../../label/symbol/testdata/fuzz/FuzzParsePayload/*")
	if err != nil || len(corpus) == 0 {
		t.Fatalf("the corpus is not there: %v", err)
	}
	var texts []string
	for _, path := range corpus {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		_, line, _ := strings.Cut(string(data), "\n")
		text, err := strconv.Unquote(strings.TrimSuffix(strings.TrimPrefix(strings.TrimSpace(line), "string("), ")"))
		if err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		texts = append(texts, strings.ToValidUTF8(text, "\ufffd"))
	}
	return texts
}

// The page reads identifiers and codes just as the program does.
func TestPageReadsAsTheProgramDoes(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	ctx, dir := demoPage(t)
	r := opened(t, filepath.Join(dir, "orchard"))
	texts := append(corpusOf(t), awkwardTexts...)
	for _, l := range r.Labels() {
		texts = append(texts, l.Payload)
	}
	type reading struct {
		ID      string
		Copy    int
		Checked bool
		Kind    string // of the error
	}
	list, err := json.Marshal(texts)
	if err != nil {
		t.Fatal(err)
	}
	got := evaluate[[]reading](t, ctx, fmt.Sprintf(`%s.map(text => {
		try {
			const r = readCode(text);
			return { ID: r.id, Copy: r.copy, Checked: r.checked, Kind: "" };
		} catch (e) {
			return { ID: "", Copy: 0, Checked: false, Kind: e instanceof Misread ? e.kind : String(e) };
		}
	})`, list))
	for i, text := range texts {
		want := reading{}
		p, _, err := symbol.ParsePayload(text)
		switch {
		case is[*ids.CheckError](err):
			want.Kind = "check"
		case err != nil:
			want.Kind = "text"
		default:
			want = reading{p.ID.String(), p.Copy, got[i].Checked, ""}
			if read, err := ids.Parse(text); err == nil {
				want.Checked = read.Checked
			}
		}
		if got[i] != want {
			t.Errorf("%q: the page reads %+v, the program %+v", text, got[i], want)
		}
	}
	// The check characters of every identifier in the demo.
	for _, p := range r.Pots() {
		if got := evaluate[string](t, ctx, fmt.Sprintf("withCheck(%q)", p.ID)); got != p.ID.WithCheck() {
			t.Errorf("the page writes %s, want %s", got, p.ID.WithCheck())
		}
	}
}

// enter fills in the count of the pot shown and keeps it.
func enter(up, died, on string) step {
	return chromedp.Steps(
		fill("#up", up),
		fill("#died", died),
		fill("#on", on),
		tap("#count button[type=submit]"),
	)
}

// Counts entered on the page are kept over a reload, saved as a file, and taken
// in; a page made afterwards knows them.
func TestPageCountsComeHome(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	ctx, dir := demoPage(t)
	drive(t, ctx, call(browser.SetDownloadBehavior, browser.SetDownloadBehaviorParams{Behavior: browser.SetDownloadBehaviorBehaviorAllow, DownloadPath: dir}),
		typed("2025X001-B2"), see("#count"))
	// Each of these the program would refuse too.
	for _, c := range []struct{ up, died, on, want string }{
		{"11", "0", "2026-03-14", "11 are more than the 10 seeds sown."},
		{"8", "0", "2026-03-14", "On 2026-03-10 it was 9 up"},
		{"9", "10", "2026-03-14", "10 died of 9 that came up."},
		{"9", "0", "2026-01-16", "The pot was sown on 2026-01-17."},
		{"10", "0", "2026-03-10", "Counted on 2026-03-10 already: 9 up."},
		{"10", "0", "2026-03-05", "On 2026-03-10 it was 9 up"},
		{"", "0", "2026-03-14", "Give the number that was counted."},
		{"9", "0", "", "Give the day of the count."},
		{"9.5", "0", "2026-03-14", "Give the number that was counted."},
	} {
		drive(t, ctx, enter(c.up, c.died, c.on))
		if got := textOf(t, ctx, "#wrong"); !strings.Contains(got, c.want) {
			t.Errorf("%+v: %q", c, got)
		}
	}
	drive(t, ctx, enter("10", "1", "2026-03-14"))
	if got := textOf(t, ctx, "#said"); got != "Kept in this browser: 2025X001-B2: 10 of 10 up, 1 died on 2026-03-14." {
		t.Errorf("a good count: %q", got)
	}
	// A correction takes the count's place; the buttons count on from it.
	drive(t, ctx, enter("10", "0", "2026-03-14"),
		typed("2025X001-B1"), seeText("h1", "2025X001-B1"),
		tap(`[aria-label="one more: Up, in all"]`), fill("#on", "2026-03-14"),
		tap("#count button[type=submit]"),
		chromedp.Reload(), tap("#to-counts"), see("#counts #save"))
	mark := opened(t, filepath.Join(dir, "orchard")).Mark()
	want := "pot,on,up,died,registry\r\n2025X001-B1.9,2026-03-14,11,," + mark + "\r\n2025X001-B2.7,2026-03-14,10,," + mark + "\r\n"
	if got := evaluate[string](t, ctx, "countsFile()"); got != want {
		t.Errorf("the file is to be %q, want %q", got, want)
	}
	if got := textOf(t, ctx, "#counts"); !strings.Contains(got, "2 counts, 2 not saved to a file yet.") {
		t.Errorf("the counts page says %q", got)
	}
	drive(t, ctx, tap("#save"), seeText("p", "all saved to a file"))
	file := downloaded(t, dir)
	if data, err := os.ReadFile(file); err != nil || string(data) != want {
		t.Errorf("saved %q, %v", data, err)
	}
	runs(t, dir, "emerged", "--registry", "orchard", "--from", filepath.Base(file))
	r := opened(t, filepath.Join(dir, "orchard"))
	counts := r.EmergenceOf(ids.ID{Year: 2025, Cross: 1, Lot: 2, Pot: 2})
	if last := counts[len(counts)-1]; last.Up.N != 10 || last.On.String() != "2026-03-14" {
		t.Errorf("the registry's last count is %+v", last)
	}
	runs(t, dir, "page", "--registry", "orchard", "--out", "orchard.html", "--force")
	drive(t, ctx, chromedp.Reload(), see("#counts"))
	if got := textOf(t, ctx, "#counts"); !strings.Contains(got, "Nothing yet.") {
		t.Errorf("after they came home: %q", got)
	}
}

// downloaded waits for the file that the page saved.
func downloaded(t *testing.T, dir string) string {
	t.Helper()
	for range 200 {
		if files, _ := filepath.Glob(filepath.Join(dir, "pipstake-counts-*.csv")); len(files) == 1 {
			return files[0]
		}
		time.Sleep(25 * time.Millisecond)
	}
	t.Fatal("no file was saved")
	return ""
}
