package devtools

import "fmt"

// Press presses and releases a key: Tab, Enter, Space or Escape.
func (b *Tab) Press(key string) {
	b.t.Helper()
	k := map[string]struct {
		code int
		text string
	}{"Tab": {9, ""}, "Enter": {13, "\r"}, "Space": {32, " "}, "Escape": {27, ""}}[key]
	name := key
	if key == "Space" {
		name = " "
	}
	for _, kind := range []string{"keyDown", "keyUp"} {
		p := map[string]any{"type": kind, "key": name, "code": key, "windowsVirtualKeyCode": k.code}
		if kind == "keyDown" && k.text != "" {
			p["text"] = k.text
		}
		b.Call("Input.dispatchKeyEvent", p, nil)
	}
}

// Write replaces the contents of the focused field by text, as if typed.
func (b *Tab) Write(text string) {
	b.t.Helper()
	Value[any](b, "document.activeElement.select()")
	b.Insert(text)
}

// Insert replaces the selection by text, as if typed.
func (b *Tab) Insert(text string) {
	b.t.Helper()
	b.Call("Input.insertText", map[string]any{"text": text}, nil)
}

// Paste pastes text at the focus, as from another program. If no script of the page handles it,
// the field does. The text is an expression of JavaScript, since it may be long.
func (b *Tab) Paste(expression string) {
	b.t.Helper()
	Value[any](b, fmt.Sprintf(`{
		const data = new DataTransfer(), text = %s;
		data.setData("text/plain", text);
		const paste = new ClipboardEvent("paste", { clipboardData: data, bubbles: true, cancelable: true });
		if (document.activeElement.dispatchEvent(paste)) document.activeElement.value = text.replaceAll("\n", "");
	}`, expression))
}

// Tap touches the middle of an element, with the tab in front: a tab behind another is not
// painted, so a touch would not reach it.
func (b *Tab) Tap(selector string) {
	b.t.Helper()
	b.Front()
	b.Call("Emulation.setTouchEmulationEnabled", map[string]any{"enabled": true}, nil)
	at := Value[[]float64](b, fmt.Sprintf(`(async (e) => {
		e.scrollIntoView({ block: "center", behavior: "instant" });
		await new Promise((f) => { requestAnimationFrame(f); setTimeout(f, 500); });
		const r = e.getBoundingClientRect();
		return [r.x + r.width / 2, r.y + r.height / 2];
	})(document.querySelector(%q))`, selector))
	b.Call("Input.dispatchTouchEvent", map[string]any{"type": "touchStart", "touchPoints": []any{map[string]any{"x": at[0], "y": at[1]}}}, nil)
	b.Call("Input.dispatchTouchEvent", map[string]any{"type": "touchEnd", "touchPoints": []any{}}, nil)
}

// Give puts a file into a file field.
func (b *Tab) Give(selector, file string) {
	b.t.Helper()
	var root struct{ Root struct{ NodeID int } }
	b.Call("DOM.getDocument", nil, &root)
	var input struct{ NodeID int }
	b.Call("DOM.querySelector", map[string]any{"nodeId": root.Root.NodeID, "selector": selector}, &input)
	b.Call("DOM.setFileInputFiles", map[string]any{"nodeId": input.NodeID, "files": []string{file}}, nil)
}
