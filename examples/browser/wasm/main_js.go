//go:build js && wasm

// This is what the page's workers run: the library, and two functions. The first answers a
// question, and calls what it is given with how far it is and with the answer. The second
// ends what is under way.
package main

import "syscall/js"

func main() {
	stopped := false
	js.Global().Set("longpointAsk", js.FuncOf(func(_ js.Value, args []js.Value) any {
		kind, text, tell, done := args[0].String(), args[1].String(), args[2], args[3]
		stopped = false
		// A search has the only thread. In between it lets the worker hear what it is told,
		// which it can only wait for on a goroutine of its own.
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

// turn lets whatever waits in the worker go first.
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
