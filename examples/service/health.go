package main

import "net/http"

// Two questions that a watcher asks: whether the program lives, which is answered as long as
// it can answer anything, and whether it wants more jobs, which it denies from the moment that it is
// told to end. Who sends it jobs can then stop before any is refused: see drain.

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
