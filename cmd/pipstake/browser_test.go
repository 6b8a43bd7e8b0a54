package main

import (
	"context"
	"fmt"
	"net/url"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// browserPath is the path of a Chromium, if there is one without windows: it takes a
// quarter of the processor time.
func browserPath(t *testing.T) string {
	t.Helper()
	if path, err := exec.LookPath("chromium-headless-shell"); err == nil {
		return path
	}
	return program(t, "chromium")
}

// startBrowser starts a headless Chromium without network, as wide as a phone. The
// test is skipped where there is none, except in CI.
func startBrowser(t *testing.T, extra ...chromedp.ExecAllocatorOption) context.Context {
	t.Helper()
	options := append([]chromedp.ExecAllocatorOption{
		chromedp.ExecPath(browserPath(t)),
		chromedp.UserDataDir(t.TempDir()),
		chromedp.NoFirstRun, chromedp.NoDefaultBrowserCheck, chromedp.NoSandbox, chromedp.Headless, chromedp.DisableGPU,
		chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true),
		chromedp.Flag("disable-sync", true),
		chromedp.Flag("disable-dev-shm-usage", true),
		chromedp.Flag("use-fake-device-for-media-stream", true), // a test picture for a camera
		chromedp.Flag("use-fake-ui-for-media-stream", true),
	}, extra...)
	alone, stop := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(stop)
	ctx, cancel := chromedp.NewContext(alone)
	t.Cleanup(cancel)
	ctx, cancel = context.WithTimeout(ctx, 2*time.Minute)
	t.Cleanup(cancel)
	drive(t, ctx, call(emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: 390, Height: 780, DeviceScaleFactor: 2, Mobile: true}))
	return ctx
}

// step is something to do in the browser.
type step = chromedp.Action[chromedp.Void]

// drive takes steps in the browser.
func drive(t *testing.T, ctx context.Context, steps ...step) {
	t.Helper()
	if err := chromedp.Do(ctx, steps...); err != nil {
		t.Fatal(err)
	}
}

// call is the step of a command of the DevTools protocol.
func call[P, R any](command cdp.Command[P, R], params P) step {
	return chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, command, params)
		return err
	})
}

// openFile shows a file in the browser.
func openFile(path string) step {
	return chromedp.Navigate((&url.URL{Scheme: "file", Path: filepath.ToSlash(path)}).String())
}

// evaluate returns the value of an expression in the page.
func evaluate[T any](t *testing.T, ctx context.Context, expression string) T {
	t.Helper()
	value, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression))
	if err != nil {
		t.Fatalf("%s: %v", expression, err)
	}
	return value
}

// textOf is what an element shows.
func textOf(t *testing.T, ctx context.Context, selector string) string {
	t.Helper()
	return evaluate[string](t, ctx, fmt.Sprintf("document.querySelector(%q).innerText", selector))
}

// typed puts a text into the search field and presses Enter.
func typed(text string) step {
	return chromedp.Steps(fill("#query", ""), chromedp.SendKeys(chromedp.CSS("#query"), text+"\r"))
}

// fill sets the value of a field.
func fill(selector, value string) step {
	set := fmt.Sprintf("document.querySelector(%q).value = %q", selector, value)
	return chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := chromedp.Evaluate[string](set)(ctx, target)
		return err
	})
}

// tap clicks on an element once it is there, clear of what stays at the foot of
// the screen.
func tap(selector string) step {
	clear := fmt.Sprintf(`document.querySelector(%q).scrollIntoView({ block: "center" }), ""`, selector)
	return chromedp.Steps(see(selector), chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := chromedp.Evaluate[string](clear)(ctx, target)
		return err
	}), chromedp.Click(chromedp.CSS(selector)))
}

// see waits until an element shows.
func see(selector string) step { return chromedp.WaitVisible(chromedp.CSS(selector)) }

// seeText waits until an element of a kind holds a text.
func seeText(tag, text string) step {
	return chromedp.WaitVisible(fmt.Sprintf("//%s[contains(., %q)]", tag, text))
}

// scheme sets light or dark.
func scheme(name string) step {
	return call(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: name}}})
}

// before runs a script in every page before its own.
func before(script string) step {
	return call(page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: script})
}
