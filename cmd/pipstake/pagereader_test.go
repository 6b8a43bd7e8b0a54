package main

import (
	"bytes"
	"context"
	"encoding/base64"
	"fmt"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"pipstake/label/symbol"
)

// labelsOnATable is a picture of 640 by 480 pixels with up to two codes on it.
func labelsOnATable(t *testing.T, payloads ...string) *image.Gray {
	t.Helper()
	const pixels = 6 // of a module
	img := image.NewGray(image.Rect(0, 0, 640, 480))
	for i := range img.Pix {
		img.Pix[i] = 150
	}
	for k, payload := range payloads {
		code, err := symbol.Encode(symbol.QR, 'M', payload, pixels, 300)
		if err != nil {
			t.Fatal(err)
		}
		left, top := 60+280*k, 120
		for y := -4 * pixels; y < (code.Size+4)*pixels; y++ {
			for x := -4 * pixels; x < (code.Size+4)*pixels; x++ {
				v := uint8(245)
				if mx, my := x/pixels, y/pixels; x >= 0 && y >= 0 && mx < code.Size && my < code.Size && code.Dark(mx, my) {
					v = 25
				}
				img.Pix[(top+y)*img.Stride+left+x] = v
			}
		}
	}
	return img
}

func asPNG(t *testing.T, img image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// seenByCamera is a browser whose camera shows a picture: a film of one frame, in
// YUV4MPEG2, as Chromium takes it.
func seenByCamera(t *testing.T, img *image.Gray) context.Context {
	t.Helper()
	size := img.Rect.Size()
	film := fmt.Appendf(nil, "YUV4MPEG2 W%d H%d F10:1 Ip A1:1 C420jpeg\nFRAME\n", size.X, size.Y)
	film = append(film, img.Pix...)
	film = append(film, bytes.Repeat([]byte{128}, size.X*size.Y/2)...) // no colour
	path := filepath.Join(t.TempDir(), "film.y4m")
	if err := os.WriteFile(path, film, 0o666); err != nil {
		t.Fatal(err)
	}
	return startBrowser(t, chromedp.Flag("use-file-for-fake-video-capture", path))
}

// give puts a file into the field for pictures, as a phone's camera does.
func give(t *testing.T, ctx context.Context, data []byte) {
	t.Helper()
	evaluate[string](t, ctx, fmt.Sprintf(`(() => {
		const goods = new DataTransfer();
		goods.items.add(new File([Uint8Array.from(atob(%q), c => c.charCodeAt(0))], "picture"));
		at("picture").files = goods.files;
		at("picture").dispatchEvent(new Event("change"));
		return "";
	})()`, base64.StdEncoding.EncodeToString(data)))
}

// comes waits until a condition holds in the page.
func comes(t *testing.T, ctx context.Context, condition string) {
	t.Helper()
	got := evaluateLater(t, ctx, fmt.Sprintf(`(async () => {
		for (let i = 0; i < 3000 && !(%s); i++) await new Promise(done => setTimeout(done, 20));
		return (%[1]s) ? "" : "it says: " + at("foot").innerText;
	})()`, condition))
	if got != "" {
		t.Fatalf("%s does not come: %s", condition, got)
	}
}

// atFoot is the condition that the page says something at its foot.
func atFoot(text string) string { return fmt.Sprintf("at('saying').innerText.includes(%q)", text) }

// The page's own reader reads pictures, with every code on them, where the browser
// has no detector and lets no page use the camera.
func TestPageReadsPictures(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	ctx, _ := demoPage(t, before(noDetector+insecure+`window.refused = []; addEventListener("securitypolicyviolation", e => window.refused.push(e.violatedDirective));`))
	if got := evaluate[bool](t, ctx, "reader !== null"); got {
		t.Error("the reader is started before it is asked for")
	}
	give(t, ctx, asPNG(t, labelsOnATable(t, "2025X001-B2.7/1")))
	comes(t, ctx, `location.hash === "#2025X001-B2"`)
	// Two labels are listed; one that is not of this registry is not.
	give(t, ctx, asPNG(t, labelsOnATable(t, "2025X001-B2.7/1", "2025X001-B1.9/2")))
	comes(t, ctx, atFoot("2 labels on the picture."))
	if got := flat(textOf(t, ctx, "#found")); !strings.Contains(got, "2025X001-B1") || !strings.Contains(got, "2025X001-B2") {
		t.Errorf("found %q", got)
	}
	give(t, ctx, asPNG(t, labelsOnATable(t, "2020X001-B2", "2025X001-B1.9/2")))
	comes(t, ctx, `location.hash === "#2025X001-B1"`)
	give(t, ctx, asPNG(t, labelsOnATable(t)))
	comes(t, ctx, atFoot("No code was found on the picture."))
	give(t, ctx, []byte("no picture"))
	comes(t, ctx, atFoot("The picture could not be read"))
	if got := after(t, ctx, noDetector); !strings.Contains(got, "Take a picture instead, or type the identifier.") {
		t.Errorf("the camera where none is allowed: %q", got)
	}
	if got := evaluate[[]string](t, ctx, "window.refused"); len(got) > 0 {
		t.Errorf("the page asked for what its policy refuses: %v", got)
	}
}

// The page's own reader reads what the camera shows, where the browser's detector
// is missing or reads QR codes only.
func TestPageReadsTheCamera(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	ctx, _ := demoPageIn(t, seenByCamera(t, labelsOnATable(t, "2025X001-B2.7/1")), nil, before(detector))
	drive(t, ctx, tap("#camera"), see("#count"), chromedp.WaitNotVisible(chromedp.CSS("#viewer")))
	if got := textOf(t, ctx, "#shown h1 .id"); got != "2025X001-B2" {
		t.Errorf("scanned %q", got)
	}
	if asked := evaluate[bool](t, ctx, `"looked" in window`); asked {
		t.Error("a detector of QR codes only was asked, and stakes may bear Data Matrix")
	}
}

// On a walk the camera goes on from pot to pot, with a short vibration, and never
// leaves a count that was changed behind.
func TestPageWalksByCamera(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	ctx, _ := demoPageIn(t, seenByCamera(t, labelsOnATable(t, "2025X001-B2.7/1")), nil,
		before(noDetector+`window.felt = []; navigator.vibrate = ms => window.felt.push(ms);
			MediaStreamTrack.prototype.getCapabilities = () => ({ torch: true });
			MediaStreamTrack.prototype.applyConstraints = async what => { window.lamp = what.advanced[0].torch; };`))
	drive(t, ctx, tap("#to-walk"), tap("#walk a.go"), see("#step"), tap(`#dock [aria-label="one less: Up, in all"]`), tap("#camera"),
		seeText("p", "or skip it, then scan 2025X001-B2."))
	if got := textOf(t, ctx, "#walk h1 .id"); got != "2025X001-A1" {
		t.Errorf("a count that was changed was left behind for %s", got)
	}
	drive(t, ctx, tap(`#dock [aria-label="one more: Up, in all"]`), seeText("h1", "2025X001-B2"), see("#viewer"), tap("#torch"))
	if got := evaluate[string](t, ctx, "window.felt.join() + window.lamp"); got != "60true" {
		t.Errorf("felt and lit: %s", got)
	}
	// The pot is before the camera when it has been counted, and not gone back to.
	drive(t, ctx, tap("#step [type=submit]"), seeText("p", "Kept in this browser: 2025X001-B2"))
	seen := evaluate[float64](t, ctx, "scanned.at")
	evaluateLater(t, ctx, fmt.Sprintf(`(async () => {
		for (let i = 0; i < 500 && scanned.at === %f; i++) await new Promise(done => setTimeout(done, 20));
		return "";
	})()`, seen))
	if got := textOf(t, ctx, "#walk h1 .id"); got == "2025X001-B2" || evaluate[float64](t, ctx, "scanned.at") == seen {
		t.Errorf("after the count the walk is at %s", got)
	}
	drive(t, ctx, tap("#to-find"), chromedp.WaitNotVisible(chromedp.CSS("#viewer")))
	if on := evaluate[bool](t, ctx, "stream !== null"); on {
		t.Error("the camera was left on")
	}
}
