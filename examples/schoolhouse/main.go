// Schoolhouse does a whole trim job: from walls measured with a tape to purchases, cuts,
// installation, finishing, the schedule and the price.
//
// Without arguments it runs the built-in job: a schoolhouse from the 1920s that becomes a
// community workshop. To run another job, use
//
//	go run ./examples/schoolhouse -job FILE
//
// where FILE is an estimate.Job in the format of job.json beside this program.
package main

import (
	"bytes"
	"context"
	_ "embed"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"

	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/finish/paper"
	"example.com/longpoint/measure"
)

//go:embed job.json
var builtIn []byte

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// run returns the exit code: 0, 1 if a valid job cannot be done, 2 if the job or the command
// line is invalid.
func run(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("schoolhouse", flag.ContinueOnError)
	flags.SetOutput(stderr)
	file := flags.String("job", "", "read the job from `FILE` instead of the one built in")
	way := flags.String("way", "", "report on the variant of this `LABEL`, or on the job as it is for \"as planned\"; the cheapest without it")
	kind := flags.String("paper", "report", "what to write: `report`, proposal or days")
	page := flags.String("html", "", "write the report with its pictures to `FILE`, as one page for a browser")
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return 0
	case err != nil:
		return 2
	case flags.NArg() > 0:
		fmt.Fprintf(stderr, "schoolhouse: argument is %q: want none; a job file follows -job\n", flags.Arg(0))
		return 2
	}
	source, data := "job.json", builtIn
	if *file != "" {
		var err error
		if data, err = os.ReadFile(*file); err != nil {
			fmt.Fprintf(stderr, "schoolhouse: -job is %q: %v\n", *file, errors.Unwrap(err))
			return 2
		}
		source = *file
	}
	var text bytes.Buffer
	to := stdout // or, for a page, text: a file is written only when it is complete
	if *page != "" {
		if *kind != "report" {
			fmt.Fprintf(stderr, "schoolhouse: -paper is %q: want report with -html\n", *kind)
			return 2
		}
		if same(*page, *file) {
			fmt.Fprintf(stderr, "schoolhouse: -html is %q: want a file other than that of -job, which it would overwrite\n", *page)
			return 2
		}
		to, *kind = &text, "html"
	}
	err := write(to, data, *way, *kind)
	if err == nil && *page != "" {
		if err := os.WriteFile(*page, text.Bytes(), 0o644); err != nil {
			fmt.Fprintf(stderr, "schoolhouse: -html is %q: %v\n", *page, errors.Unwrap(err))
			return 2
		}
	}
	if err == nil {
		return 0
	}
	// One line, whatever the error looks like.
	fmt.Fprintf(stderr, "schoolhouse: %s: %s\n", source, strings.ReplaceAll(err.Error(), "\n", "; "))
	for bad := range measure.FieldErrors(err) {
		if !cannotBeDone(bad) {
			return 2
		}
	}
	return 1
}

// same reports whether two names are of one existing file.
func same(a, b string) bool {
	one, err := os.Stat(a)
	other, missing := os.Stat(b)
	return err == nil && missing == nil && os.SameFile(one, other)
}

// write estimates the job and writes one of its papers.
func write(w io.Writer, data []byte, way, kind string) error {
	var job estimate.Job
	if err := measure.UnmarshalStrict(data, &job); err != nil {
		return err
	}
	planned, err := estimate.New(context.Background(), job, nil)
	if err != nil {
		return err
	}
	v, err := choose(planned, way)
	if err != nil {
		return err
	}
	switch kind {
	case "report":
		_, err = io.WriteString(w, report(v, pageWidth))
	case "html":
		var page string
		if page, err = htmlReport(v); err == nil {
			_, err = io.WriteString(w, page)
		}
	case "proposal":
		p := v.e.Proposal()
		p.Dates = dates(job.Locale)
		err = p.WriteText(w, pageWidth)
	case "days":
		days := v.e.DaySheets()
		if days == nil {
			return &measure.FieldError{Field: "calendar", Value: "none", Want: "a calendar, which day sheets follow"}
		}
		days.Dates = dates(job.Locale)
		err = days.WriteText(w, pageWidth)
	default:
		err = &measure.FieldError{Field: "-paper", Value: kind, Want: "report, proposal or days"}
	}
	return err
}

// dates returns the date style of people who measure in feet or in meters.
func dates(l measure.Locale) paper.DateStyle {
	if l.Metric {
		return paper.DateDayFirst
	}
	return paper.DateWords
}
