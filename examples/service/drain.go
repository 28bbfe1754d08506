package main

import (
	"context"
	"errors"
	"net/http"
	"time"
)

// drain shuts the server down: it begins no more jobs, gives running ones the grace period,
// then ends them with their best plans, and returns when every client has its response. A
// client that does not read it delays the server no longer than a response may take.
func (s *service) drain(server *http.Server, grace time.Duration) error {
	s.leave()
	s.close()
	err := shutdown(server, grace)
	if !errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	s.cut()
	// A solve notices within a tenth of a second; checking a sheet takes a second.
	if err = shutdown(server, s.send+5*time.Second); err != nil {
		err = errors.Join(err, server.Close())
	}
	return err
}

func shutdown(server *http.Server, within time.Duration) error {
	ctx, cancel := context.WithTimeout(context.Background(), within)
	defer cancel()
	return server.Shutdown(ctx)
}
