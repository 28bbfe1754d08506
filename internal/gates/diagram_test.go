package gates

import (
	"bytes"
	"cmp"
	"fmt"
	"go/ast"
	"iter"
	"maps"
	"os"
	"path"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/internal/svg"
	"example.com/longpoint/internal/svg/svgcheck"
)

const (
	diagramFile   = "internal/gates/testdata/packages.svg"
	updateArrows  = "go test ./internal/gates -run Arrows -update"
	diagramBegins = "<!-- What follows, up to the end mark, is written by " + updateArrows + " -->\n\n"
	diagramEnds   = "\n<!-- end -->\n"
)

// TestArrowsDiagram draws which package for users imports which, as text into DEVELOPERS.md
// and as a picture beside it, and fails if either is not of today.
func TestArrowsDiagram(t *testing.T) {
	atRoot(t)
	g := diagramOf(reduced(publicImports(t)))
	picture := g.picture()
	if _, err := svgcheck.Check(picture); err != nil {
		t.Errorf("picture of the packages: %v", err)
	}
	text, err := os.ReadFile("DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	before, rest, ok := strings.Cut(string(text), diagramBegins)
	old, after, ok2 := strings.Cut(rest, diagramEnds)
	if !ok || !ok2 {
		t.Fatalf("DEVELOPERS.md has no place for the packages, between %q and %q", diagramBegins, diagramEnds)
	}
	if *update {
		if err := os.MkdirAll(path.Dir(diagramFile), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(diagramFile, picture, 0o666); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile("DEVELOPERS.md", []byte(before+diagramBegins+g.text()+diagramEnds+after), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	if old != g.text() {
		t.Errorf("the diagram in DEVELOPERS.md differs from the imports: %s", updateArrows)
	}
	if was, err := os.ReadFile(diagramFile); err != nil || !bytes.Equal(was, picture) {
		t.Errorf("the diagram in %s differs from the imports: %s (%v)", diagramFile, updateArrows, err)
	}
}

// publicImports returns the packages for users and the imports of each among them, outside its tests.
func publicImports(t *testing.T) map[string][]string {
	t.Helper()
	all := make(map[string][]string)
	public := func(pkg string) bool {
		return pkg != "." && !strings.HasPrefix(pkg, "examples/") && !slices.Contains(strings.Split(pkg, "/"), "internal")
	}
	goFiles(t, func(name string, file *ast.File) {
		pkg := path.Dir(name)
		if !public(pkg) || strings.HasSuffix(name, "_test.go") {
			return
		}
		if all[pkg] == nil {
			all[pkg] = []string{}
		}
		for _, p := range imports(t, file) {
			if to, ok := ours(p); ok && public(to) && !slices.Contains(all[pkg], to) {
				all[pkg] = append(all[pkg], to)
			}
		}
	})
	return all
}

// reduced omits each arrow to a package that is also reached through another one.
func reduced(all map[string][]string) map[string][]string {
	var reaches func(from, to string) bool
	reaches = func(from, to string) bool {
		return slices.ContainsFunc(all[from], func(p string) bool { return p == to || reaches(p, to) })
	}
	out := make(map[string][]string)
	for pkg, to := range all {
		out[pkg] = slices.DeleteFunc(slices.Sorted(slices.Values(to)), func(p string) bool {
			return slices.ContainsFunc(to, func(q string) bool { return q != p && reaches(q, p) })
		})
	}
	return out
}

// A box is a package in the diagram, or a bend of an arrow that passes a layer.
type box struct {
	name         string // empty for a bend
	layer        int    // 0 is the lowest
	above, below []*box
	x            int // of the middle, in units of the picture
}

func (b *box) width() int {
	if b.name == "" {
		return 600
	}
	return int(svg.WidthOf(b.name, svg.Small)) + 1600
}

// diagram is boxes by layer, from left to right.
type diagram [][]*box

// diagramOf sets a box above all that it imports, and orders the boxes of each layer so that
// few arrows cross.
func diagramOf(imports map[string][]string) diagram {
	layer := layers(imports)
	boxes := make(map[string]*box)
	g := make(diagram, 1+slices.Max(slices.Collect(maps.Values(layer))))
	put := func(name string, layer int) *box {
		b := &box{name: name, layer: layer}
		g[layer] = append(g[layer], b)
		return b
	}
	for _, name := range slices.Sorted(maps.Keys(imports)) {
		boxes[name] = put(name, layer[name])
	}
	for _, name := range slices.Sorted(maps.Keys(imports)) {
		for _, to := range imports[name] {
			from := boxes[name]
			for l := layer[name] - 1; l >= layer[to]; l-- {
				next := boxes[to]
				if l > layer[to] {
					next = put("", l)
				}
				from.below, next.above = append(from.below, next), append(next.above, from)
				from = next
			}
		}
	}
	g.order()
	g.place()
	return g
}

// layers puts each package above its imports, and moves it up if that shortens the arrows in total.
func layers(imports map[string][]string) map[string]int {
	layer := make(map[string]int)
	var lowest func(name string) int
	lowest = func(name string) int {
		if _, ok := layer[name]; !ok {
			layer[name] = 0
			for _, to := range imports[name] {
				layer[name] = max(layer[name], 1+lowest(to))
			}
		}
		return layer[name]
	}
	users := make(map[string][]string)
	for name, all := range imports {
		lowest(name)
		for _, to := range all {
			users[to] = append(users[to], name)
		}
	}
	for moved := true; moved; {
		moved = false
		for _, name := range slices.Sorted(maps.Keys(imports)) {
			top := -1
			for _, u := range users[name] {
				if top < 0 || layer[u]-1 < top {
					top = layer[u] - 1
				}
			}
			if len(users[name]) >= len(imports[name]) && top > layer[name] {
				layer[name], moved = top, true
			}
		}
	}
	return layer
}

// crossings counts the arrows that cross.
func (g diagram) crossings() int {
	n := 0
	for _, boxes := range g {
		at := func(b *box) int { return slices.Index(g[b.layer], b) }
		for i, a := range boxes {
			for _, b := range boxes[i+1:] {
				for _, x := range a.below {
					for _, y := range b.below {
						if at(x) > at(y) {
							n++
						}
					}
				}
			}
		}
	}
	return n
}

// order sorts the boxes of each layer by the middle of their neighbors, up and down, and
// exchanges neighbors as long as fewer arrows cross by it.
func (g diagram) order() {
	best, fewest := g.copied(), g.crossings()
	for try := range 24 {
		for i := range g {
			boxes, near := g[i], func(b *box) []*box { return b.below }
			if try%2 == 1 {
				boxes, near = g[len(g)-1-i], func(b *box) []*box { return b.above }
			}
			slices.SortStableFunc(boxes, func(a, b *box) int {
				x, nx := g.middle(near(a))
				y, ny := g.middle(near(b))
				if nx == 0 || ny == 0 {
					return 0
				}
				return cmp.Compare(x*ny, y*nx)
			})
		}
		for better := true; better; {
			better = false
			for _, boxes := range g {
				for i := 1; i < len(boxes); i++ {
					was := g.crossings()
					boxes[i-1], boxes[i] = boxes[i], boxes[i-1]
					if g.crossings() < was {
						better = true
					} else {
						boxes[i-1], boxes[i] = boxes[i], boxes[i-1]
					}
				}
			}
		}
		if n := g.crossings(); n < fewest {
			best, fewest = g.copied(), n
		}
	}
	copy(g, best)
}

func (g diagram) copied() diagram {
	c := make(diagram, len(g))
	for i := range g {
		c[i] = slices.Clone(g[i])
	}
	return c
}

// middle returns the sum of the places of boxes in their layer, and how many they are.
func (g diagram) middle(boxes []*box) (sum, n int) {
	for _, b := range boxes {
		sum += slices.Index(g[b.layer], b)
	}
	return sum, len(boxes)
}

// place moves each box toward the middle of its neighbors, as far as the other boxes of its layer
// allow.
func (g diagram) place() {
	const gap = 1400
	apart := func(a, b *box) int { return (a.width()+b.width())/2 + gap }
	for range 60 {
		for _, boxes := range g {
			n := len(boxes)
			left, right := make([]int, n), make([]int, n)
			for i, b := range boxes {
				sum, near := 0, 0
				for _, o := range slices.Concat(b.above, b.below) {
					sum += o.x
					near++
				}
				left[i] = sum / max(1, near)
				right[i] = left[i]
			}
			for i := 1; i < n; i++ {
				left[i] = max(left[i], left[i-1]+apart(boxes[i-1], boxes[i]))
			}
			for i := n - 2; i >= 0; i-- {
				right[i] = min(right[i], right[i+1]-apart(boxes[i], boxes[i+1]))
			}
			for i, b := range boxes {
				b.x = (left[i] + right[i]) / 2
			}
		}
	}
	edge := 0
	for b := range g.all() {
		edge = min(edge, b.x-b.width()/2)
	}
	for b := range g.all() {
		b.x += 1200 - edge
	}
}

func (g diagram) all() iter.Seq[*box] {
	return func(yield func(*box) bool) {
		for _, boxes := range g {
			for _, b := range boxes {
				if !yield(b) {
					return
				}
			}
		}
	}
}

// port returns where the arrow between b and one of its neighbors meets the edge of b.
func (b *box) port(near []*box, to *box) int {
	if b.name == "" {
		return b.x
	}
	sorted := slices.SortedStableFunc(slices.Values(near), func(x, y *box) int { return cmp.Compare(x.x, y.x) })
	return b.x - b.width()/2 + b.width()*(1+slices.Index(sorted, to))/(1+len(near))
}

// text lists the packages from the top down, each with its imports.
func (g diagram) text() string {
	var b strings.Builder
	for i := len(g) - 1; i >= 0; i-- {
		for _, x := range slices.SortedFunc(slices.Values(g[i]), func(x, y *box) int { return strings.Compare(x.name, y.name) }) {
			if x.name != "" {
				fmt.Fprintln(&b, strings.TrimRight(fmt.Sprintf("    %d  %-24s %s", i, x.name, strings.Join(x.imports(), ", ")), " "))
			}
		}
	}
	return b.String()
}

// imports returns the names of the packages below b that its arrows lead to.
func (b *box) imports() []string {
	var names []string
	for _, x := range b.below {
		for x.name == "" {
			x = x.below[0]
		}
		names = append(names, x.name)
	}
	slices.Sort(names)
	return names
}

// picture draws the diagram.
func (g diagram) picture() []byte {
	const top, step, high = 3400, 6600, 2400
	width := 0
	for b := range g.all() {
		width = max(width, b.x+b.width()/2+1200)
	}
	var says []string
	for i := len(g) - 1; i >= 0; i-- {
		for _, b := range g[i] {
			if to := b.imports(); b.name != "" && len(to) > 0 {
				says = append(says, b.name+" imports "+strings.Join(to, ", ")+".")
			}
		}
	}
	p := svg.New(svg.Unit(width), "Packages", "Which package imports which, without what follows from other arrows. "+strings.Join(says, " "))
	p.Put(svg.Text{S: "Packages: each arrow goes to one that is imported", At: svg.Point{X: 1200, Y: 1500}, Anchor: svg.Start})
	y := func(b *box) svg.Unit { return svg.Unit(top + (len(g)-1-b.layer)*step) }
	line := svg.Style{Stroke: svg.Quiet, Width: svg.One}
	for b := range g.all() {
		for _, to := range b.below {
			from := svg.Point{X: svg.Unit(b.port(b.below, to)), Y: y(b) + high}
			end := svg.Point{X: svg.Unit(to.port(to.above, b)), Y: y(to)}
			if b.name == "" {
				from.Y = y(b) + high/2
				p.Line(svg.Point{X: from.X, Y: y(b)}, from, line)
			}
			p.Line(from, end, line)
			if to.name != "" {
				p.Arrow(from, end)
			} else {
				p.Line(end, svg.Point{X: end.X, Y: end.Y + high/2}, line)
			}
		}
	}
	for b := range g.all() {
		if b.name == "" {
			continue
		}
		fill := map[string]string{"stock": svg.Wood, "optimize": svg.Shade}[strings.Split(b.name, "/")[0]]
		p.Rect(svg.Box{X: svg.Unit(b.x - b.width()/2), Y: y(b), W: svg.Unit(b.width()), H: high}, svg.Style{Fill: cmp.Or(fill, svg.Paper), Stroke: svg.Ink, Width: svg.One})
		p.Put(svg.Text{S: b.name, At: svg.Point{X: svg.Unit(b.x), Y: y(b) + high/2}})
	}
	p.Grow(svg.Unit(top + (len(g)-1)*step + high + 1200))
	var out bytes.Buffer
	if _, err := p.WriteTo(&out); err != nil {
		panic(err)
	}
	return out.Bytes()
}
