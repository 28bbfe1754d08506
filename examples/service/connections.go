package main

import (
	"net"
	"sync"
	"sync/atomic"
)

// A connection costs a goroutine, its buffers and up to the largest body that is allowed,
// before anybody knows whether it will ever send a job. So there is a most, and with it
// a most of memory; who comes beyond waits in the system's queue until one ends, which
// the times for a header, a body, an answer and an idle connection see to.

// fewConnections accepts no more connections at the same time than it has places.
type fewConnections struct {
	net.Listener
	places chan struct{} // holds one for each connection, and for Accept where it waits for one
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

// Close ends Accept, too, where it waits for a place.
func (l *fewConnections) Close() error {
	l.once.Do(func() { close(l.closed) })
	return l.Listener.Close()
}

// placed gives its place back when it is closed, however often that is.
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
