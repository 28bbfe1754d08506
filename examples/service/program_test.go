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
	"time"

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

// The program as deployed, with a signal in the middle of a job: it answers with the
// best plan that it has, and ends well.
func TestProgramIsTerminated(t *testing.T) {
	switch runtime.GOOS {
	case "windows", "plan9", "js", "wasip1":
		t.Skip("no termination signal on this platform")
	}
	const notice = 500 * time.Millisecond
	program := filepath.Join(t.TempDir(), "service")
	if out, err := exec.CommandContext(t.Context(), "go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	c := exec.CommandContext(t.Context(), program, "-addr", "127.0.0.1:0", "-deadline", "1h", "-work", "1000000000000000", "-first", "1000000", "-grace", "1ms", "-notice", notice.String())
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
	base := strings.TrimSuffix(url, "/plan")

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
	atWork := func() bool {
		r, err := client.Get(base + "/metrics")
		if err != nil {
			t.Fatal(err)
		}
		defer r.Body.Close()
		text, err := io.ReadAll(r.Body)
		if err != nil {
			t.Fatal(err)
		}
		return strings.Contains(string(text), `longpoint_turns_running{turn="second"} 1`)
	}
	for !atWork() {
		time.Sleep(20 * time.Millisecond)
	}
	told := time.Now()
	if err := c.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	// It is not ready any more, but lives and takes a job until the notice is over.
	for asked(t, base+"/readyz") == http.StatusOK {
		time.Sleep(20 * time.Millisecond)
	}
	if alive, more := asked(t, base+"/healthz"), asked(t, url); time.Since(told) < notice && (alive != http.StatusOK || more != http.StatusOK) {
		t.Errorf("during the notice period it answers %d, and a job with %d", alive, more)
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

// asked is the status of an answer, or zero if there is none.
func asked(t *testing.T, url string) int {
	t.Helper()
	ask := func() (*http.Response, error) { return client.Get(url) }
	if strings.HasSuffix(url, "/plan") {
		ask = func() (*http.Response, error) {
			return client.Post(url, "application/json", strings.NewReader(goodJob))
		}
	}
	r, err := ask()
	if err != nil {
		return 0
	}
	io.Copy(io.Discard, r.Body)
	r.Body.Close()
	return r.StatusCode
}
