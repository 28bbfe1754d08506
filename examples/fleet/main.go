// Fleet solves thousands of cutting jobs on any number of machines. Jobs wait in a queue in a
// database. Each worker takes one, solves it within a deadline, and stores plan, proof and
// sheet in the transaction that completes the job, so no job is lost or counted twice, whatever
// fails in between.
//
//	cd examples/fleet && go run . -add 1000
//
// That is all: the database is a file. README.md explains how several machines share one.
package main

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"os"
	"os/signal"
	"runtime"
	"strings"
	"syscall"
	"time"

	"github.com/riverqueue/river"
	"github.com/riverqueue/river/rivertype"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop) // a second signal ends the program at once
	switch err := run(ctx, os.Stderr, os.Args[1:]...); {
	case errors.Is(err, flag.ErrHelp):
	case err != nil:
		fmt.Fprintln(os.Stderr, "fleet:", err)
		os.Exit(1)
	}
}

// settings are the flags of one process.
type settings struct {
	db       string
	addr     string
	name     string
	from     string
	add      int
	workers  int
	steps    int64
	deadline time.Duration
	rescue   time.Duration
	until    bool
}

func (s *settings) check() error {
	if s.add < 0 || s.workers < 0 || s.steps < 1 || s.deadline <= 0 || s.db == "" {
		return errors.New("add and workers want zero or more, work and deadline more than zero, db a file or an address")
	}
	if s.rescue < s.deadline+2*time.Second {
		return fmt.Errorf("rescue is %v: want two seconds more than the deadline of %v at least, or jobs would be taken for dead that live", s.rescue, s.deadline)
	}
	return nil
}

// run works until the context ends or, if requested, until no job is left.
func run(ctx context.Context, w io.Writer, args ...string) error {
	var s settings
	host, _ := os.Hostname()
	flags := flag.NewFlagSet("fleet", flag.ContinueOnError)
	flags.SetOutput(w)
	flags.StringVar(&s.db, "db", "fleet.db", "`DATABASE`: a file, or the address of a PostgreSQL database as postgres://...")
	flags.StringVar(&s.addr, "addr", "localhost:8422", "`ADDRESS` of the page; none for no page")
	flags.StringVar(&s.name, "name", fmt.Sprintf("%s-%d", host, os.Getpid()), "`NAME` of this process, which no other has")
	flags.IntVar(&s.add, "add", 0, "how many made-up jobs to add first")
	flags.StringVar(&s.from, "from", "", "`FILE` of jobs to add first, once, one a line: {\"name\": ..., \"problem\": {...}}")
	flags.IntVar(&s.workers, "workers", runtime.NumCPU(), "how many jobs to work on at the same time; 0 for the page alone")
	flags.Int64Var(&s.steps, "work", 400_000_000, "most steps for a job")
	flags.DurationVar(&s.deadline, "deadline", 10*time.Second, "most time for the search of a job")
	flags.DurationVar(&s.rescue, "rescue", time.Minute, "`TIME` after which a job that somebody works on is given to another")
	flags.BoolVar(&s.until, "until-done", false, "end when no job is left")
	if err := flags.Parse(args); err != nil {
		return err
	}
	if flags.NArg() > 0 {
		return fmt.Errorf("argument is %q: want none", flags.Arg(0))
	}
	if err := s.check(); err != nil {
		return err
	}
	if strings.HasPrefix(s.db, "postgres://") || strings.HasPrefix(s.db, "postgresql://") {
		db, err := openPostgres(ctx, s.db)
		if err != nil {
			return err
		}
		defer db.close()
		return serve(ctx, w, db, s)
	}
	db, err := openSQLite(s.db)
	if err != nil {
		return err
	}
	defer db.close()
	return serve(ctx, w, db, s)
}

// serve adds jobs, works, and shows the page.
func serve[TTx any](ctx context.Context, w io.Writer, db *database[TTx], s settings) error {
	log := slog.New(slog.NewTextHandler(w, &slog.HandlerOptions{Level: slog.LevelWarn}))
	if err := db.migrate(ctx); err != nil {
		return err
	}
	counts := newCounts()
	counts.registry.MustRegister(shared[TTx]{db})
	queue, err := newQueue(db, s, counts, log)
	if err != nil {
		return err
	}
	if _, err := add(ctx, db, queue, "", madeUp(s.add)); err != nil {
		return err
	}
	if s.from != "" {
		if err := addFile(ctx, w, db, queue, s.from); err != nil {
			return err
		}
	}
	if s.addr != "" {
		listener, err := net.Listen("tcp", s.addr)
		if err != nil {
			return err
		}
		fmt.Fprintf(w, "page at http://%s/\n", listener.Addr())
		server := &http.Server{
			Handler: site(db, queue, counts), ReadTimeout: 10 * time.Second, WriteTimeout: 30 * time.Second,
			ErrorLog: slog.NewLogLogger(log.Handler(), slog.LevelWarn),
		}
		go server.Serve(listener)
		defer server.Close()
	}
	if s.workers == 0 {
		return wait(ctx, db, s.until)
	}
	if err := queue.Start(context.WithoutCancel(ctx)); err != nil {
		return err
	}
	err = wait(ctx, db, s.until)
	// Running jobs have their usual time; no new one begins.
	stop, done := context.WithTimeout(context.WithoutCancel(ctx), s.rescue)
	defer done()
	return errors.Join(err, queue.Stop(stop))
}

// newQueue makes the client of the queue, with workers if there should be any.
func newQueue[TTx any](db *database[TTx], s settings, c *counts, log *slog.Logger) (*river.Client[TTx], error) {
	workers := river.NewWorkers()
	river.AddWorker(workers, &worker[TTx]{db: db, name: s.name, deadline: s.deadline, steps: s.steps, counts: c, log: log})
	config := &river.Config{
		ID:                   s.name,
		Logger:               log,
		Workers:              workers,
		RetryPolicy:          retry{},
		JobTimeout:           s.rescue - time.Second,
		RescueStuckJobsAfter: s.rescue,
		// Jobs that are given up remain, with the reason, until they are deleted.
		CancelledJobRetentionPeriod: -1,
		DiscardedJobRetentionPeriod: -1,
		FetchCooldown:               5 * time.Millisecond,
		FetchPollInterval:           500 * time.Millisecond,
	}
	if s.workers > 0 {
		config.Queues = map[string]river.QueueConfig{river.QueueDefault: {MaxWorkers: s.workers}}
	}
	return river.NewClient(db.driver, config)
}

// wait waits for the end: of the context, or of the jobs.
func wait[TTx any](ctx context.Context, db *database[TTx], untilDone bool) error {
	if !untilDone {
		<-ctx.Done()
		return nil
	}
	for {
		select {
		case <-ctx.Done():
			return nil
		case <-time.After(100 * time.Millisecond):
		}
		jobs, err := db.jobs(ctx)
		if err != nil {
			continue // it may come back
		}
		if s := (state{Jobs: jobs}); s.Waiting()+s.Running() == 0 {
			return nil
		}
	}
}

// nameOf is the name of a job of any kind.
func nameOf(row *rivertype.JobRow) string {
	var j cutJob
	if json.Unmarshal(row.EncodedArgs, &j) != nil {
		return row.Kind
	}
	return j.Name
}
