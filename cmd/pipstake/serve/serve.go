// Package serve hands the field page to phones on the network at hand, and takes
// what they record. It knows neither pages nor registries: both are handed in. It
// serves nothing else, to nobody outside the network, and what is sent is plain
// HTTP.
package serve

import (
	"context"
	"crypto/rand"
	"errors"
	"io"
	"net"
	"net/http"
	"time"
)

// Entry is what a phone recorded of one thing on one day.
type Entry struct {
	Kind      string `json:"kind"` // "count", "gone" or "note"
	ID        string `json:"id"`
	On        string `json:"on"`             // ISO 8601
	Up        int    `json:"up,omitempty"`   // of a count: in all
	Died      int    `json:"died,omitempty"` // of a count: of these
	How       string `json:"how,omitempty"`  // it ended
	Text      string `json:"text,omitempty"` // of a note, or why it ended
	Withdrawn bool   `json:"withdrawn,omitempty"`
	// Instead is the count of that pot and day that this one takes the place of, as
	// the phone knows it; nil where it knows of none.
	Instead *Count `json:"instead,omitempty"`
}

// Count is how many are up and how many of these have died, both in all.
type Count struct {
	Up   int `json:"up"`
	Died int `json:"died"`
}

// Answer is what became of an entry.
type Answer struct {
	State State  `json:"state"`
	Said  string `json:"said"`           // in words
	Hint  string `json:"hint,omitempty"` // what to do
	There *Count `json:"there,omitempty"`
}

// State is a word for what became of an entry.
type State string

// The states.
const (
	Recorded State = "recorded" // or taken back, where it was withdrawn
	Clash    State = "clash"    // another count of that pot and day is on record
	Refused  State = "refused"
	Later    State = "later" // the registry could not be written just now
)

// Server serves one page.
type Server struct {
	Page func(w io.Writer) error               // writes the page as the registry stands now
	Take func(from string, entry Entry) Answer // records an entry; called by one at a time
	Idle time.Duration                         // after so long without a phone it ends

	place  Place
	token  string
	rates  *rates
	taking chan struct{} // holds one token while Take may be called
	active chan struct{} // a phone was here
}

// Why a server ended.
var (
	ErrStopped = errors.New("it was told to end")
	ErrIdle    = errors.New("no phone was there for a while")
)

// Limits on what one phone, and all of them, may ask for.
const (
	mostBody        = 256 << 10 // bytes of entries
	mostEntries     = 500       // sent at once
	mostHeader      = 16 << 10  // bytes
	mostConnections = 64
	patience        = 20 * time.Second // for a request to be sent
	slowestPage     = 2 * time.Minute  // for a page to be fetched
)

// Listen begins to listen at a place; Address is valid from then on. The error is
// that of the system.
func (s *Server) Listen(at Place) (net.Listener, error) {
	l, err := net.Listen("tcp", at.Addr().String())
	if err != nil {
		return nil, err
	}
	s.place = at
	s.place.Port = l.Addr().(*net.TCPAddr).AddrPort().Port()
	s.token = rand.Text() // 128 bits at least, in capitals and digits
	s.rates = newRates()
	s.taking = make(chan struct{}, 1)
	s.active = make(chan struct{}, 1)
	return &neighbours{Listener: l, place: s.place, room: make(chan struct{}, mostConnections)}, nil
}

// Address is where phones find the page. It means the same in capitals.
func (s *Server) Address() string { return "http://" + s.place.Addr().String() + "/" + s.token + "/" }

// Serve serves until ctx is done, or no phone was there for as long as Idle. The
// error is ErrStopped, ErrIdle, or one of the system.
func (s *Server) Serve(ctx context.Context, l net.Listener) error {
	server := &http.Server{Handler: s, MaxHeaderBytes: mostHeader, ReadHeaderTimeout: patience, ReadTimeout: patience,
		WriteTimeout: slowestPage, IdleTimeout: patience, ErrorLog: silent()}
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(l) }()
	why := s.wait(ctx, ended)
	finish, cancel := context.WithTimeout(context.Background(), 3*time.Second)
	defer cancel()
	if err := server.Shutdown(finish); err != nil {
		_ = server.Close() // those who are still there had their time
	}
	return why
}

// wait waits for the end, and returns why it came.
func (s *Server) wait(ctx context.Context, ended <-chan error) error {
	idle := time.NewTimer(s.Idle)
	defer idle.Stop()
	for {
		select {
		case <-ctx.Done():
			return ErrStopped
		case err := <-ended:
			return err
		case <-idle.C:
			return ErrIdle
		case <-s.active:
			idle.Reset(s.Idle)
		}
	}
}
