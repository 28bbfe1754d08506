// Service answers cutting jobs over HTTP, as an estimating program would embed
// the library: with limits on what a request may take of the machine.
//
//	go run ./examples/service -addr localhost:8420
//	curl -H 'Content-Type: application/json' -d @examples/service/job.json localhost:8420/plan
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"os"
	"os/signal"
	"time"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	switch err := run(ctx, os.Stderr, os.Args[1:]...); {
	case errors.Is(err, flag.ErrHelp):
	case err != nil:
		fmt.Fprintln(os.Stderr, "service:", err)
		os.Exit(1)
	}
}

// run serves until the context ends, and then lets the jobs that are under way
// come to their end.
func run(ctx context.Context, w io.Writer, args ...string) error {
	l := usual
	flags := flag.NewFlagSet("service", flag.ContinueOnError)
	flags.SetOutput(w)
	addr := flags.String("addr", "localhost:8420", "`ADDRESS` to listen at")
	flags.Int64Var(&l.body, "body", l.body, "largest body of a request in `BYTES`")
	flags.IntVar(&l.sticks, "sticks", l.sticks, "most kinds of stick in a job")
	flags.Int64Var(&l.pieces, "pieces", l.pieces, "most pieces in a job")
	flags.DurationVar(&l.deadline, "deadline", l.deadline, "most time for a job")
	flags.Int64Var(&l.work, "work", l.work, "most steps for a job")
	flags.IntVar(&l.solves, "solves", l.solves, "most jobs at the same time")
	if err := flags.Parse(args); err != nil {
		return err
	}
	if flags.NArg() > 0 {
		return fmt.Errorf("argument is %q: want none", flags.Arg(0))
	}
	if l.body < 1 || l.sticks < 1 || l.pieces < 1 || l.deadline <= 0 || l.work < 1 || l.solves < 1 {
		return errors.New("a limit is zero or less: want all of them positive")
	}
	listener, err := net.Listen("tcp", *addr)
	if err != nil {
		return err
	}
	server := &http.Server{
		Handler:           newService(l, slog.New(slog.NewTextHandler(w, nil))),
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       15 * time.Second,
		WriteTimeout:      15*time.Second + l.deadline + 15*time.Second,
		IdleTimeout:       time.Minute,
		MaxHeaderBytes:    16 << 10,
	}
	fmt.Fprintf(w, "listening at http://%s/plan\n", listener.Addr())
	done := make(chan error, 1)
	go func() { done <- server.Serve(listener) }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
	}
	late, cancel := context.WithTimeout(context.WithoutCancel(ctx), l.deadline+5*time.Second)
	defer cancel()
	return errors.Join(server.Shutdown(late), ignore(<-done))
}

// ignore drops the error that says that a server was shut down as it should.
func ignore(err error) error {
	if errors.Is(err, http.ErrServerClosed) {
		return nil
	}
	return err
}
