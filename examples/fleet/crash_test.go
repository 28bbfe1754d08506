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
	"github.com/riverqueue/river"
	"github.com/riverqueue/river/rivertype"
)

// process is a worker in a separate process.
type process struct {
	name string
	cmd  *exec.Cmd
	page string // its address
	mu   sync.Mutex
	said strings.Builder
	done chan error
}

func startProcess(t *testing.T, name string, args ...string) *process {
	t.Helper()
	p := &process{name: name, cmd: exec.Command(os.Args[0], append(args, "-name", name, "-addr", "127.0.0.1:0")...), done: make(chan error, 1)}
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

// told compares what a worker reports to a monitor and the page with the stored data.
func told[TTx any](t *testing.T, db *database[TTx], p *process) {
	t.Helper()
	var stored int64
	if err := db.read.QueryRowContext(t.Context(), "select count(*) from sheet where worker = $1", p.name).Scan(&stored); err != nil {
		t.Fatal(err)
	}
	all, err := db.total(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	status, text := get(t, p.page+"metrics")
	if mine, here := sample(text, "fleet_sheets_stored_total"), sample(text, "fleet_sheets"); status != 200 || mine != stored || here != all.Sheets {
		t.Errorf("%s counts %d sheets of %d, stored are %d of %d: %s", p.name, mine, here, stored, all.Sheets, text)
	}
	if status, page := get(t, p.page); status != 200 || !strings.Contains(page, fmt.Sprintf("<title>Fleet: %d done, 0 wait</title>", all.Sheets)) {
		t.Errorf("%d, %s", status, page)
	}
}

// Two worker processes on a real server: one is killed in the middle of a solve, the one that tends the
// queue; the server crashes and comes back; at the end the other makes way for a third. No job is lost,
// none is counted twice, and every stored plan keeps its rules.
func TestTwoProcesses(t *testing.T) {
	t.Parallel() // most of it waits for the queue to notice
	const small, large, rescue = 900, 3, 6 * time.Second
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
	if _, err := add(t.Context(), db, queue, "", madeUp(small)); err != nil {
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

	args := []string{"-db", address, "-workers", "1", "-deadline", "1s", "-rescue", rescue.String()}
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

	if err := addWhole(t.Context(), queue, large); err != nil {
		t.Fatal(err)
	}
	killed := killInTheMiddle(t, queue, first)
	// The other one does the remaining large jobs, then small ones. In the middle of these, when the
	// killed worker counts as dead, the server goes down as in a crash, and loses its record of who
	// tends the queue.
	until(t, "the killed job counts as dead", func(ctx context.Context) (bool, error) {
		row, err := queue.JobGet(ctx, killed)
		return err == nil && time.Since(*row.AttemptedAt) > rescue, err
	})
	cluster.Restart(t)
	// If the server went down between a job and the worker that asked for it, no worker has the job
	// now.
	until(t, "nothing but jobs that nobody works on", func(ctx context.Context) (bool, error) {
		jobs, err := db.jobs(ctx)
		if err != nil || (state{Jobs: jobs}).Waiting() > 0 {
			return false, err
		}
		list, err := queue.JobList(ctx, river.NewJobListParams().States(rivertype.JobStateRunning))
		if err != nil {
			return false, err
		}
		for _, j := range list.Jobs {
			if time.Since(*j.AttemptedAt) < rescue {
				return false, nil
			}
		}
		return true, nil
	})
	told(t, db, second)
	if err := second.cmd.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	if err := <-second.done; err != nil {
		t.Errorf("the second ended by %v: %s", err, second.text())
	}
	third := startProcess(t, "third", append(args, "-until-done")...)
	if err := <-third.done; err != nil {
		t.Errorf("the third ended by %v: %s", err, third.text())
	}
	audit(t, db, queue, small+large)
	row, err := queue.JobGet(t.Context(), killed)
	if err != nil {
		t.Fatal(err)
	}
	if row.Attempt < 2 || len(row.AttemptedBy) < 2 || row.AttemptedBy[0] != "first" || len(row.Errors) == 0 {
		t.Errorf("the job that was killed was attempted %d times, by %v, with errors %+v", row.Attempt, row.AttemptedBy, row.Errors)
	}
}

// A single process on a file is killed in the middle of a solve: the next one does the rest, including
// the started job.
func TestKilledAlone(t *testing.T) {
	t.Parallel()
	const small, large = 40, 2
	db, queue, path := scratch(t)
	if _, err := add(t.Context(), db, queue, "", madeUp(small)); err != nil {
		t.Fatal(err)
	}
	if err := addWhole(t.Context(), queue, large); err != nil {
		t.Fatal(err)
	}
	args := []string{"-db", path, "-workers", "1", "-deadline", "2s", "-rescue", "8s"}
	killed := killInTheMiddle(t, queue, startProcess(t, "first", args...))
	next := startProcess(t, "next", append(args, "-until-done")...)
	if err := <-next.done; err != nil {
		t.Errorf("the next one ended by %v: %s", err, next.text())
	}
	audit(t, db, queue, small+large)
	row, err := queue.JobGet(t.Context(), killed)
	if err != nil {
		t.Fatal(err)
	}
	if row.Attempt < 2 || len(row.Errors) == 0 {
		t.Errorf("the job that was killed was attempted %d times, with errors %+v", row.Attempt, row.Errors)
	}
}

// addWhole adds large jobs, which come first.
func addWhole[TTx any](ctx context.Context, queue *river.Client[TTx], n int) error {
	for k := range n {
		j, err := whole(k)
		if err != nil {
			return err
		}
		if _, err := queue.Insert(ctx, j, &river.InsertOpts{Priority: 1, MaxAttempts: attempts}); err != nil {
			return err
		}
	}
	return nil
}

// killInTheMiddle waits until the first process works on a large job, and kills it. It returns the job.
func killInTheMiddle[TTx any](t *testing.T, queue *river.Client[TTx], p *process) (job int64) {
	t.Helper()
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
