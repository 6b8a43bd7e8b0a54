package serve

import (
	"net"
	"net/netip"
)

// UsualPort is the port where nothing else is said. It is the same every day, so
// that what a phone has kept for the page is still there on the next one.
const UsualPort = 8417

// Place is an address of this computer on a network at hand.
type Place struct {
	IP      netip.Addr
	Network netip.Prefix // whoever is in it may come
	Port    uint16       // 0 for any that is free
}

// Addr is the address with its port.
func (p Place) Addr() netip.AddrPort { return netip.AddrPortFrom(p.IP, p.Port) }

// isNear reports whether an address is in the network at hand.
func (p Place) isNear(from netip.Addr) bool {
	from = from.Unmap()
	return p.Network.Contains(from.WithZone("")) && isPrivate(from)
}

// isPrivate reports whether an address is of a kind that no stranger elsewhere can
// reach: private (RFC 1918, RFC 4193), link-local, or the computer's own.
func isPrivate(ip netip.Addr) bool {
	return ip.IsPrivate() || ip.IsLinkLocalUnicast() || ip.IsLoopback()
}

// Places are the addresses of this computer on networks at hand, the one that
// leads onward first; its own, which only it can reach, is not among them.
func Places() ([]Place, error) {
	all, err := net.InterfaceAddrs()
	if err != nil {
		return nil, err
	}
	return placesAmong(all, towardOthers()), nil
}

// placesAmong keeps private addresses: the best first, those of IPv4 before the
// others, which are longer to type.
func placesAmong(all []net.Addr, best netip.Addr) []Place {
	var first, four, six []Place
	for _, a := range all {
		network, err := netip.ParsePrefix(a.String())
		if err != nil || !isPrivate(network.Addr()) || network.IsSingleIP() || network.Addr().IsLoopback() || network.Addr().Is6() && network.Addr().IsLinkLocalUnicast() {
			continue
		}
		p := Place{IP: network.Addr(), Network: network.Masked(), Port: UsualPort}
		switch {
		case p.IP == best:
			first = append(first, p)
		case p.IP.Is4():
			four = append(four, p)
		default:
			six = append(six, p)
		}
	}
	return append(append(first, four...), six...)
}

// PlaceOf is the place of an address of this computer, its own included; false
// where it has no such address.
func PlaceOf(ip netip.Addr) (Place, bool) {
	all, err := net.InterfaceAddrs()
	if err != nil {
		return Place{}, false
	}
	for _, a := range all {
		if network, err := netip.ParsePrefix(a.String()); err == nil && network.Addr() == ip && isPrivate(ip) {
			return Place{IP: ip, Network: network.Masked(), Port: UsualPort}, true
		}
	}
	return Place{}, false
}

// towardOthers is the address from which this computer would reach others. Nothing
// is sent: the system only looks up the way to an address that nobody has
// (RFC 5737).
func towardOthers() netip.Addr {
	c, err := net.Dial("udp4", "192.0.2.1:9")
	if err != nil {
		return netip.Addr{}
	}
	defer c.Close()
	at, err := netip.ParseAddrPort(c.LocalAddr().String())
	if err != nil {
		return netip.Addr{}
	}
	return at.Addr().Unmap()
}
