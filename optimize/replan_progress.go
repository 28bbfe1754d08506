package optimize

import (
	"fmt"
	"math"
	"strconv"

	"example.com/longpoint/internal/explicit"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// Progress says how far the work on a plan has come, and what went otherwise. The zero
// value is a plan on which nothing has been done.
//
// Sticks are counted once: one that is cut completely is in Cut, one that was started or
// was cut in another way is in Opened, one that is whole is in InHand, and what is in none
// of them is still to be bought. Pieces are numbered as in [Pattern.Pieces]: the parts of
// runs after Problem.Pieces.
type Progress struct {
	// Cut is, per index in Plan.Patterns, how many sticks have been cut completely as
	// planned. It may be shorter than Patterns. Pieces that went wrong are in Spoiled.
	Cut []int `json:"cut,omitempty"`

	// Opened are sticks that have been started, or that were cut in another way than
	// planned.
	Opened []Opened `json:"opened,omitempty"`

	// Kept are what is left of sticks that are in Cut, as far as it can be used: offcuts,
	// and what can be had from spoiled pieces. It is used before anything is bought.
	Kept []Remnant `json:"kept,omitempty"`

	// Spoiled are pieces among those that were cut that have to be cut again.
	Spoiled []Spoiled `json:"spoiled,omitempty"`

	// InHand are whole sticks that are bought and not cut.
	InHand []InHand `json:"in_hand,omitempty"`

	// Supply corrects how many sticks can still be had, besides those in hand: zero where
	// what was ordered is missing. Sticks that it does not name can be had as often as
	// their Limit leaves.
	Supply []Supply `json:"supply,omitempty"`
}

// Opened is a stick that has been started.
type Opened struct {
	Stick  int            `json:"stick"`            // index in Problem.Sticks: what it is a piece of
	Pieces []int          `json:"pieces,omitempty"` // pieces cut from it; those that are no good are in Spoiled as well, or left out
	Left   measure.Length `json:"left,omitzero"`    // what can still be used of it, in one piece; zero: nothing
}

// Remnant is what is left of some sticks.
type Remnant struct {
	Stick  int            `json:"stick"`                                              // index in Problem.Sticks: what it is a piece of
	Length measure.Length `json:"length"`                                             // of each, ends that cannot be used not counted
	Count  int            `json:"count,omitempty" zero:"1 or more, or nothing for 1"` // how many; zero means one, in JSON it is an error
}

// Spoiled is a number of one piece.
type Spoiled struct {
	Piece int `json:"piece"`
	Count int `json:"count,omitempty" zero:"1 or more, or nothing for 1"` // zero means one, in JSON it is an error
}

// InHand is a number of whole sticks of one kind.
type InHand struct {
	Stick int `json:"stick"`                                              // index in Problem.Sticks
	Count int `json:"count,omitempty" zero:"1 or more, or nothing for 1"` // zero means one, in JSON it is an error

	// Length is what they really measure, end to end, where that is not what the
	// problem says; else zero.
	Length measure.Length `json:"length,omitzero"`

	// Refund is what the supplier gives back for each that is not needed, in the
	// currency's minor unit; zero where they cannot be returned. All refunds are less
	// than 2^60 in total, and with the plan's cost they fit an int64.
	Refund int64 `json:"refund,omitempty"`
}

// UnmarshalJSON reads an object by the names of the fields. A zero count is a
// [ProgressError].
func (r *Remnant) UnmarshalJSON(data []byte) error {
	type plain Remnant
	return unmarshalProgress(data, (*plain)(r))
}

// UnmarshalJSON reads an object by the names of the fields. A zero count is a
// [ProgressError].
func (s *Spoiled) UnmarshalJSON(data []byte) error {
	type plain Spoiled
	return unmarshalProgress(data, (*plain)(s))
}

// UnmarshalJSON reads an object by the names of the fields. A zero count is a
// [ProgressError].
func (h *InHand) UnmarshalJSON(data []byte) error {
	type plain InHand
	return unmarshalProgress(data, (*plain)(h))
}

func unmarshalProgress(data []byte, v any) error {
	fault, err := explicit.Unmarshal(data, v)
	if fault != nil {
		return &ProgressError{fault.Field, fault.Value, fault.Want}
	}
	return err
}

// Supply is how many sticks of one kind can still be had.
type Supply struct {
	Stick int `json:"stick"` // index in Problem.Sticks, each once
	Left  int `json:"left"`  // zero or more
}

// ProgressError reports progress that cannot be, given the problem and the plan, or that
// a rule of the problem does not allow to go on from. It unwraps to [ErrProblem].
type ProgressError struct {
	Field string // path of the field, such as Cut[2]
	Value string // what it holds
	Want  string // what would be right
}

// Error names the field, its value and what would be right.
func (e *ProgressError) Error() string {
	return fmt.Sprintf("optimize: progress: %s is %s, want %s", e.Field, e.Value, e.Want)
}

// Unwrap returns [ErrProblem].
func (e *ProgressError) Unwrap() error { return ErrProblem }

func progress(field string, value any, want string) error {
	return &ProgressError{field, fmt.Sprint(value), want}
}

// inventory is what progress comes to.
type inventory struct {
	left  []int // per piece, parts after them: still to cut
	stays []int // per old pattern: sticks that are not in Cut
	used  []int // per stick: cut, opened or in hand
	cut   []int // per stick: cut or opened
	clear map[int]measure.Length
}

// piece returns a piece or a part of a run by its number.
func (r *replan) piece(i int) *stock.Piece {
	if n := len(r.p.Pieces); i >= n {
		return &r.old.Parts[i-n]
	}
	return &r.p.Pieces[i]
}

// count works out what is left to cut and which sticks are no longer at the supplier's,
// and reports progress that cannot be.
func (r *replan) count() error {
	p, done := r.p, r.done
	n := len(p.Pieces) + len(r.old.Parts)
	made := make([]int, n)
	r.used, r.cut = make([]int, len(p.Sticks)), make([]int, len(p.Sticks))
	if len(done.Cut) > len(r.old.Patterns) {
		return progress("Cut", fmt.Sprintf("%d numbers", len(done.Cut)), fmt.Sprintf("at most one to each of %d patterns", len(r.old.Patterns)))
	}
	for k := range r.old.Patterns {
		pat := &r.old.Patterns[k]
		cut := 0
		if k < len(done.Cut) {
			cut = done.Cut[k]
		}
		if cut < 0 || cut > pat.Count {
			return progress(fmt.Sprintf("Cut[%d]", k), cut, fmt.Sprintf("0 to %d, as planned", pat.Count))
		}
		for _, i := range pat.Pieces {
			made[i] += cut
		}
		r.use(pat.Stick, cut, true)
		r.stays = append(r.stays, pat.Count-cut)
	}
	if err := r.countOpened(made); err != nil {
		return err
	}
	if err := r.countKept(); err != nil {
		return err
	}
	for k, s := range done.Spoiled {
		field := func(name string) string { return fmt.Sprintf("Spoiled[%d].%s", k, name) }
		if s.Piece < 0 || s.Piece >= n {
			return progress(field("Piece"), s.Piece, fmt.Sprintf("a number below %d", n))
		}
		if made[s.Piece] == 0 {
			return progress(field("Piece"), s.Piece, "a piece of which one has been cut and is not spoiled yet")
		}
		if s.Count < 0 || max(1, s.Count) > made[s.Piece] {
			return progress(field("Count"), s.Count, fmt.Sprintf("1 to %d, as many as have been cut", made[s.Piece]))
		}
		made[s.Piece] -= max(1, s.Count)
	}
	if err := r.countInHand(); err != nil {
		return err
	}
	seen := make([]bool, len(p.Sticks))
	for k, s := range done.Supply {
		field := func(name string) string { return fmt.Sprintf("Supply[%d].%s", k, name) }
		if err := r.stick(field("Stick"), s.Stick); err != nil {
			return err
		}
		switch {
		case seen[s.Stick]:
			return progress(field("Stick"), s.Stick, "each stick once")
		case s.Left < 0:
			return progress(field("Left"), s.Left, "zero or more")
		case len(p.Sticks[s.Stick].Defects) > 0 && s.Left > maxFlawed:
			return progress(field("Left"), s.Left, fmt.Sprintf("at most %d sticks with the same defects", maxFlawed))
		}
		seen[s.Stick] = true
	}
	for i := range made {
		want := 1
		if i < len(p.Pieces) {
			want = wanted(p, i)
		}
		if made[i] > want {
			return progress("Opened", fmt.Sprintf("%d of piece %d cut", made[i], i), fmt.Sprintf("at most the %d that are wanted", want))
		}
		r.left = append(r.left, want-made[i])
	}
	return nil
}

// use counts sticks that are no longer at the supplier's.
func (r *replan) use(stick, n int, cut bool) {
	r.used[stick] += min(n, math.MaxInt-r.used[stick])
	if cut {
		r.cut[stick] += min(n, math.MaxInt-r.cut[stick])
	}
}

func (r *replan) stick(field string, s int) error {
	if n := len(r.p.Sticks); s < 0 || s >= n {
		return progress(field, s, fmt.Sprintf("an index below %d", n))
	}
	return nil
}

// clearest returns the longest stretch of a stick that can be used.
func clearest(s *stock.Stick) (l measure.Length) {
	for _, w := range stretches(s) {
		l = max(l, w.To-w.From)
	}
	return l
}

// clearest is the longest stretch of one of the sticks, which is worked out once.
func (r *replan) clearest(stick int) measure.Length {
	l, known := r.clear[stick]
	if !known {
		l = clearest(&r.p.Sticks[stick])
		if r.clear == nil {
			r.clear = map[int]measure.Length{}
		}
		r.clear[stick] = l
	}
	return l
}

func (r *replan) countOpened(made []int) error {
	for k, o := range r.done.Opened {
		field := func(name string) string { return fmt.Sprintf("Opened[%d].%s", k, name) }
		if err := r.stick(field("Stick"), o.Stick); err != nil {
			return err
		}
		s := &r.p.Sticks[o.Stick]
		if room := r.clearest(o.Stick); o.Left < 0 || o.Left > room {
			return progress(field("Left"), o.Left.About(), fmt.Sprintf("zero to what can be used of a whole stick, %v", room.About()))
		}
		room := usable(s) // without the pieces so far
		for j, i := range o.Pieces {
			f := field(fmt.Sprintf("Pieces[%d]", j))
			if i < 0 || i >= len(made) {
				return progress(f, i, fmt.Sprintf("a number below %d", len(made)))
			}
			pc := r.piece(i)
			l := pc.Length
			if r.p.Rules.Nest {
				l = max(0, l-max(pc.Left.Setback, pc.Right.Setback)) // shared with neighbors at best
			}
			if l > room {
				return progress(f, i, fmt.Sprintf("pieces that fit the stick: %v is left for this one", max(0, room).About()))
			}
			room -= l + r.p.Kerf
			made[i]++
		}
		if o.Left > max(0, room) {
			return progress(field("Left"), o.Left.About(), fmt.Sprintf("at most what the pieces cut from it leave of the stick, %v", max(0, room).About()))
		}
		r.use(o.Stick, 1, true)
	}
	return nil
}

func (r *replan) countKept() error {
	for k, o := range r.done.Kept {
		field := func(name string) string { return fmt.Sprintf("Kept[%d].%s", k, name) }
		if err := r.stick(field("Stick"), o.Stick); err != nil {
			return err
		}
		if r.cut[o.Stick] == 0 {
			return progress(field("Stick"), o.Stick, "a stick of which one has been cut")
		}
		if room := r.clearest(o.Stick); o.Length <= 0 || o.Length > room {
			return progress(field("Length"), o.Length.About(), fmt.Sprintf("more than zero and at most what can be used of a whole stick, %v", room.About()))
		}
		if o.Count < 0 || o.Count > maxSold {
			return progress(field("Count"), o.Count, fmt.Sprintf("1 to %d", maxSold))
		}
	}
	return nil
}

// maxRefund returns how much refunds may come to, so that a cost less all of them, and less
// what was planned besides, stays in range.
func (r *replan) maxRefund() int64 { return min(1<<60-1, math.MaxInt64-r.old.Cost) }

func (r *replan) countInHand() error {
	objective, _ := costing(r.p)
	var refunds int128
	for k, h := range r.done.InHand {
		refunds = refunds.add(mul(max(0, h.Refund), int64(max(1, h.Count))))
		total, ok := refunds.int64()
		field := func(name string) string { return fmt.Sprintf("InHand[%d].%s", k, name) }
		if err := r.stick(field("Stick"), h.Stick); err != nil {
			return err
		}
		s := &r.p.Sticks[h.Stick]
		most := maxSold
		if len(s.Defects) > 0 {
			most = maxFlawed
		}
		switch ends := s.TrimStart + s.TrimEnd; {
		case h.Count < 0 || h.Count > most:
			return progress(field("Count"), h.Count, fmt.Sprintf("1 to %d", most))
		case h.Length != 0 && h.Length <= ends:
			return progress(field("Length"), h.Length.About(), fmt.Sprintf("more than the ends that cannot be used, %v", ends.About()))
		case h.Length > max(s.Length, lengthLimit):
			return progress(field("Length"), h.Length.About(), fmt.Sprintf("at most %v", max(s.Length, lengthLimit).About()))
		case h.Length != 0 && len(s.Defects) > 0:
			return progress(field("Length"), h.Length.About(), "zero for a stick with defects, which say what can be used")
		case h.Refund < 0:
			return progress(field("Refund"), strconv.FormatInt(h.Refund, 10), "zero or more")
		case h.Refund > 0 && objective == LeastLength:
			return progress(field("Refund"), strconv.FormatInt(h.Refund, 10), "zero where nothing has a price")
		case !ok || total > r.maxRefund():
			return progress(field("Refund"), strconv.FormatInt(h.Refund, 10), fmt.Sprintf("refunds of at most %d in total", r.maxRefund()))
		}
		r.use(h.Stick, max(1, h.Count), false)
	}
	return nil
}
