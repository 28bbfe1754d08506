package main

import (
	"bytes"
	"log/slog"
	"sync"
)

// safeBuffer is a log that several goroutines write.
type safeBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *safeBuffer) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.Write(p)
}

func (s *safeBuffer) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.String()
}

func (s *safeBuffer) logger() *slog.Logger { return slog.New(slog.NewTextHandler(s, nil)) }
