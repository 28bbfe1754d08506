package main

import (
	"encoding/json"
	"time"

	"github.com/riverqueue/river"
	"github.com/riverqueue/river/rivertype"
)

// cutJob is a queued job: one room's cuts of one molding.
type cutJob struct {
	Name    string          `json:"name"`
	Problem json.RawMessage `json:"problem"` // an optimize.Problem, read strictly by the worker
}

// Kind is the permanent name of the job in the queue.
func (cutJob) Kind() string { return "cut" }

// attempts is the number of tries before a job is given up: a worker may die for other reasons
// than the job.
const attempts = 10

// InsertOpts are those of every job; the best priority is reserved for urgent ones.
func (cutJob) InsertOpts() river.InsertOpts {
	return river.InsertOpts{MaxAttempts: attempts, Priority: 2}
}

// retry delays a failed job: by a second, then twice as long each time.
type retry struct{}

func (retry) NextRetry(job *rivertype.JobRow) time.Time {
	return time.Now().Add(time.Second << min(max(job.Attempt-1, 0), 6))
}
