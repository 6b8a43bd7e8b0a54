package serve

import (
	"bytes"
	"crypto/subtle"
	"encoding/json"
	"errors"
	"io"
	"mime"
	"net/http"
	"net/netip"
	"strings"
)

// ServeHTTP answers a request: the page, or what became of entries. Whoever does
// not know the address learns nothing.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	from, _ := netip.ParseAddrPort(r.RemoteAddr) // the zero address has a rate of its own
	rest, known := s.within(r)
	if !known {
		if !s.rates.allow(from.Addr(), wrongCosts) {
			refuse(w, http.StatusTooManyRequests)
			return
		}
		refuse(w, http.StatusNotFound)
		return
	}
	if !s.rates.allow(from.Addr(), 1) {
		w.Header().Set("Retry-After", "10")
		refuse(w, http.StatusTooManyRequests)
		return
	}
	select {
	case s.active <- struct{}{}:
	default: // it is known already
	}
	switch {
	case rest == "" && (r.Method == http.MethodGet || r.Method == http.MethodHead):
		s.page(w)
	case rest == "entries" && r.Method == http.MethodPost:
		s.entries(w, r, from.Addr())
	case rest == "" || rest == "entries":
		refuse(w, http.StatusMethodNotAllowed)
	default:
		refuse(w, http.StatusNotFound)
	}
}

// within returns what follows the token in the path that was asked for, exactly as
// it was sent. It is not known where the token is another one, or the page was
// asked for by another name than its address, as by a page that lets its own name
// lead here.
func (s *Server) within(r *http.Request) (rest string, known bool) {
	path := strings.TrimPrefix(r.RequestURI, "/")
	token, rest, slash := strings.Cut(path, "/")
	known = subtle.ConstantTimeCompare([]byte(strings.ToUpper(token)), []byte(s.token)) == 1
	return rest, known && slash && r.Host == s.place.Addr().String()
}

// page sends the page.
func (s *Server) page(w http.ResponseWriter) {
	var page bytes.Buffer
	if err := s.Page(&page); err != nil {
		refuse(w, http.StatusServiceUnavailable)
		return
	}
	guard(w)
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Content-Security-Policy", "frame-ancestors 'none'") // beside that of the page itself
	_, _ = w.Write(page.Bytes())                                        // a phone that is gone needs no answer
}

// entries takes in what a phone recorded.
func (s *Server) entries(w http.ResponseWriter, r *http.Request, from netip.Addr) {
	kind, _, _ := mime.ParseMediaType(r.Header.Get("Content-Type"))
	switch {
	case r.Header.Get("Origin") != "http://"+s.place.Addr().String():
		refuse(w, http.StatusForbidden) // another site's page sent it
		return
	case kind != "application/json":
		refuse(w, http.StatusUnsupportedMediaType)
		return
	}
	sent, err := readEntries(http.MaxBytesReader(w, r.Body, mostBody))
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large), err == nil && len(sent) > mostEntries:
		refuse(w, http.StatusRequestEntityTooLarge)
		return
	case err != nil:
		refuse(w, http.StatusBadRequest)
		return
	}
	answers := make([]Answer, 0, len(sent))
	for _, entry := range sent {
		if n := len(answers); n > 0 && answers[n-1].State == Later {
			answers = append(answers, answers[n-1])
			continue
		}
		select {
		case s.taking <- struct{}{}:
		case <-r.Context().Done():
			return // the phone is gone, and will ask again
		}
		answers = append(answers, s.Take(from.Unmap().String(), entry))
		<-s.taking
	}
	guard(w)
	w.Header().Set("Content-Type", "application/json")
	_ = json.NewEncoder(w).Encode(struct {
		Answers []Answer `json:"answers"`
	}{answers}) // a phone that is gone asks again
}

// readEntries reads the entries of a request, and nothing behind them.
func readEntries(body io.Reader) ([]Entry, error) {
	var sent struct {
		Entries []Entry `json:"entries"`
	}
	d := json.NewDecoder(body)
	if err := d.Decode(&sent); err != nil {
		return nil, err
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		if err == nil {
			err = errors.New("something follows the entries")
		}
		return nil, err
	}
	return sent.Entries, nil
}

// guard keeps what is sent from being kept, framed, guessed at, or told on.
func guard(w http.ResponseWriter) {
	h := w.Header()
	h.Set("Cache-Control", "no-store")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("X-Frame-Options", "DENY")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
}

// refuse answers with a status alone.
func refuse(w http.ResponseWriter, status int) {
	guard(w)
	w.WriteHeader(status)
}
