package main

import (
	"bytes"
	"context"
	"errors"
	"log/slog"
	"mime"
	"net/http"
	"net/url"
	"strconv"
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

	// A server that closes begins no job once closing has ended, and ends the solves
	// that still run when cutting has: see close and cut.
	closing, cutting context.Context
	close, cut       context.CancelFunc

	// solve is optimize.Solve. Tests put one here that waits.
	solve func(context.Context, optimize.Problem, *optimize.Options) (*optimize.Plan, error)
}

func newService(l limits, log *slog.Logger) *service {
	s := &service{limits: l, short: newLane(l.short, l.queue), long: newLane(l.long, l.queue), log: log, solve: optimize.Solve}
	s.closing, s.close = context.WithCancel(context.Background())
	s.cutting, s.cut = context.WithCancel(context.Background())
	return s
}

// ServeHTTP answers POST /plan, whose body is an optimize.Problem, with a cut
// sheet as JSON; the query proof=full asks for its proof as well, and progress=lines for
// an answer in lines that say how far the search is, see stream. What goes wrong is
// a failure as JSON.
//
// It answers whether the client still listens or not: a request's context ends, too,
// where the body breaks off or only the client's half of the connection is closed.
func (s *service) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	c := http.NewResponseController(w)
	c.SetWriteDeadline(time.Time{}) // not that of the answer before on this connection
	// Until the body is there, even where it is not read: the server takes what is left
	// of a short one before it answers.
	if err := c.SetReadDeadline(time.Now().Add(s.receive)); errors.Is(err, http.ErrNotSupported) {
		s.log.Error("a slow client cannot be stopped", "cause", err)
	}
	status := http.StatusOK
	lines := &stream{w: w, c: c, pace: s.pace, send: s.send}
	body, f := s.answer(w, r, lines)
	if f != nil && f.cause != nil {
		s.log.Error("a job failed", "cause", f.cause)
	}
	if lines.begun {
		lines.end(body, f)
		return
	}
	if f != nil {
		if f.retry > 0 {
			w.Header().Set("Retry-After", strconv.FormatInt(int64((f.retry+time.Second-1)/time.Second), 10))
		}
		if f.hangUp {
			w.Header().Set("Connection", "close")
		}
		status, body = f.status, f.json()
	}
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("X-Content-Type-Options", "nosniff")
	w.Header().Set("Content-Length", strconv.Itoa(len(body)))
	c.SetWriteDeadline(time.Now().Add(s.send))
	w.WriteHeader(status)
	w.Write(body)
}

func (s *service) answer(w http.ResponseWriter, r *http.Request, lines *stream) ([]byte, *failure) {
	if r.URL.Path != "/plan" {
		return nil, &failure{status: http.StatusNotFound, Kind: "path", Field: "path", Value: r.URL.Path, Want: "/plan"}
	}
	if r.Method != http.MethodPost {
		w.Header().Set("Allow", http.MethodPost)
		return nil, &failure{status: http.StatusMethodNotAllowed, Kind: "method", Field: "method", Value: r.Method, Want: http.MethodPost}
	}
	want, f := wanted(r.URL.RawQuery)
	if f != nil {
		return nil, f
	}
	if t, _, err := mime.ParseMediaType(r.Header.Get("Content-Type")); err != nil || t != "application/json" {
		return nil, &failure{status: http.StatusUnsupportedMediaType, Kind: "type", Field: "Content-Type", Value: r.Header.Get("Content-Type"), Want: "application/json"}
	}
	text, f := s.receiveBody(w, r)
	if f != nil {
		return nil, f
	}
	var p optimize.Problem
	if err := measure.UnmarshalStrict(text, &p); err != nil {
		return nil, badJSON(err)
	}
	if f := s.tooMuch(p); f != nil {
		return nil, f
	}

	ctx, cancel := context.WithTimeout(r.Context(), s.deadline)
	defer cancel()
	ctx, cut := context.WithCancelCause(ctx)
	defer cut(nil)
	defer context.AfterFunc(s.cutting, func() { cut(errClosing) })()
	var tell func(optimize.Progress) bool
	if want.lines {
		tell = lines.tell
	}
	return s.settle(ctx, p, tell, func(plan *optimize.Plan) ([]byte, *failure) {
		if !want.proof {
			plan = plan.WithoutProof()
		}
		// The search may have used up its time. Whoever reads the answer may have said all
		// that it has to say, which ends the request's context.
		own, done := context.WithTimeout(context.WithoutCancel(ctx), s.sheet)
		defer done()
		return s.render(own, p, plan)
	})
}

// wants is what a query asks for.
type wants struct {
	proof bool // with the proof
	lines bool // progress in lines
}

// wanted reads the query. A name that is misspelled would otherwise be a proof
// that is missed.
func wanted(query string) (w wants, f *failure) {
	bad := func(field, value, want string) (wants, *failure) {
		return wants{}, &failure{status: http.StatusBadRequest, Kind: "query", Field: field, Value: value, Want: want}
	}
	values, err := url.ParseQuery(query)
	if err != nil {
		return bad("query", query, "names and values as a form writes them")
	}
	for _, x := range []struct {
		name, yes string
		to        *bool
	}{{"proof", "full", &w.proof}, {"progress", "lines", &w.lines}} {
		v := values[x.name]
		delete(values, x.name)
		switch {
		case len(v) == 0, len(v) == 1 && v[0] == "none":
		case len(v) == 1 && v[0] == x.yes:
			*x.to = true
		default:
			return bad(x.name, query, "none or "+x.yes+", once")
		}
	}
	if len(values) > 0 {
		return bad("query", query, "proof and progress, and nothing else")
	}
	return w, nil
}

func (s *service) render(ctx context.Context, p optimize.Problem, plan *optimize.Plan) ([]byte, *failure) {
	sheet, err := cutsheet.New(ctx, p, plan, nil)
	if err != nil {
		return nil, s.noSheet(err)
	}
	var out bytes.Buffer
	if err := sheet.JSON(&out); err != nil {
		return nil, internal(err)
	}
	return out.Bytes(), nil
}
