package takeoff_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock/takeoff"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// built is a room as it is, in inches: its corners, clockwise from above.
type built struct {
	x, y     []float64      // left end of each wall
	off      measure.Length // how far its corners are known to stand off
	measured bool           // the angles are read with a bevel, otherwise they are known
	angles   []float64      // if not measured, the intended corners; 90° if nil
}

// reader reads as a careful person does: a tape within its tolerance, to the nearest
// sixteenth, and angles to the nearest quarter degree with a bevel that is an eighth of
// a degree off at most.
type reader struct{ *rand.Rand }

func (p reader) within(x float64) float64 { return (2*p.Float64() - 1) * x }

func (p reader) tape(inches float64) measure.Length {
	off := .25 // beyond 80 ft, NIST Handbook 44, 5.52
	for _, row := range [][2]float64{{80, 3. / 16}, {55, 1. / 8}, {30, 1. / 16}, {6, 1. / 32}} {
		if inches <= 12*row[0] {
			off = row[1]
		}
	}
	return measure.Length(math.Round((inches+p.within(off))*16)) * measure.Inch / 16
}

func (p reader) read(b built) takeoff.Room {
	n := len(b.x)
	r := takeoff.Room{Name: "room", OffSquare: b.off}
	for i := range n {
		j, k := (i+1)%n, (i+2)%n
		ax, ay, bx, by := b.x[j]-b.x[i], b.y[j]-b.y[i], b.x[k]-b.x[j], b.y[k]-b.y[j]
		turn := math.Atan2(ax*by-ay*bx, ax*bx+ay*by) * 180 / math.Pi
		w := takeoff.Wall{Name: string(rune('A' + i)), Length: p.tape(math.Hypot(ax, ay))}
		angle := 90.
		switch {
		case b.measured:
			angle = math.Round((180-math.Abs(turn)+p.within(.125))*4) / 4
		case b.angles != nil:
			angle = b.angles[i]
		}
		w.Corner.Angle = measure.Angle(angle*4) * (measure.Degree / 4)
		if angle == 90 && !b.measured {
			w.Corner.Angle = 0
		}
		if turn < 0 {
			w.Corner.Kind = takeoff.CornerOutside
		}
		r.Walls = append(r.Walls, w)
	}
	return r
}

func (p reader) size(least, most float64) float64 { return least + p.Float64()*(most-least) }

func (p reader) rectangle() built {
	w, h := p.size(96, 360), p.size(96, 240)
	return built{x: []float64{0, w, w, 0}, y: []float64{0, 0, h, h}}
}

// ell removes a corner from a rectangle.
func (p reader) ell() built {
	w, h := p.size(180, 360), p.size(180, 300)
	a, b := p.size(48, 120), p.size(48, 120)
	return built{
		x: []float64{0, w, w, w - a, w - a, 0},
		y: []float64{0, 0, h - b, h - b, h, h},
	}
}

// bay is a rectangle with a bay of three walls, its splays at 45°.
func (p reader) bay() built {
	w, h := p.size(144, 240), p.size(120, 216)
	deep, from, to := p.size(18, 36), p.size(12, 30), w-p.size(12, 30)
	return built{
		x:      []float64{0, from, from + deep, to - deep, to, w, w, 0},
		y:      []float64{0, 0, -deep, -deep, 0, 0, h, h},
		angles: []float64{135, 135, 135, 135, 90, 90, 90, 90}, // at the right-hand ends
	}
}

// skewed has four or five walls, none of which meet squarely, with all angles measured.
func (p reader) skewed() built {
	b := built{measured: true}
	n := 4 + p.IntN(2)
	w, h := p.size(96, 180), p.size(96, 180)
	for i := range n {
		a := 2 * math.Pi * (float64(i) + p.within(.2)) / float64(n)
		b.x = append(b.x, w*math.Cos(a))
		b.y = append(b.y, h*math.Sin(a))
	}
	return b
}

// shaken lets each corner stand off to either side by as much as given.
func (p reader) shaken(b built, off float64) built {
	c := built{angles: b.angles}
	for i := range b.x {
		c.x = append(c.x, b.x[i]+p.within(off))
		c.y = append(c.y, b.y[i]+p.within(off))
	}
	return c
}

func (p reader) diagonal(b built, from, to int) takeoff.Diagonal {
	n := len(b.x)
	i, j := (from+1)%n, (to+1)%n
	return takeoff.Diagonal{
		From: string(rune('A' + from)), To: string(rune('A' + to)),
		Length: p.tape(math.Hypot(b.x[i]-b.x[j], b.y[i]-b.y[j])),
	}
}

// begin returns the room with its list of walls begun at another wall.
func begin(r takeoff.Room, at int) takeoff.Room {
	r.Walls = slices.Concat(r.Walls[at:], r.Walls[:at])
	return r
}

// mirrored returns the room as seen in a mirror: the walls the other way round.
func mirrored(r takeoff.Room) takeoff.Room {
	n := len(r.Walls)
	m := r
	m.Walls = nil
	next := map[string]string{} // whose right-hand end the left-hand one becomes
	for i := n - 1; i >= 0; i-- {
		w := r.Walls[i]
		w.Corner = r.Walls[(i+n-1)%n].Corner
		m.Walls = append(m.Walls, w)
		next[r.Walls[i].Name] = r.Walls[(i+1)%n].Name
	}
	m.Diagonals = nil
	for _, d := range r.Diagonals {
		m.Diagonals = append(m.Diagonals, takeoff.Diagonal{From: next[d.From], To: next[d.To], Length: d.Length})
	}
	return m
}

func doubted(fs []takeoff.Finding) bool {
	return slices.ContainsFunc(fs, func(f takeoff.Finding) bool { return f.Severity == takeoff.SeverityDoubt })
}

// A course in surveying at Purdue closes five courses within .89 ft of 2466.05 ft, 1 in
// 2771 ("Traverse computations", course notes).
func TestPublishedTraverse(t *testing.T) {
	const deg, arcmin = measure.Degree, measure.Arcminute
	azimuths := []measure.Angle{26*deg + 10*arcmin, 104*deg + 35*arcmin, 195*deg + 30*arcmin, 358*deg + 18*arcmin, 306*deg + 54*arcmin}
	r := takeoff.Room{Name: "field"}
	for i, l := range []string{"285.10ft", "610.45ft", "720.48ft", "203.00ft", "647.02ft"} {
		turn := (azimuths[(i+1)%5]-azimuths[i]+540*deg)%(360*deg) - 180*deg
		c := takeoff.Corner{Angle: 180*deg - turn}
		if turn < 0 {
			c = takeoff.Corner{Kind: takeoff.CornerOutside, Angle: 180*deg + turn}
		}
		r.Walls = append(r.Walls, takeoff.Wall{Name: string(rune('A' + i)), Length: measure.MustParse(l), Corner: c})
	}
	for at := range r.Walls {
		got, err := begin(r, at).Traverse()
		// The printed components, -.71 and +.53 ft, are rounded to a hundredth: half of one
		// in each of ten.
		if off := math.Abs(got.Misclosure.Feet() - .89); err != nil || got.Turn != 0 || off > .01 || got.Perimeter != measure.MustParse("2466.05ft") || got.Reference != "C" {
			t.Errorf("starting at %s: %+v, %v", r.Walls[at].Name, got, err)
		}
	}
}

// Old rooms that were read right are out of square, not in doubt.
func TestOutOfSquare(t *testing.T) {
	// 144 by 168 with a corner of 91°: diagonals of 223.169 and 219.353 (derived).
	racked := rectangle("144in", "168in", "144in", "168in")
	long := takeoff.Diagonal{From: "W", To: "E", Length: measure.MustParse("219-3/8in")}
	short := takeoff.Diagonal{From: "N", To: "S", Length: measure.MustParse("223-3/16in")}
	for _, c := range []struct {
		name  string
		room  takeoff.Room
		kinds string
		angle measure.Angle
	}{
		{"both diagonals", with(racked, 0, long, short), "closure note, out of square advice", 89 * measure.Degree},
		{"one diagonal", with(racked, 0, short), "closure note, out of square advice", 91 * measure.Degree},
		{"one diagonal, a foot off", with(racked, 0, takeoff.Diagonal{From: "N", To: "S", Length: measure.MustParse("233-1/4in")}),
			"closure note, missed foot doubt, diagonal fit doubt", 0},
		{"both, one of them a foot off", with(racked, 0, long, takeoff.Diagonal{From: "N", To: "S", Length: measure.MustParse("235-3/16in")}),
			"closure note, diagonal fit doubt", 0},
		{"unsaid", rectangle("144in", "168in", "144-1/2in", "168in"), "closure doubt, opposite walls doubt", 0},
		{"said", with(rectangle("144in", "168in", "144-1/2in", "168in"), measure.Inch/4), "closure note, opposite walls note, out of square advice", 0},
		// Corners at (0, 0), (144, 1/4), (144, 168) and (-1/2, 168).
		{"one diagonal, an old house", with(rectangle("144in", "167-3/4in", "144-1/2in", "168in"), 0, takeoff.Diagonal{From: "W", To: "E", Length: measure.MustParse("221-1/4in")}),
			"closure note, opposite walls note, opposite walls note, out of square advice", 89*measure.Degree + 48*measure.Arcminute},
	} {
		var got []string
		var angle measure.Angle
		for _, f := range find(t, c.room, takeoff.Scheme{}) {
			got = append(got, string(f.Code)+" "+f.Severity.String())
			if f.Code == takeoff.FindingOutOfSquare {
				angle = f.Angle
			}
		}
		if g := strings.Join(got, ", "); g != c.kinds || angle != c.angle {
			t.Errorf("%s: %s, %v, want %s, %v", c.name, g, angle, c.kinds, c.angle)
		}
	}
}

func with(r takeoff.Room, off measure.Length, ds ...takeoff.Diagonal) takeoff.Room {
	r.OffSquare, r.Diagonals = off, ds
	return r
}

// If a missed inch would go unseen, Check says so and which diagonals would show it; with those it is
// found.
func TestWeakCheck(t *testing.T) {
	r := rectangle("168in", "144in", "168in", "144in")
	for i, deg := range []measure.Angle{88, 92, 88, 92} {
		r.Walls[i].Corner.Angle = deg * measure.Degree
	}
	var weak takeoff.Finding
	for _, f := range find(t, r, takeoff.Scheme{}) {
		if f.Code == takeoff.FindingWeakCheck {
			weak = f
		}
	}
	// A quarter degree, the spread of the corners and three standard deviations: 1/4° ·
	// sqrt(4 · 84²) · sqrt 3 = 1.27 in across the long side.
	if weak.Severity != takeoff.SeverityNote || weak.Length < 5*measure.Inch/4 || weak.Length > 3*measure.Inch/2 ||
		!strings.Contains(weak.Reason, "the diagonal from corner") {
		t.Fatalf("%+v", weak)
	}
	r.Diagonals = []takeoff.Diagonal{ // of the parallelogram, by the law of cosines
		{From: "W", To: "E", Length: measure.MustParse("217-9/16in")}, {From: "N", To: "S", Length: measure.MustParse("224-15/16in")},
	}
	for _, f := range find(t, r, takeoff.Scheme{}) {
		if f.Severity != takeoff.SeverityNote {
			t.Errorf("%+v", f)
		}
	}
	r.Walls[2].Length += measure.Inch
	if fs := find(t, r, takeoff.Scheme{}); !doubted(fs) {
		t.Errorf("%+v", fs)
	}
}

// rates are counts out of a thousand rooms each: correct readings that are doubted, and single slips in
// one wall that are found.
type rates struct {
	alarms       int // at most
	found, among int // at least: in doubt at all; the wall among the suspects
	alone, other int // the wall named alone, at least; another one, at most
}

// A missed inch in rooms of all kinds, the list begun at any wall.
func TestMissedInchRates(t *testing.T) {
	plain := func(shape func(reader) built) func(p reader) takeoff.Room {
		return func(p reader) takeoff.Room { return p.read(shape(p)) }
	}
	across := func(shape func(reader) built, ends ...int) func(p reader) takeoff.Room {
		return func(p reader) takeoff.Room {
			b := shape(p)
			r := p.read(b)
			for _, from := range ends {
				r.Diagonals = append(r.Diagonals, p.diagonal(b, from, from+2))
			}
			return r
		}
	}
	old := func(p reader) built { return p.shaken(p.rectangle(), .25) }
	for _, c := range []struct {
		name string
		make func(p reader) takeoff.Room
		want rates
	}{
		// Opposite walls explain it equally: without a diagonal neither is named, with one the right
		// one always is.
		{"rectangle", plain(reader.rectangle), rates{0, 1000, 1000, 0, 0}},
		{"L", plain(reader.ell), rates{0, 1000, 1000, 0, 0}},
		{"rectangle, a diagonal", across(reader.rectangle, 0), rates{0, 1000, 1000, 990, 0}},
		{"rectangle, both diagonals", across(reader.rectangle, 0, 1), rates{0, 990, 990, 990, 0}},
		{"L, three diagonals", across(reader.ell, 0, 1, 2), rates{0, 1000, 1000, 500, 0}},
		// A bay of 8 to 18 ft, its corners known to a quarter degree.
		{"bay", plain(reader.bay), rates{0, 850, 850, 200, 0}},
		// Angles alone cannot show it: a quarter degree is 3/4 in over 14 ft, in every
		// corner. Diagonals can.
		{"skewed", plain(reader.skewed), rates{0, 80, 80, 0, 20}},
		{"skewed, diagonals", across(reader.skewed, 0, 1), rates{2, 890, 890, 600, 20}},
		// Corners that are off by up to 1/4 in: reported, or shown by a diagonal.
		{"old house, unsaid", plain(old), rates{800, 990, 450, 0, 10}},
		{"old house, said", plain(func(p reader) built { b := old(p); b.off = measure.Inch / 4; return b }), rates{0, 600, 600, 0, 0}},
		{"old house, a diagonal", across(old, 0), rates{5, 800, 450, 450, 20}},
		{"old house, both diagonals", across(old, 0, 1), rates{5, 950, 500, 500, 20}},
	} {
		p := reader{rand.New(rand.NewPCG(1, 2))}
		var got rates
		for range 1000 {
			r := c.make(p)
			r = begin(r, p.IntN(len(r.Walls)))
			if doubted(find(t, r, takeoff.Scheme{})) {
				got.alarms++
			}
			i := p.IntN(len(r.Walls))
			r.Walls[i].Length += measure.Inch * measure.Length(2*p.IntN(2)-1)
			got.count(find(t, r, takeoff.Scheme{}), r.Walls[i].Name)
		}
		t.Logf("%-26s %+v", c.name, got)
		if got.alarms > c.want.alarms || got.found < c.want.found || got.among < c.want.among || got.alone < c.want.alone || got.other > c.want.other {
			t.Errorf("%s: %+v, want no worse than %+v", c.name, got, c.want)
		}
	}
}

func (r *rates) count(fs []takeoff.Finding, wall string) {
	if doubted(fs) {
		r.found++
	}
	for _, f := range fs {
		if f.Severity != takeoff.SeverityDoubt || f.Code != takeoff.FindingClosure && f.Code != takeoff.FindingDiagonalFit {
			continue
		}
		if slices.Contains(f.Suspects, wall) {
			r.among++
		}
		switch f.Wall {
		case "":
		case wall:
			r.alone++
		default:
			r.other++
		}
	}
}

// Slips of one wall in rooms whose list begins at any wall. Swapped digits are named with the wall and
// its true length, unless the same swap in another wall would explain the error too: always so for the
// opposite one of a rectangle.
func TestSlipRates(t *testing.T) {
	swap := func(n measure.Length) measure.Length { // the last two digits, or nothing
		if n < 10 || n%10 == 0 {
			return n
		}
		return n/100*100 + n%10*10 + n/10%10
	}
	type counts struct{ among, alone, instead, other int }
	inches := func(l measure.Length) measure.Length { return swap(l/measure.Inch)*measure.Inch + l%measure.Inch }
	feet := func(l measure.Length) measure.Length { return swap(l/measure.Foot)*measure.Foot + l%measure.Foot }
	side := func(l measure.Length) measure.Length { return 2*l.Round(measure.Inch, measure.RoundHalfEven) - l }
	foot := func(l measure.Length) measure.Length { return l - measure.Foot }
	for _, c := range []struct {
		name  string
		shape func(reader) built
		kind  takeoff.FindingCode
		slip  func(l measure.Length) measure.Length
		want  counts // at least, of other at most
	}{
		{"digits of inches, rectangle", reader.rectangle, takeoff.FindingSwappedDigits, inches, counts{1000, 0, 0, 0}},
		{"digits of inches, L", reader.ell, takeoff.FindingSwappedDigits, inches, counts{1000, 860, 860, 0}},
		{"digits of inches, bay", reader.bay, takeoff.FindingSwappedDigits, inches, counts{1000, 650, 650, 0}},
		{"digits of feet, rectangle", reader.rectangle, takeoff.FindingSwappedDigits, feet, counts{1000, 0, 0, 0}},
		{"digits of feet, L", reader.ell, takeoff.FindingSwappedDigits, feet, counts{1000, 980, 980, 0}},
		{"digits of feet, bay", reader.bay, takeoff.FindingSwappedDigits, feet, counts{1000, 370, 370, 0}},
		{"wrong side, rectangle", reader.rectangle, takeoff.FindingWrongSide, side, counts{880, 0, 0, 0}},
		{"missed foot, rectangle", reader.rectangle, takeoff.FindingMissedFoot, foot, counts{1000, 0, 0, 0}},
		{"missed foot, bay", reader.bay, takeoff.FindingMissedFoot, foot, counts{1000, 200, 200, 0}},
	} {
		p := reader{rand.New(rand.NewPCG(3, 4))}
		var got counts
		for tried := 0; tried < 1000; {
			r := p.read(c.shape(p))
			r = begin(r, p.IntN(len(r.Walls)))
			w := &r.Walls[p.IntN(len(r.Walls))]
			was := w.Length
			w.Length = c.slip(was)
			if d := max(w.Length-was, was-w.Length); d < measure.Inch/2 || w.Length <= 0 {
				continue // no slip, or one that careful readings may be off by
			}
			tried++
			for _, f := range find(t, r, takeoff.Scheme{}) {
				if f.Code != c.kind {
					continue
				}
				if slices.Contains(f.Suspects, w.Name) {
					got.among++
				}
				switch {
				case f.Wall == w.Name && f.Instead == was:
					got.alone++
					got.instead++
				case f.Wall == w.Name:
					got.alone++
				case f.Wall != "":
					got.other++
				}
			}
		}
		t.Logf("%-27s %+v", c.name, got)
		if got.among < c.want.among || got.alone < c.want.alone || got.instead < c.want.instead || got.other > c.want.other {
			t.Errorf("%s: %+v, want no worse than %+v", c.name, got, c.want)
		}
	}
}

// Doubts and suspects depend neither on the wall that the list begins with nor on the hand of the room.
func TestVerdictsDoNotDependOnTheList(t *testing.T) {
	shapes := []func(reader) built{
		reader.rectangle, reader.ell, reader.bay, reader.skewed,
		func(p reader) built { return p.shaken(p.rectangle(), .25) },
		func(p reader) built { b := p.shaken(p.bay(), .25); b.off = measure.Inch / 4; return b },
	}
	rapid.Check(t, func(t *rapid.T) {
		p := reader{rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))}
		b := rapid.SampledFrom(shapes).Draw(t, "shape")(p)
		r := p.read(b)
		n := len(r.Walls)
		for range rapid.IntRange(0, 2).Draw(t, "diagonals") {
			d := p.diagonal(b, len(r.Diagonals), len(r.Diagonals)+2)
			if n == 5 && len(r.Diagonals) == 1 {
				d = p.diagonal(b, 1, 4) // no wall joins these either
			}
			r.Diagonals = append(r.Diagonals, d)
		}
		if rapid.Bool().Draw(t, "wrong") {
			i := rapid.IntRange(0, n-1).Draw(t, "wall")
			r.Walls[i].Length += measure.Length(rapid.IntRange(-64, 400).Draw(t, "by")) * measure.Inch / 16
			r.Walls[i].Length = max(r.Walls[i].Length, measure.Inch)
		}
		want := verdicts(t, r)
		walk, err := r.Traverse()
		if err != nil {
			t.Fatal(err)
		}
		for at := range n {
			for _, turned := range []takeoff.Room{begin(r, at), mirrored(begin(r, at))} {
				if d := cmp.Diff(want, verdicts(t, turned)); d != "" {
					t.Fatalf("starting at %s (-want +got):\n%s", r.Walls[at].Name, d)
				}
				got, err := turned.Traverse()
				same := func(a, b measure.Length) bool { return max(a-b, b-a) <= rounding }
				if err != nil || got.Turn != walk.Turn || got.Perimeter != walk.Perimeter || !same(got.Misclosure, walk.Misclosure) || !same(got.Tolerance, walk.Tolerance) {
					t.Fatalf("starting at %s: %+v, want %+v; %v", r.Walls[at].Name, got, walk, err)
				}
			}
		}
	})
}

// verdict is a finding without its words; lengths to the 64th, because directions are rounded
// differently from each start.
type verdict struct {
	Kind            takeoff.FindingCode
	Severity        takeoff.Severity
	Length, Instead string
	Walls           []string
}

func verdicts(t rapid.TB, r takeoff.Room) (vs []verdict) {
	fs, err := takeoff.Check([]takeoff.Room{r}, takeoff.Scheme{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	about := func(l measure.Length) string { return l.Round(measure.Inch/64, measure.RoundHalfEven).String() }
	for _, f := range fs {
		v := verdict{Kind: f.Code, Severity: f.Severity, Length: about(f.Length), Instead: about(f.Instead), Walls: []string{f.Wall}}
		for _, s := range f.Suspects {
			if !strings.HasPrefix(s, "diagonal") { // whose ends have other names in the mirror
				v.Walls = append(v.Walls, s)
			}
		}
		slices.Sort(v.Walls)
		vs = append(vs, v)
	}
	slices.SortFunc(vs, func(a, b verdict) int {
		return strings.Compare(fmt.Sprint(a), fmt.Sprint(b))
	})
	return vs
}

// Any closed shape is judged without a panic, by Check as by Traverse: the walls are in doubt exactly
// if the error exceeds the tolerance, unless diagonals explain it.
func TestAnyClosedRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(t, "walls")
		r := takeoff.Room{Name: "room", OffSquare: rapid.SampledFrom([]measure.Length{0, 1, measure.Inch / 4, 9 * measure.Foot}).Draw(t, "off square")}
		var turn measure.Angle
		for i := range n {
			c := takeoff.Corner{Kind: takeoff.CornerKind(rapid.IntRange(0, 1).Draw(t, "kind"))}
			if rapid.Bool().Draw(t, "given") {
				c.Angle = measure.Angle(rapid.Int64Range(1, int64(180*measure.Degree)).Draw(t, "angle"))
			}
			if i == n-1 && rapid.Bool().Draw(t, "once around") {
				c = takeoff.Corner{Angle: 180*measure.Degree - (360*measure.Degree - turn)}
				if c.Angle > 180*measure.Degree {
					c = takeoff.Corner{Kind: takeoff.CornerOutside, Angle: 360*measure.Degree - c.Angle}
				}
				if c.Angle <= 0 || c.Angle > 180*measure.Degree {
					c = takeoff.Corner{}
				}
			}
			a := c.Angle
			if a == 0 {
				a = 90 * measure.Degree
			}
			if c.Kind == takeoff.CornerOutside {
				a = 360*measure.Degree - a
			}
			turn += 180*measure.Degree - a
			r.Walls = append(r.Walls, takeoff.Wall{Name: string(rune('A' + i)), Length: length(measure.Inch/16, 3300*measure.Foot).Draw(t, "length"), Corner: c}) // eight make five miles
		}
		for range rapid.IntRange(0, 3).Draw(t, "diagonals") {
			name := rapid.StringMatching("[A-H]")
			d := takeoff.Diagonal{From: name.Draw(t, "from"), To: name.Draw(t, "to"), Length: length(measure.Inch/16, 5280*measure.Foot).Draw(t, "diagonal")}
			with := r
			with.Diagonals = append(slices.Clone(r.Diagonals), d)
			if _, err := with.Traverse(); err == nil {
				r = with
			}
		}
		got, err := r.Traverse()
		if err != nil {
			t.Fatal(err)
		}
		fs, err := takeoff.Check([]takeoff.Room{r}, takeoff.Scheme{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if !got.Closed || got.Misclosure < 0 || got.Tolerance <= 0 || got.Turn != turn-360*measure.Degree {
			t.Fatalf("%+v", got)
		}
		closure := 0
		for _, f := range fs {
			if f.Length < 0 || f.Instead < 0 || f.Reason == "" || f.Room != "room" {
				t.Fatalf("%+v", f)
			}
			for _, s := range append(f.Suspects, f.Wall) {
				if s != "" && !strings.HasPrefix(s, "diagonal ") && !slices.ContainsFunc(r.Walls, func(w takeoff.Wall) bool { return w.Name == s }) {
					t.Fatalf("no finding %q: %+v", s, f)
				}
			}
			if f.Code == takeoff.FindingClosure {
				closure++
				if doubt := got.Misclosure > got.Tolerance; (f.Severity == takeoff.SeverityDoubt) != doubt && len(r.Diagonals) == 0 {
					t.Fatalf("%+v of %+v", f, got)
				}
			}
		}
		if within := got.Turn >= -5*measure.Degree && got.Turn <= 5*measure.Degree; (closure == 1) != within {
			t.Fatalf("%d closures: %+v", closure, fs)
		}
	})
}
