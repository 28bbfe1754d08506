//go:build js && wasm

// This program runs in the page's workers: the library, and two functions. The first answers a
// request, and calls back with the progress and with the answer. The second ends the current
// computation.
package main

import "syscall/js"

func main() {
	stopped := false
	js.Global().Set("longpointAsk", js.FuncOf(func(_ js.Value, args []js.Value) any {
		kind, text, tell, done := args[0].String(), args[1].String(), args[2], args[3]
		stopped = false
		// A search has the only thread. In between it lets the worker receive messages, for
		// which it must wait on a separate goroutine.
		go func() {
			done.Invoke(respond(kind, text, func(headway string) bool {
				tell.Invoke(headway)
				turn()
				return !stopped
			}))
		}()
		return nil
	}))
	js.Global().Set("longpointStop", js.FuncOf(func(js.Value, []js.Value) any {
		stopped = true
		return nil
	}))
	js.Global().Call("longpointReady")
	select {} // the functions are called for as long as the worker lives
}

// turn lets pending events of the worker run first.
func turn() {
	done := make(chan struct{})
	var next js.Func
	next = js.FuncOf(func(js.Value, []js.Value) any {
		next.Release()
		close(done)
		return nil
	})
	js.Global().Call("setTimeout", next, 0)
	<-done
}
