package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"example.com/longpoint/internal/postgres"
	"github.com/jackc/pgx/v5"
	"github.com/riverqueue/river"
	"github.com/riverqueue/river/rivertype"
)

// process is a worker in a process of its own.
type process struct {
	cmd  *exec.Cmd
	page string // its address
	mu   sync.Mutex
	said strings.Builder
	done chan error
}

func startProcess(t *testing.T, name string, args ...string) *process {
	t.Helper()
	p := &process{cmd: exec.Command(os.Args[0], append(args, "-name", name, "-addr", "127.0.0.1:0")...), done: make(chan error, 1)}
	p.cmd.Env = append(os.Environ(), asProgram+"=1")
	out, err := p.cmd.StderrPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := p.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { p.cmd.Process.Kill() })
	page := make(chan string, 1)
	go func() {
		for lines := bufio.NewScanner(out); lines.Scan(); {
			if at, ok := strings.CutPrefix(lines.Text(), "page at "); ok {
				page <- at
			}
			p.mu.Lock()
			fmt.Fprintln(&p.said, lines.Text())
			p.mu.Unlock()
		}
		p.done <- p.cmd.Wait()
	}()
	select {
	case p.page = <-page:
	case err := <-p.done:
		t.Fatalf("%s ended: %v, %s", name, err, p.text())
	}
	return p
}

func (p *process) text() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.said.String()
}

// until waits for something to be true of the database, which may be away meanwhile.
func until(t *testing.T, what string, is func(context.Context) (bool, error)) {
	t.Helper()
	for end := time.Now().Add(patience); ; time.Sleep(10 * time.Millisecond) {
		ok, err := is(t.Context())
		if err == nil && ok {
			return
		}
		if time.Now().After(end) {
			t.Fatalf("%s: not within %v; %v", what, patience, err)
		}
	}
}

// Two worker processes on a real server: one is killed in the middle of a solve, it being the one
// that looks after the queue, and the server crashes and comes back. No job is lost, none is counted
// twice, and every plan that is stored keeps its rules.
func TestTwoProcesses(t *testing.T) {
	const small, large = 800, 3
	cluster := postgres.Start(t)
	address := cluster.Database(t, "fleet")
	db, err := openPostgres(t.Context(), address)
	if err != nil {
		t.Fatal(err)
	}
	defer db.close()
	if err := db.migrate(t.Context()); err != nil {
		t.Fatal(err)
	}
	queue := adder(t, db)
	if err := add(t.Context(), queue, small); err != nil {
		t.Fatal(err)
	}
	sheets := func(by string, n int64) {
		t.Helper()
		until(t, fmt.Sprintf("%d sheets of %q", n, by), func(ctx context.Context) (bool, error) {
			var have int64
			err := db.read.QueryRowContext(ctx, "select count(*) from sheet where worker like $1", by).Scan(&have)
			return have >= n, err
		})
	}
	// rate is how many sheets a second come, over a hundred of them.
	rate := func() float64 {
		t.Helper()
		from, err := db.total(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		began := time.Now()
		sheets("%", from.Sheets+100)
		to, err := db.total(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		return float64(to.Sheets-from.Sheets) / time.Since(began).Seconds()
	}

	args := []string{"-db", address, "-workers", "1", "-deadline", "2s", "-rescue", "8s"}
	first := startProcess(t, "first", args...)
	until(t, "the first looks after the queue", func(ctx context.Context) (bool, error) {
		var leader string
		err := db.read.QueryRowContext(ctx, "select leader_id from river_leader").Scan(&leader)
		return leader == "first", err
	})
	sheets("first", 1)
	one := rate()
	second := startProcess(t, "second", args...)
	sheets("second", 1)
	two := rate()
	t.Logf("sheets a second: %.1f with one worker, %.1f with two, a ratio of %.2f", one, two, two/one)

	killed := killInTheMiddle(t, queue, first, large)
	// The other one does the large jobs that are left, then the small ones: in the middle of these the
	// server goes down as in a crash.
	until(t, "the large jobs but one", func(ctx context.Context) (bool, error) {
		var n int
		err := db.read.QueryRowContext(ctx, "select count(*) from sheet where name like '%all of the base'").Scan(&n)
		return n >= large-1, err
	})
	rate()
	cluster.Restart(t)
	sheets("%", small+large)
	until(t, "no job is left", func(ctx context.Context) (bool, error) {
		jobs, err := db.jobs(ctx)
		return jobs["completed"] == small+large, err
	})
	audit(t, db, queue, small+large)
	row, err := queue.JobGet(t.Context(), killed)
	if err != nil {
		t.Fatal(err)
	}
	if row.Attempt < 2 || len(row.AttemptedBy) < 2 || row.AttemptedBy[0] != "first" || len(row.Errors) == 0 {
		t.Errorf("the job that was killed was attempted %d times, by %v, with errors %+v", row.Attempt, row.AttemptedBy, row.Errors)
	}

	var stored int64
	if err := db.read.QueryRowContext(t.Context(), "select count(*) from sheet where worker = 'second'").Scan(&stored); err != nil {
		t.Fatal(err)
	}
	status, text := get(t, second.page+"metrics")
	if mine := sample(text, "fleet_sheets_stored_total"); status != 200 || mine != stored || sample(text, "fleet_sheets") != small+large {
		t.Errorf("the second counts %d sheets, it has stored %d: %s", mine, stored, text)
	}
	if status, page := get(t, second.page); status != 200 || !strings.Contains(page, fmt.Sprintf("<title>Fleet: %d done, 0 wait</title>", small+large)) {
		t.Errorf("%d, %s", status, page)
	}
	if err := second.cmd.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	if err := <-second.done; err != nil {
		t.Errorf("the second ended by %v: %s", err, second.text())
	}
}

// killInTheMiddle adds large jobs, waits until a process works on one of them, and kills it. It
// returns the job.
func killInTheMiddle(t *testing.T, queue *river.Client[pgx.Tx], p *process, large int) (job int64) {
	t.Helper()
	for k := range large {
		j, err := whole(k)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := queue.Insert(t.Context(), j, &river.InsertOpts{Priority: 1, MaxAttempts: attempts}); err != nil {
			t.Fatal(err)
		}
	}
	until(t, "the first works on a large job", func(ctx context.Context) (bool, error) {
		list, err := queue.JobList(ctx, river.NewJobListParams().States(rivertype.JobStateRunning))
		if err != nil {
			return false, err
		}
		for _, j := range list.Jobs {
			if strings.Contains(nameOf(j), "all of the base") && j.AttemptedBy[len(j.AttemptedBy)-1] == "first" {
				job = j.ID
			}
		}
		return job != 0, nil
	})
	if err := p.cmd.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	var exit *exec.ExitError
	if err := <-p.done; !errors.As(err, &exit) {
		t.Errorf("the first ended by %v", err)
	}
	return job
}

// sample adds up the samples of one name.
func sample(text, name string) (sum int64) {
	for line := range strings.Lines(text) {
		var n int64
		if key, value, _ := strings.Cut(strings.TrimSpace(line), " "); key == name || strings.HasPrefix(key, name+"{") {
			fmt.Sscan(value, &n)
			sum += n
		}
	}
	return sum
}
