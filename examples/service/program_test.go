package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"net/http"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"

	"example.com/longpoint/optimize"
)

// The program itself: it listens, answers and stops.
func TestRun(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	read, write := io.Pipe()
	done := make(chan error, 1)
	go func() {
		done <- run(ctx, write, "-addr", "127.0.0.1:0")
		write.Close()
	}()
	var url string
	if _, err := fmt.Fscanf(read, "listening at %s\n", &url); err != nil {
		t.Fatal(err)
	}
	go io.Copy(io.Discard, read)
	if r, text := post(t, strings.TrimSuffix(url, "/plan"), goodJob); r.StatusCode != http.StatusOK {
		t.Errorf("%s: %s", r.Status, text)
	}
	stop()
	if err := <-done; err != nil {
		t.Error(err)
	}
	for _, args := range [][]string{{"-solves", "0"}, {"-deadline", "soon"}, {"job.json"}, {"-addr", "nowhere:none"}} {
		if err := run(t.Context(), io.Discard, args...); err == nil {
			t.Errorf("%q was taken", args)
		}
	}
}

// The program as it is deployed, told to end in the middle of a job: it answers with the
// best plan that it has, and ends well.
func TestProgramIsTerminated(t *testing.T) {
	switch runtime.GOOS {
	case "windows", "plan9", "js", "wasip1":
		t.Skip("programs are not told to end by a signal here")
	}
	program := filepath.Join(t.TempDir(), "service")
	if out, err := exec.CommandContext(t.Context(), "go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	c := exec.CommandContext(t.Context(), program, "-addr", "127.0.0.1:0", "-deadline", "1h", "-work", "1000000000000000", "-first", "1000000", "-grace", "1ms")
	said, err := c.StderrPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	defer c.Process.Kill()
	lines := bufio.NewScanner(said)
	var log strings.Builder
	until := func(part string) string {
		for lines.Scan() {
			fmt.Fprintln(&log, lines.Text())
			if _, after, ok := strings.Cut(lines.Text(), part); ok {
				return after
			}
		}
		t.Fatalf("it ended without %q: %s", part, log.String())
		return ""
	}
	url := until("listening at ")

	type outcome struct {
		r    *http.Response
		text string
	}
	answer := make(chan outcome, 1)
	go func() {
		defer close(answer)
		r, text := send(t, url, largeJob(t))
		answer <- outcome{r, text}
	}()
	until("a job takes a second turn")
	if err := c.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	until("closing")
	got, ok := <-answer
	if !ok {
		t.Fatal("the job was not answered")
	}
	// Should the signal outrun the solve, the plan is that of the first turn.
	if plan := planOf(t, got.r, got.text); plan.Stop != optimize.StopCanceled && plan.Stop != optimize.StopWork {
		t.Errorf("stop %v", plan.Stop)
	}
	for lines.Scan() {
		fmt.Fprintln(&log, lines.Text())
	}
	if err := c.Wait(); err != nil {
		t.Errorf("it ended by %v: %s", err, log.String())
	}
}
