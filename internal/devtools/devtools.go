// Package devtools drives a real browser over the DevTools protocol, for tests: it opens a page
// as a telephone or a printer would, presses its boxes and reads what it looks like then.
package devtools

import (
	"bufio"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"
)

// Variable is the name of the environment variable with the path of the browser.
const Variable = "LONGPOINT_BROWSER"

// A Tab is one page of a browser. The browser reads commands from its descriptor 3 and answers
// on 4, each a JSON object that ends with a zero byte.
type Tab struct {
	t       testing.TB
	in      io.Writer
	out     *bufio.Reader
	session string
	number  int
	folder  string
	loaded  bool // since Load last asked
}

// Open starts the browser, which ends with the test. Where no browser is named, or tests are to be short,
// it skips the test.
func Open(t testing.TB) *Tab {
	t.Helper()
	browser := os.Getenv(Variable)
	if browser == "" {
		t.Skip("set " + Variable + " to the path of a browser to look at the page in it")
	}
	if testing.Short() {
		t.Skip("takes seconds")
	}
	commands, in, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	out, answers, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	folder, err := os.MkdirTemp("", "browser")
	if err != nil {
		t.Fatal(err)
	}
	// Other processes of the browser may outlive it by a moment and write here.
	t.Cleanup(func() {
		for range 50 {
			if os.RemoveAll(folder) == nil {
				return
			}
			time.Sleep(100 * time.Millisecond)
		}
	})
	c := exec.Command(browser,
		"--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run", "--hide-scrollbars",
		"--disable-extensions", "--disable-background-networking", "--remote-debugging-pipe", "--user-data-dir="+filepath.Join(folder, "profile"), "about:blank")
	c.ExtraFiles = []*os.File{commands, answers}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	commands.Close()
	answers.Close()
	b := &Tab{t: t, in: in, out: bufio.NewReader(out), folder: folder}
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
	b.Call("Target.createTarget", map[string]any{"url": "about:blank"}, &target)
	var attached struct{ SessionID string }
	b.Call("Target.attachToTarget", map[string]any{"targetId": target.TargetID, "flatten": true}, &attached)
	b.session = attached.SessionID
	for _, domain := range []string{"Page", "Runtime", "Accessibility"} {
		b.Call(domain+".enable", nil, nil)
	}
	return b
}

// answer is what the browser says: an event or the result of a command.
type answer struct {
	Method string
	ID     int
	Result json.RawMessage
	Error  *struct{ Message string }
}

// next reads what the browser says next.
func (b *Tab) next(why string) answer {
	b.t.Helper()
	text, err := b.out.ReadBytes(0)
	if err != nil {
		b.t.Fatalf("%s: the browser is gone: %v", why, err)
	}
	var a answer
	if err := json.Unmarshal(text[:len(text)-1], &a); err != nil {
		b.t.Fatal(err)
	}
	if a.Method == "Page.loadEventFired" {
		b.loaded = true
	}
	return a
}

// Call sends a command and waits for its answer, which it reads into result unless that is nil.
func (b *Tab) Call(method string, params, result any) {
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
		a := b.next(method)
		switch {
		case a.Method != "" || a.ID != b.number:
		case a.Error != nil:
			b.t.Fatalf("%s: %s", method, a.Error.Message)
		default:
			if result != nil {
				if err := json.Unmarshal(a.Result, result); err != nil {
					b.t.Fatal(err)
				}
			}
			return
		}
	}
}

// Load shows a page and waits until it stands.
func (b *Tab) Load(page string) {
	b.t.Helper()
	file := filepath.Join(b.folder, "page.html")
	if err := os.WriteFile(file, []byte(page), 0o666); err != nil {
		b.t.Fatal(err)
	}
	b.loaded = false
	b.Call("Page.navigate", map[string]any{"url": "file://" + file}, nil)
	for !b.loaded {
		b.next("Page.navigate")
	}
}

// Value evaluates an expression in the page, waiting where it is a promise.
func Value[T any](b *Tab, expression string) T {
	b.t.Helper()
	var answer struct {
		Result           struct{ Value T }
		ExceptionDetails *struct {
			Text      string
			Exception struct{ Description string }
		}
	}
	b.Call("Runtime.evaluate", map[string]any{"expression": expression, "returnByValue": true, "awaitPromise": true}, &answer)
	if e := answer.ExceptionDetails; e != nil {
		b.t.Fatalf("%.200s: %s %s", expression, e.Text, e.Exception.Description)
	}
	return answer.Result.Value
}

// Screen sets the size of the screen, in pixels of CSS, and whether it is that of a telephone.
func (b *Tab) Screen(width, height int, telephone bool) {
	b.t.Helper()
	b.Call("Emulation.setDeviceMetricsOverride", map[string]any{"width": width, "height": height, "deviceScaleFactor": 1, "mobile": telephone}, nil)
}

// Media sets for what the page is shown, "screen", "print" or "" for the usual, and whether
// whoever reads it likes dark screens.
func (b *Tab) Media(media string, dark bool) {
	b.t.Helper()
	scheme := "light"
	if dark {
		scheme = "dark"
	}
	b.Call("Emulation.setEmulatedMedia", map[string]any{"media": media, "features": []map[string]string{{"name": "prefers-color-scheme", "value": scheme}}}, nil)
}

// Print returns the page as a PDF on paper of a size in inches.
func (b *Tab) Print(width, height float64) []byte {
	b.t.Helper()
	var printed struct{ Data string }
	b.Call("Page.printToPDF", map[string]any{"paperWidth": width, "paperHeight": height, "preferCSSPageSize": false}, &printed)
	pdf, err := base64.StdEncoding.DecodeString(printed.Data)
	if err != nil {
		b.t.Fatal(err)
	}
	return pdf
}

// Picture returns what the screen shows as a PNG.
func (b *Tab) Picture() []byte {
	b.t.Helper()
	var shot struct{ Data string }
	b.Call("Page.captureScreenshot", map[string]any{"format": "png"}, &shot)
	data, err := base64.StdEncoding.DecodeString(shot.Data)
	if err != nil {
		b.t.Fatal(err)
	}
	return data
}

// Read returns the texts that the page says to who has it read aloud, in order.
func (b *Tab) Read() []string {
	b.t.Helper()
	var tree struct {
		Nodes []struct {
			Ignored    bool
			Role, Name struct{ Value any }
		}
	}
	b.Call("Accessibility.getFullAXTree", nil, &tree)
	var texts []string
	for _, n := range tree.Nodes {
		if text, ok := n.Name.Value.(string); ok && !n.Ignored && text != "" {
			texts = append(texts, text)
		}
	}
	return texts
}
