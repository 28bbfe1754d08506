// Browser serves a page with the library itself, compiled to WebAssembly: you enter lengths as
// you write them and get a cut sheet, and nothing is sent over the network.
//
//	go run ./examples/browser
//	go run ./examples/browser -out DIR
//
// The first command serves the page on this machine, the second writes it for any static file
// server. Both build it first, which requires the go command.
package main

import (
	"bytes"
	"context"
	"embed"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"net"
	"net/http"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"time"
)

//go:embed site
var site embed.FS

const program = "example.com/longpoint/examples/browser/wasm"

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM) // the page is in a directory to remove
	defer stop()
	switch err := run(ctx, os.Stdout, os.Args[1:]...); {
	case errors.Is(err, flag.ErrHelp):
	case err != nil:
		fmt.Fprintln(os.Stderr, "browser:", err)
		os.Exit(1)
	}
}

func run(ctx context.Context, w io.Writer, args ...string) (err error) {
	flags := flag.NewFlagSet("browser", flag.ContinueOnError)
	flags.SetOutput(w)
	addr := flags.String("addr", "localhost:8421", "`ADDRESS` to serve at")
	out := flags.String("out", "", "write the page to `DIR` and do not serve it")
	if err := flags.Parse(args); err != nil {
		return err
	}
	if flags.NArg() > 0 {
		return fmt.Errorf("argument is %q: want none", flags.Arg(0))
	}
	dir := *out
	if dir == "" {
		if dir, err = os.MkdirTemp("", "longpoint"); err != nil {
			return err
		}
		defer func() { err = errors.Join(err, os.RemoveAll(dir)) }()
	}
	if err := build(ctx, dir); err != nil {
		return err
	}
	if *out != "" {
		_, err := fmt.Fprintf(w, "the page is in %s\n", dir)
		return err
	}
	listener, err := net.Listen("tcp", *addr)
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "the page is at http://%s/\n", listener.Addr())
	page, err := newFiles(dir)
	if err != nil {
		return errors.Join(err, listener.Close())
	}
	server := &http.Server{Handler: page, ReadHeaderTimeout: 5 * time.Second}
	go func() {
		<-ctx.Done()
		server.Close()
	}()
	if err := server.Serve(listener); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}

// build writes the whole page to a directory: the files beside this program, the library, and
// the loader of the Go release that compiled it, since both must have one version. The name of
// the library has a checksum, so browsers may cache it permanently, and there is a compressed
// copy beside it for servers that can use it.
func build(ctx context.Context, dir string) error {
	files, err := fs.Sub(site, "site")
	if err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return err
	}
	root, err := command(ctx, "env", "GOROOT")
	if err != nil {
		return err
	}
	loader, err := os.ReadFile(filepath.Join(root, "lib", "wasm", "wasm_exec.js"))
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(dir, "wasm_exec.js"), loader, 0o666); err != nil {
		return err
	}
	name, err := library(ctx, dir)
	if err != nil {
		return err
	}
	names, err := fs.Glob(files, "*")
	if err != nil {
		return err
	}
	for _, n := range names {
		text, err := fs.ReadFile(files, n)
		if err != nil {
			return err
		}
		if n == "index.html" || n == "offline.js" {
			text = bytes.ReplaceAll(text, []byte("longpoint.wasm"), []byte(name))
		}
		if err := os.WriteFile(filepath.Join(dir, n), text, 0o666); err != nil {
			return err
		}
	}
	return nil
}

// library compiles the library, and returns the name of its file.
func library(ctx context.Context, dir string) (string, error) {
	old, err := filepath.Glob(filepath.Join(dir, "longpoint-*.wasm*"))
	if err != nil {
		return "", err
	}
	for _, file := range old {
		if err := os.Remove(file); err != nil {
			return "", err
		}
	}
	out, err := filepath.Abs(filepath.Join(dir, "longpoint.wasm"))
	if err != nil {
		return "", err
	}
	if _, err := command(ctx, "build", "-trimpath", "-ldflags=-s -w", "-o", out, program); err != nil {
		return "", err
	}
	code, err := os.ReadFile(out)
	if err != nil {
		return "", err
	}
	name := "longpoint-" + sum(code) + ".wasm"
	small, err := compress(code)
	if err != nil {
		return "", err
	}
	if err := os.WriteFile(filepath.Join(dir, name+".gz"), small, 0o666); err != nil {
		return "", err
	}
	return name, os.Rename(out, filepath.Join(dir, name))
}

// command runs the go command for WebAssembly.
func command(ctx context.Context, args ...string) (string, error) {
	c := exec.CommandContext(ctx, "go", args...)
	c.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0", "GOFLAGS=")
	var said bytes.Buffer
	c.Stderr = &said
	text, err := c.Output()
	if err != nil {
		return "", fmt.Errorf("go %s: %w: %s", args[0], err, strings.TrimSpace(said.String()))
	}
	return strings.TrimSpace(string(text)), nil
}
