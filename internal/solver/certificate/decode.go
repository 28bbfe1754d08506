package certificate

import (
	"errors"
	"fmt"
	"iter"
	"math"
)

// Sealed is a decoded proof. It takes at most 32 bytes of memory per encoded byte, whatever the bytes
// are: values are stored in full, since each takes at least one byte, boxes as differences between
// leaves.
type Sealed struct {
	Unit, LeafBound          int64
	Classes, Pieces, Charges int
	Leaves                   int            // their number
	Beyond                   *OpenSearching // nil: none

	rows []row
	body string // the leaves
}

// row is the part that leaves with the same values share.
type row struct {
	scale, spare int64
	values       []int64
	parts        []Part
}

// Open decodes a proof. It validates everything, so that [Sealed.All] cannot fail. Its number of steps
// is about proportional to the number of bytes. Now and then it calls more with the number of steps
// since the last call, and returns [ErrStopped] once more returns false. A nil more means no limit.
func Open(data string, more func(steps int64) bool) (*Sealed, error) {
	s := &Sealed{}
	if data == "" {
		return s, nil
	}
	r := reader{text: data, size: len(data), more: more}
	s.Unit, s.LeafBound = r.number("unit"), r.number("leaf bound")
	s.Classes, s.Pieces, s.Charges = r.count("classes", 1), r.count("pieces", 1), r.count("charges", 1)
	lists := make([][]int64, r.count("lists", 1))
	for k := range lists {
		if lists[k] = r.run(r.count("lengths", 1), nil, 0); !r.ok() {
			return nil, r.err
		}
	}
	s.rows = make([]row, r.count("values", 3))
	var order []int
	for k := range s.rows {
		x := &s.rows[k]
		x.scale, x.spare = r.number("scale"), r.number("spare")
		list := r.upTo(len(lists), "list of lengths")
		if !r.ok() {
			return nil, r.err
		}
		if k == 1 {
			order = ascending(s.rows[0].values)
		}
		x.values = r.run(s.Pieces, order, 0)
		if list > 0 && r.ok() {
			at := int64(0)
			if n := len(x.values); n > 0 {
				at = x.values[n-1]
				if order != nil {
					at = x.values[order[n-1]]
				}
			}
			worth := r.run(len(lists[list-1]), nil, at)
			if r.ok() {
				x.parts = make([]Part, len(worth))
				for i, v := range worth {
					x.parts[i] = Part{lists[list-1][i], v}
				}
			}
		}
	}
	s.Leaves = r.count("leaves", 1)
	if !r.ok() {
		return nil, r.err
	}
	s.body = r.text
	if s.Leaves > 0 && (s.Classes > len(r.text) || s.Charges > len(r.text)) {
		r.fail("more classes or charges than the first leaf has room for")
	}
	for k := range s.Leaves {
		if s.leaf(&r, k, nil); !r.ok() {
			return nil, r.err
		}
	}
	s.body = s.body[:len(s.body)-len(r.text)]
	if r.text != "" {
		if s.Beyond = s.searching(&r); r.ok() && r.text != "" {
			r.fail("something after the last search")
		}
	}
	if !r.ok() {
		return nil, r.err
	}
	return s, nil
}

// All iterates over the leaves. The yielded leaf is valid until the next iteration; its Values and
// Parts stay valid and must not be modified.
func (s *Sealed) All() iter.Seq2[int, *Leaf] {
	return func(yield func(int, *Leaf) bool) {
		if s.Leaves == 0 {
			return
		}
		l := Leaf{Lo: make([]int64, s.Classes), Hi: make([]int64, s.Classes), Used: make([]int, s.Charges)}
		r := reader{text: s.body, size: len(s.body)}
		for k := range s.Leaves {
			if s.leaf(&r, k, &l); !r.ok() || !yield(k, &l) {
				return
			}
		}
	}
}

// leaf decodes the next leaf into l, which holds the previous leaf; if l is nil, leaf only validates.
func (s *Sealed) leaf(r *reader, k int, l *Leaf) {
	head := r.upTo(2*len(s.rows)-1, "index of values")
	if !r.ok() {
		return
	}
	if l != nil {
		x := &s.rows[head/2]
		l.Scale, l.Spare, l.Values, l.Parts, l.Sums = x.scale, x.spare, x.values, x.parts, head%2 == 1
	}
	changes := s.Classes + s.Charges
	if k > 0 {
		changes = r.count("changes", 2)
	}
	for n := 0; n < changes && r.ok(); n++ {
		c := n
		if k > 0 {
			c = r.upTo(s.Classes+s.Charges-1, "class")
		}
		switch {
		case !r.ok():
		case c < s.Classes:
			if lo, hi := r.number("count"), r.number("count"); l != nil {
				l.Lo[c], l.Hi[c] = lo, hi
			}
		default:
			u := r.number("charge")
			if u < -math.MaxInt32 || u > math.MaxInt32 {
				r.fail("a charge that is neither paid nor not")
			} else if l != nil {
				l.Used[c-s.Classes] = int(u)
			}
		}
	}
}

// ErrStopped is the error of Open if its caller stopped it.
var ErrStopped = errors.New("proof: stopped")

// reader reads numbers from the front of a text, up to the first error.
type reader struct {
	text  string
	size  int // initial length of text
	err   error
	more  func(int64) bool
	taken int64 // numbers read since the last call of more
}

func (r *reader) ok() bool { return r.err == nil }

func (r *reader) fail(what string) {
	if r.err == nil {
		r.err = fmt.Errorf("proof: byte %d: %s", r.size-len(r.text), what)
	}
}

// askEvery is the number of numbers read between two calls of more.
const askEvery = 1 << 12

// bits reads an unsigned number.
func (r *reader) bits(what string) uint64 {
	if r.taken++; r.taken == askEvery && r.more != nil {
		r.taken = 0
		if !r.more(askEvery) && r.err == nil {
			r.err = ErrStopped
		}
	}
	if r.err != nil {
		return 0
	}
	var v uint64
	for i := 0; i < len(r.text); i++ {
		b := r.text[i]
		if i == 9 && b > 1 {
			r.fail(what + ": more than 64 bits")
			return 0
		}
		v |= uint64(b&0x7f) << (7 * i)
		if b < 0x80 {
			r.text = r.text[i+1:]
			return v
		}
	}
	r.fail(what + ": the end")
	return 0
}

func (r *reader) number(what string) int64 {
	u := r.bits(what)
	return int64(u>>1) ^ -int64(u&1)
}

// count reads the number of things that follow, each of at least the given number of bytes.
func (r *reader) count(what string, each int) int {
	u := r.bits(what)
	if u > uint64(len(r.text)/each) {
		r.fail(what + ": more than there is room for")
		return 0
	}
	return int(u)
}

// upTo reads an index.
func (r *reader) upTo(most int, what string) int {
	u := r.bits(what)
	if most < 0 || u > uint64(most) {
		r.fail(what + ": one that there is not")
		return 0
	}
	return int(u)
}

// run reads n numbers, each written as its difference from the previous one; order gives their places,
// nil the order as written.
func (r *reader) run(n int, order []int, at int64) []int64 {
	if n > len(r.text) {
		r.fail("values: more than there is room for")
	}
	if !r.ok() {
		return nil
	}
	out := make([]int64, n)
	for k := range out {
		d := r.number("value")
		v := at + d
		if (v < at) != (d < 0) {
			r.fail("value: more than 64 bits")
		}
		if !r.ok() {
			return nil
		}
		at = v
		if order == nil {
			out[k] = v
		} else {
			out[order[k]] = v
		}
	}
	return out
}
