package main

import (
	"encoding/json"
	"os"
	"slices"
	"testing"
)

// axe checks the page as it is. The sheet in its frame is checked where it is made.
func (b *tab) axe(program, what string) {
	b.t.Helper()
	value[any](b, "window.axe ? 0 : ("+program+", 0)")
	found := value[string](b, `axe.run(document, { iframes: false, resultTypes: ["violations"] }).then((r) =>
		JSON.stringify({ passed: r.passes.length, violations: r.violations.map((v) => [v.id, v.help, v.nodes.slice(0, 3).map((n) => n.html)]) }))`)
	var result struct {
		Passed     int
		Violations []json.RawMessage
	}
	if err := json.Unmarshal([]byte(found), &result); err != nil {
		b.t.Fatal(err)
	}
	if len(result.Violations) > 0 || result.Passed < 20 {
		b.t.Errorf("%s: %d rules hold; %.3000s", what, result.Passed, result.Violations)
	}
}

// People who see the page badly, or not at all, can use it: axe-core reports nothing, whatever the job
// and the device.
func TestBrowserAxe(t *testing.T) {
	file := os.Getenv("LONGPOINT_AXE")
	if file == "" {
		t.Skip("set LONGPOINT_AXE to the path of axe.min.js to check the page with it")
	}
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	program := "(() => {" + string(text) + "})()"
	for name, look := range map[string]func(*tab){"desk": func(b *tab) { b.size(1280, 900) }, "dark phone": func(b *tab) { b.phone(); b.Media("", true) }} {
		t.Run(name, func(t *testing.T) {
			b := page(t)
			look(b)
			b.axe(program, "done")
			b.glance("axe-" + name)
			value[any](b, "document.querySelector('#runs .add').click(), document.querySelectorAll('details').forEach((d) => d.open = true)")
			value[any](b, "document.querySelector('[data-field=quantity]').focus()")
			b.Write("2")
			b.axe(program, "stale, unfolded")
			b.Paste("'2x4\\nlong'")
			b.Until("!document.getElementById('list-faults').hidden")
			value[any](b, "document.querySelectorAll('#job input:not([type])').forEach((i) => i.value = '7-4'), document.getElementById('solve').click()")
			b.settled("faults")
			b.axe(program, "faults")
			b.glance("axe-faults-" + name)
			b.give("broken.json", []byte(`{"sticks": [{"prize": 3}]}`))
			b.Until("!document.getElementById('file-faults').hidden")
			value[any](b, "document.getElementById('forget').click()")
			b.note("forgotten")
			b.axe(program, "forgotten")
			value[any](b, "document.querySelector('#note button').click(), document.querySelectorAll('#job input:not([type])').forEach((i) => i.value = ''), document.getElementById('forget').click()")
			value[any](b, `localStorage.clear()`)
			b.visit()
			b.settled("done")
			value[any](b, "document.getElementById('saw').click()")
			b.Until(`document.documentElement.hasAttribute("data-saw")`)
			b.axe(program, "at the saw")
			b.quiet()
		})
	}
}

// By the keyboard alone all of the page is reached, in the order in which it stands.
func TestBrowserKeyboard(t *testing.T) {
	b := page(t)
	const seen = `((e) => e === document.body ? "" : (e.getAttribute("aria-label") ?? (e.id || e.textContent.trim())))`
	walk := func() {
		t.Helper()
		want := value[[]string](b, `[...document.querySelectorAll("button, input, select, textarea, summary, a, iframe")].filter((e) => e.checkVisibility() && !e.disabled && e.getClientRects().length > 0).map(`+seen+`)`)
		value[any](b, "document.activeElement.blur(), getSelection().removeAllRanges(), document.body.tabIndex = -1, document.body.focus(), document.body.removeAttribute('tabindex')")
		var got []string
		for range len(want) + 1 {
			b.Press("Tab")
			x := value[string](b, seen+"(document.activeElement)")
			if x == "" || len(got) > 0 && x == got[0] {
				break
			}
			got = append(got, x)
			if x == "sheet" {
				break // its contents have their own order
			}
			// Nothing focused lies below the button that stays in sight.
			if !value[bool](b, `((e) => { const r = e.getBoundingClientRect(), top = document.elementFromPoint(r.x + r.width / 2, r.y + r.height / 2); return top === e || e.contains(top); })(document.activeElement)`) {
				t.Errorf("%q is out of sight", x)
			}
		}
		if !slices.Equal(got, want) || len(got) < 20 {
			t.Errorf("the focus moves to %q, want %q", got, want)
		}
	}
	walk()
	value[any](b, "document.querySelector('#runs .add').click(), document.querySelectorAll('#job details').forEach((d) => d.open = true), document.activeElement.blur()")
	walk()

	// A folded section can be unfolded by the keyboard, filled in, and says so when folded again.
	value[any](b, "document.querySelectorAll('#job details').forEach((d) => d.open = false), document.querySelector('#pieces summary').focus()")
	b.Press("Enter")
	b.Press("Tab")
	if got := b.focus(); got != "piece 1: left end" {
		t.Errorf("the focus is in %q", got)
	}
	b.Press("Tab")
	b.Write("88")
	value[any](b, "document.querySelector('#pieces summary').focus()")
	b.Press("Enter")
	if got := b.focus(); got != "piece 1: Ends and more: left end, angle 88" {
		t.Errorf("a screen reader announces %q", got)
	}
	b.quiet()
}
