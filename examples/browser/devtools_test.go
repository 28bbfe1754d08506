package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"runtime"
	"testing"
	"time"
)

// browser is a real browser, driven over the DevTools protocol: it reads commands from its
// descriptor 3 and answers on 4, each a JSON object that ends with a zero byte.
type browser struct {
	command *exec.Cmd
	in      io.WriteCloser
	out     *bufio.Reader
	number  int
	profile string
	tabs    map[string]*tab // by session
}

// tab is one page of it. Tabs of one profile share what pages keep, and no others do.
type tab struct {
	*browser
	t       *testing.T
	session string
	target  string
	context string
	events  []event
}

type event struct {
	Method  string
	Session string `json:"sessionId"`
	Params  json.RawMessage
}

// shared is the browser of all tests, once one asks for it.
var shared *browser

func TestMain(m *testing.M) {
	code := m.Run()
	if shared != nil {
		shared.close()
	}
	if site, err := pages(); site != nil && err == nil {
		os.RemoveAll(site.dir)
	}
	os.Exit(code)
}

// start opens a tab with nothing kept, where there is a browser. It goes with the test.
func start(t *testing.T) *tab {
	t.Helper()
	name := os.Getenv("LONGPOINT_BROWSER")
	if name == "" {
		t.Skip("set LONGPOINT_BROWSER to a Chromium, such as /usr/bin/chromium, to use the page in it")
	}
	switch runtime.GOOS {
	case "windows", "js", "wasip1":
		t.Skip("the browser is spoken to through files that a program cannot hand on here")
	}
	if testing.Short() {
		t.Skip("building the page takes a while")
	}
	if shared == nil {
		shared = open(t, name)
	}
	b := &tab{browser: shared, t: t}
	var made struct{ BrowserContextID string }
	b.call("Target.createBrowserContext", nil, &made)
	b.context = made.BrowserContextID
	t.Cleanup(func() {
		b.top().call("Target.disposeBrowserContext", map[string]any{"browserContextId": b.context}, nil)
	})
	return b.another()
}

// another opens a tab beside one.
func (b *tab) another() *tab {
	b.t.Helper()
	n := &tab{browser: b.browser, t: b.t, context: b.context}
	var target struct{ TargetID string }
	b.top().call("Target.createTarget", map[string]any{"url": "about:blank", "browserContextId": b.context}, &target)
	var attached struct{ SessionID string }
	b.top().call("Target.attachToTarget", map[string]any{"targetId": target.TargetID, "flatten": true}, &attached)
	n.session, n.target = attached.SessionID, target.TargetID
	b.tabs[n.session] = n
	for _, domain := range []string{"Page", "Runtime", "Log", "Accessibility", "DOM"} {
		n.call(domain+".enable", nil, nil)
	}
	return n
}

// top is where commands to the browser as a whole go.
func (b *tab) top() *tab { return &tab{browser: b.browser, t: b.t} }

// front brings a tab to the front: one behind another is not painted.
func (b *tab) front() {
	b.t.Helper()
	b.call("Page.bringToFront", nil, nil)
}

// open starts the browser.
func open(t *testing.T, name string) *browser {
	t.Helper()
	commands, in, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	out, answers, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	profile, err := os.MkdirTemp("", "profile")
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(name,
		"--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run", "--hide-scrollbars",
		"--disable-extensions", "--disable-background-networking", "--remote-debugging-pipe", "--user-data-dir="+profile, "about:blank")
	c.ExtraFiles = []*os.File{commands, answers}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	commands.Close()
	answers.Close()
	return &browser{command: c, in: in, out: bufio.NewReader(out), profile: profile, tabs: map[string]*tab{}}
}

// close ends the browser. Asked to close, it ends its other processes and lets go of its files.
func (b *browser) close() {
	fmt.Fprintf(b.in, `{"id": 1000000, "method": "Browser.close"}`+"\x00")
	ended := make(chan struct{})
	go func() { b.command.Wait(); close(ended) }()
	select {
	case <-ended:
	case <-time.After(10 * time.Second):
		b.command.Process.Kill()
		<-ended
	}
	b.in.Close()
	// Other processes of it may outlive it by a moment and write there.
	for range 50 {
		if os.RemoveAll(b.profile) == nil {
			return
		}
		time.Sleep(100 * time.Millisecond)
	}
}

// call sends a command and waits for its answer; events that come meanwhile are
// kept.
func (b *tab) call(method string, params, result any) {
	b.t.Helper()
	if err := b.try(method, params, result); err != nil {
		b.t.Fatal(err)
	}
}

// try is call for what a page may be in the middle of leaving.
func (b *tab) try(method string, params, result any) error {
	b.t.Helper()
	b.number++
	text, err := json.Marshal(struct {
		ID      int    `json:"id"`
		Session string `json:"sessionId,omitempty"`
		Method  string `json:"method"`
		Params  any    `json:"params,omitempty"`
	}{b.number, b.session, method, params})
	if err != nil {
		b.t.Fatal(err)
	}
	if _, err := b.in.Write(append(text, 0)); err != nil {
		b.t.Fatal(err)
	}
	for {
		text, err := b.out.ReadBytes(0)
		if err != nil {
			b.t.Fatalf("%s: the browser is gone: %v", method, err)
		}
		var m struct {
			event
			ID     int
			Result json.RawMessage
			Error  *struct{ Message string }
		}
		if err := json.Unmarshal(text[:len(text)-1], &m); err != nil {
			b.t.Fatal(err)
		}
		switch {
		case m.Method != "":
			if to := b.tabs[m.Session]; to != nil {
				to.events = append(to.events, m.event)
			}
		case m.ID != b.number:
		case m.Error != nil:
			return fmt.Errorf("%s: %s", method, m.Error.Message)
		case result != nil:
			return json.Unmarshal(m.Result, result)
		default:
			return nil
		}
	}
}

// value evaluates an expression in the page, waiting where it is a promise.
func value[T any](b *tab, expression string) T {
	b.t.Helper()
	v, err := evaluate[T](b, expression)
	if err != nil {
		b.t.Fatalf("%.500s: %v", expression, err)
	}
	return v
}

func evaluate[T any](b *tab, expression string) (T, error) {
	b.t.Helper()
	var answer struct {
		Result           struct{ Value T }
		ExceptionDetails *struct{ Exception struct{ Description string } }
	}
	err := b.try("Runtime.evaluate", map[string]any{"expression": expression, "returnByValue": true, "awaitPromise": true, "userGesture": true}, &answer)
	if e := answer.ExceptionDetails; e != nil {
		err = errors.New(e.Exception.Description)
	}
	return answer.Result.Value, err
}

// until waits for a condition in the page, which may come and go meanwhile.
func (b *tab) until(condition string) {
	b.t.Helper()
	end := time.Now().Add(60 * time.Second)
	for {
		yes, err := evaluate[bool](b, condition)
		if yes && err == nil {
			return
		}
		if time.Now().After(end) {
			b.t.Fatalf("in vain: %s: %v; the page says %.2000q", condition, err, value[string](b, "document.body?.innerText ?? ''"))
		}
		time.Sleep(20 * time.Millisecond)
	}
}

// press presses and releases a key.
func (b *tab) press(key string) {
	b.t.Helper()
	k := map[string]struct {
		code int
		text string
	}{"Tab": {9, ""}, "Enter": {13, "\r"}, "Space": {32, " "}, "Escape": {27, ""}}[key]
	name := key
	if key == "Space" {
		name = " "
	}
	for _, kind := range []string{"keyDown", "keyUp"} {
		p := map[string]any{"type": kind, "key": name, "code": key, "windowsVirtualKeyCode": k.code}
		if kind == "keyDown" && k.text != "" {
			p["text"] = k.text
		}
		b.call("Input.dispatchKeyEvent", p, nil)
	}
}

// write puts text in place of what the focused field holds, as if typed.
func (b *tab) write(text string) {
	b.t.Helper()
	value[any](b, "document.activeElement.select()")
	b.call("Input.insertText", map[string]any{"text": text}, nil)
}

func (b *tab) size(width, height int) {
	b.t.Helper()
	b.call("Emulation.setDeviceMetricsOverride", map[string]any{"width": width, "height": height, "deviceScaleFactor": 1, "mobile": false}, nil)
	b.until(fmt.Sprintf("innerWidth === %d && innerHeight === %d", width, height))
}

// phone makes the tab one of a phone in the hand.
func (b *tab) phone() {
	b.t.Helper()
	b.call("Emulation.setDeviceMetricsOverride", map[string]any{"width": 390, "height": 844, "deviceScaleFactor": 2, "mobile": true}, nil)
	b.call("Emulation.setTouchEmulationEnabled", map[string]any{"enabled": true}, nil)
}

// tap touches the middle of an element.
func (b *tab) tap(selector string) {
	b.t.Helper()
	at := value[[]float64](b, fmt.Sprintf(`(async (e) => {
		e.scrollIntoView({ block: "center", behavior: "instant" });
		await new Promise(requestAnimationFrame);
		const r = e.getBoundingClientRect();
		return [r.x + r.width / 2, r.y + r.height / 2];
	})(document.querySelector(%q))`, selector))
	b.call("Input.dispatchTouchEvent", map[string]any{"type": "touchStart", "touchPoints": []any{map[string]any{"x": at[0], "y": at[1]}}}, nil)
	b.call("Input.dispatchTouchEvent", map[string]any{"type": "touchEnd", "touchPoints": []any{}}, nil)
}

// complaints are what the browser says of the page in its console.
func (b *tab) complaints() error {
	var all []error
	for _, e := range b.events {
		switch e.Method {
		case "Runtime.exceptionThrown", "Log.entryAdded", "Runtime.consoleAPICalled":
			all = append(all, errors.New(string(e.Params)))
		}
	}
	return errors.Join(all...)
}

// quiet holds the page to an empty console.
func (b *tab) quiet() {
	b.t.Helper()
	if err := b.complaints(); err != nil {
		b.t.Errorf("the browser complains: %v", err)
	}
}
