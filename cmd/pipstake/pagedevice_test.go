package main

import (
	"context"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// detectors stand in for a browser's own: Debian's Chromium has none. The
// second sees nothing, then a damaged code, then a whole one.
const (
	noDetector = `delete window.BarcodeDetector;`
	noFormats  = `window.BarcodeDetector = class { static async getSupportedFormats() { return ["ean_13"]; } };`
	detector   = `
		window.BarcodeDetector = class {
			static async getSupportedFormats() { return ["ean_13", "qr_code"]; }
			constructor(options) { window.asked = options.formats.join(); this.seen = 0; }
			async detect(video) {
				window.looked = video.videoWidth;
				const codes = [[], [{ rawValue: "2025X001-B2.K/1" }], [{ rawValue: "2025X001-B2.7/1 10 SOWN 2026-01-17 LARKFIELD TESSEL X TARN AMBER" }]];
				return codes[Math.min(this.seen++, 2)];
			}
		};`
	insecure = `Object.defineProperty(window, "isSecureContext", { value: false });`
	noStore  = `Object.defineProperty(window, "localStorage", { get() { throw new DOMException("no", "SecurityError"); } });`
)

// A page without a reader of its own scans where the browser can, and says
// plainly why where it cannot.
func TestPageScans(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	ctx, _ := demoPageIn(t, startBrowser(t), []string{"--light"}, before(detector))
	drive(t, ctx, tap("#camera"), see("#count"), chromedp.WaitNotVisible(chromedp.CSS("#viewer")))
	if got := textOf(t, ctx, "#shown h1 .id"); got != "2025X001-B2" {
		t.Errorf("scanned %q", got)
	}
	if asked := evaluate[string](t, ctx, "window.asked"); asked != "qr_code" {
		t.Errorf("the detector was asked for %q", asked)
	}
	if wide := evaluate[int](t, ctx, "window.looked"); wide == 0 {
		t.Error("the camera showed no picture")
	}
	if on := evaluate[bool](t, ctx, "stream !== null"); on {
		t.Error("the camera was left on")
	}
	for _, c := range []struct{ script, want string }{
		{noDetector, "This browser reads no codes by itself."},
		{noFormats, "This browser reads neither QR codes nor Data Matrix."},
		{`navigator.mediaDevices.getUserMedia = async () => { throw new DOMException("no", "NotAllowedError"); };`, "The camera cannot be used (NotAllowedError)."},
		{insecure, "only where it comes from a secure place"},
	} {
		got := after(t, ctx, c.script)
		if !strings.Contains(got, c.want) || !strings.Contains(strings.ToLower(got), "type the identifier") {
			t.Errorf("%s: the page says %q", c.script, got)
		}
	}
}

// after runs a script in the page, taps the camera and returns what is said.
func after(t *testing.T, ctx context.Context, script string) string {
	t.Helper()
	return evaluateLater(t, ctx, `(async () => { `+detector+script+`
		say("");
		at("camera").click();
		for (let i = 0; i < 100 && at("wrong").textContent === ""; i++) await new Promise(done => setTimeout(done, 20));
		const said = at("wrong").textContent;
		stop();
		return said;
	})()`)
}

// Where the browser keeps nothing, the page says so at the count itself, offers to
// bring it out, and has it while it is open.
func TestPageWithoutAStore(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	const share = `navigator.share = async what => { window.shared = what; }; navigator.canShare = what => Boolean(what.files);`
	ctx, _ := demoPage(t, before(noStore+share))
	drive(t, ctx, typed("2025X001-B2"), see("#count"), enter("10", "0", "2026-03-14"), see("#share"))
	if got, said := textOf(t, ctx, "#wrong"), textOf(t, ctx, "#said"); !strings.HasPrefix(got, "Not kept: this browser keeps nothing for this page") ||
		!strings.Contains(got, "2025X001-B2: 10 of 10 up on 2026-03-14.") || said != "" {
		t.Errorf("a count that is not kept: %q, %q", got, said)
	}
	if got := evaluate[string](t, ctx, `whereKept(entered()[0])`); got != "nowhere" {
		t.Errorf("the count is kept %q", got)
	}
	drive(t, ctx, tap("#to-counts"), see("#counts #save"))
	got := textOf(t, ctx, "#counts")
	for _, want := range []string{"what is entered lasts only while it stays open", "1 count, 1 not saved to a file yet.", "on this open page only"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not in %q", want, got)
		}
	}
	if strings.Contains(got, "Kept") || strings.Contains(got, "kept in") {
		t.Errorf("called kept, and it is not: %q", got)
	}
	// They are forgotten at the second tap, and not before.
	drive(t, ctx, tap("#forget"))
	if got := textOf(t, ctx, "#forget"); got != "1 not saved. Tap again to lose them" || evaluate[int](t, ctx, "entered().length") != 1 {
		t.Errorf("after one tap: %q", got)
	}
	drive(t, ctx, tap("#forget"), seeText("p", "Nothing yet."))
	// Undo brings them back. What is shared is the file of counts.
	drive(t, ctx, tap("#undo"), see("#share"), tap("#share"), seeText("p", "all saved to a file"))
	if got := evaluateLater(t, ctx, `Promise.all(window.shared.files.map(async f => f.name + ": " + await f.text())).then(all => all.join())`); !strings.HasPrefix(got, "pipstake-counts-") ||
		!strings.HasSuffix(got, ".csv: "+evaluate[string](t, ctx, "countsFile()")) || !strings.Contains(got, "2025X001-B2.7,2026-03-14,10,,") {
		t.Errorf("shared: %q", got)
	}
}

// A store that is full is no store: what goes in before is there, and the count
// that finds no room says so.
func TestPageWithAFullStore(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	ctx, _ := demoPage(t)
	drive(t, ctx, typed("2025X001-B2"), see("#count"), enter("10", "0", "2026-03-14"), seeText("p", "Kept in this browser"))
	evaluate[string](t, ctx, `Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); }, ""`)
	drive(t, ctx, typed("2025X001-B1"), seeText("h1", "2025X001-B1"), enter("11", "0", "2026-03-14"), seeText("p", "Not kept"))
	if got := evaluate[string](t, ctx, `entered().map(e => e.id).join()`); got != "2025X001-B1,2025X001-B2" {
		t.Errorf("entered: %s", got)
	}
}
