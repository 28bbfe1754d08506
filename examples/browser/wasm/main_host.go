//go:build !(js && wasm)

package main

import (
	"fmt"
	"os"
)

func main() {
	fmt.Fprintln(os.Stderr, "This runs in a browser: go run ./examples/browser builds it and serves the page.")
	os.Exit(1)
}
