package main

import (
	"encoding/json"
	"time"

	"github.com/riverqueue/river"
	"github.com/riverqueue/river/rivertype"
)

// cutJob is what waits in the queue: one room's cuts of one molding.
type cutJob struct {
	Name    string          `json:"name"`
	Problem json.RawMessage `json:"problem"` // an optimize.Problem, read strictly by whoever works on it
}

// Kind names the job in the queue, for ever.
func (cutJob) Kind() string { return "cut" }

// attempts are how often a job is begun before it is given up: a worker may die of something else
// than the job.
const attempts = 10

// InsertOpts are those of every job; the best priority is left to what is urgent.
func (cutJob) InsertOpts() river.InsertOpts {
	return river.InsertOpts{MaxAttempts: attempts, Priority: 2}
}

// retry says when a job that failed is begun again: after a second, then after twice as long each time.
type retry struct{}

func (retry) NextRetry(job *rivertype.JobRow) time.Time {
	return time.Now().Add(time.Second << min(max(job.Attempt-1, 0), 6))
}
