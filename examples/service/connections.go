package main

import (
	"net"
	"sync"
	"sync/atomic"
)

// A connection costs a goroutine, its buffers and up to the largest allowed body, before it is
// known whether it will ever send a job. So their number is limited, and with it the memory;
// further clients wait in the system's queue until a connection ends, which the timeouts for a
// header, a body, a response and an idle connection ensure.

// fewConnections limits the number of concurrent connections.
type fewConnections struct {
	net.Listener
	places chan struct{} // holds one for each connection, and for a waiting Accept
	open   atomic.Int64  // connections
	closed chan struct{}
	once   sync.Once
}

func limitConnections(l net.Listener, most int) *fewConnections {
	return &fewConnections{Listener: l, places: make(chan struct{}, most), closed: make(chan struct{})}
}

// Accept waits for a place, then for a connection.
func (l *fewConnections) Accept() (net.Conn, error) {
	select {
	case l.places <- struct{}{}:
	case <-l.closed:
		return nil, net.ErrClosed
	}
	c, err := l.Listener.Accept()
	if err != nil {
		<-l.places
		return nil, err
	}
	l.open.Add(1)
	return &placed{Conn: c, leave: func() {
		l.open.Add(-1)
		<-l.places
	}}, nil
}

// Close also ends an Accept that waits for a place.
func (l *fewConnections) Close() error {
	l.once.Do(func() { close(l.closed) })
	return l.Listener.Close()
}

// placed releases its place when it is closed, once.
type placed struct {
	net.Conn
	once  sync.Once
	leave func()
}

func (c *placed) Close() error {
	err := c.Conn.Close()
	c.once.Do(c.leave)
	return err
}
