package serve

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/netip"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

// own is a place that only this computer reaches.
func own(t *testing.T) Place {
	t.Helper()
	place, ok := PlaceOf(netip.MustParseAddr("127.0.0.1"))
	if !ok {
		t.Fatal("this computer has no address of its own")
	}
	place.Port = 0
	return place
}

// started is a server at work until the test ends.
func started(t *testing.T, s *Server) (ended <-chan error) {
	t.Helper()
	if s.Page == nil {
		s.Page = func(w io.Writer) error { _, err := io.WriteString(w, "<p>the page"); return err }
	}
	if s.Idle == 0 {
		s.Idle = time.Minute
	}
	l, err := s.Listen(own(t))
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- s.Serve(ctx, l) }()
	t.Cleanup(cancel)
	return done
}

// asked is the status that a request is answered with, and the body.
func asked(t *testing.T, method, url, body string, header ...string) (int, string) {
	t.Helper()
	request, err := http.NewRequest(method, url, strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; i < len(header); i += 2 {
		if request.Header.Set(header[i], header[i+1]); header[i] == "Host" {
			request.Host = header[i+1]
		}
	}
	response, err := http.DefaultClient.Do(request)
	if err != nil {
		t.Fatal(err)
	}
	defer response.Body.Close()
	text, err := io.ReadAll(response.Body)
	if err != nil {
		t.Fatal(err)
	}
	if response.Header.Get("Cache-Control") != "no-store" || response.Header.Get("X-Frame-Options") != "DENY" || response.Header.Get("Access-Control-Allow-Origin") != "" {
		t.Errorf("%s %s is answered with the headers %v", method, url, response.Header)
	}
	return response.StatusCode, string(text)
}

// Nobody gets anything but who knows the address, and nobody sends anything but the
// page that came from there.
func TestOnlyThePageAndItsEntries(t *testing.T) {
	var taken atomic.Int64
	s := &Server{Take: func(string, Entry) Answer { taken.Add(1); return Answer{State: Recorded, Said: "done"} }}
	started(t, s)
	root, origin := s.Address(), strings.TrimSuffix(strings.SplitAfter(s.Address(), s.place.Addr().String())[0], "/")
	const one = `{"entries":[{"kind":"count","id":"2026X012-B2","on":"2027-03-01","up":3}]}`
	const asJSON = "application/json"
	for _, c := range []struct {
		name, method, url, body string
		header                  []string
		want                    int
	}{
		{"the page", "GET", root, "", nil, 200},
		{"the page in small letters", "GET", strings.ToLower(root), "", nil, 200},
		{"an entry", "POST", root + "entries", one, []string{"Origin", origin, "Content-Type", asJSON + "; charset=utf-8"}, 200},
		{"no token", "GET", origin + "/", "", nil, 404},
		{"a wrong token", "GET", root[:len(root)-2] + "/", "", nil, 404},
		{"no slash", "GET", strings.TrimSuffix(root, "/"), "", nil, 404},
		{"a file", "GET", root + "crosses.csv", "", nil, 404},
		{"a path upward", "GET", root + "../../crosses.csv", "", nil, 404},
		{"a path upward, escaped", "GET", root + "%2e%2e/%2e%2e/etc/passwd", "", nil, 404},
		{"a path around the token", "GET", origin + "/x/../" + strings.TrimPrefix(root, origin+"/"), "", nil, 404},
		{"a query", "GET", root + "?x=1", "", nil, 404},
		{"another name for this computer", "GET", root, "", []string{"Host", "orchard.example"}, 404},
		{"writing the page", "PUT", root, "x", nil, 405},
		{"reading entries", "GET", root + "entries", "", nil, 405},
		{"asking what is allowed", "OPTIONS", root + "entries", "", []string{"Origin", "http://elsewhere.example", "Access-Control-Request-Method", "POST"}, 405},
		{"an entry from another site", "POST", root + "entries", one, []string{"Origin", "http://elsewhere.example", "Content-Type", asJSON}, 403},
		{"an entry from a page of no site", "POST", root + "entries", one, []string{"Origin", "null", "Content-Type", asJSON}, 403},
		{"an entry from nowhere", "POST", root + "entries", one, []string{"Content-Type", asJSON}, 403},
		{"an entry as a form sends it", "POST", root + "entries", one, []string{"Origin", origin, "Content-Type", "text/plain"}, 415},
		{"no JSON", "POST", root + "entries", `{"entries":[{"kind":`, []string{"Origin", origin, "Content-Type", asJSON}, 400},
		{"JSON of another shape", "POST", root + "entries", `{"entries":"all"}`, []string{"Origin", origin, "Content-Type", asJSON}, 400},
		{"a number that is none", "POST", root + "entries", strings.Replace(one, "3}", "3e99}", 1), []string{"Origin", origin, "Content-Type", asJSON}, 400},
		{"more than one text", "POST", root + "entries", one + one, []string{"Origin", origin, "Content-Type", asJSON}, 400},
		{"a huge body", "POST", root + "entries", `{"entries":[{"text":"` + strings.Repeat("x", mostBody) + `"}]}`, []string{"Origin", origin, "Content-Type", asJSON}, 413},
		{"too many entries", "POST", root + "entries", `{"entries":[{}` + strings.Repeat(",{}", mostEntries) + `]}`, []string{"Origin", origin, "Content-Type", asJSON}, 413},
	} {
		s.rates.mu.Lock()
		clear(s.rates.left) // each as if it were alone
		s.rates.mu.Unlock()
		status, body := asked(t, c.method, c.url, c.body, c.header...)
		if status != c.want || status != 200 && body != "" || c.name == "the page" && body != "<p>the page" {
			t.Errorf("%s: status %d, want %d; %q", c.name, status, c.want, body)
		}
	}
	if n := taken.Load(); n != 1 {
		t.Errorf("%d entries were taken, and one was sent as it should be", n)
	}
	request, err := http.NewRequest("GET", root, nil)
	if err != nil {
		t.Fatal(err)
	}
	request.Header.Set("X-Long", strings.Repeat("x", 3*mostHeader))
	if response, err := http.DefaultClient.Do(request); err == nil { // it may hang up instead
		response.Body.Close()
		if response.StatusCode == http.StatusOK {
			t.Error("endless headers are read")
		}
	}
}

// Whoever guesses at the address, or asks too often, is not heard for a while; the
// phone beside it is.
func TestRates(t *testing.T) {
	now := time.Date(2027, 3, 1, 12, 0, 0, 0, time.UTC)
	r := newRates()
	r.now = func() time.Time { return now }
	phone, guesser := netip.MustParseAddr("192.168.1.31"), netip.MustParseAddr("192.168.1.66")
	allowed := func(who netip.Addr, cost float64, tries int) (n int) {
		for range tries {
			if r.allow(who, cost) {
				n++
			}
		}
		return n
	}
	if n := allowed(guesser, wrongCosts, 100); n != burst/wrongCosts {
		t.Errorf("%d guesses are heard", n)
	}
	if n := allowed(phone, 1, 100); n != burst {
		t.Errorf("%d requests at once are answered, want %d", n, burst)
	}
	now = now.Add(10 * time.Second)
	if n := allowed(phone, 1, 100); n != 10*perSecond {
		t.Errorf("%d requests are answered after ten seconds, want %v", n, 10*perSecond)
	}
	// A crowd takes no more than its place in memory, and gives it up.
	for i := range 10 * mostPhones {
		r.allow(netip.AddrFrom4([4]byte{10, 0, byte(i >> 8), byte(i)}), 1)
	}
	if len(r.left) > mostPhones {
		t.Errorf("%d phones are remembered", len(r.left))
	}
	now = now.Add(time.Hour)
	if !r.allow(netip.MustParseAddr("192.168.1.77"), 1) || len(r.left) > 1 {
		t.Errorf("after an hour %d phones are remembered", len(r.left))
	}
}

// Who asks too often is told so, over the network.
func TestTooOften(t *testing.T) {
	s := &Server{}
	started(t, s)
	last := 0
	for range burst + 20 {
		last, _ = asked(t, "GET", s.Address(), "")
	}
	if last != http.StatusTooManyRequests {
		t.Errorf("the last answer is %d", last)
	}
	if status, _ := asked(t, "GET", s.Address()+"no", ""); status != http.StatusTooManyRequests {
		t.Errorf("a guess is answered with %d", status)
	}
}

// Two phones at once are taken one entry after the other, and each hears of its
// own. Once the registry cannot be written, what is left waits.
func TestPhonesTakeTurns(t *testing.T) {
	var busy, most, calls atomic.Int64
	s := &Server{Take: func(from string, e Entry) Answer {
		most.Store(max(most.Load(), busy.Add(1)))
		defer busy.Add(-1)
		time.Sleep(time.Millisecond)
		calls.Add(1)
		if e.ID == "later" {
			return Answer{State: Later, Said: "in use"}
		}
		return Answer{State: Recorded, Said: e.ID + " from " + from}
	}}
	started(t, s)
	send := func(ids ...string) string {
		var entries []string
		for _, id := range ids {
			entries = append(entries, fmt.Sprintf(`{"id":%q}`, id))
		}
		_, body := asked(t, "POST", s.Address()+"entries", `{"entries":[`+strings.Join(entries, ",")+`]}`,
			"Origin", "http://"+s.place.Addr().String(), "Content-Type", "application/json")
		return body
	}
	var all sync.WaitGroup
	for i := range 12 {
		all.Go(func() {
			a, b := fmt.Sprintf("a%d", i), fmt.Sprintf("b%d", i)
			want := fmt.Sprintf(`{"answers":[{"state":"recorded","said":"%s from 127.0.0.1"},{"state":"recorded","said":"%s from 127.0.0.1"}]}`+"\n", a, b)
			if got := send(a, b); got != want {
				t.Errorf("%s, want %s", got, want)
			}
		})
	}
	all.Wait()
	if calls.Load() != 24 || most.Load() != 1 {
		t.Errorf("%d entries taken, up to %d at once", calls.Load(), most.Load())
	}
	want := `{"answers":[{"state":"later","said":"in use"},{"state":"later","said":"in use"},{"state":"later","said":"in use"}]}` + "\n"
	if got := send("later", "x", "y"); got != want || calls.Load() != 25 {
		t.Errorf("%s after %d calls", got, calls.Load())
	}
}

// It ends by itself once no phone was there for long enough, and not before; one
// that guesses is no phone.
func TestEndsWhenIdle(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	s := &Server{Idle: 1500 * time.Millisecond}
	began := time.Now()
	ended := started(t, s)
	for range 4 {
		time.Sleep(500 * time.Millisecond)
		if status, _ := asked(t, "GET", s.Address(), ""); status != 200 {
			t.Fatalf("after %v the page is answered with %d", time.Since(began), status)
		}
	}
	seen := time.Now()
	_, _ = asked(t, "GET", "http://"+s.place.Addr().String()+"/", "")
	select {
	case err := <-ended:
		if !errors.Is(err, ErrIdle) || time.Since(seen) < s.Idle-100*time.Millisecond {
			t.Errorf("it ended %v after the last phone, with %v", time.Since(seen), err)
		}
	case <-time.After(20 * time.Second):
		t.Fatal("it does not end")
	}
	if _, err := net.DialTimeout("tcp", s.place.Addr().String(), time.Second); err == nil {
		t.Error("it still listens")
	}
}

// It ends when it is told to, though somebody holds a request open.
func TestEndsWhenTold(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	s := &Server{Idle: time.Minute, Page: func(io.Writer) error { return nil }}
	l, err := s.Listen(own(t))
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- s.Serve(ctx, l) }()
	slow, err := net.Dial("tcp", s.place.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer slow.Close()
	if _, err := io.WriteString(slow, "GET / HTTP/1.1\r\nHost: "); err != nil {
		t.Fatal(err)
	}
	cancel()
	select {
	case err := <-ended:
		if !errors.Is(err, ErrStopped) {
			t.Errorf("it ended with %v", err)
		}
	case <-time.After(20 * time.Second):
		t.Fatal("it does not end")
	}
}

// Connections from elsewhere are closed unheard, and so are those beyond what there
// is room for.
func TestNeighboursOnly(t *testing.T) {
	elsewhere, _ := nearTo(t, "192.168.1.0/24")
	if !closes(t, elsewhere) {
		t.Error("one from another network is heard")
	}
	here, heard := nearTo(t, "127.0.0.0/8")
	closed := func() bool { return closes(t, here) }
	for range 2 {
		if closed() {
			t.Error("one of two is not heard")
		}
	}
	if !closed() {
		t.Error("a third is heard where two have room")
	}
	first := <-heard
	first.Close()
	first.Close() // once more makes no more room
	if closed() {
		t.Error("room that was left is given to nobody")
	}
	if !closed() {
		t.Error("there is more room than there was")
	}
}

// nearTo listens for a network, with room for two, and returns where and who is
// heard.
func nearTo(t *testing.T, network string) (at string, heard chan net.Conn) {
	inner, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { inner.Close() })
	n := &neighbours{Listener: inner, place: Place{Network: netip.MustParsePrefix(network)}, room: make(chan struct{}, 2)}
	heard = make(chan net.Conn, 10)
	go func() {
		for {
			c, err := n.Accept()
			if err != nil {
				return
			}
			heard <- c
		}
	}()
	return inner.Addr().String(), heard
}

// closes reports whether a new connection is closed at once.
func closes(t *testing.T, at string) bool {
	c, err := net.Dial("tcp", at)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Close() })
	c.SetReadDeadline(time.Now().Add(300 * time.Millisecond))
	_, err = bufio.NewReader(c).ReadByte()
	var timeout net.Error
	return !errors.As(err, &timeout) || !timeout.Timeout()
}
