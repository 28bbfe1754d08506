package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A real browser loads the page, a person without a mouse fills it in, and the result is what the
// library returns elsewhere.
func TestBrowser(t *testing.T) {
	b := page(t)

	// The job that is there at first: the one in the README.
	b.numbers("2", "4", "$45.16")
	b.sheet(`12'`, `16'`, "north wall, left", "Saws cause serious injuries")
	b.shot("wide")

	// By keyboard: some fields in, another length, and the Enter key.
	value[any](b, "document.getElementById('title').focus()")
	for _, want := range []string{"open", "save", "forget"} {
		b.Press("Tab")
		if got := b.focus(); got != want {
			t.Fatalf("the focus is in %q, want %q", got, want)
		}
	}
	b.Press("Tab") // name of the first piece
	b.Press("Tab") // its length
	if got := b.focus(); got != "piece 1: Length" {
		t.Fatalf("the focus is in %q", got)
	}
	b.Write("eight foot one and three eighths")
	b.Until(`document.activeElement.nextElementSibling.textContent === "= 8' 1-3/8\""`)
	b.Press("Enter")
	b.settled("done")
	b.numbers("2", "4", "$38.16")

	// An ambiguous text is asked about, and each choice is a button.
	b.Write("7-4")
	b.Press("Enter")
	b.settled("faults")
	if got := value[string](b, "document.querySelector('.fault').innerText"); !strings.Contains(got, `7' 4"`) {
		t.Errorf("the fault says %q", got)
	}
	if got := b.focus(); got != "piece 1: Length" {
		t.Errorf("the focus is in %q", got)
	}
	if !value[bool](b, "document.getElementById(document.activeElement.getAttribute('aria-describedby')).className === 'fault'") {
		t.Error("the field is not described by its fault")
	}
	b.shot("fault")
	b.Press("Tab")
	b.Press("Space")
	b.settled("done")
	if got := value[string](b, "document.activeElement.value"); got != `7' 4"` {
		t.Errorf("the choice filled in %q", got)
	}
	b.numbers("2", "4", "$38.16")

	// A piece that no stick is long enough for.
	b.Write("17 ft")
	b.Press("Enter")
	b.settled("faults")
	if got := value[string](b, "document.querySelector('.fault').innerText"); !strings.Contains(got, "Too long by 1'") {
		t.Errorf("the fault says %q", got)
	}
	b.Write(`12' 1-3/8"`)
	b.Press("Enter")
	b.settled("done")

	// A new row, filled in, and taken away again.
	value[any](b, "document.querySelector('#pieces .add').focus()")
	b.Press("Enter")
	if got := b.focus(); got != "piece 4: Name" {
		t.Errorf("the focus is in %q", got)
	}
	b.Write(`<img src=x onerror="throw 1">`)
	b.Press("Tab")
	b.Write("14 ½")
	b.Press("Tab")
	b.Write("3")
	b.Press("Enter")
	b.settled("done")
	if got := value[string](b, "document.getElementById('n-pieces').textContent"); got != "7" {
		t.Errorf("%s pieces, want 7", got)
	}
	b.sheet("<img src=x onerror=")
	b.Press("Tab")
	b.Press("Enter")
	if got := b.focus(); got != "piece 3: Name" {
		t.Errorf("the focus is in %q", got)
	}
	b.Press("Enter")
	b.settled("done")
	b.numbers("2", "4", "$45.16")

	// A screen reader announces the purpose of every control.
	var tree struct {
		Nodes []struct {
			Ignored bool
			Role    struct{ Value string }
			Name    struct{ Value string }
		}
	}
	b.Call("Accessibility.getFullAXTree", nil, &tree)
	controls := 0
	names := map[string]bool{}
	for _, n := range tree.Nodes {
		switch n.Role.Value {
		case "textbox", "button":
			controls++
			if n.Ignored || n.Name.Value == "" || names[n.Name.Value] {
				t.Errorf("a %s is called %q", n.Role.Value, n.Name.Value)
			}
			names[n.Name.Value] = true
		}
	}
	if controls < 20 {
		t.Errorf("only %d controls were found", controls)
	}

	// Nothing sticks out of a narrow window, and the sheet is seen whole.
	for _, width := range []int{320, 360, 768, 1100, 1600} {
		b.size(width, 800)
		b.Until("document.getElementById('sheet').clientHeight >= document.getElementById('sheet').contentDocument.documentElement.scrollHeight")
		if w := value[int](b, "document.documentElement.scrollWidth"); w > width {
			t.Errorf("in %d points the page is %d wide", width, w)
		}
		if w := value[int](b, "(d => d.scrollWidth - d.clientWidth)(document.getElementById('sheet').contentDocument.documentElement)"); w > 0 {
			t.Errorf("in %d points the sheet is %d too wide", width, w)
		}
		if width == 360 {
			b.shot("narrow")
		}
	}
	b.quiet()
}

// settled waits for the end of a solve.
func (b *tab) settled(state string) {
	b.t.Helper()
	b.Until(`["done", "faults", "failed", "stopped"].includes(document.getElementById("result")?.dataset.state)`)
	if got := value[string](b, `document.getElementById("result").dataset.state`); got != state {
		b.t.Fatalf("the page is in state %q, want %q: %s", got, state, value[string](b, "document.getElementById('job').innerText"))
	}
}

func (b *tab) numbers(want ...string) {
	b.t.Helper()
	if got := value[string](b, "document.getElementById('status').textContent"); got != "Proven: nothing is cheaper." {
		b.t.Errorf("the page says %q", got)
	}
	got := value[[]string](b, `[...document.querySelectorAll("#numbers dd")].map((e) => e.textContent)`)
	if strings.Join(got, "|") != strings.Join(want, "|") {
		b.t.Errorf("the page says %q, want %q", got, want)
	}
}

// sheet looks for texts in the displayed sheet.
func (b *tab) sheet(want ...string) {
	b.t.Helper()
	b.Until("document.getElementById('sheet').contentDocument?.body?.innerText.length > 100")
	text := value[string](b, "document.getElementById('sheet').contentDocument.body.innerText")
	for _, s := range want {
		if !strings.Contains(text, s) {
			b.t.Errorf("the sheet lacks %q:\n%s", s, text)
		}
	}
}

func (b *tab) focus() string {
	b.t.Helper()
	return value[string](b, "document.activeElement.getAttribute('aria-label') ?? document.activeElement.id")
}

// shot saves a picture of the whole page for review, glance one of the visible part.
func (b *tab) shot(name string) {
	b.t.Helper()
	b.save(name+".png", b.Poster)
}

func (b *tab) glance(name string) {
	b.t.Helper()
	b.save(name+".png", b.Picture)
}

func (b *tab) save(name string, data func() []byte) {
	b.t.Helper()
	if dir := os.Getenv("LONGPOINT_SHOTS"); dir != "" {
		if err := os.WriteFile(filepath.Join(dir, name), data(), 0o666); err != nil {
			b.t.Fatal(err)
		}
	}
}
