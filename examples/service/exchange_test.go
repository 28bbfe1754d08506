package main

import (
	"context"
	"net/http/httptest"
	"os"
	"strings"
	"testing"
)

// quick is a client that hangs up as soon as it has all of its answer.
type quick struct {
	*httptest.ResponseRecorder
	hangUp context.CancelFunc
	want   string // is in its last part
}

func (q quick) Write(p []byte) (int, error) {
	defer func() {
		if strings.Contains(q.Body.String(), q.want) {
			q.hangUp()
		}
	}()
	return q.ResponseRecorder.Write(p)
}

// A client that has all of its answer and hangs up before the server has come to its end is not
// one that left; one that hangs up before is.
func TestGone(t *testing.T) {
	job, err := os.ReadFile("job.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, target string
		early        bool
		want         int64
	}{
		{"all of it", "/plan", false, 0},
		{"all of it, in lines", "/plan?progress=lines", false, 0},
		{"before", "/plan", true, 1},
		{"before, in lines", "/plan?progress=lines", true, 1},
	} {
		s := newService(brief(), quiet())
		ctx, hangUp := context.WithCancel(t.Context())
		r := httptest.NewRequestWithContext(ctx, "POST", c.target, strings.NewReader(string(job)))
		r.Header.Set("Content-Type", "application/json")
		if c.early {
			hangUp()
		}
		s.ServeHTTP(quick{httptest.NewRecorder(), hangUp, `"plan":`}, r)
		if ctx.Err() == nil {
			t.Errorf("%s: the answer is incomplete", c.name)
		}
		if s.counts.gone != c.want {
			t.Errorf("%s: %d clients are counted as gone, want %d", c.name, s.counts.gone, c.want)
		}
		hangUp()
	}
}
