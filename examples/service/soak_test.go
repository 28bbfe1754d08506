package main

import (
	"bufio"
	"context"
	"flag"
	"fmt"
	"io"
	"maps"
	"math/rand/v2"
	"net"
	"net/http"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
)

var soakJobs = flag.Int("soak", 400, "how many requests TestSoak sends; 20,000 take a minute or two")

// soak is a server under a crowd, and the observations of the crowd.
type soak struct {
	t      *testing.T
	s      *service
	addr   string
	client *http.Client
	small  []string // jobs that a first turn settles
	sheets []string // their answers
	large  []string // jobs that take a second turn

	mu    sync.Mutex
	heard map[int]int64 // whole answers, by status
	maybe int64         // requests whose client did not wait for an answer
}

// Thousands of requests of all kinds: small and large jobs in every form, clients that are slow, that
// break off, that leave, that send nonsense. Each waiting client gets exactly one answer, and the right
// one; the server's counts add up and agree with the clients' observations; its memory is the same
// after each fifth of them; at the end it is told to close in the middle of a crowd, and leaves no
// goroutine behind.
func TestSoak(t *testing.T) {
	before := runtime.NumGoroutine()
	k := newSoak(t)
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	k.addr = listener.Addr().String()
	server, connections := k.s.server(listener)
	served := make(chan error, 1)
	go func() { served <- server.Serve(connections) }()

	const rounds = 5
	var heap []uint64
	for round := range rounds {
		k.crowd(uint64(round), *soakJobs/rounds)
		k.settle()
		heap = append(heap, k.heap())
	}
	t.Logf("%d requests; answers by status %v, %d clients left; kilobytes of objects after each fifth: %v",
		*soakJobs, k.heard, k.maybe, kilobytes(heap))
	if first, most := heap[0], slices.Max(heap); most > first+first/4+1<<20 {
		t.Errorf("memory grew from %d to %d bytes", first, most)
	}
	for _, status := range []int{200, 400, 404, 405, 406, 413, 415, 422} {
		if k.heard[status] == 0 {
			t.Errorf("no client was answered with %d", status)
		}
	}
	k.compare()

	// The turn for the rest of jobs is taken, so that a job waits for it when the server closes.
	if err := k.s.long.enter(t.Context(), nil); err != nil {
		t.Fatal(err)
	}
	var last sync.WaitGroup
	last.Go(k.wave)
	for end := time.Now().Add(patience); k.s.long.waiting() == 0; time.Sleep(time.Millisecond) {
		if time.Now().After(end) {
			t.Error("no job waits, however many arrive")
			break
		}
	}
	k.s.long.leave()
	if err := k.s.drain(server, time.Millisecond); err != nil {
		t.Error(err)
	}
	if err := ignore(<-served); err != nil {
		t.Error(err)
	}
	last.Wait()
	all := samples(t, string(k.s.expose()))
	addUp(t, all)
	if all["longpoint_requests_in_flight"] != 0 || all["longpoint_connections"] != 0 || !idle(k.s) {
		t.Errorf("at the end %v are in flight on %v connections, idle %t", all["longpoint_requests_in_flight"], all["longpoint_connections"], idle(k.s))
	}
	k.client.CloseIdleConnections()
	for end := time.Now().Add(patience); runtime.NumGoroutine() > before; time.Sleep(time.Millisecond) {
		if time.Now().After(end) {
			stacks := make([]byte, 1<<16)
			t.Fatalf("%d goroutines, before %d: %s", runtime.NumGoroutine(), before, stacks[:runtime.Stack(stacks, true)])
		}
	}
}

func newSoak(t *testing.T) *soak {
	l := usual
	l.first, l.work, l.short, l.long, l.queue, l.connections = 400_000, 2_000_000, 1, 1, 16, 40
	l.body, l.receive, l.send, l.pace, l.beat, l.deadline = 64<<10, time.Second, patience, 0, 10*time.Millisecond, patience
	k := &soak{
		t: t, s: newService(l, quiet()), heard: map[int]int64{},
		client: &http.Client{Timeout: patience, Transport: &http.Transport{MaxIdleConnsPerHost: 16}},
	}
	for seed := uint64(0); len(k.small) < 12; seed++ {
		text := someJob(t, 2+int(seed%5), seed)
		p := problemOf(t, text)
		plan, err := optimize.Solve(t.Context(), p, &optimize.Options{Work: l.first})
		if err != nil {
			t.Fatal(err)
		}
		if plan.Stop == optimize.StopWork {
			continue
		}
		sheet, f := k.s.render(t.Context(), p, plan.WithoutProof(), &forms[0])
		if f != nil {
			t.Fatalf("%s", f.json())
		}
		k.small, k.sheets = append(k.small, text), append(k.sheets, string(sheet))
	}
	for seed := range uint64(4) {
		k.large = append(k.large, someJob(t, 150, seed))
	}
	return k
}

// crowd sends n requests from concurrent clients, more than there are connections.
func (k *soak) crowd(seed uint64, n int) {
	var next atomic.Int64
	var clients sync.WaitGroup
	for range 48 {
		clients.Go(func() {
			for i := next.Add(1); i <= int64(n); i = next.Add(1) {
				chance := rand.New(rand.NewPCG(seed, uint64(i)))
				k.one(chance, chance.IntN(100))
			}
		})
	}
	clients.Wait()
}

// one sends one request, or two at once, of a kind drawn from a hundred.
func (k *soak) one(chance *rand.Rand, kind int) {
	i, large := chance.IntN(len(k.small)), k.large[chance.IntN(len(k.large))]
	small := k.small[i]
	switch {
	case kind < 30:
		k.same(small, k.sheets[i])
	case kind < 38:
		status, _ := k.answer("POST", "/plan", small, "Accept", "text/html")
		k.expect(status, 200)
	case kind < 43:
		status, text := k.answer("POST", "/plan?proof=full", large)
		k.expect(status, 200)
		k.check(status, text)
	case kind < 50:
		k.events(chance, large)
	case kind < 55:
		k.lines(small)
	case kind < 60:
		k.drip(chance, small)
	case kind < 61:
		k.breaksOff(small[:chance.IntN(len(small))], len(small), false, 408)
	case kind < 66:
		k.breaksOff(small[:chance.IntN(len(small))], len(small), true, 400)
	case kind < 71:
		k.leaves(counted(len(small)) + small[:chance.IntN(len(small))])
	case kind < 76:
		k.leaves(counted(len(large)) + large)
	case kind < 80:
		k.both(small)
	case kind < 85:
		k.watch()
	default:
		k.nonsense(kind-85, small)
	}
}

// nonsense sends invalid requests.
func (k *soak) nonsense(kind int, small string) {
	var status, want int
	switch kind {
	case 0, 1:
		want = 413
		status, _ = k.answer("POST", "/plan", small+strings.Repeat(" ", 64<<10))
	case 2, 3:
		want = 415
		status, _ = k.answer("POST", "/plan", small, "Content-Type", "text/plain")
	case 4, 5:
		want = 406
		status, _ = k.answer("POST", "/plan", small, "Accept", "application/pdf")
	case 6, 7:
		want = 404
		status, _ = k.answer("GET", "/", "")
	case 8, 9:
		want = 405
		status, _ = k.answer("PUT", "/plan", small)
	case 10, 11:
		want = 422
		status, _ = k.answer("POST", "/plan", `{"pieces": [{"length": "1ft", "quantity": 20001}]}`)
	default:
		want = 400
		status, _ = k.answer("POST", "/plan", small[:len(small)/2])
	}
	k.expect(status, want)
}

// expect compares a status with the right one. If too many wait, an answer that says so is right as
// well, and a client that the machine itself delayed is stalled.
func (k *soak) expect(status, want int) {
	if status != want && status != http.StatusTooManyRequests && status != http.StatusRequestTimeout {
		k.t.Errorf("status %d, want %d", status, want)
	}
}

func (k *soak) hears(status int) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.heard[status]++
}

// answer sends a request over a connection that others used before, and reads the whole answer.
func (k *soak) answer(method, path, body string, headers ...string) (int, string) {
	r, err := http.NewRequest(method, "http://"+k.addr+path, strings.NewReader(body))
	if err != nil {
		k.t.Error(err)
		return 0, ""
	}
	r.Header.Set("Content-Type", "application/json")
	for i := 0; i+1 < len(headers); i += 2 {
		r.Header.Set(headers[i], headers[i+1])
	}
	answer, err := k.client.Do(r)
	if err != nil {
		if !strings.Contains(err.Error(), "write") { // a body that is too large is refused before it has come in
			k.t.Error(err)
		}
		k.leftUnheard()
		return 413, ""
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil {
		k.t.Error(err)
	}
	k.hears(answer.StatusCode)
	if answer.StatusCode == http.StatusTooManyRequests && answer.Header.Get("Retry-After") == "" {
		k.t.Error("no Retry-After header")
	}
	return answer.StatusCode, string(text)
}

func (k *soak) leftUnheard() {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.maybe++
}

// same sends a job whose answer is known to the byte.
func (k *soak) same(job, want string) {
	status, text := k.answer("POST", "/plan", job)
	if k.expect(status, 200); status == 200 && text != want {
		k.t.Errorf("the answer is different: %s", text)
	}
}

func (k *soak) check(status int, text string) {
	if status != http.StatusOK {
		return
	}
	p, plan, _, err := cutsheet.ReadJSON(strings.NewReader(text))
	if err == nil {
		err = optimize.Check(context.Background(), p, plan.WithoutProof())
	}
	if err != nil {
		k.t.Error(err)
	}
}

// events listens to a job to its end, or leaves after some events.
func (k *soak) events(chance *rand.Rand, job string) {
	r, err := http.NewRequest("POST", "http://"+k.addr+"/plan", strings.NewReader(job))
	if err != nil {
		k.t.Error(err)
		return
	}
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("Accept", "text/event-stream")
	answer, err := k.client.Do(r)
	if err != nil {
		k.t.Error(err)
		return
	}
	defer answer.Body.Close()
	if answer.StatusCode != http.StatusOK {
		io.Copy(io.Discard, answer.Body)
		k.expect(answer.StatusCode, 200)
		k.hears(answer.StatusCode)
		return
	}
	most, lines := 1+chance.IntN(40), bufio.NewReader(answer.Body)
	for n := 1; ; n++ {
		e, err := nextEvent(lines)
		switch {
		case err != nil:
			k.t.Errorf("after %d events: %v", n-1, err)
			return
		case e.name == "sheet":
			k.check(200, e.data)
			k.hears(200)
			if _, err := nextEvent(lines); err != io.EOF {
				k.t.Errorf("after the sheet comes %v", err)
			}
			return
		case e.name == "failure":
			k.hears(200)
			if !strings.Contains(e.data, `"kind":"busy"`) { // as 429 is, for who has no events yet
				k.t.Errorf("it fails: %s", e.data)
			}
			return
		case n == most:
			k.leftUnheard()
			return
		}
	}
}

func (k *soak) lines(job string) {
	status, text := k.answer("POST", "/plan?progress=lines", job)
	if k.expect(status, 200); status == 200 && strings.Count(text, `{"sheet":`) != 1 {
		k.t.Errorf("the lines are %s", text)
	}
}

// connect opens a separate connection.
func (k *soak) connect(text string) *net.TCPConn {
	c, err := net.Dial("tcp", k.addr)
	if err != nil {
		k.t.Error(err)
		return nil
	}
	c.SetDeadline(time.Now().Add(patience))
	if _, err := io.WriteString(c, text); err != nil {
		k.t.Error(err)
	}
	return c.(*net.TCPConn)
}

// hangUp reads n answers, then nothing more.
func (k *soak) hangUp(c *net.TCPConn, answers int, wants ...int) {
	if c == nil {
		return
	}
	defer c.Close()
	from := bufio.NewReader(c)
	for i := range answers {
		r, err := http.ReadResponse(from, nil)
		if err != nil {
			k.t.Errorf("answer %d of %d: %v", i+1, answers, err)
			return
		}
		if _, err := io.Copy(io.Discard, r.Body); err != nil {
			k.t.Error(err)
		}
		r.Body.Close()
		k.hears(r.StatusCode)
		k.expect(r.StatusCode, wants[i])
		if r.Close && i+1 < answers {
			return // refused in a hurry, and the rest with it
		}
	}
	if n, err := from.Read(make([]byte, 1)); n > 0 || err == nil {
		k.t.Error("there is more than one answer to a request")
	}
}

const hurry = "POST /plan HTTP/1.1\r\nHost: shop\r\nContent-Type: application/json\r\nConnection: close\r\n"

// drip sends a job in small parts.
func (k *soak) drip(chance *rand.Rand, job string) {
	c := k.connect(hurry + fmt.Sprintf("Content-Length: %d\r\n\r\n", len(job)))
	for c != nil && len(job) > 0 {
		n := min(len(job), 1+chance.IntN(40))
		if _, err := io.WriteString(c, job[:n]); err != nil {
			break // given up: the answer says so
		}
		job = job[n:]
		runtime.Gosched()
	}
	k.hangUp(c, 1, 200)
}

// breaksOff sends a part of a job and waits for the answer.
func (k *soak) breaksOff(part string, whole int, closes bool, want int) {
	c := k.connect(hurry + fmt.Sprintf("Content-Length: %d\r\n\r\n", whole) + part)
	if c != nil && closes {
		c.CloseWrite()
	}
	k.hangUp(c, 1, want)
}

// leaves sends what it has and disconnects.
func (k *soak) leaves(text string) {
	if c := k.connect(text); c != nil {
		c.SetLinger(0)
		c.Close()
	}
	k.leftUnheard()
}

// both sends two jobs before it hears of the first.
func (k *soak) both(job string) {
	text := fmt.Sprintf("Content-Length: %d\r\n\r\n%s", len(job), job)
	k.hangUp(k.connect(head+text+hurry+text), 2, 200, 200)
}

// watch asks how the server is.
func (k *soak) watch() {
	status, _ := k.answer("GET", "/healthz", "")
	k.expect(status, 200)
	if status, text := k.answer("GET", "/metrics", ""); status == 200 {
		addUp(k.t, samples(k.t, text))
	}
}

// wave is a crowd that finds the server closing: every answer is right, and clients that find no server
// say so.
func (k *soak) wave() {
	var clients sync.WaitGroup
	for i := range 40 {
		clients.Go(func() {
			r, err := k.client.Post("http://"+k.addr+"/plan", "application/json", strings.NewReader(k.large[i%len(k.large)]))
			if err != nil {
				return
			}
			defer r.Body.Close()
			text, err := io.ReadAll(r.Body)
			if err != nil {
				k.t.Error(err)
			}
			if k.check(r.StatusCode, string(text)); r.StatusCode != 200 && r.StatusCode != 429 && r.StatusCode != 503 {
				k.t.Errorf("during shutdown: %s: %s", r.Status, text)
			}
		})
	}
	clients.Wait()
}

// settle waits until the server has noticed everybody who left.
func (k *soak) settle() {
	for end := time.Now().Add(patience); k.s.connected() > 0; time.Sleep(time.Millisecond) {
		k.client.CloseIdleConnections() // one may have been opened but not used
		if time.Now().After(end) {
			k.t.Fatalf("%d connections are left", k.s.connected())
		}
	}
}

// compare compares the server's counts with the clients': all answers that were read, and at most one
// each for clients that did not listen.
func (k *soak) compare() {
	all := samples(k.t, string(k.s.expose()))
	addUp(k.t, all)
	var heard, over int64
	for _, status := range slices.Sorted(maps.Keys(k.heard)) {
		var n int64
		for name, v := range all {
			if strings.HasPrefix(name, "longpoint_requests_total{") && strings.Contains(name, fmt.Sprintf(`code="%d"`, status)) {
				n += int64(v)
			}
		}
		if heard += k.heard[status]; n < k.heard[status] {
			k.t.Errorf("status %d: %d clients received it, %d answers were counted", status, k.heard[status], n)
		}
	}
	over = int64(sumOf(all, "longpoint_requests_total"))
	if over < heard || over > heard+k.maybe {
		k.t.Errorf("%d answers were counted, %d received, %d clients left", over, heard, k.maybe)
	}
	if all["longpoint_requests_in_flight"] != 0 || !idle(k.s) {
		k.t.Errorf("%v requests are in flight, idle %t", all["longpoint_requests_in_flight"], idle(k.s))
	}
}

// heap is the memory of objects when there are no clients.
func (k *soak) heap() uint64 {
	var m runtime.MemStats
	runtime.GC()
	runtime.GC() // pools survive the first collection
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

func kilobytes(bytes []uint64) (all []uint64) {
	for _, n := range bytes {
		all = append(all, n>>10)
	}
	return all
}
