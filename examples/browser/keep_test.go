package main

import (
	"fmt"
	"strings"
	"testing"
)

// note waits for a passing message of the page.
func (b *tab) note(want string) {
	b.t.Helper()
	b.Until(fmt.Sprintf("document.getElementById('note').innerText.includes(%q)", want))
}

func (b *tab) title() string {
	b.t.Helper()
	return value[string](b, "document.getElementById('title').value")
}

const stored = `(localStorage.getItem("longpoint.job") ?? "")`

// A job is there again at the next visit, until it is forgotten on request.
func TestBrowserKept(t *testing.T) {
	b := page(t)
	value[any](b, "document.getElementById('title').focus()")
	b.Write("Cloakroom \"rails\" 衣帽間 👷 <b>")
	value[any](b, "document.querySelector('[data-field=quantity]').focus()")
	b.Write("3")
	value[any](b, `((s) => { s.value = "outside miter"; s.dispatchEvent(new Event("input", { bubbles: true })); })(document.querySelector("[data-field=left_kind]"))`)
	b.Until(stored + `.includes('"left_kind":"outside miter"')`)
	// A change is kept at once when the page goes.
	value[any](b, "document.querySelector('[data-field=quantity]').focus()")
	b.Write("4")
	b.visit()
	b.settled("done")
	if got := b.title(); got != "Cloakroom \"rails\" 衣帽間 👷 <b>" {
		t.Errorf("the job is %q", got)
	}
	if got := value[string](b, "document.querySelector('[data-field=quantity]').value + document.querySelector('#pieces .brief').textContent"); got != "4left end outside miter" {
		t.Errorf("got %q", got)
	}

	// Back and forward.
	b.Call("Page.navigate", map[string]any{"url": "about:blank"}, nil)
	value[any](b, "setTimeout(() => history.back()), 0")
	b.Until(`location.href.startsWith("http") && document.getElementById("result")?.dataset.state === "done"`)
	if got := b.title(); !strings.HasPrefix(got, "Cloakroom") {
		t.Errorf("the job is %q", got)
	}

	// Forgotten by mistake, and brought back.
	value[any](b, "document.getElementById('forget').click()")
	b.note("forgotten")
	b.state("stopped", "There is no job")
	if got := value[string](b, stored); got != "" {
		t.Errorf("%q is kept", got)
	}
	if got := b.title(); got != "" {
		t.Errorf("the job is %q", got)
	}
	value[any](b, "document.querySelector('#note button').click()")
	b.Until(stored + `.includes("Cloakroom")`)
	value[any](b, "document.getElementById('forget').click()")
	b.note("forgotten")
	b.visit()
	b.settled("done")
	if got := b.title(); got != "Classroom base" {
		t.Errorf("the job is %q", got)
	}
	b.quiet()
}

// Whatever is stored in place of the job, the page starts.
func TestBrowserKeptBroken(t *testing.T) {
	b := page(t)
	for _, text := range []string{
		`{`, `null`, `[]`, `7`, `"x"`, `{"version":2,"form":{}}`, `{"version":1,"form":7}`, strings.Repeat("[", 100_000),
		`{"version":1,"form":null}`,
	} {
		value[any](b, fmt.Sprintf("localStorage.setItem('longpoint.job', %q)", text))
		b.visit()
		b.settled("done")
		b.note("cannot be read")
		b.numbers("2", "4", "$45.16")
	}
	// A value that is not text is ignored; an impossible choice becomes the first of the list.
	for _, text := range []string{
		`{"version":1,"form":{}}`, `{"version":1,"form":[]}`,
		`{"version":1,"form":{"title":7,"kerf":{},"pieces":{"length":3},"sticks":[null,[],5,{"length":[]}],"runs":"x","rules":[],"more":"{"}}`,
		`{"version":1,"form":{"pieces":[{"__proto__":"x","left_kind":"bent","more":"7"}]}}`,
	} {
		value[any](b, fmt.Sprintf("localStorage.setItem('longpoint.job', %q)", text))
		b.visit()
		b.settled("stopped")
		b.state("stopped", "There is no job")
		value[any](b, "document.getElementById('solve').click()")
		b.settled("faults")
	}
	// More is said of a row than anybody can have.
	value[any](b, `localStorage.setItem("longpoint.job", JSON.stringify({ version: 1, form: { kerf: "0", pieces: [{ length: "12", more: '{"widht": 3}' }], sticks: [{ length: "96" }] } }))`)
	b.visit()
	b.settled("faults")
	if got := value[string](b, "document.querySelector('.fault').innerText"); !strings.Contains(got, "widht") {
		t.Errorf("the fault says %q", got)
	}
	b.quiet()
}

// If a browser has no room, or stores nothing at all, the page says so and works.
func TestBrowserKeepsNothing(t *testing.T) {
	for name, script := range map[string]string{
		"full": `Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); };`,
		"off":  `Object.defineProperty(window, "localStorage", { get() { throw new DOMException("off", "SecurityError"); } });`,
	} {
		t.Run(name, func(t *testing.T) {
			b := page(t, script)
			value[any](b, "document.querySelector('[data-field=quantity]').focus()")
			b.Write("2")
			b.note("Save the job as a file")
			value[any](b, "document.getElementById('solve').click()")
			b.settled("done")
			value[any](b, `document.getElementById("sheet").contentDocument.querySelector("input[type=checkbox]").click()`)
			value[any](b, "document.getElementById('forget').click()")
			b.note("forgotten")
			b.quiet()
		})
	}
}

// Of two tabs the last change is kept, and the other tab is notified.
func TestBrowserTwoTabs(t *testing.T) {
	b := page(t)
	c := b.another()
	c.size(1280, 900)
	c.visit()
	c.Front()
	c.settled("done")
	value[any](c, "document.getElementById('title').focus()")
	c.Write("Corridor")
	c.Until(stored + `.includes("Corridor")`)
	b.Front()
	b.note("changed in another tab")
	if got := b.title(); got != "Classroom base" {
		t.Errorf("the job is %q", got)
	}
	value[any](b, "document.querySelector('#note button').click()")
	if got := b.title(); got != "Corridor" {
		t.Errorf("the job is %q", got)
	}
	b.state("stale", "Out of date")
	value[any](c, "document.getElementById('forget').click()")
	b.note("forgotten in another tab")
	if got := b.title(); got != "Corridor" {
		t.Errorf("the job is %q", got)
	}
	b.quiet()
	c.quiet()
}
