package main

import (
	"fmt"
	"strings"
	"testing"
)

// spy counts the questions that workers are searching for, and delays questions if a test wants a
// search that never ends.
const spy = `
var most = 0, hold = false, fail = false, crash = "";
const asked = new Map(); // by worker
function busy() { return [...asked.values()].reduce((a, n) => a + n, 0); }
window.Worker = class extends Worker {
  constructor(...args) {
    super(...args);
    this.addEventListener("message", ({ data }) => { if (!data.headway && asked.get(this)) asked.set(this, asked.get(this) - 1); });
  }
  postMessage(m) {
    if (m.kind && m.kind === crash) super.postMessage({ module: {} }); // of which no library starts
    if (m.kind === "answer") {
      asked.set(this, (asked.get(this) ?? 0) + 1);
      most = Math.max(most, busy());
      if (fail) this.dispatchEvent(new ErrorEvent("error", { message: "out of memory" }));
      if (hold || fail) return;
    }
    if (m.stop && hold) return;
    super.postMessage(m);
  }
  terminate() {
    asked.delete(this);
    super.terminate();
    // A pending result still arrives, and is ignored.
    setTimeout(() => {
      this.dispatchEvent(new ErrorEvent("error", { message: "too late" }));
      this.dispatchEvent(new MessageEvent("message", { data: { id: -1, text: "too late" } }));
    });
  }
};`

func (b *tab) state(want, says string) {
	b.t.Helper()
	if got := value[string](b, `document.getElementById("result").dataset.state`); got != want {
		b.t.Errorf("the page is in state %q, want %q", got, want)
	}
	if got := value[string](b, `document.getElementById("status").textContent`); !strings.Contains(got, says) {
		b.t.Errorf("the page says %q, want %q", got, says)
	}
}

// visible returns the visible parts of the page and the sheet, on the screen or on paper; on paper also
// the text of the sheet when printed by itself.
func (b *tab) visible(media string) (page, sheet string) {
	b.t.Helper()
	b.Media(media, false)
	defer b.Media("", false)
	if media == "print" {
		value[any](b, "dispatchEvent(new Event('beforeprint'))")
		page = value[string](b, "document.getElementById('paper').innerText")
		if value[bool](b, "document.body.checkVisibility()") {
			b.t.Error("the page itself is on paper")
		}
		value[any](b, "dispatchEvent(new Event('afterprint'))")
	} else {
		page = value[string](b, "document.body.innerText")
	}
	// A frame that the page does not print may be printed by itself.
	return page, value[string](b, `((frame) => {
		if (frame.hidden) return "";
		document.body.style.setProperty("display", "block", "important");
		const text = frame.contentDocument.body.innerText;
		document.body.style.removeProperty("display");
		return text;
	})(document.getElementById("sheet"))`)
}

// whole checks that the frame is as high as its content.
func (b *tab) whole() {
	b.t.Helper()
	b.Until("(f => f.clientHeight >= f.contentDocument.documentElement.scrollHeight)(document.getElementById('sheet'))")
}

// good checks that the page has a current sheet, bad an outdated one: no one can print a claim that
// does not belong to the form.
func (b *tab) good() {
	b.t.Helper()
	b.state("done", "Proven")
	b.whole()
	for _, media := range []string{"screen", "print"} {
		page, sheet := b.visible(media)
		if !strings.Contains(page, "Proven") || !strings.Contains(sheet, "Proven") || strings.Contains(sheet, "Out of date") {
			b.t.Errorf("on the %s the page says %q, the sheet %q", media, page, sheet)
		}
	}
	if value[bool](b, "document.getElementById('print').hidden") {
		b.t.Error("the sheet cannot be printed")
	}
}

func (b *tab) bad() {
	b.t.Helper()
	b.state("stale", "Out of date")
	b.whole()
	page, sheet := b.visible("screen")
	if strings.Contains(page, "Proven") || !strings.Contains(sheet, "Out of date. Do not cut by this sheet") {
		b.t.Errorf("on the screen the page says %q, the sheet %q", page, sheet)
	}
	page, sheet = b.visible("print")
	if strings.Contains(page+sheet, "Proven") || strings.Contains(page+sheet, "under the windows") || strings.Contains(page+sheet, "$") ||
		!strings.Contains(page, "Out of date") || strings.TrimSpace(sheet) != "Out of date. Do not cut by this sheet: work the job out again." {
		b.t.Errorf("on paper the page says %q, the sheet %q", page, sheet)
	}
	if !value[bool](b, "document.getElementById('print').hidden") {
		b.t.Error("a sheet that is out of date can be printed")
	}
}

// Whatever is changed in the form, the sheet no longer counts; put back, it does again.
func TestBrowserStaleSheet(t *testing.T) {
	b := page(t, spy)
	b.good()
	value[any](b, "document.querySelector('#runs .add').click(), document.querySelectorAll('#job details').forEach((d) => d.open = true)")
	fields := value[int](b, "window.fields = [...document.querySelectorAll('#job input[data-field], #job > :not(#rules) input[id]:not([type])')].filter((f) => f.type !== 'checkbox'), fields.length")
	if fields < 60 {
		t.Fatalf("%d fields", fields)
	}
	for i := range fields {
		before := value[string](b, fmt.Sprintf("fields[%d].focus(), fields[%d].value", i, i))
		b.Write(before + "1")
		if i%9 != 2 {
			// The state matches the visible content, tested on every ninth field.
			b.state("stale", "Out of date")
			value[any](b, fmt.Sprintf("fields[%d].value = %q, fields[%d].dispatchEvent(new Event('input', { bubbles: true }))", i, before, i))
			b.state("done", "Proven")
			continue
		}
		b.bad()
		if i == 2 {
			for _, width := range []int{1280, 390} {
				b.size(width, 844)
				b.shot(fmt.Sprint("stale-", width))
			}
			b.size(1280, 900)
		}
		value[any](b, fmt.Sprintf("fields[%d].focus()", i)) // which a form that is not on paper lost
		if before == "" {
			value[any](b, "document.activeElement.select(), document.execCommand('delete')")
		} else {
			b.Write(before)
		}
		b.good()
	}

	// A row that is added is another job once something stands in it; one that is taken
	// away is another at once.
	value[any](b, "document.querySelector('#pieces .add').click()")
	b.good()
	value[any](b, "document.querySelector('#pieces .row:last-child input').focus()")
	b.Write("shelf")
	b.bad()
	value[any](b, "document.querySelector('#pieces .row:last-child .remove').click()")
	b.good()
	value[any](b, "document.querySelector('#sticks .row .remove').click()")
	b.bad()
	value[any](b, "document.getElementById('solve').click()")
	b.settled("done")
	b.good()

	// A field that changes without an event is detected when printing.
	value[any](b, "document.querySelector('[data-field=length]').value = '1 in'")
	b.Call("Page.printToPDF", nil, nil)
	b.bad()
	b.quiet()
}

// One search runs at a time. It can be stopped, and leaves nothing that could be mistaken for an
// answer.
func TestBrowserOneSolve(t *testing.T) {
	b := page(t, spy)
	const solve, cancel = "document.getElementById('solve').click();", "document.getElementById('cancel').click();"
	nothing := func(says string) {
		t.Helper()
		b.state("stopped", says)
		for _, media := range []string{"screen", "print"} {
			if page, sheet := b.visible(media); strings.Contains(page+sheet, "Proven") || sheet != "" {
				t.Errorf("on the %s the page says %q, the sheet %q", media, page, sheet)
			}
		}
		if n := value[int](b, "busy()"); n != 0 {
			t.Errorf("%d searches run", n)
		}
		if !value[bool](b, "document.getElementById('cancel').hidden && document.getElementById('headway').hidden && document.getElementById('sheet').hidden && document.getElementById('summary').hidden") {
			t.Error("a stopped search left something behind")
		}
	}

	// The button, while a search runs that would not end.
	value[any](b, "hold = true, document.getElementById('solve').focus()")
	b.Press("Enter")
	b.Until("busy() === 1")
	b.state("working", "Working")
	// The sheet before is not to be taken for the one to come.
	if page, sheet := b.visible("print"); strings.Contains(page+sheet, "Proven") {
		t.Errorf("on paper the page says %q, the sheet %q", page, sheet)
	}
	for _, width := range []int{1280, 390} {
		b.size(width, 844)
		b.shot(fmt.Sprint("working-", width))
	}
	b.size(1280, 900)
	value[any](b, "document.getElementById('solve').focus()")
	b.Press("Tab")
	if got := b.focus(); got != "cancel" {
		t.Errorf("the focus is in %q", got)
	}
	b.Press("Enter")
	b.state("working", "Stopping")
	if got := b.focus(); got != "cancel" {
		t.Errorf("the focus is in %q", got)
	}
	// A deliberate click counts once; insisting works.
	value[any](b, "document.getElementById('cancel').dispatchEvent(new MouseEvent('click', { bubbles: true, detail: 2 }))")
	b.state("working", "Stopping")
	b.Press("Enter")
	if got := b.focus(); got != "solve" {
		t.Errorf("the focus is in %q", got)
	}
	nothing("Stopped.")
	b.shot("stopped")

	// The key, and a change of the form.
	value[any](b, solve)
	b.Until("busy() === 1")
	b.Press("Escape")
	b.Press("Escape")
	nothing("Stopped.")
	value[any](b, solve)
	b.Until("busy() === 1")
	value[any](b, "document.querySelector('[data-field=quantity]').focus()")
	b.Write("2")
	nothing("The job was changed")

	// A new one ends the one before, and is the one that is answered.
	value[any](b, solve+"hold = false; document.querySelector('[data-field=quantity]').value = ''; "+solve)
	b.settled("done")
	b.numbers("2", "4", "$45.16")
	value[any](b, solve+solve+solve)
	b.settled("done")
	b.good()
	if n := value[int](b, "most"); n != 1 {
		t.Errorf("%d searches ran at the same time", n)
	}

	// A worker that fails is reported, and the next one is unaffected.
	value[any](b, "fail = true;"+solve)
	b.settled("failed")
	b.state("failed", "out of memory")
	if n := value[int](b, "busy()"); n != 0 {
		t.Errorf("%d searches run", n)
	}
	value[any](b, "fail = false;"+solve)
	b.settled("done")
	b.numbers("2", "4", "$45.16")

	// So is one that ends by a message, in the middle of a search or of a list.
	value[any](b, "hold = true; crash = 'answer';"+solve)
	b.settled("failed")
	b.state("failed", "starts anew")
	value[any](b, "hold = false; crash = 'list'; document.querySelector('#pieces input').focus()")
	b.Paste("'3 @ 41 1/2\\n12\\n'.repeat(30000)")
	b.Until("document.getElementById('list-faults').innerText.includes('Try it once more')")
	value[any](b, "crash = 'save'; document.getElementById('save').click()")
	b.note("Nothing was saved: the solver ended")
	value[any](b, "crash = ''; document.getElementById('take').click()")
	b.note("2 pieces were added")
	value[any](b, "document.querySelector('#note button').click();"+solve)
	b.settled("done")
	b.numbers("2", "4", "$45.16")
	b.quiet()
}

// hard is a job that remains open as long as the page searches.
func (b *tab) hard() {
	b.t.Helper()
	value[any](b, "document.querySelector('#pieces input').focus()")
	b.Paste("Array.from({ length: 240 }, (_, i) => `${1 + i % 7} @ ${11 + (i * 7919) % 83} ${1 + (i * 31) % 15}/16 p${i}`).join('\\n')")
	b.note("240 pieces were added")
	value[any](b, `
		for (let i = 0; i < 12; i++) {
			document.querySelector("#sticks .add").click();
			const [length, price] = document.querySelectorAll("#sticks .row:last-child > .cell input");
			length.value = 97 + i * 11 + " " + (1 + i * 5 % 15) + "/16";
			price.value = 13 + i * 2 + "." + String(i * 37 % 100).padStart(2, "0");
		}
		const rule = document.getElementById("rules.max_pieces");
		rule.value = "4";
		rule.dispatchEvent(new Event("input", { bubbles: true }))`)
}

// A search in earnest has the only thread of its worker, lets it hear all the same, and gives
// the best plan that it has.
func TestBrowserCancel(t *testing.T) {
	b := page(t)
	const solve, cancel = "document.getElementById('solve').click();", "document.getElementById('cancel').click();"
	b.hard()
	b.phone()
	b.state("stale", "Out of date")
	if got := value[string](b, solve+"document.getElementById('result').dataset.state"); got != "working" {
		t.Errorf("the page is in state %q", got)
	}
	// The page responds, and shows progress during a search. When asked to stop, the search answers
	// with the best plan so far.
	value[any](b, `new Promise((heard) => {
		const wait = () => {
			const text = document.getElementById("so-far").textContent;
			if (!text.includes(" so far; another plan could save $") || !document.getElementById("bar").checkVisibility()) return requestAnimationFrame(wait);
			const seen = document.getElementById("so-far").getBoundingClientRect();
			window.inSight = seen.top >= 0 && seen.bottom <= innerHeight && document.getElementById("cancel").getBoundingClientRect().bottom <= innerHeight;
			window.spoken = document.getElementById("spoken").textContent;
			document.getElementById("cancel").click();
			heard();
		};
		wait();
	})`)
	b.glance("phone-stopping")
	if !value[bool](b, "inSight") {
		t.Error("the progress of the search, or the button that ends it, is out of sight")
	}
	if !value[bool](b, "/so far; (another plan could save|how good that is)/.test(spoken)") {
		t.Error("screen readers do not announce the progress of the search")
	}
	b.settled("done")
	if got := value[string](b, "document.getElementById('status').textContent"); !strings.Contains(got, "You stopped the search") || !strings.Contains(got, "could save $") {
		t.Errorf("the page says %q", got)
	}
	b.sheet("north wall, left", "p239")
	if value[bool](b, "document.getElementById('print').hidden") {
		t.Error("the best plan so far cannot be printed")
	}

	// At once: either nothing is left that could be taken for an answer, or a plan is whole.
	value[any](b, solve+cancel)
	b.Until("document.getElementById('result').dataset.state !== 'working'")
	if !value[bool](b, "document.getElementById('print').hidden === (document.getElementById('result').dataset.state !== 'done')") {
		t.Error("the sheet to print differs from the result")
	}
	// A change ends it without a word of the worker.
	value[any](b, solve)
	value[any](b, "document.getElementById('kerf').focus()")
	b.Write("1/4")
	b.state("stopped", "The job was changed")
	b.quiet()
}

// A missing kerf is asked for; a kerf of zero is accepted if written.
func TestBrowserKerf(t *testing.T) {
	b := page(t, spy)
	value[any](b, "document.getElementById('kerf').focus(), document.activeElement.select(), document.execCommand('delete')")
	b.bad()
	value[any](b, "document.getElementById('kerf').focus()")
	b.Press("Enter")
	b.settled("faults")
	if got := b.focus(); got != "kerf" {
		t.Errorf("the focus is in %q", got)
	}
	if got := value[string](b, "document.getElementById(document.activeElement.getAttribute('aria-describedby')).innerText"); !strings.Contains(got, "Write 0 if it takes nothing") {
		t.Errorf("the field is described by %q", got)
	}
	if !value[bool](b, "document.activeElement.getAttribute('aria-invalid') === 'true' && document.getElementById('sheet').hidden") {
		t.Error("the field is not marked, or a sheet is shown")
	}
	for _, width := range []int{1280, 390} {
		b.size(width, 844)
		b.shot(fmt.Sprint("kerf-", width))
		if w := value[int](b, "document.documentElement.scrollWidth"); w > width {
			t.Errorf("in %d points the page is %d wide", width, w)
		}
	}
	b.Write("0")
	b.Press("Enter")
	b.settled("done")
	b.good()
	value[any](b, "document.getElementById('kerf').focus()")
	if value[bool](b, "document.getElementById('kerf').hasAttribute('aria-invalid')") {
		t.Error("the field is still marked")
	}
	b.Write("1/8")
	b.Press("Enter")
	b.settled("done")
	b.numbers("2", "4", "$45.16")
}
