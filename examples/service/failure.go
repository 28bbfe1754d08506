package main

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"strconv"
	"time"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
)

// failure is the error response to a client. Programs use the kind and, if there is one, the
// field; people read the rest.
type failure struct {
	Kind   string `json:"kind"`             // see README.md
	Field  string `json:"field,omitempty"`  // path in the job that was sent, such as pieces[3].length
	Value  string `json:"value,omitempty"`  // its value
	Want   string `json:"want,omitempty"`   // the valid values
	Detail string `json:"detail,omitempty"` // one sentence

	// Others are the other faults, so that a form can mark all of its fields at once.
	Others []fault `json:"others,omitempty"`

	status int
	cause  error         // for the log only
	retry  time.Duration // delay after which a retry may succeed; zero if it never will
	allow  string        // valid methods
	hangUp bool          // the connection cannot be reused
}

// fault is one invalid field.
type fault struct {
	Field  string `json:"field"`
	Value  string `json:"value,omitempty"`
	Want   string `json:"want,omitempty"`
	Detail string `json:"detail,omitempty"` // why it could not be parsed
}

// faulty makes a failure of the fields that an error names; it returns nil for any other error.
func faulty(status int, kind string, err error) *failure {
	var all []fault
	for bad := range measure.FieldErrors(err) {
		f := fault{Field: bad.Field, Value: bad.Value, Want: bad.Want}
		if bad.Err != nil {
			f.Detail = bad.Err.Error()
		}
		all = append(all, f)
	}
	if len(all) == 0 {
		return nil
	}
	first := all[0]
	return &failure{
		status: status, Kind: kind, Field: first.Field, Value: first.Value, Want: first.Want, Detail: first.Detail,
		Others: all[1:],
	}
}

func (f *failure) json() []byte {
	text, err := json.Marshal(map[string]*failure{"error": f})
	if err != nil {
		return []byte(`{"error":{"kind":"internal"}}`)
	}
	return append(text, '\n')
}

func internal(err error) *failure {
	return &failure{status: http.StatusInternalServerError, Kind: "internal", Detail: "This is the server's fault and has been noted.", cause: err}
}

func badJSON(err error) *failure {
	if f := faulty(http.StatusBadRequest, "json", err); f != nil {
		return f
	}
	return &failure{status: http.StatusBadRequest, Kind: "json", Detail: err.Error()}
}

// noTurn explains why a job is not begun.
func (s *service) noTurn(err error) *failure {
	switch {
	case errors.Is(err, errFull):
		return &failure{
			status: http.StatusTooManyRequests, Kind: "busy", retry: s.deadline / 2,
			Want: "the same again later", Detail: "As many jobs wait as the server lets wait.",
		}
	case errors.Is(err, errClosing):
		return &failure{
			status: http.StatusServiceUnavailable, Kind: "closing", retry: s.deadline, hangUp: true,
			Want: "the same again later", Detail: "This server ends and begins no job any more.",
		}
	}
	return &failure{
		status: http.StatusServiceUnavailable, Kind: "busy", retry: s.deadline,
		Want: "the same again later", Detail: "No turn came up in time.",
	}
}

// noPlan distinguishes errors that the client can correct, those that have no remedy, and those
// that need more time.
func (s *service) noPlan(err error) *failure {
	if f := faulty(http.StatusUnprocessableEntity, "problem", err); f != nil {
		return f
	}
	var (
		never *optimize.InfeasibleError
		limit *optimize.LimitError
	)
	switch {
	case errors.As(err, &never):
		f := &failure{status: http.StatusUnprocessableEntity, Kind: "infeasible", Want: "longer or more sticks, or fewer pieces", Detail: err.Error()}
		if i := max(never.Piece, never.ShortFrom); i >= 0 {
			f.Field = "pieces[" + strconv.Itoa(i) + "]"
			if never.Reason == optimize.ReasonPieceTooLong {
				f.Field, f.Value, f.Want = f.Field+".length", never.Need.About(never.Have), never.Have.About(never.Need)+" at most"
			}
		}
		return f
	case errors.Is(err, errClosing):
		return s.noTurn(errClosing)
	case errors.As(err, &limit), errors.Is(err, context.DeadlineExceeded), errors.Is(err, context.Canceled):
		// The context's own error means that the solve had not begun.
		return &failure{status: http.StatusServiceUnavailable, Kind: "time", retry: s.deadline, Want: "a smaller job, or the same again later", Detail: err.Error()}
	}
	return internal(err)
}

// noSheet reports faults that concern only a sheet, such as a label that is not UTF-8.
func (s *service) noSheet(err error) *failure {
	if bad := (*measure.FieldError)(nil); errors.As(err, &bad) || errors.Is(err, context.DeadlineExceeded) {
		return s.noPlan(err)
	}
	return internal(err)
}
