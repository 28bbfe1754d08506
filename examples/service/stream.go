package main

import (
	"bytes"
	"encoding/json"
	"net/http"
	"strconv"
	"sync"
	"time"

	"example.com/longpoint/optimize"
)

// stream is a response in parts: now and then one with progress, and at the end one with the
// sheet or the failure. A part is a line, a JSON object with one field that names it, or a
// server-sent event as in the HTML standard of the WHATWG. The search waits while a part is
// written, and ends if the client does not read.
type stream struct {
	w     http.ResponseWriter
	c     *http.ResponseController
	pace  time.Duration // least time between two parts
	send  time.Duration // for sending a part
	event bool          // parts are events

	mu    sync.Mutex // see beat
	begun bool
	last  time.Time // of the last write
	parts int

	told time.Time // of progress

	// A second turn of a job counts from zero: its steps are added, and an earlier bound still
	// holds.
	before, work, bound int64
}

// tell writes the progress of a search. It reports whether the client still listens.
func (s *stream) tell(now optimize.Progress) bool {
	if now.Work < s.work {
		s.before += s.work
	}
	s.work = now.Work
	s.bound = max(s.bound, now.Bound)
	if !s.told.IsZero() && time.Since(s.told) < s.pace {
		return true
	}
	now.Work, now.Bound = s.before+s.work, s.bound
	text, err := json.Marshal(now)
	ok := err == nil && s.part("progress", text)
	s.told = time.Now()
	return ok
}

// end writes the last part: the sheet, which is JSON, or the failure.
func (s *stream) end(sheet []byte, f *failure) {
	var one bytes.Buffer
	if f == nil {
		if err := json.Compact(&one, sheet); err != nil {
			f = internal(err)
		}
	}
	if f == nil {
		s.part("sheet", one.Bytes())
		return
	}
	text, err := json.Marshal(f)
	if err != nil {
		text = []byte(`{"kind":"internal"}`)
	}
	s.part("error", text)
}

func (s *stream) part(name string, data []byte) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.parts++
	if !s.event {
		return s.put(`{"` + name + `":` + string(data) + "}\n")
	}
	if name == "error" {
		name = "failure" // browsers use "error" for their own connection errors
	}
	return s.put("id: " + strconv.Itoa(s.parts) + "\nevent: " + name + "\ndata: " + string(data) + "\n\n")
}

func (s *stream) put(text string) bool {
	if !s.begun {
		s.begun = true
		h := s.w.Header()
		h.Set("Content-Type", "application/x-ndjson")
		if s.event {
			h.Set("Content-Type", "text/event-stream")
		}
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Cache-Control", "no-store")
		h.Set("Vary", "Accept, Accept-Encoding")
		s.w.WriteHeader(http.StatusOK)
	}
	s.c.SetWriteDeadline(time.Now().Add(s.send))
	_, err := s.w.Write([]byte(text))
	if err == nil {
		err = s.c.Flush()
	}
	s.last = time.Now()
	return err == nil
}

// beat writes a comment after each interval of silence, so that no proxy takes a waiting job
// for a dead connection; if that fails it calls gone. The returned function stops it.
func (s *stream) beat(every time.Duration, gone func()) (stop func()) {
	over, ended := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(ended)
		clock := time.NewTicker(every)
		defer clock.Stop()
		for {
			select {
			case <-over:
				return
			case <-clock.C:
			}
			if !s.comment(every) {
				gone()
				return
			}
		}
	}()
	return func() {
		close(over)
		<-ended
	}
}

func (s *stream) comment(every time.Duration) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return time.Since(s.last) < every/2 || s.put(": still at work\n\n")
}
