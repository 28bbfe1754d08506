package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"testing"
	"time"
)

// tab is one page of a real browser, driven over the DevTools protocol. The
// browser reads commands from its descriptor 3 and answers on 4, each a JSON
// object that ends with a zero byte.
type tab struct {
	t       *testing.T
	in      io.Writer
	out     *bufio.Reader
	session string
	number  int
	events  []event
}

type event struct {
	Method string
	Params json.RawMessage
}

// open starts the browser, which ends with the test.
func open(t *testing.T, browser string) *tab {
	t.Helper()
	commands, in, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	out, answers, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	// Other processes of the browser may outlive it by a moment and write here.
	profile, err := os.MkdirTemp("", "profile")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		for range 50 {
			if os.RemoveAll(profile) == nil {
				return
			}
			time.Sleep(100 * time.Millisecond)
		}
	})
	c := exec.Command(browser,
		"--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run", "--hide-scrollbars",
		"--disable-extensions", "--disable-background-networking", "--remote-debugging-pipe", "--user-data-dir="+profile, "about:blank")
	c.ExtraFiles = []*os.File{commands, answers}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	commands.Close()
	answers.Close()
	b := &tab{t: t, in: in, out: bufio.NewReader(out)}
	t.Cleanup(func() {
		// Asked to close, the browser ends its other processes and lets go of its files.
		fmt.Fprintf(in, `{"id": 1000000, "method": "Browser.close"}`+"\x00")
		ended := make(chan struct{})
		go func() { c.Wait(); close(ended) }()
		select {
		case <-ended:
		case <-time.After(10 * time.Second):
			c.Process.Kill()
			<-ended
		}
		in.Close()
		out.Close()
	})
	var target struct{ TargetID string }
	b.call("Target.createTarget", map[string]any{"url": "about:blank"}, &target)
	var attached struct{ SessionID string }
	b.call("Target.attachToTarget", map[string]any{"targetId": target.TargetID, "flatten": true}, &attached)
	b.session = attached.SessionID
	for _, domain := range []string{"Page", "Runtime", "Log", "Accessibility"} {
		b.call(domain+".enable", nil, nil)
	}
	return b
}

// call sends a command and waits for its answer; events that come meanwhile are
// kept.
func (b *tab) call(method string, params, result any) {
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
			b.events = append(b.events, m.event)
		case m.ID != b.number:
		case m.Error != nil:
			b.t.Fatalf("%s: %s", method, m.Error.Message)
		default:
			if result != nil {
				if err := json.Unmarshal(m.Result, result); err != nil {
					b.t.Fatal(err)
				}
			}
			return
		}
	}
}

// value evaluates an expression in the page, waiting where it is a promise.
func value[T any](b *tab, expression string) T {
	b.t.Helper()
	var answer struct {
		Result           struct{ Value T }
		ExceptionDetails *struct{ Exception struct{ Description string } }
	}
	b.call("Runtime.evaluate", map[string]any{"expression": expression, "returnByValue": true, "awaitPromise": true}, &answer)
	if e := answer.ExceptionDetails; e != nil {
		b.t.Fatalf("%s: %s", expression, e.Exception.Description)
	}
	return answer.Result.Value
}

// until waits for a condition in the page.
func (b *tab) until(condition string) {
	b.t.Helper()
	end := time.Now().Add(60 * time.Second)
	for !value[bool](b, condition) {
		if time.Now().After(end) {
			b.t.Fatalf("in vain: %s; the page says %q", condition, value[string](b, "document.body?.innerText ?? ''"))
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
