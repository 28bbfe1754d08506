// Store keeps the jobs and the rack of a workshop in a database: a file by SQLite, or a
// PostgreSQL server that several shops share.
//
//	go run .
//	go run . -db schoolhouse.db COMMAND ...
//
// The first command shows two jobs of the schoolhouse from the rack to the rack, in a temporary
// database. The second works on your database; -h lists the commands.
package main

import (
	"cmp"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/signal"
	"strings"
	"syscall"

	"example.com/longpoint/examples/store/records"
	"example.com/longpoint/measure"
)

const usage = `usage: store [-db ADDRESS] [-rack NAME] COMMAND

  put PROFILE LENGTH [COUNT]   lay sticks or offcuts on the rack
  take PROFILE LENGTH [COUNT]  take some off it by hand
  keep LENGTH                  say what is worth keeping from now on
  rack                         list what lies there, and for whom
  plan FILE                    plan a job from the rack and from what is on sale, and hold its offcuts
  list                         list the jobs
  show ID [FORM]               write the cut sheet: text, html, svg, csv or json
  cut ID                       the job is cut: its offcuts are gone, what is left lies on the rack
  drop ID                      the job is given up: its offcuts are free again
  check                        count everything a second time and check every plan

"store COMMAND -h" lists the flags of a command. FILE has the form of jobs/coat-rail.json.
ADDRESS is the name of a file, or postgres://USER@HOST/DATABASE. Every command may be
stopped anywhere and run again. Without a command the program shows an example.

`

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

// run returns the exit code: 0, 1 for a valid command that cannot be done, 2 for an invalid
// command line or file.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	err := execute(ctx, args, stdout, stderr)
	switch wrong := (*usageError)(nil); {
	case err == nil || errors.Is(err, flag.ErrHelp):
		return 0
	case errors.As(err, &wrong) && wrong.said:
		return 2
	default:
		// One line, whatever the error looks like.
		fmt.Fprintln(stderr, "store:", strings.ReplaceAll(err.Error(), "\n", "; "))
		if wrong != nil || errors.As(err, new(*measure.FieldError)) {
			return 2
		}
		return 1
	}
}

// A usageError reports an invalid command line.
type usageError struct {
	what string
	said bool // by package flag
}

func (e *usageError) Error() string { return e.what }

// parse parses the flags of the program or of a command.
func parse(f *flag.FlagSet, args []string, w io.Writer) error {
	f.SetOutput(w)
	err := f.Parse(args)
	if err == nil || errors.Is(err, flag.ErrHelp) {
		return err
	}
	return &usageError{err.Error(), true}
}

func execute(ctx context.Context, args []string, stdout, stderr io.Writer) (err error) {
	f := flag.NewFlagSet("store", flag.ContinueOnError)
	address := f.String("db", "", "`ADDRESS` of the database; without it that in the environment as STORE_DB, otherwise store.db")
	rack := f.String("rack", "shop", "`NAME` of the rack")
	f.Usage = func() { fmt.Fprint(f.Output(), usage); f.PrintDefaults() }
	if err := parse(f, args, stderr); err != nil {
		return err
	}
	if f.NArg() == 0 {
		if f.NFlag() > 0 {
			return &usageError{what: "there is no command: see store -h"}
		}
		return demonstrate(ctx, stdout, stderr)
	}
	c, known := commands[f.Arg(0)]
	if !known {
		return &usageError{what: fmt.Sprintf("%s is no command: see store -h", shown(f.Arg(0)))}
	}
	s := &shop{rack: *rack, out: stdout, errs: stderr}
	do, err := c(s, f.Args()[1:])
	if err != nil {
		return err
	}
	if *address == "" {
		*address = cmp.Or(os.Getenv("STORE_DB"), "store.db")
	}
	if !makes[f.Arg(0)] {
		// A mistyped name must not create a new database.
		if _, err := os.Stat(*address); errors.Is(err, fs.ErrNotExist) && !strings.Contains(*address, "://") {
			return fmt.Errorf("there is no database %s; put, keep and plan make one", shown(*address))
		}
	}
	if s.db, err = records.Open(ctx, *address); err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.db.Close()) }()
	return do(ctx)
}
