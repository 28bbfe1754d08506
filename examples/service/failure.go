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

// failure is what a client gets instead of a plan. A program goes by the kind
// and, where there is one, the field; a person reads the rest.
type failure struct {
	Kind   string `json:"kind"`             // see README.md
	Field  string `json:"field,omitempty"`  // path in the job that was sent, such as pieces[3].length
	Value  string `json:"value,omitempty"`  // what it holds
	Want   string `json:"want,omitempty"`   // what would be right
	Detail string `json:"detail,omitempty"` // one sentence

	// Others are what is wrong besides, so that a form can mark all of its fields at once.
	Others []fault `json:"others,omitempty"`

	status int
	cause  error         // for the log only
	retry  time.Duration // after which the same may go better; zero where it never will
	allow  string        // methods that are right
	hangUp bool          // the connection is of no more use
}

// fault is one field that is wrong.
type fault struct {
	Field  string `json:"field"`
	Value  string `json:"value,omitempty"`
	Want   string `json:"want,omitempty"`
	Detail string `json:"detail,omitempty"` // why it could not be read
}

// faulty makes a failure of the fields that an error names, or nothing of any other.
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

// noTurn says why a job is not begun.
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

// noPlan tells apart what the client can put right, what nobody can, and what
// takes more time.
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
		// The context's own error is that of a solve which had not begun.
		return &failure{status: http.StatusServiceUnavailable, Kind: "time", retry: s.deadline, Want: "a smaller job, or the same again later", Detail: err.Error()}
	}
	return internal(err)
}

// noSheet answers what only a sheet minds, such as a label that is not UTF-8.
func (s *service) noSheet(err error) *failure {
	if bad := (*measure.FieldError)(nil); errors.As(err, &bad) || errors.Is(err, context.DeadlineExceeded) {
		return s.noPlan(err)
	}
	return internal(err)
}
