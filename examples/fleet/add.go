package main

import (
	"bufio"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"iter"
	"os"

	"example.com/longpoint/measure"
	"github.com/riverqueue/river"
)

// madeUp returns the first n made-up jobs.
func madeUp(n int) iter.Seq2[cutJob, error] {
	return func(yield func(cutJob, error) bool) {
		for k := range n {
			if !yield(made(k)) {
				return
			}
		}
	}
}

// longest is the greatest length of a line in a file of jobs, in bytes, far above any job.
const longest = 8 << 20

// addFile adds the jobs of a file, once: a process that is started again with the same file,
// because it is unknown whether the last one succeeded, adds nothing. An invalid line is named,
// and then no job is added; whether a job is valid shows when it is solved.
func addFile[TTx any](ctx context.Context, w io.Writer, db *database[TTx], queue *river.Client[TTx], path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	hash := sha256.New()
	if _, err := io.Copy(hash, f); err != nil {
		return err
	}
	if _, err := f.Seek(0, io.SeekStart); err != nil {
		return err
	}
	batch := hex.EncodeToString(hash.Sum(nil))
	lines := bufio.NewScanner(f)
	lines.Buffer(nil, longest)
	added, err := add(ctx, db, queue, batch, func(yield func(cutJob, error) bool) {
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
			if err == nil && holdsNUL(lines.Bytes()) {
				err = fmt.Errorf("a text holds the character U+0000, which a server does not take")
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
	if err == nil && !added {
		fmt.Fprintf(w, "%s was added before: it is not added again\n", path)
	}
	return err
}

// holdsNUL reports whether a JSON text contains the character U+0000, which occurs only as an
// escape.
func holdsNUL(text []byte) bool {
	for i := 0; i < len(text); i++ {
		if text[i] != '\\' {
			continue
		}
		if bytes.HasPrefix(text[i:], []byte(`\u0000`)) {
			return true
		}
		i++ // the escaped character may be a backslash
	}
	return false
}

// add puts jobs into the queue, all or none, and reports whether it did: those of a batch that
// was added before are not. An empty batch is always new.
func add[TTx any](ctx context.Context, db *database[TTx], queue *river.Client[TTx], batch string, jobs iter.Seq2[cutJob, error]) (added bool, err error) {
	const together = 500
	err = db.within(ctx, func(tx TTx) error {
		if added = true; batch != "" {
			var err error
			if added, err = db.first(ctx, tx, batch); err != nil || !added {
				return err
			}
		}
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
	return added, err
}
