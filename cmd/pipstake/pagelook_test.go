package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// The names of this registry are markup, in a field of every kind.
func TestPageShowsMarkupAsText(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	ctx := startBrowser(t)
	dir := t.TempDir()
	const evil = `<img src=x onerror="document.title='run'">`
	const script = `</script><script>document.title='run'</script><!--`
	runs(t, dir, "init", "orchard & <b>sons<")
	home := filepath.Join(dir, "orchard & <b>sons<")
	runs(t, home, "cross", "Tarn "+evil, script, "--on", "2025-05-02", "--note", "'; alert(1) //"+evil)
	runs(t, home, "bags", "2025X001", "--lots", "1", "--on", "2025-06-20")
	runs(t, home, "extract", "2025X001-A", "--seeds", "5", "--on", "2025-11-14")
	runs(t, home, "sow", "2025X001-A", "--pots", "1", "--on", "2026-01-14", "--place", script)
	runs(t, home, "page", "--out", "page.html")
	drive(t, ctx, before("window.alert = () => { document.title = 'run'; }; window.refused = []; addEventListener('securitypolicyviolation', e => window.refused.push(e.violatedDirective))"),
		openFile(filepath.Join(home, "page.html")), typed("2025X001-A1"), see("#count"))
	for _, want := range []string{"♀ Tarn " + evil + " × ♂ " + script, "place " + script} {
		if got := flat(textOf(t, ctx, "#shown")); !strings.Contains(got, want) {
			t.Errorf("%q is not in %q", want, got)
		}
	}
	drive(t, ctx, typed("2025X001"), seeText("dt", "notes"))
	if got := textOf(t, ctx, "#shown"); !strings.Contains(got, "alert(1)") || !strings.Contains(got, evil) {
		t.Errorf("the note is not in %q", got)
	}
	drive(t, ctx, typed(evil))
	if got := textOf(t, ctx, "#found"); !strings.Contains(got, evil) {
		t.Errorf("looking for the markup finds %q", got)
	}
	if n := evaluate[int](t, ctx, `document.querySelectorAll("img, #shown script, main b b").length`); n != 0 {
		t.Errorf("%d elements were made of names", n)
	}
	if got := evaluate[string](t, ctx, "document.title"); got != "orchard & <b>sons<, 2026-03-14: pipstake field page" {
		t.Errorf("the title is %q", got)
	}
	if got := evaluate[[]string](t, ctx, "window.refused"); len(got) > 0 {
		t.Errorf("the page asked for what its policy refuses: %v", got)
	}
	// The second line: markup that got in all the same would not run, and
	// nothing can be sent or fetched.
	got := evaluateLater(t, ctx, `(async () => {
		const tried = [];
		document.body.insertAdjacentHTML("beforeend", "<img src='https://x.example/a.png' onerror='document.title=1'><form action='https://x.example/' id=f></form>");
		const s = document.createElement("script");
		s.textContent = "document.title = 'run'";
		document.body.append(s);
		try { await fetch("https://x.example/"); tried.push("fetched"); } catch { tried.push("fetch refused"); }
		document.getElementById("f").submit();
		await new Promise(done => setTimeout(done, 300));
		return [...tried, document.title.includes("field page") ? "nothing ran" : "ran", ...new Set(window.refused)].sort().join(", ");
	})()`)
	if want := "connect-src, fetch refused, form-action, img-src, nothing ran, script-src-attr, script-src-elem"; got != want {
		t.Errorf("against injected markup: %s, want %s", got, want)
	}
}

// evaluateLater returns the text that a promise in the page comes to.
func evaluateLater(t *testing.T, ctx context.Context, promise string) string {
	t.Helper()
	value, err := chromedp.Run(ctx, chromedp.Evaluate[string](promise, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatal(err)
	}
	return value
}

// sights are the states of the page that are looked at, in this order.
var sights = []struct {
	name string
	show step
}{
	{"start", see("#found a")},
	{"many", chromedp.Steps(typed("cold frame"), see("#more"))},
	{"nothing", chromedp.Steps(typed("larkfild"), see("#near"))},
	{"pot", chromedp.Steps(typed("2025X001-B2"), see("#count"))},
	{"wrong", chromedp.Steps(enter("11", "0", "2026-03-14"))},
	{"forms", chromedp.Steps(tap("#gone summary"), tap("#remark summary"), see("#note"))},
	{"cross", chromedp.Steps(typed("2025X001"), seeText("h2", "Seed lots"))},
	{"kept", chromedp.Steps(typed("2025X001-B2"), see("#count"), enter("10", "1", "2026-03-14"), see("#undo"))},
	{"places", chromedp.Steps(tap("#to-walk"), see("#walk a.go"))},
	{"walk", chromedp.Steps(tap("#walk a.go"), see("#step"))},
	{"onward", chromedp.Steps(tap("#step [type=submit]"), see("#undo"))},
	{"counts", chromedp.Steps(tap("#to-counts"), see("#counts #save"))},
	{"removed", chromedp.Steps(tap(".kept button"), see("#undo"))},
}

// What the page must come up to: W3C, Web Content Accessibility Guidelines 2.2,
// success criteria 1.4.6 (contrast of text 7:1) and 2.5.5 (targets of 44 by 44
// CSS pixels, links within a sentence excepted).
const (
	leastContrast = 7
	leastTarget   = 44
)

// measure finds the texts with too little contrast, the targets too small for a
// thumb, and what runs out of the screen. Relative luminance and contrast ratio
// as WCAG 2.2 defines them.
const measure = `(() => {
	const rgb = text => text.match(/[\d.]+/g).map(Number);
	const luminance = c => {
		const [r, g, b] = c.slice(0, 3).map(v => v / 255).map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
		return 0.2126 * r + 0.7152 * g + 0.0722 * b;
	};
	const behind = e => {
		for (; e; e = e.parentElement) {
			const c = rgb(getComputedStyle(e).backgroundColor);
			if (c.length < 4 || c[3] > 0) return c;
		}
		return [255, 255, 255];
	};
	const wrong = [];
	const shows = e => e.checkVisibility() && e.getClientRects().length > 0;
	let texts = 0;
	for (const e of document.querySelectorAll("body *")) {
		if (!shows(e)) continue;
		const own = [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim() !== "") || e.tagName === "INPUT";
		if (own) {
			texts++;
			const [a, b] = [luminance(rgb(getComputedStyle(e).color)), luminance(behind(e))];
			const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
			if (ratio < CONTRAST) wrong.push("contrast " + ratio.toFixed(1) + ": " + e.tagName + " " + e.textContent.slice(0, 30));
		}
		const box = e.getBoundingClientRect();
		if (/^(BUTTON|A|INPUT|SUMMARY)$/.test(e.tagName) && getComputedStyle(e).display !== "inline" && (box.width < TARGET || box.height < TARGET)) {
			wrong.push("target " + box.width + "×" + box.height + ": " + e.textContent.slice(0, 30));
		}
		if (box.right > innerWidth + 0.5 || box.left < -0.5) wrong.push("out of the screen: " + e.tagName + " " + e.textContent.slice(0, 30));
	}
	return [String(texts), ...wrong];
})()`

// The page can be read in the sun and at dusk, and used with a thumb. With
// PAGE_PICTURES set to a folder, pictures of it are put there to be looked at.
func TestPageCanBeReadAndTouched(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	ctx, _ := demoPage(t)
	pictures := os.Getenv("PAGE_PICTURES")
	script := strings.NewReplacer("CONTRAST", fmt.Sprint(leastContrast), "TARGET", fmt.Sprint(leastTarget)).Replace(measure)
	var papers []string
	for _, name := range []string{"light", "dark"} {
		drive(t, ctx, scheme(name), chromedp.Reload(), tap("#to-find"))
		papers = append(papers, evaluate[string](t, ctx, "getComputedStyle(document.documentElement).backgroundColor"))
		for _, sight := range sights {
			drive(t, ctx, sight.show)
			found := evaluate[[]string](t, ctx, script)
			if found[0] < "5" && len(found[0]) == 1 {
				t.Errorf("%s, %s: only %s texts were looked at", sight.name, name, found[0])
			}
			for _, w := range found[1:] {
				t.Errorf("%s, %s: %s", sight.name, name, w)
			}
			if pictures == "" {
				continue
			}
			picture, err := chromedp.Run(ctx, chromedp.FullScreenshot(100))
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(pictures, sight.name+"-"+name+".png"), picture, 0o666); err != nil {
				t.Fatal(err)
			}
		}
		evaluate[string](t, ctx, "entered().forEach(withdraw), ''")
	}
	if papers[0] == papers[1] {
		t.Errorf("light and dark are both on %s", papers[0])
	}
}
