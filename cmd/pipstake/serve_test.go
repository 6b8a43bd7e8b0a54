package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"pipstake/cmd/pipstake/fieldpage"
	"pipstake/cmd/pipstake/serve"
	"pipstake/cmd/pipstake/terminal"
	"pipstake/ids"
	"pipstake/ids/registry"
)

// heard is what a program says, which may be read while it goes on.
type heard struct {
	mu   sync.Mutex
	said bytes.Buffer
}

func (h *heard) Write(p []byte) (int, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.said.Write(p)
}

func (h *heard) String() string {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.said.String()
}

// served serves the page of a registry until the test ends, and returns its
// address, what the terminal says, and how to end it.
func served(t *testing.T, dir string, args ...string) (address string, said *heard, end func() error) {
	t.Helper()
	said = &heard{}
	e := &env{args: append([]string{"page", "--serve"}, args...), stdin: strings.NewReader(""), stdout: said, stderr: said, getenv: func(string) string { return "" },
		cwd: dir, now: func() time.Time { return time.Date(2026, 3, 14, 12, 0, 0, 0, time.UTC) }}
	e.Voice, e.commands, e.saved = terminal.NewVoice(said, said), commands(), &saved{}
	for _, arg := range args {
		e.dryRun = e.dryRun || arg == "--dry-run"
	}
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- e.serveUntil(ctx, "", "127.0.0.1:0", fieldpage.Form{Light: true}) }()
	end = sync.OnceValue(func() error {
		cancel()
		select {
		case err := <-done:
			_ = e.Flush()
			return err
		case <-time.After(10 * time.Second):
			t.Error("the server does not end")
			return nil
		}
	})
	t.Cleanup(func() { _ = end() })
	for range 400 {
		if line, _, whole := strings.Cut(said.String(), "\n"); whole && strings.Contains(said.String(), "Ctrl-C") {
			return line, said, end
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Fatalf("the page is not served: %s", said)
	return "", nil, nil
}

// sends posts entries to a served page, as the page does.
func sends(t *testing.T, address string, entries ...serve.Entry) []serve.Answer {
	t.Helper()
	body, err := json.Marshal(map[string]any{"entries": entries})
	if err != nil {
		t.Fatal(err)
	}
	request, err := http.NewRequest(http.MethodPost, address+"entries", bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	request.Header.Set("Content-Type", "application/json")
	request.Header.Set("Origin", strings.Join(strings.Split(address, "/")[:3], "/"))
	response, err := http.DefaultClient.Do(request)
	if err != nil {
		t.Fatal(err)
	}
	defer response.Body.Close()
	var got struct{ Answers []serve.Answer }
	if err := json.NewDecoder(response.Body).Decode(&got); err != nil || response.StatusCode != http.StatusOK || len(got.Answers) != len(entries) {
		t.Fatalf("%s: %v, %d answers", response.Status, err, len(got.Answers))
	}
	return got.Answers
}

// lastCount is the last count of the pot 2025X001-B2 of the demo.
func lastCount(t *testing.T, dir string) registry.Emergence {
	t.Helper()
	counts := opened(t, dir).EmergenceOf(ids.ID{Year: 2025, Cross: 1, Lot: 2, Pot: 2})
	return counts[len(counts)-1]
}

// What phones send is recorded at once as the commands would, says what they say,
// and can be taken back; a second phone with another count of the day is asked.
func TestServedEntriesAreRecorded(t *testing.T) {
	dir := t.TempDir()
	demoIn(t, dir)
	orchard := filepath.Join(dir, "orchard")
	address, said, end := served(t, orchard)
	count := func(up, died int) serve.Entry {
		return serve.Entry{Kind: "count", ID: "2025X001-B2", On: "2026-03-14", Up: up, Died: died}
	}
	instead := func(e serve.Entry, up, died int) serve.Entry {
		e.Instead = &serve.Count{Up: up, Died: died}
		return e
	}
	withdrawn := func(e serve.Entry) serve.Entry {
		e.Withdrawn = true
		return e
	}
	gone := serve.Entry{Kind: "gone", ID: "2025X002-A1", On: "2026-03-13", How: "lost", Text: "mice; rm -rf $HOME"}
	note := serve.Entry{Kind: "note", ID: "2025X001-B2", On: "2026-03-14", Text: "--force of habit"}
	for _, c := range []struct {
		entry serve.Entry
		state serve.State
		said  string
		up    int // of the last count afterwards
	}{
		{count(10, 1), serve.Recorded, "2025X001-B2  10 of 10 up (100 %), 1 died on 2026-03-14", 10},
		{count(10, 1), serve.Recorded, "recorded already", 10},
		{count(9, 0), serve.Clash, "10 up, 1 died on record, and 9 up from a phone", 10},
		{instead(count(9, 0), 9, 1), serve.Clash, "10 up, 1 died on record", 10},
		{instead(count(9, 0), 10, 1), serve.Recorded, "2025X001-B2", 9},
		{count(11, 0), serve.Clash, "9 up on record", 9},
		{instead(count(11, 0), 9, 0), serve.Refused, "11 seedlings are more than the 10 seeds sown in 2025X001-B2", 9},
		{withdrawn(count(10, 1)), serve.Recorded, "has another count of 2026-03-14, which stays", 9},
		{withdrawn(count(9, 0)), serve.Recorded, "2025X001-B2", 9}, // that of the 10th is the last again
		{withdrawn(count(9, 0)), serve.Recorded, "has no count of 2026-03-14", 9},
		{serve.Entry{Kind: "count", ID: "2025X001-B2", On: "2026-01-02", Up: 1}, serve.Refused, "comes before the sowing", 9},
		{serve.Entry{Kind: "count", ID: "2025X001-B2", On: "yesterday", Up: 1}, serve.Refused, "is not a date", 9},
		{serve.Entry{Kind: "count", ID: "2025X001-B2", Up: 10}, serve.Refused, "is not a date", 9},
		{serve.Entry{Kind: "count", ID: "2025X001-B99", On: "2026-03-14", Up: 1}, serve.Refused, "2025X001-B99", 9},
		{serve.Entry{Kind: "count", ID: "--registry", On: "2026-03-14", Up: 1}, serve.Refused, "", 9},
		{serve.Entry{Kind: "count", ID: "2025X001-B2", On: "2026-03-15", Up: -1}, serve.Refused, "", 9},
		{serve.Entry{Kind: "undo", ID: "2025X001-B2", On: "2026-03-14"}, serve.Refused, "is nothing that is recorded", 9},
		{gone, serve.Recorded, "2025X002-A1  was lost on 2026-03-13, with 11 seedlings in it: mice; rm -rf $HOME", 9},
		{gone, serve.Recorded, "as recorded already", 9},
		{serve.Entry{Kind: "gone", ID: "2025X002-A1", On: "2026-03-14", How: "emptied"}, serve.Refused, "on 2026-03-13 already", 9},
		{withdrawn(gone), serve.Recorded, "2025X002-A1  grows on", 9},
		{note, serve.Recorded, "2025X001-B2  noted on 2026-03-14: --force of habit", 9},
		{note, serve.Recorded, "noted on 2026-03-14 already", 9},
		{withdrawn(note), serve.Recorded, "taken back: pipstake note", 9},
		{serve.Entry{Kind: "note", ID: "2025X001-B2", On: "2026-03-14", Text: "-"}, serve.Recorded, "noted on 2026-03-14: -", 9},
	} {
		got := sends(t, address, c.entry)[0]
		if got.State != c.state || !strings.Contains(got.Said, c.said) || strings.Contains(got.Hint, "{") {
			t.Errorf("%+v: %+v, want %s: %s", c.entry, got, c.state, c.said)
		}
		if last := lastCount(t, orchard); last.Up.N != c.up {
			t.Errorf("after %+v %d are up, want %d", c.entry, last.Up.N, c.up)
		}
	}
	if answers := sends(t, address, count(10, 0), count(10, 0), count(3, 0)); answers[1].State != serve.Recorded || answers[2].State != serve.Clash || *answers[2].There != (serve.Count{Up: 10}) {
		t.Errorf("three at once: %+v", answers)
	}
	runs(t, orchard, "undo")
	if last := lastCount(t, orchard); last.Up.N != 9 {
		t.Errorf("after undo %d are up", last.Up.N)
	}
	if err := end(); err != nil {
		t.Errorf("it ended with %v", err)
	}
	for _, want := range []string{"notice: it is plain http", "12:00  2025X001-B2  10 of 10 up (100 %), 1 died on 2026-03-14   from 127.0.0.1\n",
		"12:00  not recorded: 2025X001-B2 on 2026-03-14: 10 up, 1 died on record, and 9 up from a phone   from 127.0.0.1\n", "\nended\n9 entries recorded\nnext: look at them: pipstake history"} {
		if !strings.Contains(said.String(), want) {
			t.Errorf("the terminal lacks %q:\n%s", want, said)
		}
	}
	if out := says(t, orchard, "history"); !strings.Contains(out, "pipstake emerged 2025X001-B2 10 --died 1 --on 2026-03-14\n") {
		t.Errorf("the history reads\n%s", out)
	}
}

// An address that no label's code can hold is told all the same.
func TestServedAddressWithoutACode(t *testing.T) {
	for _, address := range []string{"http://[fd00::2]:8417/5ZPZS5SZ/", "http://192.168.1.20:8417/5ZPZS5SZ/"} {
		e, stdout, stderr := testEnv(t)
		if err := e.tellServed(address, nil); err != nil {
			t.Errorf("%s: %v", address, err)
		}
		if stdout.String() != address+"\n" || !strings.Contains(stderr.String(), "open this address on a phone") {
			t.Errorf("%s: says %q, %q", address, stdout, stderr)
		}
	}
}

// With --dry-run nothing that is sent is recorded.
func TestServedOnlyToTry(t *testing.T) {
	dir := t.TempDir()
	demoIn(t, dir)
	orchard := filepath.Join(dir, "orchard")
	address, said, end := served(t, orchard, "--dry-run")
	before := contents(t, orchard)
	for _, e := range []serve.Entry{{Kind: "count", ID: "2025X001-B2", On: "2026-03-14", Up: 10}, {Kind: "note", ID: "2025X001-B2", On: "2026-03-14", Text: "slow"}} {
		if got := sends(t, address, e)[0]; got.State != serve.Recorded {
			t.Errorf("%+v: %+v", e, got)
		}
	}
	if err := end(); err != nil || !strings.Contains(said.String(), "nothing of what phones enter is recorded") || !strings.HasSuffix(said.String(), "nothing was recorded\n") {
		t.Errorf("%v: %s", err, said)
	}
	for name, text := range contents(t, orchard) {
		if before[name] != text {
			t.Errorf("%s has changed", name)
		}
	}
}

// The page that is served is the one that a file holds, but for what sends entries
// home; it is of the registry as it stands.
func TestServedPageIsOfNow(t *testing.T) {
	dir := t.TempDir()
	demoIn(t, dir)
	orchard := filepath.Join(dir, "orchard")
	address, _, _ := served(t, orchard)
	page := func() string {
		response, err := http.Get(address)
		if err != nil {
			t.Fatal(err)
		}
		defer response.Body.Close()
		text, err := io.ReadAll(response.Body)
		if err != nil || !strings.HasPrefix(string(text), fieldpage.Start) {
			t.Fatalf("%v: %.80q", err, text)
		}
		return string(text)
	}
	if text := page(); strings.Contains(text, `"on":"2026-03-14"`) || !strings.Contains(text, "; connect-src &#39;self&#39;\"") {
		t.Error("the page knows of a count that nobody made, or may not send one")
	}
	runs(t, orchard, "emerged", "2025X001-B2", "10", "--on", "2026-03-14")
	if !strings.Contains(page(), `"on":"2026-03-14","up":10`) {
		t.Error("the page does not know the count made since")
	}
}

// readAndTouched measures what a page shows as TestPageCanBeReadAndTouched does, and
// leaves pictures of it where that does.
func readAndTouched(t *testing.T, ctx context.Context, name string) {
	t.Helper()
	script := strings.NewReplacer("CONTRAST", fmt.Sprint(leastContrast), "TARGET", fmt.Sprint(leastTarget)).Replace(measure)
	for _, colours := range []string{"light", "dark"} {
		drive(t, ctx, scheme(colours))
		for _, wrong := range evaluate[[]string](t, ctx, script)[1:] {
			t.Errorf("%s, %s: %s", name, colours, wrong)
		}
		pictures := os.Getenv("PAGE_PICTURES")
		if pictures == "" {
			continue
		}
		picture, err := chromedp.Run(ctx, chromedp.FullScreenshot(100))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(pictures, name+"-"+colours+".png"), picture, 0o666); err != nil {
			t.Fatal(err)
		}
	}
}

// A count entered on a served page is in the registry at once; what another phone
// counted is asked about; what cannot be sent waits, and is sent later.
func TestServedPageSends(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	ctx := startBrowser(t)
	dir := t.TempDir()
	demoIn(t, dir)
	orchard := filepath.Join(dir, "orchard")
	address, _, _ := served(t, orchard)
	drive(t, ctx, chromedp.Navigate(address), typed("2025X001-B2"), see("#count"), enter("10", "1", "2026-03-14"),
		seeText("p", "Entries go into the registry at once."), seeText("p", "In the registry: "))
	if last := lastCount(t, orchard); last.Up.N != 10 || last.Died.N != 1 || last.On.String() != "2026-03-14" {
		t.Fatalf("the registry's last count is %+v", last)
	}
	// A correction takes its place, undo takes that back, and what is removed from
	// the list is taken back from the registry.
	becomes := func(after string, up, died int, on string) {
		t.Helper()
		var last registry.Emergence
		for range 100 {
			if last = lastCount(t, orchard); last.Up.N == up && last.Died.N == died && last.On.String() == on {
				return
			}
			time.Sleep(50 * time.Millisecond)
		}
		t.Errorf("after %s the last count is %+v", after, last)
	}
	drive(t, ctx, enter("10", "0", "2026-03-14"), seeText("p", "In the registry: "))
	becomes("a correction", 10, 0, "2026-03-14")
	drive(t, ctx, tap("#undo"))
	becomes("undo", 10, 1, "2026-03-14")
	drive(t, ctx, tap("#to-counts"), tap(".kept button"))
	becomes("removal", 9, 0, "2026-03-10")
	drive(t, ctx, tap("#undo"))
	becomes("undo of the removal", 10, 1, "2026-03-14")
	drive(t, ctx, tap("#to-find"))

	// Another phone has counted the pot since the page was fetched.
	if got := sends(t, address, serve.Entry{Kind: "count", ID: "2025X001-B1", On: "2026-03-14", Up: 10}); got[0].State != serve.Recorded {
		t.Fatalf("the other phone: %+v", got)
	}
	drive(t, ctx, typed("2025X001-B1"), seeText("h1", "2025X001-B1"), enter("11", "0", "2026-03-14"),
		seeText("p", "Two counts of "))
	readAndTouched(t, ctx, "served-clash")
	drive(t, ctx, tap("#home-stuck .theirs"), chromedp.WaitNotPresent(chromedp.CSS(".stuck")))
	pot := ids.ID{Year: 2025, Cross: 1, Lot: 2, Pot: 1}
	upNow := func() int {
		counts := opened(t, orchard).EmergenceOf(pot)
		return counts[len(counts)-1].Up.N
	}
	if got := upNow(); got != 10 {
		t.Errorf("the registry's count was to stay, and is %d", got)
	}
	if got := flat(textOf(t, ctx, "#shown")); !strings.Contains(got, "10 of 11 up") {
		t.Errorf("the page shows %q", got)
	}

	// Here it was right.
	runs(t, orchard, "correct", "2025X001-B1", "--drop", "2026-03-14")
	drive(t, ctx, chromedp.Reload(), see("#count"))
	if got := sends(t, address, serve.Entry{Kind: "count", ID: "2025X001-B1", On: "2026-03-13", Up: 10}); got[0].State != serve.Recorded {
		t.Fatalf("the other phone: %+v", got)
	}
	drive(t, ctx, enter("11", "0", "2026-03-13"), see("#home-stuck .mine"), tap("#home-stuck .mine"), chromedp.WaitNotPresent(chromedp.CSS(".stuck")))
	if got := upNow(); got != 11 {
		t.Errorf("the count of the phone was right, and the registry has %d", got)
	}

	// What the registry refuses is told, and stays here until it is decided on.
	runs(t, orchard, "gone", "2025X001-B1", "--how", "lost", "--on", "2026-03-13")
	drive(t, ctx, enter("11", "1", "2026-03-14"), see("#home-stuck .wrong"))
	if got := textOf(t, ctx, "#home-stuck"); !strings.Contains(got, "Not recorded: 2025X001-B1: 11 of 11 up") || !strings.Contains(got, "was lost on 2026-03-13") || !strings.Contains(got, "At the computer: ") || strings.Contains(got, "{") {
		t.Errorf("a refusal reads %q", got)
	}
	readAndTouched(t, ctx, "served-refusal")
	drive(t, ctx, tap("#home-stuck .quiet"), chromedp.WaitNotPresent(chromedp.CSS(".stuck")))

	// Out of reach, entries wait; they are sent once it is there again.
	evaluate[bool](t, ctx, `(inReach = window.fetch, window.fetch = () => Promise.reject(new TypeError("out of reach")), true)`)
	drive(t, ctx, typed("2025X003-A1"), seeText("h1", "2025X003-A1"), enter("7", "0", "2026-03-14"), seeText("p", "1 entry waits to be sent."))
	if got := textOf(t, ctx, "#said"); !strings.HasPrefix(got, "Kept in this browser: 2025X003-A1") {
		t.Errorf("out of reach it says %q", got)
	}
	readAndTouched(t, ctx, "served-waiting")
	evaluate[bool](t, ctx, `(window.fetch = inReach, window.dispatchEvent(new Event("online")))`)
	drive(t, ctx, seeText("p", "In the registry: "), seeText("p", "Entries go into the registry at once."))
	// Forgotten here is not taken back there.
	drive(t, ctx, tap("#to-counts"), tap("#forget"), tap("#forget"), seeText("p", "Forgotten."))
	if last := lastCount(t, orchard); last.On.String() != "2026-03-14" || last.Up.N != 10 {
		t.Errorf("what was forgotten on the phone has gone from the registry: %+v", last)
	}
}
