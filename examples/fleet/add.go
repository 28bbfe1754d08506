package main

import (
	"bufio"
	"context"
	"fmt"
	"iter"
	"os"

	"example.com/longpoint/measure"
	"github.com/riverqueue/river"
)

// madeUp are the first n jobs that are made up.
func madeUp(n int) iter.Seq2[cutJob, error] {
	return func(yield func(cutJob, error) bool) {
		for k := range n {
			if !yield(made(k)) {
				return
			}
		}
	}
}

// longest is the longest line of a file of jobs, in bytes: as much as a job may have by far.
const longest = 8 << 20

// addFile adds the jobs of a file. A line that is no job is named, and none is added then; whether
// a job makes sense is found out when it is worked on.
func addFile[TTx any](ctx context.Context, db *database[TTx], queue *river.Client[TTx], path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	lines := bufio.NewScanner(f)
	lines.Buffer(nil, longest)
	return add(ctx, db, queue, func(yield func(cutJob, error) bool) {
		n := 1
		for ; lines.Scan(); n++ {
			if len(lines.Bytes()) == 0 {
				continue
			}
			var j cutJob
			err := measure.UnmarshalStrict(lines.Bytes(), &j)
			if err == nil && (j.Name == "" || len(j.Problem) == 0) {
				err = fmt.Errorf("name or problem is missing")
			}
			if err != nil {
				err = fmt.Errorf("%s, line %d: %w", path, n, err)
			}
			if !yield(j, err) {
				return
			}
		}
		if err := lines.Err(); err != nil {
			yield(cutJob{}, fmt.Errorf("%s, line %d: %w", path, n, err))
		}
	})
}

// add puts jobs into the queue, all of them or none.
func add[TTx any](ctx context.Context, db *database[TTx], queue *river.Client[TTx], jobs iter.Seq2[cutJob, error]) error {
	const together = 500
	return db.within(ctx, func(tx TTx) error {
		var some []river.InsertManyParams
		insert := func() error {
			if len(some) == 0 {
				return nil
			}
			_, err := queue.InsertManyFastTx(ctx, tx, some)
			some = some[:0]
			return err
		}
		for j, err := range jobs {
			if err != nil {
				return err
			}
			if some = append(some, river.InsertManyParams{Args: j}); len(some) == together {
				if err := insert(); err != nil {
					return err
				}
			}
		}
		return insert()
	})
}
