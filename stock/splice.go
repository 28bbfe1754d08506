package stock

import (
	"fmt"
	"slices"
	"sort"
	"unicode"
	"unicode/utf8"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// A SpliceRule gives the positions at which a run may be spliced. All positions are counted
// from the left long point of the run to the middle of the splice. A run with n splices
// consumes Length + n·Overlap.
type SpliceRule struct {
	// At holds the allowed positions, ascending (the middles of studs that are far enough
	// from the ends). Anywhere is set if a splice needs no stud; At is then empty.
	At       []measure.Length `json:"at,omitempty"`
	Anywhere bool             `json:"anywhere,omitempty"`

	// Avoid holds positions that are possible but better left free, ascending: at an
	// outlet, in the line of sight. None is in At.
	Avoid []measure.Length `json:"avoid,omitempty"`

	// Assumed is set if At holds studs at positions that were assumed from the usual
	// spacing, not measured. The installer finds the stud first; Assumed affects no plan.
	Assumed bool `json:"assumed,omitempty"`

	// Overlap is the length of stock that each splice adds; it is negative for an open
	// joint instead of a scarf. If it is an odd number of ticks, the part left of the
	// splice takes the half nearer to zero, the part right of it the other. Clear is the
	// least distance of a splice from the two ends of the run if splices may be Anywhere
	// (At lists only positions that are far enough), and MinPart the length of the shortest
	// part allowed; every part has some length.
	Overlap measure.Length `json:"overlap,omitzero"`
	Clear   measure.Length `json:"clear,omitzero"`
	MinPart measure.Length `json:"min_part,omitzero"`

	// Bevel is the bevel of the scarf, from square; zero is a square joint.
	Bevel measure.Angle `json:"bevel,omitzero"`

	// RightOver is set if the right part of a scarf laps over the left one. The feather
	// edge of the upper part shows, so that part belongs on the side from which people
	// come, so that they do not look into the joint.
	RightOver bool `json:"right_over,omitempty"`

	// MaxSplices is the maximum number of splices of the run; zero sets no limit, and in
	// JSON is an error. Price is the cost of one splice in labor and glue, in the
	// currency's minor unit; it is used if splices are chosen together with the cuts.
	MaxSplices int   `json:"max_splices,omitempty" zero:"1 or more, or nothing for no limit"`
	Price      int64 `json:"price,omitempty"`
}

// UnmarshalJSON reads an object with the names of the fields. A zero for MaxSplices is
// a [*measure.FieldError].
func (r *SpliceRule) UnmarshalJSON(data []byte) error {
	type plain SpliceRule
	return fault.Unmarshal(data, (*plain)(r))
}

// spliceLimit bounds every length in a rule, so that sums of a few stay in range.
const spliceLimit = 1 << 60

// validate returns the faults of the rule for a run of the length.
func (r SpliceRule) validate(length measure.Length) error {
	var bad fault.List
	for i, x := range r.At {
		switch {
		case x <= 0 || x >= length:
			bad.Add(fmt.Sprintf("at[%d]", i), x.About(), "a position within the run's length of "+length.About())
		case i > 0 && x <= r.At[i-1]:
			bad.Add(fmt.Sprintf("at[%d]", i), x.About(), "more than the one before")
		}
	}
	if r.Overlap < -spliceLimit || r.Overlap > spliceLimit {
		bad.Add("overlap", r.Overlap.About(), "a lap shorter than the run")
	}
	if r.Clear < 0 || r.Clear > spliceLimit {
		bad.Add("clear", r.Clear.About(), "zero or more, and less than the run")
	}
	if r.MinPart < 0 || r.MinPart > spliceLimit {
		bad.Add("min_part", r.MinPart.About(), "zero or more, and less than the run")
	}
	return bad.Err()
}

// usable reports whether the numbers of the rule and two lengths are in range and in order.
func (r SpliceRule) usable(length, longest measure.Length) bool {
	return length >= 0 && length <= spliceLimit && longest >= 0 && longest <= spliceLimit && r.validate(length) == nil
}

// Place returns the positions at which to splice a run of the length if no part may be
// longer than longest: with as few splices as possible, then the longest first part, then
// the longest second, and so on, from the left or from the right, whichever is better.
// Positions in Avoid are not used. A short enough run needs no splice. Place reports false
// if no choice of positions satisfies the rule, if more than MaxSplices or 10,000 splices
// would be needed, or if the rule's numbers are invalid.
func (r SpliceRule) Place(length, longest measure.Length) (at []measure.Length, ok bool) {
	if !r.usable(length, longest) {
		return nil, false
	}
	if length <= longest {
		return nil, true
	}
	if r.Anywhere {
		// From the right no part is longer: the mirrored rule is the same, except for
		// the odd tick of an overlap, which lies within the part both ways.
		at, ok = r.placeAnywhere(length, longest)
	} else {
		at, ok = r.placeOnEither(length, longest)
	}
	if !ok || len(at) > maxParts || r.MaxSplices > 0 && len(at) > r.MaxSplices {
		return nil, false
	}
	return at, true
}

// placeOnEither solves the problem on studs from both sides and returns the better.
func (r SpliceRule) placeOnEither(length, longest measure.Length) (at []measure.Length, ok bool) {
	early, late := r.halves()
	fromLeft := r.placeOnStuds(length, longest, early, late)
	if fromLeft == nil {
		return nil, false
	}
	mirrored := r
	mirrored.At = make([]measure.Length, len(r.At))
	for i, x := range r.At {
		mirrored.At[len(r.At)-1-i] = length - x
	}
	fromRight := mirrored.placeOnStuds(length, longest, late, early)
	for i := range min(len(fromLeft), len(fromRight)) {
		a, b := fromLeft[i]+early, fromRight[i]+late // the first parts
		if i > 0 {
			a, b = fromLeft[i]-fromLeft[i-1], fromRight[i]-fromRight[i-1]
		}
		if a > b {
			return fromLeft, true
		}
		if b > a {
			at = make([]measure.Length, len(fromRight))
			for k, x := range fromRight {
				at[len(at)-1-k] = length - x
			}
			return at, true
		}
	}
	return fromLeft, true
}

// Choices returns up to limit different ways to splice a run with as few splices as
// possible, the one that splices farthest to the right first. With Anywhere there are too
// many, and it returns only that of Place.
func (r SpliceRule) Choices(length, longest measure.Length, limit int) [][]measure.Length {
	if limit <= 0 || !r.usable(length, longest) {
		return nil
	}
	if length <= longest || r.Anywhere {
		at, ok := r.Place(length, longest)
		if !ok {
			return nil
		}
		return [][]measure.Length{at}
	}
	first, late := r.halves()
	need := r.needs(length, longest, late)
	least := never
	for i, x := range r.At {
		if part := x + first; part >= r.least() && part <= longest {
			least = min(least, need[i])
		}
	}
	if least >= never || r.MaxSplices > 0 && least >= r.MaxSplices {
		return nil
	}
	// Every partial choice that satisfies need can be completed, so no branch of
	// the search is a dead end.
	var all [][]measure.Length
	at := make([]measure.Length, 0, least+1)
	var extend func(left, over measure.Length, want int)
	extend = func(left, over measure.Length, want int) {
		hi := sort.Search(len(r.At), func(i int) bool { return r.At[i]-left+over > longest }) - 1
		for i := hi; i >= 0 && r.At[i] > left && r.At[i]-left+over >= r.least() && len(all) < limit; i-- {
			if need[i] != want {
				continue
			}
			at = append(at, r.At[i])
			if want == 0 {
				all = append(all, slices.Clone(at))
			} else {
				extend(r.At[i], r.Overlap, want-1)
			}
			at = at[:len(at)-1]
		}
	}
	if least < maxParts {
		extend(0, first, least)
	}
	return all
}

// partLabel returns the label of part k of n. "hall N 1/2" would be read as a half.
func (r Run) partLabel(k, n int) string {
	between := " "
	if last, _ := utf8.DecodeLastRuneInString(r.Label); unicode.IsDigit(last) {
		between = " part "
	}
	return fmt.Sprintf("%s%s%d of %d", r.Label, between, k, n)
}

// Pieces returns the pieces of the run, spliced at the positions, from left to right;
// without positions it is one piece. All have its Room and Wall, and parts are Assumed if
// its studs are; each part has the Notes for the stretch that it covers. Each of two
// neighboring parts takes half of the overlap, and the allowances of every piece sum to its
// length. The parts of run "hall N" are "hall N 1 of 2" and "hall N 2 of 2"; those of "rail
// 3" are "rail 3 part 1 of 2" and so on, to keep the numbers apart.
//
// The error is a [*measure.FieldError] for a position that the rule does not allow or that
// leaves a part shorter than MinPart (at[i]), for more positions than MaxSplices (at), and
// for invalid fields of the run (length, splice.at[i] and so on); several are joined.
func (r Run) Pieces(at []measure.Length) ([]Piece, error) {
	n := len(at)
	whole := Piece{Label: r.Label, Profile: r.Profile, Run: r.Label, Room: r.Room, Wall: r.Wall, Left: r.Left, Right: r.Right}
	if n == 0 {
		whole.Length, whole.Part, whole.Parts, whole.Allowances = r.Length, 1, 1, r.Allowances
		whole.Notes = r.notesOn(0, r.Length)
		return []Piece{whole}, nil
	}
	if err := r.allows(at); err != nil {
		return nil, err
	}
	over := End{Kind: EndScarfOver, Angle: r.Splice.Bevel, Setback: r.Splice.Overlap}
	under := End{Kind: EndScarfUnder, Angle: r.Splice.Bevel, Setback: r.Splice.Overlap}
	what := "scarf"
	if r.Splice.Bevel == 0 {
		over, under, what = End{}, End{}, "joint"
	}
	if r.Splice.RightOver {
		over, under = under, over
	}
	early, late := r.Splice.halves()
	ps := make([]Piece, 0, n+1)
	var bad fault.List
	for i := range n + 1 {
		p, from, to := whole, measure.Length(0), r.Length
		p.Part, p.Parts, p.Assumed = i+1, n+1, r.Splice.Assumed
		p.Label = r.partLabel(i+1, n+1)
		var laps []Allowance
		if i > 0 {
			from, p.Left = at[i-1], under
			laps = append(laps, Allowance{Name: "half the " + what + " at left", Length: late})
		}
		if i < n {
			to, p.Right = at[i], over
			laps = append(laps, Allowance{Name: "half the " + what + " at right", Length: early})
		}
		p.Length, p.Notes = to-from, r.notesOn(from, to)
		p.Allowances = []Allowance{{Name: fmt.Sprintf("%s from %v to %v", r.Label, from.About(r.Length), to.About(r.Length)), Length: p.Length}}
		for _, a := range laps {
			if a.Length != 0 {
				p.Allowances = append(p.Allowances, a)
				p.Length += a.Length
			}
		}
		if p.Length < r.Splice.least() {
			k := min(i, n-1)
			bad.Add(fmt.Sprintf("at[%d]", k), at[k].About(),
				fmt.Sprintf("a position that leaves parts of at least %v; this one leaves %v", r.Splice.least().About(), p.Length.About(r.Length)))
		}
		ps = append(ps, p)
	}
	if err := bad.Err(); err != nil {
		return nil, err
	}
	return ps, nil
}

// allows returns nil if the rule of the run is valid and allows the positions, or every
// fault.
func (r Run) allows(at []measure.Length) error {
	var bad fault.List
	if r.Length < 0 || r.Length > spliceLimit {
		bad.Add("length", r.Length.About(), "zero or more, and no longer than a run is")
	}
	bad.Under("splice", r.Splice.validate(r.Length))
	if err := bad.Err(); err != nil {
		return err
	}
	if most := r.Splice.MaxSplices; most > 0 && len(at) > most {
		bad.Add("at", fmt.Sprintf("%d splices", len(at)), fmt.Sprintf("at most %d", most))
	}
	avoid := r.Splice.Avoid
	if !slices.IsSorted(avoid) { // these have not been validated
		avoid = slices.Sorted(slices.Values(avoid))
	}
	allowed := func(x measure.Length) bool {
		if _, listed := slices.BinarySearch(r.Splice.At, x); listed { // validate has checked that they ascend
			return true
		}
		_, listed := slices.BinarySearch(avoid, x)
		return listed
	}
	clear := max(1, r.Splice.Clear)
	for i, x := range at {
		want := ""
		switch {
		case i > 0 && x <= at[i-1]:
			want = "more than the one before"
		case r.Splice.Anywhere && (x < clear || x > r.Length-clear):
			want = fmt.Sprintf("at least %v from the ends of the run's %v", r.Splice.Clear.About(), r.Length.About())
		case !r.Splice.Anywhere && !allowed(x):
			want = "one of the positions that the run allows"
		}
		if want != "" {
			bad.Add(fmt.Sprintf("at[%d]", i), x.About(), want)
		}
	}
	return bad.Err()
}

// halves returns the shares of the overlap of the part left of a splice and the
// part right of it; an odd tick goes to the right.
func (r SpliceRule) halves() (early, late measure.Length) {
	return r.Overlap / 2, r.Overlap - r.Overlap/2
}

// never is more splices than any run has.
const never = 1 << 30

// needs returns for each position the least number of further splices after a splice
// there. A part between two splices spans their distance plus one overlap, one at an
// end only half of it.
func (r SpliceRule) needs(length, longest, late measure.Length) []int {
	n := len(r.At)
	need := make([]int, n)
	// The positions that can follow position i form a window that moves left with
	// i; deque holds its candidates, the best in front.
	var deque []int
	hi := n - 1
	for i := n - 1; i >= 0; i-- {
		need[i] = never
		if rest := length - r.At[i] + late; rest <= longest && rest >= r.least() {
			need[i] = 0
		}
		for ; hi > i && r.At[hi]-r.At[i]+r.Overlap >= r.least(); hi-- {
			for len(deque) > 0 && need[deque[len(deque)-1]] > need[hi] {
				deque = deque[:len(deque)-1]
			}
			deque = append(deque, hi)
		}
		for len(deque) > 0 && r.At[deque[0]]-r.At[i]+r.Overlap > longest {
			deque = deque[1:]
		}
		if len(deque) > 0 {
			need[i] = min(need[i], need[deque[0]]+1)
		}
	}
	return need
}

// placeOnStuds solves the problem on studs from the left.
func (r SpliceRule) placeOnStuds(length, longest, early, late measure.Length) []measure.Length {
	need, n := r.needs(length, longest, late), len(r.At)
	var at []measure.Length
	left, want := measure.Length(0), never
	for i := range need {
		if part := r.At[i] + early; part >= r.least() && part <= longest {
			want = min(want, need[i])
		}
	}
	if want >= never {
		return nil
	}
	for k := 0; want >= 0; k++ {
		over := r.Overlap
		if k == 0 {
			over = early
		}
		i := sort.Search(n, func(i int) bool { return r.At[i]-left+over > longest }) - 1
		for ; i >= 0 && need[i] != want; i-- {
		}
		if i < 0 {
			return nil // impossible: need guarantees one
		}
		at = append(at, r.At[i])
		left = r.At[i]
		want--
	}
	return at
}

// placeAnywhere solves the problem without studs, from the left. The parts of a run
// with n splices are independent except for their sum: each spans a distance between
// a minimum and a maximum, so n splices suffice exactly if the length of the run
// lies between the sum of the minima and the sum of the maxima.
func (r SpliceRule) placeAnywhere(length, longest measure.Length) (at []measure.Length, ok bool) {
	early, late := r.halves()
	part, end := r.least(), max(1, r.Clear)
	// The range of distances that the first, the last and every other part may span.
	firstLo, firstHi := max(end, part-early), longest-early
	lastLo, lastHi := max(end, part-late), longest-late
	midLo, midHi := max(1, part-r.Overlap), longest-r.Overlap
	if firstLo > firstHi || lastLo > lastHi {
		return nil, false
	}
	between := measure.Length(0) // parts that are neither first nor last
	if more := length - firstHi - lastHi; more > 0 {
		if midLo > midHi {
			return nil, false
		}
		if between = (more-1)/midHi + 1; between >= maxParts {
			return nil, false
		}
	}
	spare := length - firstLo - lastLo // the sum that the parts may span beyond their minima
	if between > 0 {
		if midLo > spare/between {
			return nil, false
		}
		spare -= between * midLo
	}
	if spare < 0 {
		return nil, false
	}
	// Make parts as long as possible from the left: the first parts take the spare
	// length.
	x := firstLo + min(spare, firstHi-firstLo)
	spare -= x - firstLo
	at = append(make([]measure.Length, 0, between+1), x)
	for range between {
		give := min(spare, midHi-midLo)
		spare -= give
		x += midLo + give
		at = append(at, x)
	}
	return at, true
}

// least returns the length of the shortest part: MinPart, but at least one tick.
func (r SpliceRule) least() measure.Length { return max(1, r.MinPart) }

// maxParts bounds the splices of one run. No run has so many.
const maxParts = 10_000

// Every replaces Anywhere in a rule with a list of positions: every multiple of grid from
// the left end that is Clear of both ends. It returns the rule unchanged if Anywhere is
// not set, if grid is not positive, or if there would be more than 10,000 positions.
func (r SpliceRule) Every(length, grid measure.Length) SpliceRule {
	if !r.Anywhere || grid <= 0 || length/grid > 10_000 || !r.usable(length, 0) {
		return r
	}
	end := max(r.Clear, 1)
	at := make([]measure.Length, 0, length/grid)
	for x := grid; x <= length-end; x += grid {
		if x >= end {
			at = append(at, x)
		}
	}
	r.At, r.Anywhere = at, false
	return r
}
