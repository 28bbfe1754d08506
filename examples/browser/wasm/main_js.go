//go:build js && wasm

// This is what the page's worker runs: the library, and two functions that take
// and give text.
package main

import "syscall/js"

func main() {
	js.Global().Set("longpointAnswer", js.FuncOf(func(_ js.Value, args []js.Value) any {
		return respond(args[0].String())
	}))
	js.Global().Set("longpointRead", js.FuncOf(func(_ js.Value, args []js.Value) any {
		return read(args[0].String())
	}))
	js.Global().Call("longpointReady")
	select {} // the functions are called for as long as the worker lives
}
