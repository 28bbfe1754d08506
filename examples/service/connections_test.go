package main

import (
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"
)

// No more connections are served than allowed; a waiting client gets a turn when one ends, and a
// server that receives a signal ends, whoever waits.
func TestConnections(t *testing.T) {
	for _, most := range []int{1, 3} {
		l := usual
		l.receive = patience
		s := newService(l, quiet())
		inner, err := net.Listen("tcp", "127.0.0.1:0")
		if err != nil {
			t.Fatal(err)
		}
		listener := limitConnections(inner, most)
		server := &http.Server{Handler: s}
		done := make(chan error, 1)
		go func() { done <- server.Serve(listener) }()
		connect := func(send string) net.Conn {
			c, err := net.Dial("tcp", inner.Addr().String())
			if err != nil {
				t.Fatal(err)
			}
			t.Cleanup(func() { c.Close() })
			if _, err := io.WriteString(c, send); err != nil {
				t.Fatal(err)
			}
			return c
		}
		var half []net.Conn
		for range most {
			half = append(half, connect(counted(len(goodJob))+goodJob[:10]))
		}
		for len(listener.places) < most {
			time.Sleep(time.Millisecond) // until all are accepted
		}
		last := connect(counted(len(goodJob)) + goodJob)
		last.SetReadDeadline(time.Now().Add(100 * time.Millisecond))
		if n, err := last.Read(make([]byte, 1)); err == nil {
			t.Errorf("a connection beyond %d got %d bytes of an answer", most, n)
		}
		half[0].Close()
		last.SetReadDeadline(time.Now().Add(patience))
		answer := make([]byte, 15)
		if _, err := io.ReadFull(last, answer); err != nil || !strings.HasPrefix(string(answer), "HTTP/1.1 200 OK") {
			t.Errorf("when one had ended the next was answered %q, %v", answer, err)
		}
		for _, c := range half {
			c.Close()
		}
		if err := s.drain(server, 0); err != nil {
			t.Error(err)
		}
		if err := ignore(<-done); err != nil {
			t.Error(err)
		}
		if n := len(listener.places); n != 0 {
			t.Errorf("%d places were not returned", n)
		}
	}
}

// A closed listener reports it to an Accept that waits for a place.
func TestConnectionsClosed(t *testing.T) {
	inner, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	l := limitConnections(inner, 1)
	l.places <- struct{}{}
	said := make(chan error, 1)
	go func() {
		_, err := l.Accept()
		said <- err
	}()
	if err := l.Close(); err != nil {
		t.Error(err)
	}
	if err := <-said; err == nil {
		t.Error("Accept returned no error")
	}
	l.Close()
}
