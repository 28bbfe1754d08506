package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"

	"example.com/longpoint/optimize"
)

const (
	head    = "POST /plan HTTP/1.1\r\nHost: shop\r\nContent-Type: application/json\r\n"
	chunked = head + "Transfer-Encoding: chunked\r\n\r\n"
)

func counted(n int) string { return head + fmt.Sprintf("Content-Length: %d\r\n\r\n", n) }

// inChunks writes a body in chunks of ten bytes.
func inChunks(body string) string {
	var b strings.Builder
	for len(body) > 0 {
		n := min(10, len(body))
		fmt.Fprintf(&b, "%x\r\n%s\r\n", n, body[:n])
		body = body[n:]
	}
	return b.String() + "0\r\n\r\n"
}

func dial(t *testing.T, server *httptest.Server) *net.TCPConn {
	t.Helper()
	c, err := net.Dial("tcp", server.Listener.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Close() })
	c.SetDeadline(time.Now().Add(patience))
	return c.(*net.TCPConn)
}

func say(t *testing.T, c net.Conn, text string) {
	t.Helper()
	if _, err := io.WriteString(c, text); err != nil {
		t.Fatal(err)
	}
}

func hear(t *testing.T, c net.Conn) (*http.Response, string) {
	t.Helper()
	r, err := http.ReadResponse(bufio.NewReader(c), nil)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	text, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	if r.Header.Get("Content-Type") != "application/json" || len(text) == 0 {
		t.Fatalf("%s is %s of %d bytes", r.Status, r.Header.Get("Content-Type"), len(text))
	}
	return r, string(text)
}

// failed looks for the answer to a body that did not arrive completely.
func failed(t *testing.T, c net.Conn, status int, kind, value, want string) {
	t.Helper()
	r, text := hear(t, c)
	f := answerOf(t, text)
	if r.StatusCode != status || f.Kind != kind || f.Field != "body" || f.Value != value || !strings.Contains(f.Want, want) || !r.Close {
		t.Errorf("%s, closed %t: %s", r.Status, r.Close, text)
	}
}

// Wherever a body breaks off, the answer says so.
func TestCutOffBody(t *testing.T) {
	s := newService(usual, quiet())
	server := serve(t, s)
	for n := range len(goodJob) {
		c := dial(t, server)
		say(t, c, counted(len(goodJob))+goodJob[:n])
		c.CloseWrite()
		failed(t, c, http.StatusBadRequest, "cut off", fmt.Sprintf("%d bytes", n), fmt.Sprintf("%d bytes", len(goodJob)))
		c.Close()
	}
	text := inChunks(goodJob)
	for n := range len(text) {
		c := dial(t, server)
		say(t, c, chunked+text[:n])
		c.CloseWrite()
		r, answer := hear(t, c)
		if f := answerOf(t, answer); r.StatusCode != http.StatusBadRequest || f.Kind != "cut off" || f.Want != "the whole of it, to the last chunk" {
			t.Errorf("after %d bytes in chunks: %s: %s", n, r.Status, answer)
		}
		c.Close()
	}
	c := dial(t, server)
	say(t, c, chunked+"ten\r\n"+goodJob)
	r, answer := hear(t, c)
	if f := answerOf(t, answer); r.StatusCode != http.StatusBadRequest || f.Kind != "cut off" {
		t.Errorf("no chunk: %s: %s", r.Status, answer)
	}
}

// A body that stalls is given up, and so is a slow one, however steadily it arrives.
func TestStalledBody(t *testing.T) {
	l := usual
	l.receive = 40 * time.Millisecond
	server := serve(t, newService(l, quiet()))
	const want = " within 40ms"
	for _, n := range []int{0, 1, len(goodJob) / 2, len(goodJob) - 1} {
		c := dial(t, server)
		say(t, c, counted(len(goodJob))+goodJob[:n])
		failed(t, c, http.StatusRequestTimeout, "stalled", fmt.Sprintf("%d bytes", n), fmt.Sprintf("%d bytes", len(goodJob))+want)
	}
	c := dial(t, server)
	say(t, c, chunked+"a\r\n")
	failed(t, c, http.StatusRequestTimeout, "stalled", "0 bytes", "the whole of it, to the last chunk"+want)

	drip := dial(t, server)
	say(t, drip, counted(1<<19))
	var writer sync.WaitGroup
	writer.Go(func() {
		for err := error(nil); err == nil; time.Sleep(time.Millisecond) { // the pace of this client
			_, err = io.WriteString(drip, " ")
		}
	})
	r, text := hear(t, drip)
	drip.Close()
	writer.Wait()
	if f := answerOf(t, text); r.StatusCode != http.StatusRequestTimeout || f.Kind != "stalled" {
		t.Errorf("%s: %s", r.Status, text)
	}

	// A request rejected without its body does not wait for it forever either.
	c = dial(t, server)
	say(t, c, strings.Replace(counted(100), "/plan", "/plans", 1)+"{")
	if r, text := hear(t, c); r.StatusCode != http.StatusNotFound || answerOf(t, text).Kind != "path" {
		t.Errorf("%s: %s", r.Status, text)
	}
}

// A body in many small parts is a body.
func TestBodyInParts(t *testing.T) {
	server := serve(t, newService(usual, quiet()))
	for _, text := range []string{counted(len(goodJob)) + goodJob, chunked + inChunks(goodJob)} {
		c := dial(t, server)
		for i := range text {
			say(t, c, text[i:i+1])
		}
		r, answer := hear(t, c)
		if plan := planOf(t, r, answer); plan.Cost != 3360 {
			t.Errorf("cost %d", plan.Cost)
		}
	}
}

// A client that has closed its half of the connection may still listen: it gets a plan or an answer
// that there is none.
func TestHalfClosed(t *testing.T) {
	s := newService(brief(), quiet())
	s.solve = func(ctx context.Context, p optimize.Problem, o *optimize.Options) (*optimize.Plan, error) {
		<-ctx.Done() // which the half that is closed ends
		return optimize.Solve(context.Background(), p, o)
	}
	c := dial(t, serve(t, s))
	say(t, c, counted(len(goodJob))+goodJob)
	c.CloseWrite()
	r, text := hear(t, c)
	if r.StatusCode == http.StatusServiceUnavailable {
		// The end of the connection was heard before the job had its turn.
		if kind := answerOf(t, text).Kind; kind != "busy" {
			t.Errorf("refused as %s", kind)
		}
		return
	}
	if plan := planOf(t, r, text); plan.Cost != 3360 {
		t.Errorf("cost %d", plan.Cost)
	}
}

// A client that is gone leaves nothing behind, at any stage.
func TestDisconnect(t *testing.T) {
	var log safeBuffer
	s := newService(usual, log.logger())
	server := serve(t, s)
	for _, text := range []string{"", "POST /pl", head, counted(len(goodJob)), counted(len(goodJob)) + goodJob[:50], counted(len(goodJob)) + goodJob, chunked + "5\r\n"} {
		c := dial(t, server)
		say(t, c, text)
		c.SetLinger(0) // a reset, not an end
		c.Close()
	}
	server.Close() // waits for the handlers
	if bad := log.warnings(); !idle(s) || len(bad) > 0 {
		t.Errorf("idle %t, the log holds %q", idle(s), bad)
	}
}

// deadlines records the deadlines set on the connections of a listener.
type deadlines struct {
	net.Listener
	mu          sync.Mutex
	read, write time.Time
	writeSet    int
}

func (d *deadlines) Accept() (net.Conn, error) {
	c, err := d.Listener.Accept()
	return &watched{c, d}, err
}

type watched struct {
	net.Conn
	d *deadlines
}

func (w *watched) SetReadDeadline(t time.Time) error {
	w.d.mu.Lock()
	w.d.read = t
	w.d.mu.Unlock()
	return w.Conn.SetReadDeadline(t)
}

func (w *watched) SetWriteDeadline(t time.Time) error {
	w.d.mu.Lock()
	if w.d.write = t; !t.IsZero() {
		w.d.writeSet++
	}
	w.d.mu.Unlock()
	return w.Conn.SetWriteDeadline(t)
}

// During a solve there is no deadline for the client, which would end the solve: a read deadline would
// pass while there is nothing to read. Answers have one each.
func TestDeadlinesOfConnections(t *testing.T) {
	s := newService(usual, quiet())
	server := httptest.NewUnstartedServer(s)
	d := &deadlines{Listener: server.Listener}
	server.Listener = d
	s.solve = func(ctx context.Context, p optimize.Problem, o *optimize.Options) (*optimize.Plan, error) {
		d.mu.Lock()
		defer d.mu.Unlock()
		if !d.read.IsZero() || !d.write.IsZero() {
			t.Errorf("during a solve the deadlines are %v and %v", d.read, d.write)
		}
		return optimize.Solve(ctx, p, o)
	}
	server.Start()
	defer server.Close()
	c := dial(t, server) // one connection for all
	for n := range 3 {
		say(t, c, counted(len(goodJob))+goodJob)
		if r, text := hear(t, c); r.StatusCode != http.StatusOK {
			t.Fatalf("%s: %s", r.Status, text)
		}
		d.mu.Lock()
		if d.writeSet != n+1 {
			t.Errorf("%d answers had %d deadlines", n+1, d.writeSet)
		}
		d.mu.Unlock()
	}
}
