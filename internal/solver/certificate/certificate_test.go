package certificate_test

import (
	"math"
	"runtime"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/internal/solver/certificate"
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// leaves is a proof with complete leaves.
func leaves(t interface{ Fatal(...any) }, text string) certificate.Evidence {
	s, err := certificate.Open(text, nil)
	if err != nil {
		t.Fatal(err)
	}
	e := certificate.Evidence{Unit: s.Unit, LeafBound: s.LeafBound}
	n := 0
	for k, l := range s.All() {
		if k != n {
			t.Fatal("leaf", k, "follows", n-1)
		}
		n++
		at := *l
		at.Lo, at.Hi, at.Used = slices.Clone(l.Lo), slices.Clone(l.Hi), slices.Clone(l.Used)
		e.Leaves = append(e.Leaves, at)
	}
	if n != s.Leaves {
		t.Fatal(n, "leaves, not", s.Leaves)
	}
	return e
}

// draw makes up evidence, in part alike from leaf to leaf.
func draw(t *rapid.T) certificate.Evidence {
	number := rapid.OneOf(rapid.Int64Range(-3, 9), rapid.Int64Range(-1<<62, 1<<62-1)) // no two further apart than an int64 holds
	e := certificate.Evidence{Unit: number.Draw(t, "unit"), LeafBound: number.Draw(t, "leaf bound")}
	classes, pieces, charges := rapid.IntRange(0, 4).Draw(t, "classes"), rapid.IntRange(0, 5).Draw(t, "pieces"), rapid.IntRange(0, 2).Draw(t, "charges")
	row := func(n int, label string) []int64 { return rapid.SliceOfN(number, n, n).Draw(t, label) }
	for range rapid.IntRange(0, 6).Draw(t, "leaves") {
		l := certificate.Leaf{Lo: row(classes, "lo"), Hi: row(classes, "hi"), Values: row(pieces, "values"),
			Scale: number.Draw(t, "scale"), Sums: rapid.Bool().Draw(t, "sums"), Spare: number.Draw(t, "spare")}
		for range rapid.IntRange(0, 3).Draw(t, "parts") {
			l.Parts = append(l.Parts, certificate.Part{Length: number.Draw(t, "length"), Value: number.Draw(t, "value")})
		}
		for range charges {
			l.Used = append(l.Used, rapid.IntRange(-2, 2).Draw(t, "used"))
		}
		if n := len(e.Leaves); n > 0 {
			like := e.Leaves[rapid.IntRange(0, n-1).Draw(t, "like")]
			if rapid.Bool().Draw(t, "values shared") {
				l.Values, l.Scale, l.Spare, l.Parts = like.Values, like.Scale, like.Spare, like.Parts
			}
			if rapid.Bool().Draw(t, "box shared") {
				l.Lo, l.Hi, l.Used = like.Lo, like.Hi, like.Used
			}
		}
		e.Leaves = append(e.Leaves, l)
	}
	return e
}

func TestReadsWhatItWrites(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := draw(t)
		text, err := e.Encode()
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(e, leaves(t, string(text)), cmpopts.EquateEmpty()); d != "" {
			t.Fatal(d)
		}
		again, err := e.Encode()
		if err != nil || string(again) != string(text) {
			t.Fatalf("the same evidence has different encodings: %v", err)
		}
		// Every byte is needed, and nothing may follow.
		if n := len(text); n > 1 {
			if _, err := certificate.Open(string(text[:rapid.IntRange(1, n-1).Draw(t, "cut")]), nil); err == nil {
				t.Fatal("truncated evidence is accepted")
			}
		}
		if len(text) > 0 {
			if _, err := certificate.Open(string(text)+"\x00", nil); err == nil {
				t.Fatal("something may follow")
			}
		}
	})
}

// Shared parts of leaves are written once: a leaf that differs from others in one bound takes a few
// bytes, however many classes and pieces there are.
func TestSharedIsWrittenOnce(t *testing.T) {
	const classes, pieces, n = 40, 150, 100
	var e certificate.Evidence
	for k := range n {
		l := certificate.Leaf{Lo: make([]int64, classes), Hi: make([]int64, classes), Values: make([]int64, pieces), Scale: 1 << 40}
		for i := range l.Values {
			l.Values[i] = 1<<50 + int64(i*i*(1+k%2))
		}
		for c := range l.Hi {
			l.Hi[c] = 20
		}
		l.Hi[k%classes] = int64(k % 20)
		e.Leaves = append(e.Leaves, l)
	}
	text, err := e.Encode()
	if err != nil {
		t.Fatal(err)
	}
	if most := 2*classes + 2*2*pieces + 16*n; len(text) > most {
		t.Errorf("%d bytes, want at most %d", len(text), most)
	}
}

func TestEncodeErrors(t *testing.T) {
	whole := certificate.Leaf{Lo: []int64{0}, Hi: []int64{1}, Values: []int64{2, 3}, Used: []int{0}}
	for name, spoil := range map[string]func(l *certificate.Leaf){
		"lo":           func(l *certificate.Leaf) { l.Lo = nil },
		"hi":           func(l *certificate.Leaf) { l.Hi = []int64{1, 1} },
		"values":       func(l *certificate.Leaf) { l.Values = nil },
		"used":         func(l *certificate.Leaf) { l.Used = nil },
		"far values":   func(l *certificate.Leaf) { l.Values = []int64{math.MinInt64, math.MaxInt64} },
		"far from one": func(l *certificate.Leaf) { l.Values = []int64{-2, math.MaxInt64} },
		"far lengths":  func(l *certificate.Leaf) { l.Parts = []certificate.Part{{Length: math.MinInt64}, {Length: 1}} },
	} {
		bad := whole
		spoil(&bad)
		e := certificate.Evidence{Leaves: []certificate.Leaf{whole, bad}}
		if text, err := e.Encode(); err == nil {
			t.Errorf("%s: %x", name, text)
		}
	}
}

// hostile are bytes that say much and are few.
var hostile = map[string]string{
	"no end of a number":            "\x80\x80",
	"more than 64 bits":             strings.Repeat("\xff", 9) + "\x02",
	"more than ten bytes":           strings.Repeat("\x80", 11) + "\x00",
	"classes without end":           "\x02\x02" + "\xff\xff\xff\xff\x7f" + "\x00\x00\x00\x00\x00",
	"pieces without end":            "\x02\x02\x00" + "\xff\xff\xff\xff\xff\xff\xff\xff\x7f" + "\x00\x00\x01\x02\x02\x00\x00",
	"charges without end":           "\x02\x02\x00\x00" + "\xff\xff\xff\xff\x7f" + "\x00\x00\x00",
	"lists without end":             "\x02\x02\x00\x00\x00" + "\xff\xff\xff\xff\x7f" + "\x00\x00",
	"a list without end":            "\x02\x02\x00\x00\x00\x01" + "\xff\xff\xff\xff\x7f" + "\x00\x00",
	"rows without end":              "\x02\x02\x00\x00\x00\x00" + "\xff\xff\xff\xff\x7f" + "\x00",
	"leaves without end":            "\x02\x02\x00\x00\x00\x00\x00" + "\xff\xff\xff\xff\x7f",
	"a leaf without values":         "\x02\x02\x00\x00\x00\x00\x00\x01\x00",
	"values of another row":         "\x02\x02\x00\x00\x00\x00\x01\x02\x00\x00\x01\x02",
	"a list that there is not":      "\x02\x02\x00\x00\x00\x00\x01\x02\x00\x01\x00",
	"more classes than are given":   "\x02\x02\x05\x00\x00\x00\x01\x02\x00\x00\x01\x00\x00\x02",
	"a change of a missing class":   "\x02\x02\x01\x00\x00\x00\x01\x02\x00\x00\x02\x00\x00\x02\x00\x01\x01\x00\x00",
	"changes without end":           "\x02\x02\x01\x00\x00\x00\x01\x02\x00\x00\x02\x00\x00\x02\x00\x7f\x00\x00\x00",
	"values that leave their range": "\x02\x02\x00\x02\x00\x00\x01\x02\x00\x00" + strings.Repeat("\xfe\xff\xff\xff\xff\xff\xff\xff\xff\x01", 2) + "\x00",
	"a charge beyond all":           "\x02\x02\x00\x00\x01\x00\x01\x02\x00\x00\x01\x00" + "\xfe\xff\xff\xff\xff\x7f",
	"something after the end":       "\x02\x02\x00\x00\x00\x00\x00\x00\x00",
}

func TestHostileBytes(t *testing.T) {
	for name, text := range hostile {
		if s, err := certificate.Open(text, nil); err == nil || s != nil {
			t.Errorf("%s: read as %+v", name, s)
		} else if !strings.HasPrefix(err.Error(), "proof: byte ") {
			t.Errorf("%s: %v does not name the place", name, err)
		}
	}
}

// memory returns how many bytes f allocates in all.
func memory(f func()) uint64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	f()
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}

// FuzzOpen: no bytes cause a panic, or take memory beyond 64 times their number, half of which stays
// allocated.
func FuzzOpen(f *testing.F) {
	for _, text := range hostile {
		f.Add([]byte(text))
	}
	for _, e := range []certificate.Evidence{
		{},
		{Unit: 1, LeafBound: 7},
		{Unit: 100, LeafBound: 300, Leaves: []certificate.Leaf{
			{Lo: []int64{0, 0}, Hi: []int64{3, 1}, Values: []int64{5, 2, 9}, Scale: 8, Used: []int{0}},
			{Lo: []int64{0, 2}, Hi: []int64{3, 4}, Values: []int64{5, 2, 9}, Scale: 8, Used: []int{1}, Sums: true},
			{Lo: []int64{0, 5}, Hi: []int64{3, 9}, Values: []int64{4, 4, 0}, Scale: 1, Spare: 3, Used: []int{-1}, Parts: []certificate.Part{{Length: 12, Value: 4}, {Length: 90, Value: 5}}},
		}},
	} {
		text, err := e.Encode()
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	// Many of the smallest elements.
	f.Add([]byte("\x02\x02\x00\x00\x00" + "\xe8\x07" + strings.Repeat("\x00", 1000) + "\x00\x00"))
	f.Add([]byte("\x02\x02\x00\x00\x00\x00" + "\xe8\x07" + strings.Repeat("\x02\x00\x00", 1000) + "\x00"))
	f.Add([]byte("\x02\x02\x00\x00\x00\x00" + "\x01\x02\x00\x00" + "\xe8\x07\x00" + strings.Repeat("\x00\x00", 999)))
	f.Fuzz(func(t *testing.T, text []byte) {
		var s *certificate.Sealed
		var err error
		most := 64*uint64(len(text)) + 1<<16 // and what the runtime does besides
		if got := memory(func() { s, err = certificate.Open(string(text), nil) }); got > most {
			t.Errorf("%d bytes take %d of memory, want at most %d", len(text), got, most)
		}
		if (err == nil) != (s != nil) {
			t.Fatalf("%v and %v", s, err)
		}
		if err != nil {
			return
		}
		n := 0
		if got := memory(func() {
			for range s.All() {
				n++
			}
		}); got > most {
			t.Errorf("%d leaves of %d bytes take %d of memory, want at most %d", n, len(text), got, most)
		}
		if n != s.Leaves {
			t.Fatalf("%d leaves, not %d", n, s.Leaves)
		}
		if n*(s.Classes+s.Pieces+s.Charges) > 2000 {
			return
		}
		// A decoded proof encodes and decodes to the same.
		e := leaves(t, string(text))
		short, err := e.Encode()
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(e, leaves(t, string(short)), cmpopts.EquateEmpty()); d != "" {
			t.Fatal(d)
		}
	})
}

// The caller is asked about as often as numbers are read.
func TestOpenStops(t *testing.T) {
	e := certificate.Evidence{Leaves: []certificate.Leaf{{Values: make([]int64, 1<<16)}}}
	text, err := e.Encode()
	if err != nil {
		t.Fatal(err)
	}
	asked, steps := 0, int64(0)
	if _, err := certificate.Open(string(text), func(n int64) bool { asked++; steps += n; return true }); err != nil || steps < 1<<16-1<<13 || steps > 1<<16+1<<13 {
		t.Errorf("%d steps, %v", steps, err)
	}
	left := asked / 2
	if s, err := certificate.Open(string(text), func(int64) bool { left--; return left > 0 }); err != certificate.ErrStopped || s != nil {
		t.Errorf("stopped half way: %v, %v", s, err)
	}
}

// Values that follow each other are written by their difference, which has to be a number.
func TestTooFarApart(t *testing.T) {
	for _, c := range []struct {
		values []int64
		ok     bool
	}{
		{[]int64{-1 << 62, 1<<62 - 1}, true}, {[]int64{1<<62 - 1, -1 << 62}, true},
		{[]int64{0, -1 << 62, 1 << 62}, false}, {[]int64{math.MaxInt64, -1}, true}, {[]int64{math.MaxInt64, -2}, false}, {[]int64{math.MinInt64, 1}, false},
	} {
		e := certificate.Evidence{Leaves: []certificate.Leaf{{Values: make([]int64, len(c.values))}, {Values: c.values}}}
		if _, err := e.Encode(); (err == nil) != c.ok {
			t.Errorf("%d: %v", c.values, err)
		}
	}
}
