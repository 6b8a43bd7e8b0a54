package serve

import (
	"io"
	"log"
	"net"
	"sync"
)

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
