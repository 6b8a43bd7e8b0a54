package serve

import (
	"net"
	"net/netip"
	"testing"
)

// address is an address of an interface, as the system tells it.
type address string

func (a address) Network() string { return "ip+net" }
func (a address) String() string  { return string(a) }

// Only private addresses serve (RFC 1918, RFC 3927, RFC 4193), the one that leads
// onward first; those that stand alone have no neighbours.
func TestPlaces(t *testing.T) {
	var all []net.Addr
	for _, a := range []address{"127.0.0.1/8", "::1/128", "fe80::1/64", "fd12:3456::7/64", "172.17.0.1/16", "203.0.113.9/24", "10.8.0.2/32", "169.254.3.4/16",
		"2001:db8::1/64", "192.168.1.20/24", "172.32.0.1/16", "odd"} {
		all = append(all, a)
	}
	want := []string{"192.168.1.20 192.168.1.0/24", "172.17.0.1 172.17.0.0/16", "169.254.3.4 169.254.0.0/16", "fd12:3456::7 fd12:3456::/64"}
	got := placesAmong(all, netip.MustParseAddr("192.168.1.20"))
	for i, p := range got {
		if s := p.IP.String() + " " + p.Network.String(); i >= len(want) || s != want[i] || p.Port != UsualPort {
			t.Errorf("place %d is %s, port %d", i, s, p.Port)
		}
	}
	if len(got) != len(want) {
		t.Errorf("%d places, want %d", len(got), len(want))
	}
	if _, ok := PlaceOf(netip.MustParseAddr("192.0.2.1")); ok {
		t.Error("an address of nobody's is one of this computer")
	}
}

// Near is who is in the same network, written in either way.
func TestNear(t *testing.T) {
	p := Place{IP: netip.MustParseAddr("192.168.1.20"), Network: netip.MustParsePrefix("192.168.1.0/24")}
	for from, want := range map[string]bool{"192.168.1.31": true, "::ffff:192.168.1.31": true, "192.168.2.31": false, "203.0.113.9": false, "127.0.0.1": false, "fd12::1": false} {
		if got := p.isNear(netip.MustParseAddr(from)); got != want {
			t.Errorf("%s is near: %v", from, got)
		}
	}
	wide := Place{IP: p.IP, Network: netip.MustParsePrefix("0.0.0.0/0")}
	if wide.isNear(netip.MustParseAddr("203.0.113.9")) {
		t.Error("a stranger is near where the network is said to be everything")
	}
}
