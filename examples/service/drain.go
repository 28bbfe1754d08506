package main

import (
	"context"
	"errors"
	"net/http"
	"time"
)

// drain ends the server: it begins no job any more, lets those that run go on for the
// grace period, then cuts them short with the best plan that they have, and returns when
// every client has its answer. One that does not take it holds nobody up for longer
// than an answer may take.
func (s *service) drain(server *http.Server, grace time.Duration) error {
	s.leave()
	s.close()
	err := shutdown(server, grace)
	if !errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	s.cut()
	// A solve hears of it within a tenth of a second; a sheet takes a second to check.
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
