package certificate

import (
	"cmp"
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
)

// Encode encodes the evidence; no evidence gives no bytes. Equal evidence gives equal bytes. It is an
// error if the leaves differ in their numbers of classes, pieces or charges, or if the difference of
// two consecutive values overflows int64.
func (e *Evidence) Encode() ([]byte, error) {
	if e.Unit == 0 && e.LeafBound == 0 && len(e.Leaves) == 0 {
		return nil, nil
	}
	w := writer{lists: map[string]int{}, prices: map[string]int{}}
	var first Leaf
	if len(e.Leaves) > 0 {
		first = e.Leaves[0]
	}
	w.order = ascending(first.Values)
	for k := range e.Leaves {
		l := &e.Leaves[k]
		if len(l.Lo) != len(first.Lo) || len(l.Hi) != len(first.Lo) || len(l.Values) != len(first.Values) || len(l.Used) != len(first.Used) {
			return nil, fmt.Errorf("proof: leaf %d has another form than the first", k)
		}
		if k == 0 {
			w.whole(l)
		} else {
			w.changed(&e.Leaves[k-1], l)
		}
	}
	if w.apart {
		return nil, errors.New("proof: values too far apart")
	}
	out := binary.AppendVarint(nil, e.Unit)
	out = binary.AppendVarint(out, e.LeafBound)
	for _, n := range []int{len(first.Lo), len(first.Values), len(first.Used)} {
		out = binary.AppendUvarint(out, uint64(n))
	}
	for _, table := range []struct {
		rows int
		text []byte
	}{{len(w.lists), w.listText}, {len(w.prices), w.priceText}, {len(e.Leaves), w.leafText}} {
		out = binary.AppendUvarint(out, uint64(table.rows))
		out = append(out, table.text...)
	}
	if e.Beyond != nil {
		return e.Beyond.append(out, len(first.Lo))
	}
	return out, nil
}

// ascending returns the order of the values from the least on; equal values keep their order.
func ascending(values []int64) []int {
	order := make([]int, len(values))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(values[a], values[b]) })
	return order
}

// writer collects the tables of a proof. Whatever occurs twice is written once.
type writer struct {
	lists, prices                 map[string]int // encoded entries, to their indexes
	listText, priceText, leafText []byte
	order                         []int // order of the values in all rows but the first
	apart                         bool
}

// list returns the number of a list of lengths, counted from 1; 0 means none.
func (w *writer) list(parts []Part) uint64 {
	if len(parts) == 0 {
		return 0
	}
	text := binary.AppendUvarint(nil, uint64(len(parts)))
	at := int64(0)
	for _, p := range parts {
		text = binary.AppendVarint(text, w.less(p.Length, at))
		at = p.Length
	}
	k, known := w.lists[string(text)]
	if !known {
		k = len(w.lists)
		w.lists[string(text)] = k
		w.listText = append(w.listText, text...)
	}
	return uint64(k + 1)
}

// price returns the index of a leaf's values.
func (w *writer) price(l *Leaf) uint64 {
	head := binary.AppendVarint(nil, l.Scale)
	head = binary.AppendVarint(head, l.Spare)
	head = binary.AppendUvarint(head, w.list(l.Parts))
	plain := w.values(slices.Clone(head), l, nil)
	k, known := w.prices[string(plain)]
	if !known {
		k = len(w.prices)
		w.prices[string(plain)] = k
		if k > 0 {
			plain = w.values(head, l, w.order)
		}
		w.priceText = append(w.priceText, plain...)
	}
	return uint64(k)
}

// values writes a leaf's values in the given order; nil means the order of the leaf.
func (w *writer) values(text []byte, l *Leaf, order []int) []byte {
	at := int64(0)
	for n := range l.Values {
		i := n
		if order != nil {
			i = order[n]
		}
		text = binary.AppendVarint(text, w.less(l.Values[i], at))
		at = l.Values[i]
	}
	for _, p := range l.Parts {
		text = binary.AppendVarint(text, w.less(p.Value, at))
		at = p.Value
	}
	return text
}

func (w *writer) less(a, b int64) int64 {
	d := a - b
	w.apart = w.apart || (d < a) != (b > 0)
	return d
}

// head writes which values a leaf has.
func (w *writer) head(l *Leaf) {
	n := 2 * w.price(l)
	if l.Sums {
		n++
	}
	w.leafText = binary.AppendUvarint(w.leafText, n)
}

// whole writes a leaf with its complete box.
func (w *writer) whole(l *Leaf) {
	w.head(l)
	for c := range l.Lo {
		w.leafText = binary.AppendVarint(w.leafText, l.Lo[c])
		w.leafText = binary.AppendVarint(w.leafText, l.Hi[c])
	}
	for _, u := range l.Used {
		w.leafText = binary.AppendVarint(w.leafText, int64(u))
	}
}

// changed writes a leaf by the differences of its box from that of the previous leaf.
func (w *writer) changed(from, l *Leaf) {
	w.head(l)
	n := 0
	var text []byte
	for c := range l.Lo {
		if l.Lo[c] != from.Lo[c] || l.Hi[c] != from.Hi[c] {
			n++
			text = binary.AppendUvarint(text, uint64(c))
			text = binary.AppendVarint(text, l.Lo[c])
			text = binary.AppendVarint(text, l.Hi[c])
		}
	}
	for g := range l.Used {
		if l.Used[g] != from.Used[g] {
			n++
			text = binary.AppendUvarint(text, uint64(len(l.Lo)+g))
			text = binary.AppendVarint(text, int64(l.Used[g]))
		}
	}
	w.leafText = binary.AppendUvarint(w.leafText, uint64(n))
	w.leafText = append(w.leafText, text...)
}
