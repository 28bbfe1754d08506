package main

import (
	"compress/gzip"
	"context"
	"io"
	"net/http"
	"strconv"
	"time"
)

// exchange is one request and its response, with the data for the log and the metrics: no
// address, no body, and no free text of a client.
type exchange struct {
	http.ResponseWriter
	r     *http.Request
	c     *http.ResponseController
	began time.Time

	route   string // a known route, or "other"
	media   string // of the response
	outcome string // of a job: see metrics
	status  int    // as sent; zero if nothing was
	sent    int64  // bytes of response, compressed if it is
	got     int    // bytes of body
	sticks  int    // kinds
	pieces  int64
	turns   int
	work    int64 // steps
	failed  bool  // the client did not receive all
	left    bool  // it had disconnected when the response was last extended
}

func (s *service) newExchange(w http.ResponseWriter, r *http.Request) *exchange {
	e := &exchange{ResponseWriter: w, r: r, began: time.Now(), route: "other"}
	e.c = http.NewResponseController(e)
	if _, ok := s.routes[r.URL.Path]; ok {
		e.route = r.URL.Path
	}
	return e
}

// Unwrap lets a ResponseController find the connection.
func (e *exchange) Unwrap() http.ResponseWriter { return e.ResponseWriter }

func (e *exchange) WriteHeader(status int) {
	if e.status == 0 {
		e.status = status
	}
	e.look()
	e.ResponseWriter.WriteHeader(status)
}

func (e *exchange) Write(p []byte) (int, error) {
	e.look()
	n, err := e.ResponseWriter.Write(p)
	e.sent += int64(n)
	e.failed = e.failed || err != nil
	return n, err
}

// look checks whether the client has disconnected. It checks before anything is sent, not
// after: a client with its whole response may hang up before the server is done with it.
func (e *exchange) look() { e.left = context.Cause(e.r.Context()) == context.Canceled }

// gone reports whether the client disconnected before it had its response, as far as a server
// can tell.
func (e *exchange) gone() bool {
	return e.failed || e.status == 0 || e.left
}

// method returns a known method, or "other".
func (e *exchange) method() string {
	switch e.r.Method {
	case http.MethodGet, http.MethodHead, http.MethodPost, http.MethodPut, http.MethodDelete, http.MethodOptions, http.MethodPatch:
		return e.r.Method
	}
	return "other"
}

// worthwhile is the least size worth compressing; a shorter response fits one packet as it is.
const worthwhile = 1200

// reply sends a whole response, compressed if the client accepts that.
func (s *service) reply(e *exchange, status int, media string, body []byte) {
	h := e.Header()
	e.media = media
	h.Set("Content-Type", media)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Cache-Control", "no-store")
	h.Set("Vary", "Accept, Accept-Encoding")
	small := len(body) < worthwhile || !takesGzip(e.r.Header.Values("Accept-Encoding"))
	if small {
		h.Set("Content-Length", strconv.Itoa(len(body)))
	} else {
		h.Set("Content-Encoding", "gzip")
	}
	e.c.SetWriteDeadline(time.Now().Add(s.send))
	e.WriteHeader(status)
	if e.r.Method == http.MethodHead {
		return
	}
	if small {
		e.Write(body)
		return
	}
	z, ok := s.zippers.Get().(*gzip.Writer)
	if !ok {
		z = gzip.NewWriter(io.Discard)
	}
	z.Reset(e)
	z.Write(body)
	z.Close()
	z.Reset(io.Discard) // release the connection
	s.zippers.Put(z)
}

// refuse sends a failure.
func (s *service) refuse(e *exchange, f *failure) {
	h := e.Header()
	if f.retry > 0 {
		h.Set("Retry-After", strconv.FormatInt(int64((f.retry+time.Second-1)/time.Second), 10))
	}
	if f.hangUp {
		h.Set("Connection", "close")
	}
	if f.allow != "" {
		h.Set("Allow", f.allow)
	}
	if f.Kind == "encoding" {
		h.Set("Accept-Encoding", "identity") // RFC 9110, section 15.5.16
	}
	s.reply(e, f.status, "application/json", f.json())
}

// logged writes the log line of a request.
func (s *service) logged(e *exchange) {
	line := []any{
		"method", e.method(), "route", e.route, "status", e.status, "seconds", time.Since(e.began).Seconds(),
		"received", e.got, "sent", e.sent,
	}
	if e.outcome != "" {
		line = append(line, "outcome", e.outcome)
	}
	if e.turns > 0 {
		line = append(line, "sticks", e.sticks, "pieces", e.pieces, "turns", e.turns, "work", e.work)
	}
	if e.gone() {
		line = append(line, "gone", true)
	}
	s.log.Info("answered", line...)
}
