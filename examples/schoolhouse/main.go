// Schoolhouse does a whole trim job: from walls measured with a tape to what to
// buy, how to cut it, what it takes to finish it and what it costs installed.
//
// Without arguments it runs the job that is built in: a schoolhouse from the
// 1920s that becomes a community workshop. Another job is run by
//
//	go run ./examples/schoolhouse -job FILE
//
// where FILE has the form of job.json beside this program.
package main

import (
	_ "embed"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"
)

//go:embed job.json
var builtIn []byte

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// run returns the exit code: 0, 1 where the job makes sense but cannot be done,
// 2 where the job or the command line is wrong.
func run(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("schoolhouse", flag.ContinueOnError)
	flags.SetOutput(stderr)
	file := flags.String("job", "", "read the job from `FILE` instead of the one built in")
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return 0
	case err != nil:
		return 2
	case flags.NArg() > 0:
		fmt.Fprintf(stderr, "schoolhouse: argument is %q: want none; a job file goes behind -job\n", flags.Arg(0))
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
	j, err := readJob(data)
	if err == nil {
		var w *work
		if w, err = workOut(j); err == nil {
			if _, err = io.WriteString(stdout, report(w)); err == nil {
				return 0
			}
		}
	}
	// One line, whatever the error looks like.
	fmt.Fprintf(stderr, "schoolhouse: %s: %s\n", source, strings.ReplaceAll(err.Error(), "\n", "; "))
	if bad := (*fieldError)(nil); errors.As(err, &bad) {
		return 2
	}
	return 1
}
