package serve

import (
	"io"
	"log"
	"net"
	"net/netip"
	"sync"
)

// neighbours are the connections from the network at hand, no more at a time than
// there is room for. Others are closed unheard.
type neighbours struct {
	net.Listener
	place Place
	room  chan struct{}
}

// Accept waits for the next connection.
func (n *neighbours) Accept() (net.Conn, error) {
	for {
		c, err := n.Listener.Accept()
		if err != nil {
			return nil, err
		}
		from, _ := netip.ParseAddrPort(c.RemoteAddr().String())
		if !n.place.isNear(from.Addr()) {
			_ = c.Close()
			continue
		}
		select {
		case n.room <- struct{}{}:
			return &neighbour{Conn: c, room: n.room}, nil
		default:
			_ = c.Close()
		}
	}
}

// neighbour is a connection that takes up room until it is closed.
type neighbour struct {
	net.Conn
	room chan struct{}
	once sync.Once
}

// Close closes the connection and leaves its room to others.
func (n *neighbour) Close() error {
	n.once.Do(func() { <-n.room })
	return n.Conn.Close()
}

// silent is a log for the faults of strangers, which nobody needs to read.
func silent() *log.Logger { return log.New(io.Discard, "", 0) }
