package main

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"mime"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"time"
)

// files serves the contents of a directory, as of the start: compressed to clients that accept
// that, and not again to clients that have it.
type files map[string]content

type content struct {
	kind         string // media type
	plain, small []byte // small is nil if compression does not help
	tag          string
	forever      bool // the name has a checksum of the contents
}

var named = regexp.MustCompile(`-[0-9a-f]{16}\.`)

func newFiles(dir string) (files, error) {
	list, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	fs := files{}
	for _, e := range list {
		name := e.Name()
		if strings.HasSuffix(name, ".gz") {
			continue
		}
		text, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			return nil, err
		}
		// The system's list of types may lack some that a page of modules needs.
		kind, ok := map[string]string{".wasm": "application/wasm", ".js": "text/javascript; charset=utf-8", ".css": "text/css; charset=utf-8", ".html": "text/html; charset=utf-8"}[filepath.Ext(name)]
		if !ok {
			kind = mime.TypeByExtension(filepath.Ext(name))
		}
		f := content{kind: kind, plain: text, tag: `"` + sum(text) + `"`, forever: named.MatchString(name)}
		if f.small, err = os.ReadFile(filepath.Join(dir, name+".gz")); err != nil {
			if f.small, err = compress(text); err != nil {
				return nil, err
			}
		}
		if len(f.small) >= len(text) {
			f.small = nil
		}
		fs["/"+name] = f
	}
	if index, ok := fs["/index.html"]; ok {
		fs["/"] = index
	}
	return fs, nil
}

func (fs files) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	f, ok := fs[r.URL.Path]
	switch {
	case !ok:
		http.NotFound(w, r)
		return
	case r.Method != http.MethodGet && r.Method != http.MethodHead:
		w.Header().Set("Allow", "GET, HEAD")
		http.Error(w, "this page is only read", http.StatusMethodNotAllowed)
		return
	}
	h := w.Header()
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Content-Security-Policy", "frame-ancestors 'none'") // which the page itself cannot say
	h.Set("Content-Type", f.kind)
	h.Set("Vary", "Accept-Encoding")
	h.Set("Cache-Control", "no-cache") // cached, and revalidated each time
	if f.forever {
		h.Set("Cache-Control", "public, max-age=31536000, immutable")
	}
	body, tag := f.plain, f.tag
	if f.small != nil && r.Header.Get("Range") == "" && gzips(r.Header.Get("Accept-Encoding")) {
		h.Set("Content-Encoding", "gzip")
		body, tag = f.small, strings.TrimSuffix(f.tag, `"`)+`-gzip"` // other bytes, another tag
	}
	h.Set("ETag", tag)
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(body))
}

// gzips reports whether a client accepts gzip, by RFC 9110, 12.5.3.
func gzips(accepted string) bool {
	any := false
	for _, s := range strings.Split(accepted, ",") {
		name, weight, _ := strings.Cut(s, ";")
		weight = strings.ReplaceAll(strings.ToLower(weight), " ", "")
		wanted := strings.Trim(strings.TrimPrefix(weight, "q="), "0.") != "" || weight == ""
		switch strings.ToLower(strings.TrimSpace(name)) {
		case "gzip", "x-gzip":
			return wanted
		case "*":
			any = wanted
		}
	}
	return any
}

func compress(text []byte) ([]byte, error) {
	var b bytes.Buffer
	w, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(text); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// sum returns a checksum that practically identifies the contents.
func sum(text []byte) string {
	h := sha256.Sum256(text)
	return hex.EncodeToString(h[:8])
}
