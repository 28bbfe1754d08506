package main

import (
	"encoding/xml"
	"html"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"example.com/longpoint/internal/svg/svgcheck"
)

// The page is well-formed, loads and runs nothing, and has the pictures of every section in both sizes.
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
		t.Errorf("a different page the second time (%v)", err)
	}
	checkPage(t, page)
	for _, r := range v.e.Job.Rooms {
		for _, what := range []string{": plan<", ": the walls<"} {
			if n := strings.Count(page, "<title>"+html.EscapeString(r.Name)+what); n != 2 {
				t.Errorf("%d pictures of %s%s", n, r.Name, what)
			}
		}
	}
	for _, title := range []string{"cornice: built up", "teacher's room, W: skirt", "primed crown: inside miter", "primed pine base: cope", "What it costs", "Which costs less installed", "Where the stock goes", "The rack, before and after", "The schedule"} {
		if n := strings.Count(page, "<title>"+html.EscapeString(title)+"</title>"); n == 0 || n%2 != 0 {
			t.Errorf("%d pictures of %q", n, title)
		}
	}
	spaces := func(s string) string { return strings.Join(strings.Fields(s), " ") }
	words := spaces(strings.ReplaceAll(plain(page), "\n- ", " ")) // the page has the contents of the report
	for _, line := range strings.Split(report(v, pageWidth), "\n")[1:] {
		line = strings.TrimPrefix(line, "- ")
		if !strings.HasPrefix(line, "[") && !strings.Contains(words, spaces(line)) {
			t.Errorf("%q is missing", line)
		}
	}
	// The owner's questions are answered first, and each link has its place.
	first, _, _ := strings.Cut(page, "<section")
	for _, want := range []string{"$26,255.00 for the job as planned", "Done on Fri 2 Jul", "Order from river mill by Fri 4 Jun", "Measure again before you buy anything: book room."} {
		if !strings.Contains(first, want) {
			t.Errorf("%q is not first: %.2000s", want, first)
		}
	}
	links := regexp.MustCompile(`href="#(.*?)">(.*?)<`).FindAllStringSubmatch(first, -1)
	if len(links) != 10 {
		t.Errorf("%d links", len(links))
	}
	for _, l := range links {
		if !strings.Contains(page, `<section id="`+l[1]+"\">\n<h2>"+l[2]+"</h2>") {
			t.Errorf("the link to %q leads nowhere", l[2])
		}
	}
	// Cautions and doubts are not in columns that a telephone cuts off, and the orders come before
	// the cuts.
	cautions := page[strings.Index(page, "<section"):]
	cautions = cautions[:strings.Index(cautions, "</section>")]
	if strings.Contains(cautions, "<pre") || strings.Count(cautions, "<li>") < 20 {
		t.Error("the cautions are not a list")
	}
	if strings.Index(page, "Sticks from river mill") > strings.Index(page, "Where the stock goes") {
		t.Error("the pictures come before the orders")
	}
}

// Words become a list or a paragraph only where nothing is lost by it.
func TestHTMLWords(t *testing.T) {
	long := strings.Repeat("longer ", 11)
	for text, want := range map[string]string{
		"- one\n  goes on\n- <two>": "<ul>\n<li>one goes on</li>\n<li>&lt;two&gt;</li>\n</ul>\n",
		long + "than\na line.":      "<p>" + long + "than a line.</p>\n",
		"one line":                  "<p>one line</p>\n",
		"base: $1\ncrown: $2":       "<pre tabindex=\"0\">base: $1\ncrown: $2</pre>\n",
		"a  table\nof  two":         "<pre tabindex=\"0\">a  table\nof  two</pre>\n",
		"  set in":                  "<pre tabindex=\"0\">  set in</pre>\n",
		"- one\n    table":          "<pre tabindex=\"0\">- one\n    table</pre>\n",
	} {
		if got := htmlWords(text, text); got != want {
			t.Errorf("%q is %q, want %q", text, got, want)
		}
	}
	const both = "<pre class=\"wide\" tabindex=\"0\">a  wide table</pre>\n<pre class=\"narrow\" tabindex=\"0\">a  wide\n   table</pre>\n"
	if got := htmlWords("a  wide table", "a  wide\n   table"); got != both {
		t.Errorf("for two widths %q, want %q", got, both)
	}
}

// checkPage looks through a page and its pictures as a reader would.
func checkPage(t *testing.T, page string) {
	t.Helper()
	const policy = `content="default-src 'none'; style-src 'unsafe-inline'"`
	if !strings.HasPrefix(page, "<!DOCTYPE html>\n") || !strings.Contains(page, policy) {
		t.Error("no document type, or no policy")
	}
	here := regexp.MustCompile(` (href="#|id=")section-[0-9]+"`)
	for _, bad := range []string{"<script", "href=", "src=", "url(", "@import", "onload", "javascript:", " id="} {
		if strings.Contains(here.ReplaceAllString(page, ""), bad) {
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

// The page of a job with one room, and invalid command lines.
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
	job := filepath.Join(t.TempDir(), "job.json")
	if err := os.WriteFile(job, []byte(smallJob), 0o644); err != nil {
		t.Fatal(err)
	}
	var said strings.Builder
	if code := run([]string{"-job", job, "-html", job}, io.Discard, &said); code != 2 || !strings.Contains(said.String(), "-html") {
		t.Errorf("exit code %d, %s", code, said.String())
	}
	if kept, _ := os.ReadFile(job); string(kept) != smallJob {
		t.Error("the job was overwritten")
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
