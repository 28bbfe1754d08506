package main

import (
	"compress/gzip"
	"io"
	"net/http"
	"strings"
	"testing"

	"example.com/longpoint/optimize/cutsheet"
)

// The weights are those of the example in RFC 9110, section 12.5.1, except for the parameters of a
// media type, which are ignored here.
func TestWeightsPublished(t *testing.T) {
	all := preferences([]string{"text/*;q=0.3, text/plain;q=0.7, text/html;level=2;q=0.4, */*;q=0.5"})
	for media, want := range map[string]int{"text/plain": 700, "text/html": 400, "text/csv": 300, "image/jpeg": 500} {
		if got, _ := weightOf(media, all); got != want {
			t.Errorf("%s weighs %d, want %d", media, got, want)
		}
	}
}

func TestChoose(t *testing.T) {
	for _, c := range []struct {
		accept []string
		want   string // "" where nothing is acceptable
	}{
		{nil, "application/json"},
		{[]string{"*/*"}, "application/json"},
		{[]string{"text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8"}, "text/html"},
		{[]string{"TEXT/HTML"}, "text/html"},
		{[]string{"application/json;q=0.5", "text/plain"}, "text/plain"},
		{[]string{"text/event-stream"}, "text/event-stream"},
		{[]string{"text/*"}, "text/html"},
		{[]string{"text/event-stream, */*"}, "text/event-stream"},
		{[]string{"*/*, text/csv"}, "text/csv"},
		{[]string{"text/*, text/html;q=0"}, "text/plain"},
		{[]string{"*/*;q=0.1, image/*"}, "image/svg+xml"},
		{[]string{"*/*, application/json;q=0"}, "text/html"},
		{[]string{"application/json; charset=utf-8"}, "application/json"},
		{[]string{"application/json;q=2, text/csv;q=0.001"}, "text/csv"},
		{[]string{"application/json;q=0.0001"}, ""},
		{[]string{"application/json;q=0"}, ""},
		{[]string{"*/*;q=0"}, ""},
		{[]string{"application/pdf"}, ""},
		{[]string{""}, ""},
		{[]string{";;;,,,q=1, ;q=1"}, ""},
		{[]string{strings.Repeat("a/b,", 10_000) + "text/csv"}, "text/csv"},
	} {
		got := ""
		if f := choose(c.accept, forms); f != nil {
			got = f.media
		}
		if got != c.want {
			t.Errorf("%.60q chooses %q, want %q", c.accept, got, c.want)
		}
	}
}

func TestTakesGzip(t *testing.T) {
	for header, want := range map[string]bool{
		"": false, "gzip": true, "deflate, gzip;q=1.0, *;q=0.5": true, "gzip;q=0": false, "*": true, "*;q=0": false,
		"br": false, "identity": false, "gzip;q=0.2, identity": false, "GZIP;Q=0.5": true, "x-gzip": true, "gzip;q=0, *": false,
	} {
		if got := takesGzip([]string{header}); got != want {
			t.Errorf("%q: %t", header, got)
		}
	}
	if takesGzip(nil) {
		t.Error("a client without Accept-Encoding accepts gzip")
	}
}

// ask sends a job with headers, and reads the answer as it comes.
func ask(t *testing.T, url, job string, headers ...string) (*http.Response, string) {
	t.Helper()
	r, err := http.NewRequest("POST", url, strings.NewReader(job))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/json")
	for i := 0; i+1 < len(headers); i += 2 {
		r.Header.Add(headers[i], headers[i+1])
	}
	plain := http.Client{Timeout: patience, Transport: &http.Transport{DisableCompression: true}}
	defer plain.CloseIdleConnections()
	answer, err := plain.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	return answer, string(text)
}

// Each format is the sheet's own output, of the plan with its proof if the form does not include
// it, and is the same compressed.
func TestForms(t *testing.T) {
	server := serve(t, newService(usual, quiet()))
	r, text := ask(t, server.URL+"/plan?proof=full", goodJob)
	planOf(t, r, text)
	p, plan, _, err := cutsheet.ReadJSON(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	sheet, err := cutsheet.New(t.Context(), p, plan, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i := range forms {
		f := &forms[i]
		if f.streams() {
			continue
		}
		var want strings.Builder
		if err := f.write(sheet, &want); err != nil {
			t.Fatal(err)
		}
		r, text := ask(t, server.URL+"/plan?proof=full", goodJob, "Accept", f.media)
		if r.StatusCode != http.StatusOK || r.Header.Get("Content-Type") != f.media+f.params || text != want.String() || r.Header.Get("Vary") == "" {
			t.Errorf("%s: %s, %v, %d bytes, want %d", f.media, r.Status, r.Header, len(text), want.Len())
		}
		r, packed := ask(t, server.URL+"/plan?proof=full", goodJob, "Accept", f.media, "Accept-Encoding", "br, gzip")
		if len(text) < worthwhile {
			if r.Header.Get("Content-Encoding") != "" || packed != text {
				t.Errorf("%s: %d bytes are compressed", f.media, len(text))
			}
			continue
		}
		if r.Header.Get("Content-Encoding") != "gzip" || len(packed) >= len(text) {
			t.Fatalf("%s: %v, %d bytes, of %d", f.media, r.Header, len(packed), len(text))
		}
		z, err := gzip.NewReader(strings.NewReader(packed))
		if err != nil {
			t.Fatal(err)
		}
		whole, err := io.ReadAll(z)
		if err != nil || string(whole) != text {
			t.Errorf("%s: decompressed, it differs: %v", f.media, err)
		}
	}
}

// A page states the verified part of the bound, although it does not contain the proof.
func TestPageIsChecked(t *testing.T) {
	server := serve(t, newService(usual, quiet()))
	_, page := ask(t, server.URL+"/plan", goodJob, "Accept", "text/html")
	if strings.Contains(page, "left out") || strings.Contains(page, "<script") || !strings.Contains(page, "</html>") {
		t.Errorf("the page is %s", page)
	}
}

func TestNotAcceptable(t *testing.T) {
	server := serve(t, newService(usual, quiet()))
	for _, c := range [][2]string{
		{"/plan", "application/pdf"},
		{"/plan", "application/json;q=0"},
		{"/plan?progress=lines", "text/html"},
	} {
		r, text := ask(t, server.URL+c[0], goodJob, "Accept", c[1])
		if f := answerOf(t, text); r.StatusCode != http.StatusNotAcceptable || f.Kind != "accept" || f.Value != c[1] || !strings.Contains(f.Want, "application/") {
			t.Errorf("%s as %s: %s: %s", c[0], c[1], r.Status, text)
		}
	}
}

// A compressed body is rejected by its encoding, not by its content.
func TestBodyIsCompressed(t *testing.T) {
	server := serve(t, newService(usual, quiet()))
	r, text := ask(t, server.URL+"/plan", goodJob, "Content-Encoding", "gzip")
	if f := answerOf(t, text); r.StatusCode != http.StatusUnsupportedMediaType || f.Kind != "encoding" || r.Header.Get("Accept-Encoding") != "identity" {
		t.Errorf("%s: %s", r.Status, text)
	}
	if r, text := ask(t, server.URL+"/plan", goodJob, "Content-Encoding", "identity"); r.StatusCode != http.StatusOK {
		t.Errorf("%s: %s", r.Status, text)
	}
}
