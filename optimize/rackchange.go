package optimize

import (
	"math"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// RackChange returns the change that cutting the plan makes to the rack, for [stock.Rack.Apply].
// It uses the Rack sticks that are cut, and leaves every offcut and every stick that is bought
// and not cut. The ID identifies the change permanently.
//
// A Rack stick is identified by its ID, which [stock.Rack.Sticks] sets; without one, by its
// profile and length, and by its material if it has one. Labels do not matter. A stick that the
// plan takes off the rack only as a spare stays there.
//
// Offcuts have the profile and the material of their stick. If a stick names no profile, its
// profile is the one that another stick, a piece or a run of the problem names. If none does, the
// offcuts have no profile: only Rack.Sticks("") finds them. A stick with defects leaves each
// clear stretch separately, and one that is cut in the yard each part. Unusable ends are never
// left: a stick that is bought and not cut leaves its usable length. Every length is listed,
// however short; the rack decides what it keeps.
//
// For a plan that cannot be cut as described, the error is a [*CheckError]; the proof is ignored.
// For an invalid problem, it is a [*measure.FieldError].
func (pl *Plan) RackChange(p Problem, id string) (stock.RackChange, error) {
	if err := validate(&p); err != nil {
		return stock.RackChange{}, err
	}
	if pl == nil {
		return stock.RackChange{}, wrong("", "nil", "a plan")
	}
	r := rackChange{rules: ruleCheck{p: &p, plan: pl}, bought: make([]int, len(p.Sticks)), change: stock.RackChange{ID: id},
		usesAt: map[stock.Offcut]int{}, leaveAt: map[stock.Offcut]int{}}
	if err := r.check(); err != nil {
		return stock.RackChange{}, err
	}
	for k := range pl.Patterns {
		if err := r.pattern(k); err != nil {
			return stock.RackChange{}, err
		}
	}
	for i, n := range r.bought {
		if n > 0 && !p.Sticks[i].Rack {
			for _, w := range stretches(&p.Sticks[i]) {
				r.leave(i, w.To-w.From, n)
			}
		}
	}
	return r.change, nil
}

type rackChange struct {
	rules  ruleCheck
	bought []int // per stick, the number bought and not cut
	change stock.RackChange

	shared  string // the profile of the problem, once it is known
	asked   bool
	usesAt  map[stock.Offcut]int
	leaveAt map[stock.Offcut]int
}

// check verifies that the plan can be cut, and counts the sticks that are bought and not cut.
func (r *rackChange) check() error {
	p, plan := r.rules.p, r.rules.plan
	if p.plain() {
		if err := checkPatterns(p, plan, nil); err != nil {
			return err
		}
		return checkClaims(p, plan, nil)
	}
	if err := checkRules(p, plan, nil); err != nil {
		return err
	}
	for _, b := range plan.Buy {
		r.bought[b.Stick] += b.Count
	}
	for k := range plan.Patterns {
		r.bought[plan.Patterns[k].Stick] -= plan.Patterns[k].Count
	}
	return nil
}

// pattern adds the offcuts that one pattern uses and leaves.
func (r *rackChange) pattern(k int) error {
	p, pat := r.rules.p, &r.rules.plan.Patterns[k]
	s := &p.Sticks[pat.Stick]
	if s.Rack {
		r.change.Uses = tally(r.change.Uses, r.usesAt, stock.Offcut{
			ID: s.ID, Label: s.Label, Profile: r.profile(pat.Stick), Material: s.Material, Length: s.Length, Count: pat.Count,
		})
	}
	switch {
	case r.rules.inYard(s):
		return r.yard(k, pat)
	case len(s.Defects) == 0:
		r.leave(pat.Stick, pat.Offcut, pat.Count)
		return nil
	}
	from := 0
	for n, w := range stretches(s) {
		to := from
		for to < len(pat.Pieces) && pat.Stretch[to] == n {
			to++
		}
		used, err := r.rules.used(k, pat, from, to)
		if err != nil {
			return err
		}
		r.leave(pat.Stick, w.To-w.From-used, pat.Count)
		from = to
	}
	return nil
}

// yard adds the offcuts of the two parts of a stick that is cut in the yard: see Pattern for
// the position of the cut.
func (r *rackChange) yard(k int, pat *Pattern) error {
	p := r.rules.p
	s := &p.Sticks[pat.Stick]
	first, err := r.rules.used(k, pat, 0, pat.YardAfter)
	if err != nil {
		return err
	}
	second, err := r.rules.used(k, pat, pat.YardAfter, len(pat.Pieces))
	if err != nil {
		return err
	}
	at, from := p.yardCut(s, first)
	r.leave(pat.Stick, at-s.TrimStart-first, pat.Count)
	r.leave(pat.Stick, s.Length-s.TrimEnd-from-second, pat.Count)
	return nil
}

// leave adds offcuts of a stick, unless their length is zero.
func (r *rackChange) leave(stick int, l measure.Length, count int) {
	if l > 0 {
		r.change.Leaves = tally(r.change.Leaves, r.leaveAt, stock.Offcut{
			Profile: r.profile(stick), Material: r.rules.p.Sticks[stick].Material, Length: l, Count: count,
		})
	}
}

// profile returns the profile of a stick or, failing that, of the problem, which has at most
// one.
func (r *rackChange) profile(stick int) string {
	p := r.rules.p
	if name := p.Sticks[stick].Profile; name != "" {
		return name
	}
	if !r.asked {
		r.shared, r.asked = commonProfile(p), true
	}
	return r.shared
}

func commonProfile(p *Problem) string {
	for i := range p.Sticks {
		if name := p.Sticks[i].Profile; name != "" {
			return name
		}
	}
	for i := range p.Pieces {
		if name := p.Pieces[i].Profile; name != "" {
			return name
		}
	}
	for i := range p.Runs {
		if name := p.Runs[i].Profile; name != "" {
			return name
		}
	}
	return ""
}

// tally adds offcuts to the equal entry of the list, as far as its count can hold them. At is
// the index of each entry.
func tally(list []stock.Offcut, at map[stock.Offcut]int, o stock.Offcut) []stock.Offcut {
	like := o
	like.Count = 0
	if i, known := at[like]; known && list[i].Count <= math.MaxInt-o.Count {
		list[i].Count += o.Count
		return list
	}
	at[like] = len(list)
	return append(list, o)
}
