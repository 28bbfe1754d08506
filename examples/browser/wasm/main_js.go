//go:build js && wasm

// This is what the page's worker runs: the library, and two functions that take
// and give text. The first calls the function that it is given with how far it is; a
// message that this posts reaches the page at once, although the worker is busy.
package main

import "syscall/js"

func main() {
	js.Global().Set("longpointAnswer", js.FuncOf(func(_ js.Value, args []js.Value) any {
		return respond(args[0].String(), func(headway string) { args[1].Invoke(headway) })
	}))
	js.Global().Set("longpointRead", js.FuncOf(func(_ js.Value, args []js.Value) any {
		return read(args[0].String())
	}))
	js.Global().Call("longpointReady")
	select {} // the functions are called for as long as the worker lives
}
