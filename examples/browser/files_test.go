package main

import (
	"compress/gzip"
	"context"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// ask sends a request by its header.
func ask(t *testing.T, h http.Handler, method, path string, header ...string) *http.Response {
	t.Helper()
	r := httptest.NewRequest(method, path, nil)
	for i := 0; i < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w.Result()
}

// Large files are compressed and cached; the others are revalidated each time.
func TestFiles(t *testing.T) {
	dir := t.TempDir()
	const library = "longpoint-0123456789abcdef.wasm"
	texts := map[string]string{
		"index.html": strings.Repeat("<p>page</p>", 100), "page.js": strings.Repeat("let x;\n", 100), "style.css": "p{}", library: strings.Repeat("\x00asm", 1000),
	}
	for name, text := range texts {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	fs, err := newFiles(dir)
	if err != nil {
		t.Fatal(err)
	}
	tags := map[string]bool{}
	for _, c := range []struct{ path, accept, kind, encoding, cache string }{
		{"/", "gzip, br", "text/html; charset=utf-8", "gzip", "no-cache"},
		{"/index.html", "", "text/html; charset=utf-8", "", "no-cache"},
		{"/page.js", "br;q=1, gzip;q=0.5", "text/javascript; charset=utf-8", "gzip", "no-cache"},
		{"/page.js", "gzip;q=0, *", "text/javascript; charset=utf-8", "", "no-cache"},
		{"/style.css", "gzip", "text/css; charset=utf-8", "", "no-cache"}, // too short to gain
		{"/" + library, "*", "application/wasm", "gzip", "public, max-age=31536000, immutable"},
		{"/" + library, "identity", "application/wasm", "", "public, max-age=31536000, immutable"},
	} {
		r := ask(t, fs, "GET", c.path, "Accept-Encoding", c.accept)
		h := r.Header
		if r.StatusCode != 200 || h.Get("Content-Type") != c.kind || h.Get("Content-Encoding") != c.encoding || h.Get("Cache-Control") != c.cache || h.Get("X-Content-Type-Options") != "nosniff" || h.Get("Content-Security-Policy") != "frame-ancestors 'none'" || h.Get("Vary") != "Accept-Encoding" {
			t.Errorf("%s for %q: %d, %v", c.path, c.accept, r.StatusCode, h)
		}
		body := io.Reader(r.Body)
		if c.encoding == "gzip" {
			if body, err = gzip.NewReader(body); err != nil {
				t.Fatal(err)
			}
		}
		text, err := io.ReadAll(body)
		want := texts[strings.TrimPrefix(c.path, "/")]
		if c.path == "/" {
			want = texts["index.html"]
		}
		if err != nil || string(text) != want {
			t.Errorf("%s for %q: %d bytes, %v", c.path, c.accept, len(text), err)
		}
		// A client that has the file is sent nothing; other bytes have another tag.
		tag := h.Get("ETag")
		if c.path != "/" && tags[tag] || tag == "" {
			t.Errorf("%s for %q has the tag %s", c.path, c.accept, tag)
		}
		tags[tag] = true
		if r := ask(t, fs, "GET", c.path, "Accept-Encoding", c.accept, "If-None-Match", tag); r.StatusCode != http.StatusNotModified {
			t.Errorf("%s again: %d", c.path, r.StatusCode)
		}
	}
	// A part is one of the plain bytes.
	if r := ask(t, fs, "GET", "/"+library, "Accept-Encoding", "gzip", "Range", "bytes=1-3"); r.StatusCode != http.StatusPartialContent || r.Header.Get("Content-Encoding") != "" {
		t.Errorf("a part: %d, %v", r.StatusCode, r.Header)
	}
	for path, want := range map[string]int{"/missing": 404, "/../files.go": 404, "/index.html.gz": 404, "//": 404} {
		if r := ask(t, fs, "GET", path); r.StatusCode != want {
			t.Errorf("%s: %d, want %d", path, r.StatusCode, want)
		}
	}
	if r := ask(t, fs, "HEAD", "/"); r.StatusCode != 200 {
		t.Errorf("HEAD: %d", r.StatusCode)
	}
	if r := ask(t, fs, "POST", "/"); r.StatusCode != http.StatusMethodNotAllowed || r.Header.Get("Allow") == "" {
		t.Errorf("POST: %d", r.StatusCode)
	}
	if _, err := newFiles(filepath.Join(dir, "missing")); err == nil {
		t.Error("a missing directory was served")
	}
}

// In a browser the library comes compressed, is compiled as it comes, and comes once.
func TestBrowserLibrary(t *testing.T) {
	const spy = `
window.streamed = 0;
const compileStreaming = WebAssembly.compileStreaming;
WebAssembly.compileStreaming = (r) => { streamed++; return compileStreaming.call(WebAssembly, r); };`
	b := page(t, spy)
	const sizes = `performance.getEntriesByType("resource").filter((e) => e.name.endsWith(".wasm"))`
	type entry struct{ TransferSize, EncodedBodySize, DecodedBodySize int }
	look := func() []entry { return value[[]entry](b, sizes+".map((e) => e.toJSON())") }
	first := look()
	if len(first) != 1 || first[0].EncodedBodySize > first[0].DecodedBodySize/2 || first[0].TransferSize == 0 {
		t.Errorf("the library was loaded as %+v", first)
	}
	if n := value[int](b, "streamed"); n != 1 {
		t.Errorf("compiled while loading %d times", n)
	}
	b.visit()
	b.settled("done")
	if again := look(); len(again) != 1 || again[0].TransferSize != 0 {
		t.Errorf("at the second visit the library was loaded as %+v", again)
	}
	b.quiet()

	// A server of plain files may not know the media types.
	c := page(t, spy+`
const fetched = window.fetch;
window.fetch = async (...args) => { const r = await fetched(...args); return new Response(r.body, { headers: { "Content-Type": "application/octet-stream" } }); };`)
	if n := value[int](c, "streamed"); n != 0 {
		t.Errorf("compiled while loading %d times", n)
	}
	c.numbers("2", "4", "$45.16")
}

// After the first visit the page works offline, and so does a new worker.
func TestBrowserOffline(t *testing.T) {
	b := start(t)
	site, err := pages()
	if err != nil {
		t.Fatal(err)
	}
	fs, err := newFiles(site.dir)
	if err != nil {
		t.Fatal(err)
	}
	server := httptest.NewServer(fs)
	defer server.Close()
	b.Call("Page.navigate", map[string]any{"url": server.URL}, nil)
	b.settled("done")
	b.Until("navigator.serviceWorker.ready.then((r) => r.active.state === 'activated')")
	server.Close()
	b.Call("Page.reload", map[string]any{"ignoreCache": false}, nil)
	b.Until("document.readyState === 'complete' && navigator.serviceWorker.controller !== null && document.getElementById('result').dataset.state === 'done'")
	b.numbers("2", "4", "$45.16")
	value[any](b, "document.querySelector('[data-field=quantity]').focus()")
	b.Write("2")
	b.state("stale", "Out of date")
	// A change during a search ends the worker; the next one loads from the cache.
	value[any](b, "document.getElementById('solve').click()")
	b.Write("3")
	value[any](b, "document.getElementById('solve').click()")
	b.settled("done")
	b.sheet("north wall, left")
}

// The program itself serves the page, and ends.
func TestBrowserServe(t *testing.T) {
	b := start(t)
	b.Call("Page.navigate", map[string]any{"url": serve(t)}, nil)
	b.settled("done")
	b.numbers("2", "4", "$45.16")
}

// serve runs the program until the end of the test and returns the address of the page.
func serve(t *testing.T) (url string) {
	t.Helper()
	ctx, stop := context.WithCancel(t.Context())
	read, write := io.Pipe()
	done := make(chan error, 1)
	go func() {
		err := run(ctx, write, "-addr", "127.0.0.1:0")
		write.CloseWithError(err)
		done <- err
	}()
	t.Cleanup(func() {
		stop()
		if err := <-done; err != nil {
			t.Error(err)
		}
	})
	if _, err := fmt.Fscanf(read, "the page is at %s\n", &url); err != nil {
		t.Fatal(err)
	}
	return url
}
