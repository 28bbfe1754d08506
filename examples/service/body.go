package main

import (
	"context"
	"errors"
	"io"
	"net/http"
	"os"
	"strconv"
	"time"
)

// receiveBody reads the whole body, or reports what is missing. A body that is still arriving
// when the server closes is not awaited. It returns what has arrived in any case.
func (s *service) receiveBody(e *exchange) ([]byte, *failure) {
	ended := make(chan struct{})
	stop := context.AfterFunc(s.closing, func() {
		defer close(ended)
		e.c.SetReadDeadline(time.Unix(1, 0))
	})
	text, err := io.ReadAll(http.MaxBytesReader(e.ResponseWriter, e.r.Body, s.body))
	if !stop() {
		<-ended // the controller must not be used after the request
	}
	if err == nil {
		return text, nil // the server continues reading without a deadline, to notice a disconnect
	}
	if s.closing.Err() != nil {
		return text, s.noTurn(errClosing)
	}
	f := badBody(err, len(text), e.r.ContentLength)
	if f.status == http.StatusRequestTimeout {
		f.Want += " within " + s.receive.String()
	}
	return text, f
}

// badBody explains why a body was incomplete.
func badBody(err error, got int, announced int64) *failure {
	want := "the whole of it, to the last chunk"
	if announced >= 0 {
		want = strconv.FormatInt(announced, 10) + " bytes"
	}
	value := strconv.Itoa(got) + " bytes"
	if large := (*http.MaxBytesError)(nil); errors.As(err, &large) {
		return &failure{
			status: http.StatusRequestEntityTooLarge, Kind: "size", hangUp: true,
			Field: "body", Value: "more", Want: strconv.FormatInt(large.Limit, 10) + " bytes at most",
		}
	}
	if errors.Is(err, os.ErrDeadlineExceeded) {
		return &failure{status: http.StatusRequestTimeout, Kind: "stalled", hangUp: true, Field: "body", Value: value, Want: want}
	}
	return &failure{
		status: http.StatusBadRequest, Kind: "cut off", hangUp: true, Field: "body", Value: value, Want: want,
		Detail: err.Error(),
	}
}
