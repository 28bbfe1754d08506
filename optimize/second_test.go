package optimize_test

import (
	"bytes"
	"context"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"math/big"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// This file is a second checker of proofs, for problems without rules. It is written from
// the documentation of optimize.Proof alone, shares nothing with the package, and works in
// big.Int throughout. It is slow and has no limits.

// secondProof is a proof as its documentation describes it.
type secondProof struct {
	kind            string
	unit, leafBound *big.Int
	classes, pieces int
	charges         int
	leaves          []secondLeaf
	more            *secondMore
}

type secondLeaf struct {
	lo, hi []*big.Int
	values []*big.Int
	scale  *big.Int
	sums   bool
	ruled  bool // values spares or parts of runs
}

// secondReader reads counts and numbers. The first fault sticks.
type secondReader struct {
	in  *bytes.Reader
	err error
}

func (r *secondReader) count() *big.Int {
	v, shift := new(big.Int), uint(0)
	for r.err == nil {
		b, err := r.in.ReadByte()
		if err != nil {
			r.err = err
			break
		}
		v.Or(v, new(big.Int).Lsh(big.NewInt(int64(b&127)), shift))
		shift += 7
		if b < 128 {
			break
		}
	}
	if r.err == nil && (v.BitLen() > 64 || shift > 70) {
		r.err = errors.New("a number of more than 64 bits")
	}
	return v
}

func (r *secondReader) number() *big.Int {
	c := r.count()
	v := new(big.Int).Rsh(c, 1)
	if c.Bit(0) == 1 {
		v.Not(v)
	}
	return v
}

// many is a count of things that follow; none takes less than a byte.
func (r *secondReader) many() int {
	c := r.count()
	if r.err == nil && c.Cmp(big.NewInt(int64(r.in.Len()))) > 0 {
		r.err = errors.New("more than follows")
	}
	if r.err != nil {
		return 0
	}
	return int(c.Int64())
}

func (r *secondReader) below(n int) int {
	c := r.count()
	if r.err == nil && c.Cmp(big.NewInt(int64(n))) >= 0 {
		r.err = errors.New("an index of something that there is not")
	}
	if r.err != nil {
		return 0
	}
	return int(c.Int64())
}

// differences reads n numbers, each written as its difference from the previous one.
func (r *secondReader) differences(n int, at *big.Int) []*big.Int {
	var out []*big.Int
	for range n {
		at = new(big.Int).Add(at, r.number())
		if !at.IsInt64() && r.err == nil {
			r.err = errors.New("a value of more than 64 bits")
		}
		out = append(out, at)
		if r.err != nil {
			return nil
		}
	}
	return out
}

// readSecond reads a proof from its JSON.
func readSecond(text []byte) (*secondProof, error) {
	var doc struct {
		Version int    `json:"version"`
		Kind    string `json:"kind"`
		Data    string `json:"data"`
	}
	if err := json.Unmarshal(text, &doc); err != nil {
		return nil, err
	}
	if doc.Version != 1 {
		return nil, fmt.Errorf("version %d", doc.Version)
	}
	data, err := base64.StdEncoding.DecodeString(doc.Data)
	if err != nil {
		return nil, err
	}
	p := &secondProof{kind: doc.Kind, unit: new(big.Int), leafBound: new(big.Int)}
	if len(data) == 0 {
		return p, nil
	}
	r := &secondReader{in: bytes.NewReader(data)}
	p.unit, p.leafBound = r.number(), r.number()
	p.classes, p.pieces, p.charges = r.many(), r.many(), r.many()
	lists := make([]int, r.many()) // their numbers of lengths
	for k := range lists {
		lists[k] = r.many()
		r.differences(lists[k], new(big.Int))
	}
	type row struct {
		scale  *big.Int
		values []*big.Int
		ruled  bool
	}
	rows := make([]row, r.many())
	var order []int
	for k := range rows {
		rows[k].scale = r.number()
		rows[k].ruled = r.number().Sign() != 0
		parts := 0
		if list := r.below(len(lists) + 1); list > 0 {
			parts = lists[list-1]
		}
		written := r.differences(p.pieces+parts, new(big.Int))
		if r.err != nil {
			return nil, r.err
		}
		written, rows[k].ruled = written[:p.pieces], rows[k].ruled || parts > 0
		if k == 0 {
			rows[0].values = written
			for i := range written {
				order = append(order, i)
			}
			slices.SortStableFunc(order, func(a, b int) int { return written[a].Cmp(written[b]) })
			continue
		}
		rows[k].values = make([]*big.Int, p.pieces)
		for n, i := range order {
			rows[k].values[i] = written[n]
		}
	}
	lo, hi := make([]*big.Int, p.classes), make([]*big.Int, p.classes)
	for k := range r.many() {
		head := r.below(2 * len(rows))
		if r.err != nil {
			return nil, r.err
		}
		changes := p.classes + p.charges
		if k > 0 {
			changes = r.many()
		}
		for c := range changes {
			if k > 0 {
				c = r.below(p.classes + p.charges)
			}
			if c >= p.classes {
				r.number()
				continue
			}
			a, b := r.number(), r.number()
			if r.err != nil {
				return nil, r.err
			}
			lo[c], hi[c] = a, b
		}
		p.leaves = append(p.leaves, secondLeaf{slices.Clone(lo), slices.Clone(hi), rows[head/2].values, rows[head/2].scale, head%2 == 1, rows[head/2].ruled})
	}
	if p.kind == "enumeration" || p.kind == "packing" {
		p.more = r.more(p)
	}
	if r.err == nil && r.in.Len() > 0 {
		r.err = errors.New("something follows")
	}
	return p, r.err
}

// secondClass is sticks of equal usable length and equal cost.
type secondClass struct {
	usable, limit int64
	cost          *big.Int
}

func secondClasses(p *optimize.Problem) []secondClass {
	priced := slices.ContainsFunc(p.Sticks, func(s stock.Stick) bool { return s.Price != 0 })
	pieces := int64(0)
	for _, pc := range p.Pieces {
		pieces += int64(max(1, pc.Quantity))
	}
	var out []secondClass
	for _, s := range p.Sticks {
		if s.Limit == stock.SoldOut {
			continue
		}
		usable, cost := int64(s.Length-s.TrimStart-s.TrimEnd), int64(s.Length)
		if priced {
			cost = s.Price
		}
		k := slices.IndexFunc(out, func(c secondClass) bool { return c.usable == usable && c.cost.Cmp(big.NewInt(cost)) == 0 })
		if k < 0 {
			k = len(out)
			out = append(out, secondClass{usable: usable, cost: big.NewInt(cost)})
		}
		limit := int64(s.Limit)
		if limit == 0 {
			limit = pieces
		}
		out[k].limit = min(pieces, out[k].limit+limit)
	}
	return out
}

// secondShown returns the bound that the leaves of a proof prove; nil means that there is no plan.
func secondShown(p *optimize.Problem, pr *secondProof) (*big.Int, error) {
	classes := secondClasses(p)
	if len(pr.leaves) == 0 {
		return new(big.Int), nil
	}
	forced := new(big.Int)
	if pr.more != nil {
		rest, left, cost, err := pr.withoutForced(p, classes)
		if err != nil {
			return nil, err
		}
		p, pr, forced = rest, left, cost
	}
	if pr.classes != len(classes) || pr.pieces != len(p.Pieces) || pr.charges > 0 || slices.ContainsFunc(pr.leaves, func(l secondLeaf) bool { return l.ruled }) {
		return nil, errors.New("another problem")
	}
	for _, c := range classes {
		if pr.unit.Sign() <= 0 || new(big.Int).Rem(c.cost, pr.unit).Sign() != 0 {
			return nil, errors.New("a unit that does not divide the costs")
		}
	}
	for _, l := range pr.leaves {
		if l.scale.Sign() < 0 || slices.ContainsFunc(l.values, func(v *big.Int) bool { return v.Sign() < 0 }) {
			return nil, errors.New("a negative value")
		}
		for c := range classes {
			if each := new(big.Int).Div(classes[c].cost, pr.unit); each.Mul(each, l.scale).BitLen() > 62 {
				return nil, errors.New("a scale that is too great")
			}
			if l.lo[c].Sign() < 0 || l.lo[c].Cmp(l.hi[c]) > 0 || l.hi[c].Cmp(big.NewInt(classes[c].limit)) > 0 {
				return nil, errors.New("a box beyond the limits")
			}
		}
	}
	// The boxes contain every count: each point is tested.
	at := make([]int64, len(classes))
	var covered func(c int) bool
	covered = func(c int) bool {
		if c == len(classes) {
			return slices.ContainsFunc(pr.leaves, func(l secondLeaf) bool {
				for c, n := range at {
					if l.lo[c].Int64() > n || n > l.hi[c].Int64() {
						return false
					}
				}
				return true
			})
		}
		for at[c] = 0; at[c] <= classes[c].limit; at[c]++ {
			if !covered(c + 1) {
				return false
			}
		}
		return true
	}
	if !covered(0) {
		return nil, errors.New("a hole between the boxes")
	}
	var least *big.Int
	for k := range pr.leaves {
		v := pr.shownBy(p, classes, &pr.leaves[k])
		if s := pr.searchOf(k); s != nil {
			holds, err := s.holds(p, pr, classes, &pr.leaves[k])
			if err != nil {
				return nil, err
			}
			if holds {
				v = pr.leafBound
			}
		}
		if v != nil && (least == nil || v.Cmp(least) < 0) {
			least = v
		}
	}
	if least == nil || forced.Sign() == 0 {
		return least, nil
	}
	if least.Cmp(pr.leafBound) < 0 {
		return new(big.Int), nil
	}
	return new(big.Int).Add(least, forced), nil
}

// shownBy returns the bound of one leaf, nil for a box without plans.
func (pr *secondProof) shownBy(p *optimize.Problem, classes []secondClass, l *secondLeaf) *big.Int {
	sum := new(big.Int)
	for i, v := range l.values {
		sum.Add(sum, new(big.Int).Mul(v, big.NewInt(secondWanted(p, i))))
	}
	for c, cl := range classes {
		each := new(big.Int).Div(cl.cost, pr.unit)
		each.Mul(each, l.scale)
		each.Sub(each, worthOf(p, l.values, 0, cl.usable+int64(p.Kerf)))
		n := l.lo[c]
		if each.Sign() < 0 {
			n = l.hi[c]
		}
		sum.Add(sum, each.Mul(each, n))
	}
	shown := new(big.Int)
	if sum.Sign() > 0 {
		if l.scale.Sign() == 0 {
			return nil
		}
		// Rounded up.
		shown.Add(sum, l.scale)
		shown.Sub(shown, big.NewInt(1))
		shown.Div(shown, l.scale)
		shown.Mul(shown, pr.unit)
	}
	if !l.sums || shown.Cmp(pr.leafBound) >= 0 {
		return shown
	}
	// Up to the next sum of costs, at most to the claim of all leaves.
	next := pr.leafBound
	var each func(c int, cost *big.Int)
	each = func(c int, cost *big.Int) {
		if c == len(classes) {
			if cost.Cmp(shown) >= 0 && cost.Cmp(next) < 0 {
				next = cost
			}
			return
		}
		for n := l.lo[c].Int64(); n <= l.hi[c].Int64(); n++ {
			each(c+1, new(big.Int).Add(cost, new(big.Int).Mul(classes[c].cost, big.NewInt(n))))
		}
	}
	each(0, new(big.Int))
	return next
}

// worthOf returns the greatest value of pieces from the i-th on that fit a length, each with a kerf.
func worthOf(p *optimize.Problem, values []*big.Int, i int, room int64) *big.Int {
	best := new(big.Int)
	if i == len(p.Pieces) {
		return best
	}
	for n := range secondWanted(p, i) + 1 {
		left := room - n*int64(p.Pieces[i].Length+p.Kerf)
		if left < 0 {
			break
		}
		v := worthOf(p, values, i+1, left)
		if v.Add(v, new(big.Int).Mul(values[i], big.NewInt(n))).Cmp(best) > 0 {
			best = v
		}
	}
	return best
}

// secondOpinion checks a plan's bound as verified by Audit.
func secondOpinion(p *optimize.Problem, plan *optimize.Plan) (shown *big.Int, err error) {
	text, err := json.Marshal(plan.Proof)
	if err != nil {
		return nil, err
	}
	pr, err := readSecond(text)
	if err != nil {
		return nil, err
	}
	claim := big.NewInt(plan.Bound)
	switch n := len(pr.leaves); pr.kind {
	case "none", "omitted":
		if n > 0 || pr.leafBound.Sign() != 0 || pr.kind == "none" && claim.Sign() > 0 {
			return nil, errors.New("something that shows nothing")
		}
		return new(big.Int), nil
	case "material", "dual":
		if n != 1 {
			return nil, errors.New("not one leaf")
		}
	case "tree":
		if n < 2 {
			return nil, errors.New("not several leaves")
		}
	case "enumeration", "packing":
		if n < 1 || (len(pr.more.forced) > 0) != (pr.kind == "packing") || pr.kind == "enumeration" && len(pr.more.searches) == 0 {
			return nil, errors.New("nothing that the kind is about")
		}
	case "exhausted search":
	default:
		return nil, errors.New("kind " + pr.kind)
	}
	if search := pr.kind == "exhausted search"; claim.Cmp(pr.leafBound) < 0 || search == (claim.Cmp(pr.leafBound) == 0) {
		return nil, errors.New("another bound than the plan's")
	}
	if shown, err = secondShown(p, pr); err != nil {
		return nil, err
	}
	if shown != nil && shown.Cmp(pr.leafBound) < 0 {
		return nil, errors.New("less is shown than claimed")
	}
	if pr.kind == "material" {
		l := &pr.leaves[0]
		for i := range l.values {
			a := new(big.Int).Mul(l.values[i], big.NewInt(int64(p.Pieces[0].Length+p.Kerf)))
			if a.Cmp(new(big.Int).Mul(l.values[0], big.NewInt(int64(p.Pieces[i].Length+p.Kerf)))) != 0 {
				return nil, errors.New("values out of proportion")
			}
		}
	}
	if shown == nil || shown.Cmp(claim) > 0 {
		shown = claim
	}
	return shown, nil
}

// TestSecondChecker compares Audit with a reader of the documented bytes, on proofs of Solve and on
// changed ones: they accept the same and verify the same bound. For kind material the second may verify
// more, since it finds the best filling where Check uses the value of a length.
func TestSecondChecker(t *testing.T) {
	t.Parallel()
	runs := 4000
	if testing.Short() {
		runs = 1000
	}
	var honest, accepted, refused, unread int
	kinds := map[optimize.ProofKind]int{}
	for seed := range uint64(runs) {
		r := rand.New(rand.NewPCG(seed, 31))
		p := tiny(r)
		if r.IntN(4) == 0 {
			p.Sticks = append(p.Sticks, p.Sticks[0])
			p.Sticks[0].Limit = stock.SoldOut
		}
		if r.IntN(4) == 0 {
			p = perfect(r)
		}
		plan := solveOrNil(p)
		if plan == nil {
			continue
		}
		if r.IntN(2) == 0 && plan.Proven {
			plan = searchedInstead(t, r, &p, plan)
		}
		text, err := json.Marshal(plan.Proof)
		if err != nil {
			t.Fatal(err)
		}
		var doc map[string]any
		if err := json.Unmarshal(text, &doc); err != nil {
			t.Fatal(err)
		}
		for try := range 8 {
			pl := clone(t, plan)
			if try > 0 {
				data, err := base64.StdEncoding.DecodeString(fmt.Sprint(cmpOr(doc["data"], "")))
				if err != nil {
					t.Fatal(err)
				}
				if len(data) == 0 {
					break
				}
				for range 1 + r.IntN(2) {
					k := r.IntN(len(data))
					switch r.IntN(5) {
					case 0:
						data[k] ^= 1 << r.IntN(8)
					case 1:
						data = slices.Insert(data, k, byte(r.IntN(6)))
					case 2:
						if len(data) > 1 {
							data = slices.Delete(data, k, k+1)
						}
					default:
						data[k] += byte(2*r.IntN(5)) - 4
					}
				}
				forged, err := json.Marshal(map[string]any{"version": 1, "kind": doc["kind"], "data": data})
				if err != nil {
					t.Fatal(err)
				}
				_, second := readSecond(forged)
				if err := json.Unmarshal(forged, &pl.Proof); err != nil {
					unread++
					if second == nil {
						t.Fatalf("seed %d: %v, but the second checker accepts %s", seed, err, forged)
					}
					continue
				}
			} else {
				kinds[pl.Proof.Kind()]++
			}
			want, second := secondOpinion(&p, pl)
			report, err := optimize.Audit(context.Background(), p, pl)
			if (err == nil) != (second == nil) {
				var ce *optimize.CheckError
				if errors.As(err, &ce) && second == nil && (pl.Proof.Kind() == optimize.ProofMaterial && ce.Field == "proof.leaf_bound" || strings.Contains(ce.Want, "1<<62")) {
					continue // less shown, or numbers that Check does not calculate with
				}
				t.Fatalf("seed %d, try %d: Audit returns %v, the second checker %v\n%s", seed, try, err, second, written(&p))
			}
			if err != nil {
				refused++
				continue
			}
			shown, complete := report.Bound()
			if c := want.Cmp(big.NewInt(shown)); c != 0 && (c < 0 || pl.Proof.Kind() != optimize.ProofMaterial) {
				t.Fatalf("seed %d, try %d: Audit shows %d, the second checker %v\n%s", seed, try, shown, want, written(&p))
			}
			if accepted++; try == 0 && complete {
				honest++
			}
		}
	}
	if honest < runs/3 || accepted < honest+runs/20 || refused < runs/2 || unread < runs/20 || kinds[optimize.ProofDual] < runs/12 || kinds[optimize.ProofTree] < runs/150 ||
		kinds[optimize.ProofEnumeration] < runs/10 || kinds[optimize.ProofPacking] < runs/100 {
		t.Errorf("%d bounds verified, %d accepted, %d rejected, %d unread, kinds %v: too few of some kind", honest, accepted, refused, unread, kinds)
	}
}

func cmpOr(a, b any) any {
	if a == nil {
		return b
	}
	return a
}
