package main

import (
	"encoding/xml"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"example.com/longpoint/internal/svg/svgcheck"
)

// The page is well-formed, needs nothing from elsewhere, runs nothing, and has the pictures of every
// section in both sizes.
func TestHTMLReport(t *testing.T) {
	skipIfShort(t)
	v, err := builtInWork()
	if err != nil {
		t.Fatal(err)
	}
	page, err := htmlReport(v)
	if err != nil {
		t.Fatal(err)
	}
	if again, err := htmlReport(v); err != nil || again != page {
		t.Errorf("another page the second time (%v)", err)
	}
	checkPage(t, page)
	for _, r := range v.e.Job.Rooms {
		for _, what := range []string{": plan<", ": the walls<"} {
			if n := strings.Count(page, "<title>"+r.Name+what); n != 2 && r.Name != "teacher's room" {
				t.Errorf("%d pictures of %s%s", n, r.Name, what)
			}
		}
	}
	for _, title := range []string{"cornice: built up", "What it costs", "Which costs less installed", "What becomes of the sticks", "The rack, before and after", "The schedule"} {
		if n := strings.Count(page, "<title>"+title+"</title>"); n == 0 || n%2 != 0 {
			t.Errorf("%d pictures of %q", n, title)
		}
	}
	words := plain(page) // what stands in the report stands there, too
	for _, line := range strings.Split(report(v), "\n")[162:300] {
		if !strings.HasPrefix(line, "[") && !strings.Contains(words, line) {
			t.Errorf("%q is missing", line)
		}
	}
}

// checkPage looks through a page and its pictures as a reader would.
func checkPage(t *testing.T, page string) {
	t.Helper()
	const policy = `content="default-src 'none'; style-src 'unsafe-inline'"`
	if !strings.HasPrefix(page, "<!DOCTYPE html>\n") || !strings.Contains(page, policy) {
		t.Error("no document type, or no policy")
	}
	for _, bad := range []string{"<script", "href=", "src=", "url(", "@import", "onload", "javascript:", " id="} {
		if strings.Contains(page, bad) {
			t.Errorf("%q in the page", bad)
		}
	}
	pictures := regexp.MustCompile(`(?s)<svg .*?</svg>\n`).FindAllString(page, -1)
	if len(pictures) < 20 {
		t.Errorf("%d pictures", len(pictures))
	}
	for _, p := range pictures {
		if pic, err := svgcheck.Check([]byte(p)); err != nil {
			t.Errorf("%s: %.1000v", pic.Title, err)
		}
	}
	// All but the void elements of the head is XML.
	body := page[strings.Index(page, "<body>"):strings.Index(page, "</html>")]
	d := xml.NewDecoder(strings.NewReader(body))
	for {
		if _, err := d.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
}

// The page of a job of one room, and what a command line may not ask for.
func TestHTMLFile(t *testing.T) {
	file := filepath.Join(t.TempDir(), "report.html")
	code, stdout, stderr := runJob(t, smallJob, "-html", file)
	if code != 0 || stdout != "" {
		t.Fatalf("exit code %d, %q, %s", code, stdout, stderr)
	}
	page, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(page), "<svg ") {
		t.Error("no picture")
	}
	if code, _, stderr := runJob(t, smallJob, "-html", file, "-paper", "days"); code != 2 || !strings.Contains(stderr, "-html") {
		t.Errorf("exit code %d, %s", code, stderr)
	}
	if code, _, stderr := runJob(t, smallJob, "-html", filepath.Join(file, "no", "such")); code != 2 || !strings.Contains(stderr, "-html") {
		t.Errorf("exit code %d, %s", code, stderr)
	}
	strange := strings.Replace(smallJob, `"name": "`, `"name": "<script>alert(1)</script> `, 1)
	if code, _, stderr := runJob(t, strange, "-html", file); code != 0 {
		t.Fatal(stderr)
	}
	page, _ = os.ReadFile(file)
	if strings.Contains(string(page), "<script") {
		t.Error("the name of the job is markup")
	}
}

// The house in millimeters has pictures in millimeters.
func TestMetricHTML(t *testing.T) {
	skipIfShort(t)
	data, err := os.ReadFile("metric.json")
	if err != nil {
		t.Fatal(err)
	}
	v, err := worked(data)
	if err != nil {
		t.Fatal(err)
	}
	page, err := htmlReport(v)
	if err != nil {
		t.Fatal(err)
	}
	checkPage(t, page)
	customary := regexp.MustCompile(`[0-9][ -]?(ft|in|yd|gal)\b|[0-9][ -]?['"′″]|\b(foot|feet|inch|inches)\b`)
	for _, p := range regexp.MustCompile(`(?s)<svg .*?</svg>\n`).FindAllString(page, -1) {
		pic, err := svgcheck.Check([]byte(p))
		if err != nil {
			continue // said by checkPage
		}
		for _, line := range append(strings.Split(pic.Words(), "\n"), pic.Desc) {
			if bad := customary.FindString(line); bad != "" {
				t.Errorf("%s: %q in %.200s", pic.Title, bad, line)
			}
		}
	}
}
