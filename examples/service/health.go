package main

import "net/http"

// Two questions of a monitor: whether the program runs, which it answers as long as it can, and
// whether it accepts jobs, which it denies once shutdown begins. Load balancers can then switch
// before any job is refused: see drain.

func (s *service) ready() bool { return s.leaving.Err() == nil }

func (s *service) answerHealth(e *exchange) {
	s.reply(e, http.StatusOK, "text/plain; charset=utf-8", []byte("alive\n"))
}

func (s *service) answerReady(e *exchange) {
	status, text := http.StatusOK, "ready\n"
	if !s.ready() {
		status, text = http.StatusServiceUnavailable, "closing\n"
	}
	s.reply(e, status, "text/plain; charset=utf-8", []byte(text))
}

func (s *service) answerMetrics(e *exchange) {
	s.reply(e, http.StatusOK, expositionType, s.expose())
}
