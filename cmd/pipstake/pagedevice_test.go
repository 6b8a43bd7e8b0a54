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

// The page scans where the browser can, and says plainly why where it cannot.
func TestPageScans(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	ctx, _ := demoPage(t, before(detector))
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
		if !strings.Contains(got, c.want) || !strings.Contains(got, "Type the identifier") {
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
		for (let i = 0; i < 100 && at("said").textContent === ""; i++) await new Promise(done => setTimeout(done, 20));
		const said = at("said").textContent;
		stop();
		return said;
	})()`)
}

// Where the browser keeps nothing, the page says so and keeps counts while it
// is open.
func TestPageWithoutAStore(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	ctx, _ := demoPage(t, before(noStore))
	drive(t, ctx, typed("2025X001-B2"), see("#count"), enter("10", "0", "2026-03-14"), tap("#to-counts"), see("#save"))
	got := textOf(t, ctx, "#counts")
	for _, want := range []string{"counts last only while it stays open", "1 count, 1 not saved to a file yet."} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not in %q", want, got)
		}
	}
	// They are forgotten at the second tap, and not before.
	drive(t, ctx, tap("#forget"))
	if got := textOf(t, ctx, "#forget"); got != "1 not saved. Tap again to lose them" || evaluate[int](t, ctx, "entered().length") != 1 {
		t.Errorf("after one tap: %q", got)
	}
	drive(t, ctx, tap("#forget"), seeText("p", "None yet."))
}
