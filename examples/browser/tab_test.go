package main

import (
	"context"
	"fmt"
	"net/http/httptest"
	"os"
	"sync"
	"testing"

	"example.com/longpoint/internal/devtools"
)

// tab is the page in a browser.
type tab struct {
	*devtools.Tab
	t *testing.T
}

// shared is the browser of all tests, once one asks for it.
var shared *devtools.Browser

// served is the page on a server of this machine, for all tests.
type served struct{ dir, url string }

var pages = sync.OnceValues(func() (*served, error) {
	dir, err := os.MkdirTemp("", "page")
	if err != nil {
		return nil, err
	}
	if err := build(context.Background(), dir); err != nil {
		return nil, err
	}
	page, err := newFiles(dir)
	if err != nil {
		return nil, err
	}
	return &served{dir, httptest.NewServer(page).URL}, nil
})

func TestMain(m *testing.M) {
	code := m.Run()
	if shared != nil {
		shared.Close()
		if site, err := pages(); err == nil {
			os.RemoveAll(site.dir)
		}
	}
	os.Exit(code)
}

// start opens a tab with nothing stored, if there is a browser. It is closed after the test.
func start(t *testing.T) *tab {
	t.Helper()
	devtools.Skip(t)
	if shared == nil {
		b, err := devtools.Start()
		if err != nil {
			t.Fatal(err)
		}
		shared = b
	}
	return &tab{shared.Tab(t), t}
}

// page opens the page, with a script to run before its own, and waits for its first sheet. Only one
// test uses the browser's offline cache.
func page(t *testing.T, before ...string) *tab {
	t.Helper()
	b := start(t)
	before = append(before, "delete Navigator.prototype.serviceWorker")
	b.size(1280, 900)
	for _, source := range before {
		b.Call("Page.addScriptToEvaluateOnNewDocument", map[string]any{"source": source}, nil)
	}
	b.visit()
	b.settled("done")
	return b
}

func (b *tab) visit() {
	b.t.Helper()
	site, err := pages()
	if err != nil {
		b.t.Fatal(err)
	}
	b.Call("Page.navigate", map[string]any{"url": site.url}, nil)
	b.Until(`document.readyState === "complete" && location.href.startsWith("http")`)
}

func (b *tab) another() *tab { return &tab{b.Another(), b.t} }

// value evaluates an expression in the page, awaiting a promise.
func value[T any](b *tab, expression string) T {
	b.t.Helper()
	return devtools.Value[T](b.Tab, expression)
}

func (b *tab) size(width, height int) {
	b.t.Helper()
	b.Screen(width, height, false)
	b.Until(fmt.Sprintf("innerWidth === %d && innerHeight === %d", width, height))
}

// phone makes the tab one of a phone in the hand.
func (b *tab) phone() {
	b.t.Helper()
	b.Screen(390, 844, true)
}

// quiet checks that the console of the page is empty.
func (b *tab) quiet() {
	b.t.Helper()
	if err := b.Complaints(); err != nil {
		b.t.Errorf("the browser complains: %v", err)
	}
}
