package main

import (
	"bytes"
	"encoding/json"
	"net/http"
	"time"

	"example.com/longpoint/optimize"
)

// stream is an answer in lines, each of which is a JSON object: one with progress now and
// then, and at the end one with the sheet or the error. A line is written while the search
// waits, and a client that takes none ends it.
type stream struct {
	w    http.ResponseWriter
	c    *http.ResponseController
	pace time.Duration // at least, between two lines
	send time.Duration // for a client to take a line

	begun bool
	last  time.Time

	// A second turn of a job counts from nothing: its steps are added, and a bound that was
	// shown still holds.
	before, work, bound int64
}

// tell writes how far a search is. It reports whether anybody still listens.
func (s *stream) tell(now optimize.Progress) bool {
	if now.Work < s.work {
		s.before += s.work
	}
	s.work = now.Work
	s.bound = max(s.bound, now.Bound)
	if s.begun && time.Since(s.last) < s.pace {
		return true
	}
	now.Work, now.Bound = s.before+s.work, s.bound
	text, err := json.Marshal(map[string]any{"progress": now})
	return err == nil && s.line(text)
}

// end writes the last line: the sheet, which is JSON, or what went wrong.
func (s *stream) end(sheet []byte, f *failure) {
	if f != nil {
		s.line(bytes.TrimSuffix(f.json(), []byte("\n")))
		return
	}
	var line bytes.Buffer
	line.WriteString(`{"sheet":`)
	if err := json.Compact(&line, sheet); err != nil {
		s.end(nil, internal(err))
		return
	}
	line.WriteByte('}')
	s.line(line.Bytes())
}

func (s *stream) line(text []byte) bool {
	if !s.begun {
		s.begun = true
		s.w.Header().Set("Content-Type", "application/x-ndjson")
		s.w.Header().Set("X-Content-Type-Options", "nosniff")
		s.w.Header().Set("Cache-Control", "no-store")
		s.w.WriteHeader(http.StatusOK)
	}
	s.c.SetWriteDeadline(time.Now().Add(s.send))
	_, err := s.w.Write(append(text, '\n'))
	if err == nil {
		err = s.c.Flush()
	}
	s.last = time.Now()
	return err == nil
}
