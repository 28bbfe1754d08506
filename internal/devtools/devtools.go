// Package devtools drives a real browser over the DevTools protocol, for tests: it opens a page
// as a telephone or a printer would, presses its boxes and reads what it looks like then.
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
// with a zero byte. One serves any number of tests, one after the other.
type Browser struct {
	command *exec.Cmd
	in, out *os.File
	write   io.Writer
	read    *bufio.Reader
	number  int
	folder  string
	tabs    map[string]*Tab // by session
}

// Skip skips the test where no browser is named, or tests are to be short.
func Skip(t testing.TB) {
	t.Helper()
	if os.Getenv(Variable) == "" {
		t.Skip("set " + Variable + " to the path of a Chromium, such as /usr/bin/chromium, to look at the page in it")
	}
	switch runtime.GOOS {
	case "windows", "js", "wasip1":
		t.Skip("the browser is spoken to through files that a program cannot hand on here")
	}
	if testing.Short() {
		t.Skip("takes seconds")
	}
}

// Start starts the browser that the environment names. Whoever started it closes it.
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

// Close ends the browser. Asked to close, it ends its other processes and lets go of its files.
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
	// Other processes of it may outlive it by a moment and write there.
	for range 50 {
		if os.RemoveAll(b.folder) == nil {
			return
		}
		time.Sleep(100 * time.Millisecond)
	}
}

// patience is how long the browser may say nothing at all.
const patience = 90 * time.Second

// message is what the browser says: an event of a tab or the answer to a command.
type message struct {
	Event
	Session string `json:"sessionId"`
	ID      int
	Result  json.RawMessage
	Error   *struct{ Message string }
}

// next reads what the browser says next, and keeps events for their tabs.
func (b *Browser) next() (message, error) {
	var m message
	// A browser that does not answer is at fault, and a test that waits for ever tells nobody so.
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
