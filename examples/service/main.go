// Service answers cutting jobs over HTTP, as an estimating program would embed the library:
// with limits on the resources of a request.
//
//	go run ./examples/service -addr localhost:8420
//	curl -H 'Content-Type: application/json' -d @examples/service/job.json localhost:8420/plan
//	curl -H 'Content-Type: application/json' -d @examples/service/job.json 'localhost:8420/plan?proof=full'
//	curl -H 'Content-Type: application/json' -H 'Accept: text/html' -d @examples/service/job.json localhost:8420/plan >sheet.html
//	curl -N -H 'Content-Type: application/json' -H 'Accept: text/event-stream' -d @examples/service/job.json localhost:8420/plan
//	curl localhost:8420/metrics
//
// README.md documents the requests.
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
	"syscall"
	"time"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop) // a second signal ends the program at once
	switch err := run(ctx, os.Stderr, os.Args[1:]...); {
	case errors.Is(err, flag.ErrHelp):
	case err != nil:
		fmt.Fprintln(os.Stderr, "service:", err)
		os.Exit(1)
	}
}

// run serves until the context ends. Then no more jobs begin, running ones have the grace
// period, and all that were begun are answered.
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
	flags.Int64Var(&l.first, "first", l.first, "steps of the first turn, which every job gets")
	flags.IntVar(&l.short, "short", l.short, "most first turns at the same time")
	flags.IntVar(&l.long, "long", l.long, "most second turns at the same time")
	flags.IntVar(&l.queue, "queue", l.queue, "most jobs that wait for either")
	flags.IntVar(&l.connections, "connections", l.connections, "most connections at the same time")
	flags.DurationVar(&l.receive, "receive", l.receive, "most time for a client to send a job")
	flags.DurationVar(&l.send, "send", l.send, "most time for a client to take an answer")
	flags.DurationVar(&l.beat, "beat", l.beat, "`TIME` after which a silent stream of events shows that it lives")
	notice := flags.Duration("notice", 0, "`TIME` for which the server says that it is not ready, but still takes jobs, when it is told to end")
	grace := flags.Duration("grace", 5*time.Second, "`TIME` that jobs have to end when the server is told to")
	if err := flags.Parse(args); err != nil {
		return err
	}
	if flags.NArg() > 0 {
		return fmt.Errorf("argument is %q: want none", flags.Arg(0))
	}
	if err := l.check(); err != nil {
		return err
	}
	if *grace < 0 || *notice < 0 {
		return fmt.Errorf("grace is %v, notice %v: want zero or more", *grace, *notice)
	}
	listener, err := net.Listen("tcp", *addr)
	if err != nil {
		return err
	}
	log := slog.New(slog.NewTextHandler(w, nil))
	service := newService(l, log)
	server, connections := service.server(listener)
	fmt.Fprintf(w, "listening at http://%s/plan\n", listener.Addr())
	done := make(chan error, 1)
	go func() { done <- server.Serve(connections) }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
	}
	log.Info("closing", "notice", *notice, "grace", *grace)
	service.leave()
	select {
	case err := <-done:
		return err
	case <-time.After(*notice):
	}
	return errors.Join(service.drain(server, *grace), ignore(<-done))
}

// server makes the server for a listener. The service sets the timeouts for a body and a
// response.
func (s *service) server(l net.Listener) (*http.Server, net.Listener) {
	few := limitConnections(l, s.connections)
	s.connected = func() int { return int(few.open.Load()) }
	return &http.Server{
		Handler:           s,
		ReadHeaderTimeout: 5 * time.Second,
		IdleTimeout:       time.Minute,
		MaxHeaderBytes:    16 << 10,
		ErrorLog:          slog.NewLogLogger(s.log.Handler(), slog.LevelWarn),
	}, few
}

// ignore drops the error that reports a regular shutdown.
func ignore(err error) error {
	if errors.Is(err, http.ErrServerClosed) {
		return nil
	}
	return err
}
