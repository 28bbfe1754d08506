package main

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.com/longpoint/optimize"
)

// samples reads an exposition by the rules of the format, version 0.0.4, and fails on
// whatever they do not allow.
func samples(t *testing.T, text string) map[string]float64 {
	t.Helper()
	if !strings.HasSuffix(text, "\n") {
		t.Error("the last line does not end")
	}
	sample := regexp.MustCompile(`^([a-zA-Z_:][a-zA-Z0-9_:]*)(\{(?:[a-zA-Z_][a-zA-Z0-9_]*="(?:[^"\\\n]|\\["\\n])*",?)*\})? (\S+)$`)
	all, kinds, helped := map[string]float64{}, map[string]string{}, map[string]bool{}
	family := ""
	for line := range strings.Lines(text) {
		line = strings.TrimSuffix(line, "\n")
		if rest, ok := strings.CutPrefix(line, "# HELP "); ok {
			name, _, _ := strings.Cut(rest, " ")
			if helped[name] {
				t.Errorf("%s comes twice", name)
			}
			helped[name], family = true, name
			continue
		}
		if rest, ok := strings.CutPrefix(line, "# TYPE "); ok {
			name, kind, _ := strings.Cut(rest, " ")
			if name != family || kinds[name] != "" || kind != "counter" && kind != "gauge" && kind != "histogram" {
				t.Errorf("%q within %s", line, family)
			}
			kinds[name] = kind
			continue
		}
		m := sample.FindStringSubmatch(line)
		if m == nil {
			t.Errorf("no sample is %q", line)
			continue
		}
		name := m[1]
		if kinds[family] == "histogram" {
			for _, suffix := range []string{"_bucket", "_sum", "_count"} {
				name = strings.TrimSuffix(name, suffix)
			}
		}
		if name != family || kinds[family] == "counter" != strings.HasSuffix(name, "_total") {
			t.Errorf("%q within %s, a %s", line, family, kinds[family])
		}
		v, err := strconv.ParseFloat(m[3], 64)
		if _, twice := all[m[1]+m[2]]; err != nil || twice || v < 0 {
			t.Errorf("%q: twice %t, %v", line, twice, err)
		}
		all[m[1]+m[2]] = v
	}
	return all
}

// sumOf adds up the samples of one name.
func sumOf(all map[string]float64, name string) (sum float64) {
	for k, v := range all {
		if k == name || strings.HasPrefix(k, name+"{") {
			sum += v
		}
	}
	return sum
}

// addUp compares the counts of a server with each other: nothing is lost, nothing counted twice.
func addUp(t *testing.T, all map[string]float64) {
	t.Helper()
	equal := func(what string, a, b float64) {
		t.Helper()
		if a != b {
			t.Errorf("%s: %v and %v", what, a, b)
		}
	}
	equal("begun, and over or in flight", all["longpoint_requests_begun_total"],
		sumOf(all, "longpoint_requests_total")+all["longpoint_requests_in_flight"])
	jobs := 0.0
	for k, v := range all {
		if strings.HasPrefix(k, `longpoint_requests_total{route="/plan"`) && !strings.Contains(k, `code="405"`) {
			jobs += v
		}
	}
	equal("answers to jobs, and outcomes", jobs, sumOf(all, "longpoint_jobs_total"))
	equal("outcomes, and times", sumOf(all, "longpoint_jobs_total"), all["longpoint_job_seconds_count"])
	before := 0.0
	for _, b := range bounds {
		n := all[fmt.Sprintf(`longpoint_job_seconds_bucket{le="%v"}`, b.Seconds())]
		if n < before {
			t.Errorf("within %v there are %v, before %v", b, n, before)
		}
		before = n
	}
	equal("the last bucket", all[`longpoint_job_seconds_bucket{le="+Inf"}`], all["longpoint_job_seconds_count"])
}

func metricsOf(t *testing.T, url string) map[string]float64 {
	t.Helper()
	r, err := client.Get(url + "/metrics")
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	text, err := io.ReadAll(r.Body)
	if err != nil || r.StatusCode != http.StatusOK || r.Header.Get("Content-Type") != expositionType {
		t.Fatalf("%s, %v, %v", r.Status, r.Header, err)
	}
	return samples(t, string(text))
}

func TestMetrics(t *testing.T) {
	l := usual
	l.work = 1_000_000
	s := newService(l, quiet())
	server := serve(t, s)
	addUp(t, metricsOf(t, server.URL)) // of an empty server
	post(t, server.URL, goodJob)
	post(t, server.URL, largeJob(t))
	post(t, server.URL, "{")
	post(t, server.URL, strings.Replace(goodJob, "9ft", "99ft", 1))
	ask(t, server.URL+"/plan", goodJob, "Accept", "application/pdf")
	ask(t, server.URL+"/elsewhere", goodJob)
	if r, err := client.Get(server.URL + "/plan"); err != nil {
		t.Fatal(err)
	} else {
		r.Body.Close()
	}
	all := metricsOf(t, server.URL)
	addUp(t, all)
	for k, want := range map[string]float64{
		`longpoint_requests_total{route="/plan",code="200"}`:    2,
		`longpoint_requests_total{route="/plan",code="400"}`:    1,
		`longpoint_requests_total{route="/plan",code="405"}`:    1,
		`longpoint_requests_total{route="/plan",code="406"}`:    1,
		`longpoint_requests_total{route="/plan",code="422"}`:    1,
		`longpoint_requests_total{route="/metrics",code="200"}`: 1,
		`longpoint_requests_total{route="other",code="404"}`:    1,
		`longpoint_requests_in_flight`:                          1, // the one that asks
		`longpoint_jobs_total{outcome="proven"}`:                1,
		`longpoint_jobs_total{outcome="unproven"}`:              1,
		`longpoint_jobs_total{outcome="infeasible"}`:            1,
		`longpoint_turns_total{turn="first"}`:                   3,
		`longpoint_turns_total{turn="second"}`:                  0,
		`longpoint_turns_running{turn="first"}`:                 0,
		`longpoint_ready`:                                       1,
	} {
		if all[k] != want {
			t.Errorf("%s is %v, want %v", k, all[k], want)
		}
	}
	if all["longpoint_work_steps_total"] < 1_000_000 || all["longpoint_received_bytes_total"] < float64(len(largeJob(t))) || all["longpoint_heap_bytes"] == 0 {
		t.Errorf("work, bytes and memory are %v", all)
	}
	s.leave()
	if all := metricsOf(t, server.URL); all["longpoint_ready"] != 0 {
		t.Error("a server that is shutting down is ready")
	}
}

// Text of any kind stays within its quotes.
func TestExpositionEscapes(t *testing.T) {
	var x exposition
	x.family("a_total", "counter", "back\\slash\nand a line")
	x.sample("", 3, "b", "quo\"te \\ and\nline", "c", "ü{},")
	const want = "# HELP a_total back\\\\slash\\nand a line\n# TYPE a_total counter\na_total{b=\"quo\\\"te \\\\ and\\nline\",c=\"ü{},\"} 3\n"
	if string(x.text) != want {
		t.Errorf("%s", x.text)
	}
	samples(t, string(x.text))
}

// A program that receives a signal reports that it is not ready, and accepts jobs until it
// closes.
func TestHealth(t *testing.T) {
	s := newService(usual, quiet())
	server := serve(t, s)
	look := func(path string, status int, text string) {
		t.Helper()
		for _, method := range []string{"GET", "HEAD"} {
			r, err := http.NewRequest(method, server.URL+path, nil)
			if err != nil {
				t.Fatal(err)
			}
			answer, err := client.Do(r)
			if err != nil {
				t.Fatal(err)
			}
			got, err := io.ReadAll(answer.Body)
			answer.Body.Close()
			if err != nil || answer.StatusCode != status || answer.ContentLength != int64(len(text)) || method == "GET" && string(got) != text {
				t.Errorf("%s %s: %s, %q, %v", method, path, answer.Status, got, err)
			}
		}
	}
	look("/healthz", 200, "alive\n")
	look("/readyz", 200, "ready\n")
	s.leave()
	look("/healthz", 200, "alive\n")
	look("/readyz", 503, "closing\n")
	if r, text := post(t, server.URL, goodJob); r.StatusCode != http.StatusOK {
		t.Errorf("%s: %s", r.Status, text)
	}
	s.close()
	look("/healthz", 200, "alive\n")
	if r, text := post(t, server.URL, goodJob); r.StatusCode != http.StatusServiceUnavailable {
		t.Errorf("%s: %s", r.Status, text)
	}
}

// Each request has one line in the log, in which nothing stands that a client chose.
func TestAccessLog(t *testing.T) {
	var log safeBuffer
	s := newService(usual, log.logger())
	server := httptest.NewServer(s)
	const secret = "teachers-room"
	post(t, server.URL, strings.Replace(goodJob, "closet", secret, 1))
	post(t, server.URL, `{"`+secret+`": 1}`)
	ask(t, server.URL+"/"+secret+"?"+secret+"="+secret, goodJob, "Accept", secret, "User-Agent", secret, "Cookie", secret)
	ask(t, server.URL+"/plan", goodJob, "Accept", secret+"/x")
	r, err := http.NewRequest("TEACHERS-ROOM", server.URL+"/plan", nil)
	if err != nil {
		t.Fatal(err)
	}
	answer, err := client.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	answer.Body.Close()
	s.solve = func(context.Context, optimize.Problem, *optimize.Options) (*optimize.Plan, error) {
		return nil, &optimize.LimitError{Stop: optimize.StopDeadline}
	}
	post(t, server.URL, goodJob)
	server.Close()
	text := log.String()
	if n := strings.Count(text, "\n"); n != 6 {
		t.Errorf("six requests give %d lines", n)
	}
	if strings.Contains(strings.ToLower(text), secret) || strings.Contains(text, "127.0.0.1") {
		t.Errorf("the log tells %s", text)
	}
	for _, want := range []string{
		"method=POST route=/plan status=200", "outcome=proven sticks=2 pieces=5 turns=1 work=", "route=other status=404",
		"route=/plan status=406", "method=other route=/plan status=405", "outcome=time",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the log lacks %s: %s", want, text)
		}
	}
}
