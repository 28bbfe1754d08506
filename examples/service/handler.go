package main

import (
	"bytes"
	"context"
	"errors"
	"log/slog"
	"maps"
	"mime"
	"net/http"
	"slices"
	"strings"
	"sync"
	"time"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
)

// service answers jobs. Its zero value is not ready; see newService.
type service struct {
	limits
	short, long *lane
	log         *slog.Logger
	counts      *counts
	routes      map[string]route
	zippers     sync.Pool  // of *gzip.Writer, each of which is large
	connected   func() int // number of open connections, nil if unknown

	// A server that is leaving reports that it is not ready, begins no job once closing has
	// ended, and ends running solves when cutting has: see drain.
	leaving, closing, cutting context.Context
	leave, close, cut         context.CancelFunc

	// solve is optimize.Solve. Tests replace it by one that waits.
	solve func(context.Context, optimize.Problem, *optimize.Options) (*optimize.Plan, error)
}

// route is the resource at a path.
type route struct {
	methods []string
	answer  func(*exchange)
}

func newService(l limits, log *slog.Logger) *service {
	s := &service{
		limits: l, short: newLane(l.short, l.queue), long: newLane(l.long, l.queue),
		log: log, counts: newCounts(), solve: optimize.Solve,
	}
	s.leaving, s.leave = context.WithCancel(context.Background())
	s.closing, s.close = context.WithCancel(context.Background())
	s.cutting, s.cut = context.WithCancel(context.Background())
	look := []string{http.MethodGet, http.MethodHead}
	s.routes = map[string]route{
		"/plan":    {[]string{http.MethodPost}, s.answerJob},
		"/healthz": {look, s.answerHealth},
		"/readyz":  {look, s.answerReady},
		"/metrics": {look, s.answerMetrics},
	}
	return s
}

// ServeHTTP answers POST /plan, whose body is an optimize.Problem, with a cut sheet in the
// format that Accept requests; the query proof=full requests its proof as well, and a format in
// lines or events reports the progress, see stream. Errors are a failure as JSON. There are
// also GET /healthz, /readyz and /metrics.
//
// It responds whether the client still listens or not: a request's context also ends if the
// body breaks off or only the client's half of the connection is closed.
func (s *service) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	e := s.newExchange(w, r)
	s.counts.begin()
	defer func() {
		s.counts.end(e)
		s.logged(e)
	}()
	e.c.SetWriteDeadline(time.Time{}) // not that of the previous response on this connection
	// Until the body has arrived, even if it is not read: the server drains a short one before
	// it responds.
	if err := e.c.SetReadDeadline(time.Now().Add(s.receive)); errors.Is(err, http.ErrNotSupported) {
		s.log.Error("a slow client cannot be stopped", "cause", err)
	}
	to, ok := s.routes[r.URL.Path]
	if !ok {
		paths := strings.Join(slices.Sorted(maps.Keys(s.routes)), ", ")
		s.refuse(e, &failure{status: http.StatusNotFound, Kind: "path", Field: "path", Value: r.URL.Path, Want: paths})
		return
	}
	if !slices.Contains(to.methods, r.Method) {
		want := strings.Join(to.methods, ", ")
		s.refuse(e, &failure{status: http.StatusMethodNotAllowed, Kind: "method", Field: "method", Value: r.Method, Want: want, allow: want})
		return
	}
	to.answer(e)
}

// answerJob answers a job and records its outcome.
func (s *service) answerJob(e *exchange) {
	want, f := wanted(e.r)
	if f != nil {
		e.outcome = f.Kind
		s.refuse(e, f)
		return
	}
	lines := &stream{w: e, c: e.c, pace: s.pace, send: s.send, event: want.form.event}
	body, plan, f := s.plan(e, want, lines)
	switch {
	case f != nil:
		e.outcome = f.Kind
	case plan.Proven:
		e.outcome = "proven"
	default:
		e.outcome = "unproven"
	}
	if f != nil && f.cause != nil {
		s.log.Error("a job failed", "cause", f.cause)
	}
	switch {
	case lines.begun, f == nil && want.form.streams():
		e.media = want.form.media
		lines.end(body, f)
	case f != nil:
		s.refuse(e, f)
	default:
		s.reply(e, http.StatusOK, want.form.media+want.form.params, body)
	}
}

// plan reads a job and solves it.
func (s *service) plan(e *exchange, want wants, lines *stream) ([]byte, *optimize.Plan, *failure) {
	p, f := s.readJob(e)
	if f != nil {
		return nil, nil, f
	}
	ctx, cancel := context.WithTimeout(e.r.Context(), s.deadline)
	defer cancel()
	ctx, cut := context.WithCancelCause(ctx)
	defer cut(nil)
	defer context.AfterFunc(s.cutting, func() { cut(errClosing) })()
	j := &job{Problem: p, exchange: e}
	if want.form.streams() {
		j.tell = lines.tell
	}
	if want.form.event {
		defer lines.beat(s.beat, func() { cut(context.Canceled) })()
	}
	var last *optimize.Plan
	j.sheet = func(plan *optimize.Plan) ([]byte, *failure) {
		last = plan
		if want.form.proof && !want.proof {
			plan = plan.WithoutProof()
		}
		// The search may have used all its time, and the end of the request's context may only
		// mean that the client has sent everything.
		own, done := context.WithTimeout(context.WithoutCancel(ctx), s.sheet)
		defer done()
		return s.render(own, p, plan, want.form)
	}
	body, f := s.settle(ctx, j)
	return body, last, f
}

// readJob reads a job and enforces the limits.
func (s *service) readJob(e *exchange) (p optimize.Problem, f *failure) {
	h := e.r.Header
	if t, _, err := mime.ParseMediaType(h.Get("Content-Type")); err != nil || t != "application/json" {
		return p, &failure{status: http.StatusUnsupportedMediaType, Kind: "type", Field: "Content-Type", Value: h.Get("Content-Type"), Want: "application/json"}
	}
	if c := strings.Join(h.Values("Content-Encoding"), ", "); c != "" && !strings.EqualFold(c, "identity") {
		return p, &failure{status: http.StatusUnsupportedMediaType, Kind: "encoding", Field: "Content-Encoding", Value: c, Want: "identity, or none"}
	}
	text, f := s.receiveBody(e)
	e.got = len(text)
	if f != nil {
		return p, f
	}
	if err := measure.UnmarshalStrict(text, &p); err != nil {
		return p, badJSON(err)
	}
	e.sticks = len(p.Sticks)
	e.pieces, f = s.tooMuch(p)
	return p, f
}

func (s *service) render(ctx context.Context, p optimize.Problem, plan *optimize.Plan, as *form) ([]byte, *failure) {
	sheet, err := cutsheet.New(ctx, p, plan, nil)
	if err != nil {
		return nil, s.noSheet(err)
	}
	var out bytes.Buffer
	if err := as.write(sheet, &out); err != nil {
		return nil, internal(err)
	}
	return out.Bytes(), nil
}
