// Package devtools drives a real browser over the DevTools protocol, for tests: it opens a page
// as on a telephone or a printer, operates its controls and reads the displayed text.
package devtools

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"
	"time"
)

// Variable is the name of the environment variable with the path of the browser.
const Variable = "LONGPOINT_BROWSER"

// A Browser reads commands from its descriptor 3 and answers on 4, each a JSON object that ends
// with a zero byte. One browser serves any number of tests, one after the other.
type Browser struct {
	command *exec.Cmd
	in, out *os.File
	write   io.Writer
	read    *bufio.Reader
	number  int
	folder  string
	tabs    map[string]*Tab // by session
}

// Skip skips the test if no browser is named, or in short mode.
func Skip(t testing.TB) {
	t.Helper()
	if os.Getenv(Variable) == "" {
		t.Skip("set " + Variable + " to the path of a Chromium, such as /usr/bin/chromium, to test the page in it")
	}
	switch runtime.GOOS {
	case "windows", "js", "wasip1":
		t.Skip("the browser needs inherited files, which this platform does not support")
	}
	if testing.Short() {
		t.Skip("takes seconds")
	}
}

// Start starts the browser that the environment names. The caller closes it.
func Start() (*Browser, error) {
	commands, in, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	out, answers, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	folder, err := os.MkdirTemp("", "browser")
	if err != nil {
		return nil, err
	}
	c := exec.Command(os.Getenv(Variable),
		"--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run", "--hide-scrollbars",
		"--disable-extensions", "--disable-background-networking", "--remote-debugging-pipe", "--user-data-dir="+filepath.Join(folder, "profile"), "about:blank")
	c.ExtraFiles = []*os.File{commands, answers}
	err = c.Start()
	commands.Close()
	answers.Close()
	if err != nil {
		in.Close()
		out.Close()
		os.RemoveAll(folder)
		return nil, err
	}
	return &Browser{command: c, in: in, out: out, write: in, read: bufio.NewReader(out), folder: folder, tabs: map[string]*Tab{}}, nil
}

// Close ends the browser. It asks first, so that the browser ends its other processes and
// closes its files.
func (b *Browser) Close() {
	fmt.Fprintf(b.write, `{"id": 1000000, "method": "Browser.close"}`+"\x00")
	ended := make(chan struct{})
	go func() { b.command.Wait(); close(ended) }()
	select {
	case <-ended:
	case <-time.After(10 * time.Second):
		b.command.Process.Kill()
		<-ended
	}
	b.in.Close()
	b.out.Close()
	// Its other processes may outlive it by a moment and write there.
	for range 50 {
		if os.RemoveAll(b.folder) == nil {
			return
		}
		time.Sleep(100 * time.Millisecond)
	}
}

// patience is the greatest silence of the browser.
const patience = 90 * time.Second

// message is a message of the browser: an event of a tab or the answer to a command.
type message struct {
	Event
	Session string `json:"sessionId"`
	ID      int
	Result  json.RawMessage
	Error   *struct{ Message string }
}

// next reads the next message of the browser, and keeps events for their tabs.
func (b *Browser) next() (message, error) {
	var m message
	// A browser that does not answer is a failure; a test that waits forever reports nothing.
	if err := b.out.SetReadDeadline(time.Now().Add(patience)); err != nil {
		return m, err
	}
	text, err := b.read.ReadBytes(0)
	if err != nil {
		return m, fmt.Errorf("the browser is gone: %w", err)
	}
	if err := json.Unmarshal(text[:len(text)-1], &m); err != nil {
		return m, err
	}
	if to := b.tabs[m.Session]; to != nil && m.Method != "" {
		to.Events = append(to.Events, m.Event)
		to.loaded = to.loaded || m.Method == "Page.loadEventFired"
	}
	return m, nil
}

// do sends a command and waits for its answer, which it reads into result unless that is nil.
func (b *Browser) do(session, method string, params, result any) error {
	b.number++
	text, err := json.Marshal(struct {
		ID      int    `json:"id"`
		Session string `json:"sessionId,omitempty"`
		Method  string `json:"method"`
		Params  any    `json:"params,omitempty"`
	}{b.number, session, method, params})
	if err != nil {
		return err
	}
	if _, err := b.write.Write(append(text, 0)); err != nil {
		return err
	}
	for {
		m, err := b.next()
		switch {
		case err != nil:
			return fmt.Errorf("%s: %w", method, err)
		case m.Method != "" || m.ID != b.number:
		case m.Error != nil:
			return fmt.Errorf("%s: %s", method, m.Error.Message)
		case result != nil:
			return json.Unmarshal(m.Result, result)
		default:
			return nil
		}
	}
}
