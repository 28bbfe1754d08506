package devtools

import (
	"encoding/base64"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// A Tab is one page of a browser. Tabs opened by [Tab.Another] share stored data, all others
// have separate profiles.
type Tab struct {
	Events []Event // events of the page so far

	browser *Browser
	t       testing.TB
	session string
	context string // the profile
	loaded  bool   // since the last Load
}

// An Event is something that happened in a tab.
type Event struct {
	Method string
	Params json.RawMessage
}

// Open opens a tab in a new browser, which ends with the test. It skips the test like [Skip].
func Open(t testing.TB) *Tab {
	t.Helper()
	Skip(t)
	b, err := Start()
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(b.Close)
	return b.Tab(t)
}

// Tab opens a tab without stored data, which closes with the test.
func (b *Browser) Tab(t testing.TB) *Tab {
	t.Helper()
	first := &Tab{browser: b, t: t}
	var made struct{ BrowserContextID string }
	first.Call("Target.createBrowserContext", nil, &made)
	t.Cleanup(func() {
		_ = b.do("", "Target.disposeBrowserContext", map[string]any{"browserContextId": made.BrowserContextID}, nil) // the browser may be gone
	})
	first.context = made.BrowserContextID
	return first.Another()
}

// Another opens a tab beside one.
func (b *Tab) Another() *Tab {
	b.t.Helper()
	n := &Tab{browser: b.browser, t: b.t, context: b.context}
	var target struct{ TargetID string }
	n.Call("Target.createTarget", map[string]any{"url": "about:blank", "browserContextId": b.context}, &target)
	var attached struct{ SessionID string }
	n.Call("Target.attachToTarget", map[string]any{"targetId": target.TargetID, "flatten": true}, &attached)
	n.session = attached.SessionID
	b.browser.tabs[n.session] = n
	for _, domain := range []string{"Page", "Runtime", "Log", "Accessibility", "DOM"} {
		n.Call(domain+".enable", nil, nil)
	}
	return n
}

// Front brings the tab to the front: a tab behind another is not painted.
func (b *Tab) Front() {
	b.t.Helper()
	b.Call("Page.bringToFront", nil, nil)
}

// Call sends a command and waits for its answer, which it reads into result unless that is nil.
func (b *Tab) Call(method string, params, result any) {
	b.t.Helper()
	if err := b.browser.do(b.session, method, params, result); err != nil {
		b.t.Fatal(err)
	}
}

// Downloads makes the page's downloads go to a directory.
func (b *Tab) Downloads(dir string) {
	b.t.Helper()
	err := b.browser.do("", "Browser.setDownloadBehavior", map[string]any{"behavior": "allow", "downloadPath": dir, "browserContextId": b.context}, nil)
	if err != nil {
		b.t.Fatal(err)
	}
}

// Load shows a page and waits until it is loaded.
func (b *Tab) Load(page string) {
	b.t.Helper()
	file := filepath.Join(b.browser.folder, b.session+".html")
	if err := os.WriteFile(file, []byte(page), 0o666); err != nil {
		b.t.Fatal(err)
	}
	b.loaded = false
	b.Call("Page.navigate", map[string]any{"url": "file://" + file}, nil)
	for !b.loaded {
		if _, err := b.browser.next(); err != nil {
			b.t.Fatal(err)
		}
	}
}

// Value evaluates an expression in the page, awaiting promises.
func Value[T any](b *Tab, expression string) T {
	b.t.Helper()
	v, err := evaluate[T](b, expression)
	if err != nil {
		b.t.Fatalf("%.200s: %v", expression, err)
	}
	return v
}

func evaluate[T any](b *Tab, expression string) (T, error) {
	var answer struct {
		Result           struct{ Value T }
		ExceptionDetails *struct {
			Text      string
			Exception struct{ Description string }
		}
	}
	err := b.browser.do(b.session, "Runtime.evaluate", map[string]any{"expression": expression, "returnByValue": true, "awaitPromise": true, "userGesture": true}, &answer)
	if e := answer.ExceptionDetails; e != nil {
		err = errors.New(e.Text + " " + e.Exception.Description)
	}
	return answer.Result.Value, err
}

// Until waits for a condition in the page, which may be reloaded meanwhile.
func (b *Tab) Until(condition string) {
	b.t.Helper()
	end := time.Now().Add(60 * time.Second)
	for {
		yes, err := evaluate[bool](b, condition)
		if yes && err == nil {
			return
		}
		if time.Now().After(end) {
			b.t.Fatalf("timed out: %s: %v; the page says %.2000q", condition, err, Value[string](b, "document.body?.innerText ?? ''"))
		}
		time.Sleep(20 * time.Millisecond)
	}
}

// Complaints returns the browser's console messages about the page.
func (b *Tab) Complaints() error {
	var all []error
	for _, e := range b.Events {
		switch e.Method {
		case "Runtime.exceptionThrown", "Log.entryAdded", "Runtime.consoleAPICalled":
			all = append(all, errors.New(string(e.Params)))
		}
	}
	return errors.Join(all...)
}

// Screen sets the size of the screen, in CSS pixels, and whether it is a telephone's.
func (b *Tab) Screen(width, height int, telephone bool) {
	b.t.Helper()
	b.Call("Emulation.setDeviceMetricsOverride", map[string]any{"width": width, "height": height, "deviceScaleFactor": 1, "mobile": telephone}, nil)
}

// Media sets the medium of the page, "screen", "print" or "" for the default, and whether the
// user prefers dark screens.
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
	return b.data("Page.printToPDF", map[string]any{"paperWidth": width, "paperHeight": height, "preferCSSPageSize": false})
}

// Picture returns a screenshot as a PNG.
func (b *Tab) Picture() []byte {
	b.t.Helper()
	return b.data("Page.captureScreenshot", map[string]any{"format": "png"})
}

// Poster returns the whole page as a PNG, including the parts off the screen.
func (b *Tab) Poster() []byte {
	b.t.Helper()
	return b.data("Page.captureScreenshot", map[string]any{"format": "png", "captureBeyondViewport": true})
}

func (b *Tab) data(method string, params any) []byte {
	b.t.Helper()
	var answer struct{ Data string }
	b.Call(method, params, &answer)
	data, err := base64.StdEncoding.DecodeString(answer.Data)
	if err != nil {
		b.t.Fatal(err)
	}
	return data
}

// Read returns the texts that a screen reader gets, in order.
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
