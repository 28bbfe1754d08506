package main

import (
	"bytes"
	"log/slog"
	"strings"
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

// warnings are the lines that are more than the record of a request.
func (s *safeBuffer) warnings() (all []string) {
	for line := range strings.Lines(s.String()) {
		if !strings.Contains(line, " level=INFO ") {
			all = append(all, line)
		}
	}
	return all
}
