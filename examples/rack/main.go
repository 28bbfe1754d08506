// Rack cuts a job with the offcuts of a rack in a file, and puts the new offcuts back into it.
//
//	go run ./examples/rack
//	go run ./examples/rack RACK JOB
//
// The first command does the built-in job twice, on a copy of the built-in rack. The second
// works on your files, which have the format of rack.json and job.json beside this program. It
// may be stopped at any moment and run again any number of times.
package main

import (
	_ "embed"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

var (
	//go:embed rack.json
	builtInRack []byte
	//go:embed job.json
	builtInJob []byte
)

func main() {
	flag.Usage = func() {
		fmt.Fprintln(flag.CommandLine.Output(), "usage: rack [RACK JOB]\n\nRACK and JOB are files in the format of rack.json and job.json beside the program.\nRACK is changed. The default is a temporary copy of these two.")
	}
	flag.Parse()
	if err := run(os.Stdout, flag.Args()...); err != nil {
		fmt.Fprintln(os.Stderr, "rack:", err)
		os.Exit(1)
	}
}

func run(w io.Writer, args ...string) error {
	switch len(args) {
	case 0:
		return demonstrate(w)
	case 2:
		said, sheet, err := work(args[0], args[1])
		if err != nil {
			return err
		}
		if _, err := fmt.Fprintf(w, "%s\n\n", said); err != nil {
			return err
		}
		return sheet.WriteText(w)
	}
	return fmt.Errorf("number of arguments is %d: want the file of the rack and that of the job, or none", len(args))
}

// demonstrate does the built-in job, and then does it again.
func demonstrate(w io.Writer) (err error) {
	dir, err := os.MkdirTemp("", "rack")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(dir)) }()
	rack, job := filepath.Join(dir, "rack.json"), filepath.Join(dir, "job.json")
	if err := errors.Join(os.WriteFile(rack, builtInRack, 0o666), os.WriteFile(job, builtInJob, 0o666)); err != nil {
		return err
	}
	if err := run(w, rack, job); err != nil {
		return err
	}
	text, err := os.ReadFile(rack)
	if err != nil {
		return err
	}
	again, _, err := work(rack, job)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(w, "\nThe rack's file:\n\n%s\nOnce more, as after a power cut:\n\n%s\n", text, again)
	return err
}
