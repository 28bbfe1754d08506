package main

import (
	"context"
	"embed"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
)

//go:embed jobs/*.json
var jobs embed.FS

// day is the demonstration, a command a line.
const day = `keep 16in
put "fir rail" "7ft 2in" -as "left over from the porch"
put "fir rail" "4ft 3-1/2in" 2 -as delivery
plan coat-rail.json
plan chalk-ledge.json
rack
plan coat-rail.json
cut coat-rail
cut coat-rail
drop chalk-ledge
list
rack
check`

// demonstrate runs the day in a temporary directory.
func demonstrate(ctx context.Context, stdout, stderr io.Writer) (err error) {
	dir, err := os.MkdirTemp("", "store")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(dir)) }()
	files, err := jobs.ReadDir("jobs")
	if err != nil {
		return err
	}
	for _, f := range files {
		text, err := jobs.ReadFile("jobs/" + f.Name())
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(dir, f.Name()), text, 0o666); err != nil {
			return err
		}
	}
	for line := range strings.Lines(day) {
		fmt.Fprintf(stdout, "$ store %s\n", strings.TrimSpace(line))
		args := words(line)
		if args[0] == "plan" {
			args[1] = filepath.Join(dir, args[1])
		}
		if err := execute(ctx, append([]string{"-db", filepath.Join(dir, "store.db")}, args...), stdout, stderr); err != nil {
			return err
		}
	}
	return nil
}

// words splits a line at its blanks, except within quotation marks.
func words(line string) (list []string) {
	for i, part := range strings.Split(strings.TrimSpace(line), `"`) {
		if i%2 == 1 {
			list = append(list, part)
		} else {
			list = append(list, strings.Fields(part)...)
		}
	}
	return list
}
