package main

import (
	"os"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// everyone finds what keeps people out of the page as it stands: W3C, Web Content
// Accessibility Guidelines 2.2, success criteria 1.3.1 and 2.4.6 (one heading of
// the view), 4.1.2 (names of controls), 1.4.10 (no sideways scrolling); and two
// elements of one identifier, of which a label would name the wrong one.
const everyone = `(() => {
	const wrong = [];
	const shows = e => e.checkVisibility();
	const headings = [...document.querySelectorAll("h1")].filter(shows);
	if (headings.length !== 1) wrong.push(headings.length + " first headings");
	const named = e => e.getAttribute("aria-label") || e.labels && [...e.labels].some(l => l.textContent.trim()) || e.textContent.trim();
	const controls = [...document.querySelectorAll("button, a, input, select, textarea, summary, progress")].filter(shows);
	for (const e of controls) if (!named(e)) wrong.push("no name: " + e.outerHTML.slice(0, 80));
	const ids = [...document.querySelectorAll("[id]")].map(e => e.id);
	for (const id of new Set(ids)) if (ids.filter(i => i === id).length > 1) wrong.push("twice: " + id);
	const over = document.documentElement.scrollWidth - document.documentElement.clientWidth;
	if (over > 0) wrong.push("wider than the screen by " + over);
	return [String(controls.length), ...wrong];
})()`

// Every state of the page can be used by everyone, and with letters twice as large
// on a screen of 360 pixels.
//
// With AXE_CORE set to the file axe.min.js of the npm package axe-core, its rules
// are tried as well.
func TestPageIsForEveryone(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	ctx, _ := demoPage(t)
	axe := ""
	if path := os.Getenv("AXE_CORE"); path != "" {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		axe = string(text)
	}
	screen := func(high int64) step {
		return call(emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: 360, Height: high, DeviceScaleFactor: 1, Mobile: true})
	}
	for _, letters := range []string{"112.5%", "225%"} {
		drive(t, ctx, screen(740), chromedp.Reload(), tap("#to-find"), see("#found a"))
		evaluate[string](t, ctx, `document.documentElement.style.fontSize = "`+letters+`", entered().forEach(e => withdraw(e)), ""`)
		drive(t, ctx, tap("#to-find"))
		for _, sight := range sights {
			drive(t, ctx, sight.show)
			found := evaluate[[]string](t, ctx, everyone)
			if len(found[0]) == 1 && found[0] < "4" {
				t.Errorf("%s, %s: only %s controls were looked at", sight.name, letters, found[0])
			}
			for _, w := range found[1:] {
				t.Errorf("%s, letters of %s: %s", sight.name, letters, w)
			}
			if axe == "" {
				continue
			}
			drive(t, ctx, screen(4000)) // what lies beneath the foot is not out of reach
			evaluate[string](t, ctx, axe+`; ""`)
			if got := evaluateLater(t, ctx, `axe.run(document, { runOnly: { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] } })
				.then(r => (r.passes.length < 10 ? "only " + r.passes.length + " rules were tried; " : "") + r.violations.map(v => v.id + ": " + v.nodes[0].html.slice(0, 80)).join("; "))`); got != "" {
				t.Errorf("%s, letters of %s: %s", sight.name, letters, got)
			}
			drive(t, ctx, screen(740))
		}
	}
	// With colours of the reader's own no shape is cut out of a ground that is gone,
	// and on paper there is nothing to tap.
	media := func(kind string, features ...*emulation.MediaFeature) step {
		return call(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: kind, Features: features})
	}
	look := `[getComputedStyle(document.querySelector(".stake")).clipPath !== "none", at("foot").checkVisibility(), document.querySelector("#count").checkVisibility(), document.querySelector(".stake").checkVisibility()].join()`
	drive(t, ctx, typedOn("2025X001-B2"), see("#count"))
	for _, c := range []struct {
		as   step
		want string
	}{
		{media("screen"), "true,true,true,true"},
		{media("screen", &emulation.MediaFeature{Name: "forced-colors", Value: "active"}), "false,true,true,true"},
		{media("print"), "false,false,false,true"},
	} {
		drive(t, ctx, c.as)
		if got := evaluate[string](t, ctx, look); got != c.want {
			t.Errorf("cut out, foot, form and stake: %s, want %s", got, c.want)
		}
	}
	if axe == "" {
		t.Log("without the rules of axe-core: AXE_CORE is not set")
	}
}
