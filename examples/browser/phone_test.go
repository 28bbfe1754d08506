package main

import (
	"fmt"
	"testing"
)

// On a phone nothing overflows, all touch targets are large enough, and the button that plans the job
// is in sight.
func TestBrowserPhone(t *testing.T) {
	b := start(t)
	b.phone()
	b.visit()
	b.settled("done")
	b.Until("innerWidth === 390")
	b.glance("phone-top")
	narrow := func(what string) {
		t.Helper()
		if w := value[int](b, "document.documentElement.scrollWidth"); w > 390 {
			t.Errorf("%s: the page is %d wide", what, w)
		}
		// At least 24 by 24, by WCAG 2.2, 2.5.8; hidden targets and those in a line of text are exempt.
		small := value[[]string](b, `[...document.querySelectorAll("button, input, select, textarea, summary, a")]
			.filter((e) => e.checkVisibility()).map((e) => [e, e.getBoundingClientRect()])
			.filter(([, r]) => r.width < 24 || r.height < 24)
			.map(([e, r]) => (e.getAttribute("aria-label") ?? e.id ?? e.textContent) + " " + r.width + " by " + r.height)`)
		if len(small) > 0 {
			t.Errorf("%s: too small to touch: %q", what, small)
		}
	}
	narrow("folded")
	if !value[bool](b, `(r => r.top > 0 && r.bottom <= innerHeight)(document.getElementById("solve").getBoundingClientRect())`) {
		t.Error("the button is out of sight")
	}
	value[any](b, "document.querySelector('#runs .add').click(), document.querySelectorAll('#job details').forEach((d) => d.open = true)")
	narrow("unfolded")
	b.shot("phone-unfolded")
	value[any](b, "document.querySelectorAll('#job details').forEach((d) => d.open = false)")

	// A touch plans the job, and the result comes into sight.
	value[any](b, "document.querySelector('[data-field=quantity]').value = '2', document.querySelector('[data-field=quantity]').dispatchEvent(new Event('input', { bubbles: true }))")
	b.state("stale", "Out of date")
	b.Tap("#solve")
	b.settled("done")
	b.Until(`document.getElementById("result").getBoundingClientRect().top < innerHeight / 2`)
	b.glance("phone-plan")
	narrow("done")

	// At the saw the sheet has the whole screen; the way back is the phone's own, or the button.
	full := func(want bool) {
		t.Helper()
		b.Until(fmt.Sprintf(`document.documentElement.hasAttribute("data-saw") === %t`, want))
		if got := value[bool](b, `((f) => f.height + f.top >= innerHeight - 1 && f.width >= innerWidth - 1 && f.height < innerHeight)(document.getElementById("sheet").getBoundingClientRect())`); got != want {
			t.Errorf("the sheet has the whole screen: %t", got)
		}
	}
	b.Tap("#saw")
	full(true)
	if got := b.focus(); got != "back" {
		t.Errorf("the focus is in %q", got)
	}
	b.glance("phone-saw")
	value[any](b, "document.getElementById('sheet').contentDocument.querySelectorAll('.stick')[1].scrollIntoView()")
	b.glance("phone-saw-stick")
	narrow("at the saw")
	value[any](b, "history.back()")
	full(false)
	if got := b.focus(); got != "saw" {
		t.Errorf("the focus is in %q", got)
	}
	value[any](b, "history.forward()")
	b.Until(`document.getElementById("result").dataset.state === "done"`)
	b.Tap("#saw")
	full(true)
	b.Tap("#back")
	full(false)

	// Checked boxes stay checked after the phone has put the page away.
	tick := `document.getElementById("sheet").contentDocument.querySelectorAll("input[type=checkbox]")`
	value[any](b, tick+"[1].click()")
	b.visit()
	b.settled("done")
	if !value[bool](b, tick+"[1].checked && !"+tick+"[0].checked") {
		t.Error("the ticked boxes are forgotten")
	}
	b.quiet()
}
