package serve

import (
	"net/netip"
	"sync"
	"time"
)

// How often one phone may ask: a walk sends an entry every few seconds, and one
// that was out of reach sends what it has kept.
const (
	burst      = 40  // requests at once
	perSecond  = 2.0 // and so many from then on
	wrongCosts = 10  // requests: of one that does not know the address
	mostPhones = 200 // more than a network at hand has
)

// rates keeps account of who asked how often.
type rates struct {
	mu   sync.Mutex
	left map[netip.Addr]*allowance
	now  func() time.Time
}

// allowance is how many requests somebody has left.
type allowance struct {
	left float64
	at   time.Time
}

func newRates() *rates { return &rates{left: map[netip.Addr]*allowance{}, now: time.Now} }

// allow reports whether somebody may ask for something that costs so many requests.
func (r *rates) allow(who netip.Addr, cost float64) bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	now := r.now()
	a := r.left[who]
	if a == nil {
		if len(r.left) >= mostPhones && !r.forget(now) {
			return false
		}
		a = &allowance{burst, now}
		r.left[who] = a
	}
	a.left = min(burst, a.left+perSecond*now.Sub(a.at).Seconds())
	a.at = now
	if a.left < cost {
		a.left = max(0, a.left-cost)
		return false
	}
	a.left -= cost
	return true
}

// forget drops those that have asked for nothing for so long that they have all of
// their allowance again. It reports whether there were any.
func (r *rates) forget(now time.Time) bool {
	before := len(r.left)
	for who, a := range r.left {
		if a.left+perSecond*now.Sub(a.at).Seconds() >= burst {
			delete(r.left, who)
		}
	}
	return len(r.left) < before
}
