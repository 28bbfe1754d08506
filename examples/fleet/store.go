package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"math"
	"time"

	"github.com/riverqueue/river"
	"github.com/riverqueue/river/riverdriver"
	"github.com/riverqueue/river/rivertype"
)

// store writes the sheet of a job, unless there is one. The totals change only with the sheet,
// so nothing is counted twice, however often a job is solved.
func (d *database[TTx]) store(ctx context.Context, tx TTx, job *river.Job[cutJob], s *sheet, worker string) error {
	p := s.plan
	proven, byLength := bit(p.Proven), bit(p.ByLength)
	cost, length := p.Cost, int64(0) // money, or ticks of measure.Length if no stick has a price
	if p.ByLength {
		cost, length = 0, p.Cost
	}
	n, err := d.exec(ctx, tx, d.words.Replace(`insert into sheet
		(job, name, by_length, cost, bound, proven, sticks, work, attempt, worker, milliseconds, finished, document, page)
		values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14) on conflict (job) do nothing`),
		job.ID, s.name, byLength, p.Cost, p.Bound, proven, int64(p.Sticks()), p.Work, int64(job.Attempt), worker,
		s.took.Milliseconds(), time.Now().UnixMilli(), s.document, s.page)
	if err != nil || n == 0 {
		return err
	}
	_, err = d.exec(ctx, tx, d.words.Replace(`update total set sheets = sheets + 1, proven = proven + $1,
		sticks = `+plus("sticks", "$2")+", cost = "+plus("cost", "$3")+", length = "+plus("length", "$4")+" where one = 1"),
		proven, int64(p.Sticks()), cost, length)
	return err
}

// plus adds a number to a column of a total, saturating at its maximum: a mistyped price must
// not keep others from being stored.
func plus(column, number string) string {
	most := fmt.Sprint(int64(math.MaxInt64))
	return "case when " + column + " > " + most + " - " + number + " then " + most + " else " + column + " + " + number + " end"
}

// bit is a bool as both databases store it alike.
func bit(b bool) int64 {
	if b {
		return 1
	}
	return 0
}

// first reports whether a batch of jobs was not added before, and records it.
func (d *database[TTx]) first(ctx context.Context, tx TTx, sum string) (bool, error) {
	n, err := d.exec(ctx, tx, d.words.Replace("insert into batch (sum, added) values ($1, $2) on conflict (sum) do nothing"), sum, time.Now().UnixMilli())
	return n == 1, err
}

// complete ends a job in the transaction that stores its sheet. A job that was deleted, or that
// the queue gave to another worker meanwhile, has its sheet all the same.
func complete[TTx any](ctx context.Context, tx TTx, job *river.Job[cutJob]) error {
	_, err := river.JobCompleteTx[riverdriver.Driver[TTx]](ctx, tx, job)
	if errors.Is(err, rivertype.ErrNotFound) {
		return nil
	}
	return err
}

// has reports whether a job has its sheet.
func (d *database[TTx]) has(ctx context.Context, job int64) (bool, error) {
	var one int
	err := d.read.QueryRowContext(ctx, d.words.Replace("select 1 from sheet where job = $1"), job).Scan(&one)
	if errors.Is(err, sql.ErrNoRows) {
		return false, nil
	}
	return err == nil, err
}

// state is the data of the page and the metrics.
type state struct {
	Jobs  map[string]int64 // by the queue's name of their state
	Total total
	Last  []finished
	Busy  []busy
	Ended []ended
}

// total is the sum of all sheets: Cost of those whose sticks have prices, Length in ticks of
// measure.Length of the sticks of the others.
type total struct{ Sheets, Proven, Sticks, Cost, Length int64 }

// finished is a job that has its sheet.
type finished struct {
	Job                                       int64
	Name, Worker                              string
	Cost, Bound, Sticks, Attempt, Millisecond int64
	Proven, ByLength                          bool // ByLength: Cost and Bound are lengths
	At                                        time.Time
}

// jobs counts the jobs of the queue by state.
func (d *database[TTx]) jobs(ctx context.Context) (map[string]int64, error) {
	rows, err := d.read.QueryContext(ctx, "select cast(state as text), count(*) from river_job group by state")
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	all := map[string]int64{}
	for _, s := range rivertype.JobStates() {
		all[string(s)] = 0
	}
	for rows.Next() {
		var name string
		var n int64
		if err := rows.Scan(&name, &n); err != nil {
			return nil, err
		}
		all[name] = n
	}
	return all, rows.Err()
}

func (d *database[TTx]) total(ctx context.Context) (t total, err error) {
	err = d.read.QueryRowContext(ctx, "select sheets, proven, sticks, cost, length from total where one = 1").
		Scan(&t.Sheets, &t.Proven, &t.Sticks, &t.Cost, &t.Length)
	return t, err
}

// last returns the most recent sheets, the newest first.
func (d *database[TTx]) last(ctx context.Context, most int) ([]finished, error) {
	rows, err := d.read.QueryContext(ctx, d.words.Replace(`select job, name, worker, cost, bound, sticks, attempt, milliseconds, proven, by_length, finished
		from sheet order by finished desc, job desc limit $1`), most)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []finished
	for rows.Next() {
		var f finished
		var proven, byLength, at int64
		if err := rows.Scan(&f.Job, &f.Name, &f.Worker, &f.Cost, &f.Bound, &f.Sticks, &f.Attempt, &f.Millisecond, &proven, &byLength, &at); err != nil {
			return nil, err
		}
		f.Proven, f.ByLength, f.At = proven == 1, byLength == 1, time.UnixMilli(at)
		all = append(all, f)
	}
	return all, rows.Err()
}

// written returns a sheet, as document or as page, or nil if there is none.
func (d *database[TTx]) written(ctx context.Context, job int64, page bool) ([]byte, error) {
	column := map[bool]string{false: "document", true: "page"}[page]
	var text []byte
	err := d.read.QueryRowContext(ctx, d.words.Replace("select "+column+" from sheet where job = $1"), job).Scan(&text)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	z, err := gzip.NewReader(bytes.NewReader(text))
	if err != nil {
		return nil, err
	}
	return io.ReadAll(z)
}
