package optimize_test

import (
	"context"
	"encoding/json"
	"errors"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/trimjob"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// hidden returns pieces that would fill the given number of sticks if any pieces could, and the length
// of a stick. The core is the edges of a complete graph on six nodes, whose lengths at each node sum to
// a stick: half a stick for each node would suffice, but three sticks do not. Then come triples that
// fill a stick; each has odd lengths where all before are even. The construction follows M. Delorme,
// M. Iori, S. Martello, Bin packing and cutting stock problems, European Journal of Operational
// Research 255 (2016) 1-20 (from memory).
func hidden(r *rand.Rand, threes int) (pieces []int64, stick int64) {
	var at [6]int64
	var edges [][2]int
	for a := range 6 {
		for b := a + 1; b < 6; b++ {
			v := 4 * (900 + r.Int64N(600))
			pieces, edges = append(pieces, v), append(edges, [2]int{a, b})
			at[a] += v
			at[b] += v
		}
	}
	const even = 4 * 6000
	for k, e := range edges {
		pieces[k] += (even - at[e[0]]) / 4
		pieces[k] += (even - at[e[1]]) / 4
	}
	for k, e := range edges {
		if e[0] == 0 {
			stick += pieces[k]
		}
	}
	for range threes {
		for k := range pieces {
			pieces[k] *= 2
		}
		stick *= 2
		a := stick/2 + 1 + 2*r.Int64N(stick/8) + stick/2%2
		b := 1 + r.Int64N(stick-a-1)
		pieces = append(pieces, a, b, stick-a-b)
	}
	return pieces, stick
}

// packed returns that as a problem, in the given unit and with the given kerf.
func packed(pieces []int64, stick int64, unit, kerf measure.Length) optimize.Problem {
	p := optimize.Problem{Sticks: []stock.Stick{{Length: measure.Length(stick)*unit - kerf, Price: 1}}, Kerf: kerf}
	for _, v := range pieces {
		p.Pieces = append(p.Pieces, stock.Piece{Length: measure.Length(v)*unit - kerf})
	}
	return p
}

// TestPackingShown: if pieces do not fit into as few sticks as their total length suggests, the proof
// is the sticks that can be filled in any case and a search over the rest.
func TestPackingShown(t *testing.T) {
	hard := 0
	for seed := range uint64(8) {
		r := rand.New(rand.NewPCG(seed, 83))
		threes := 2 + r.IntN(5)
		pieces, stick := hidden(r, threes)
		unit := oneOf(r, 1, measure.Inch/64, measure.Millimeter/10)
		p := packed(pieces, stick, unit, oneOf(r, 0, unit, 8*unit))
		plan := mustSolve(t, p)
		if plan.Cost != int64(threes)+4 || !plan.Proven {
			continue // the edges can be packed by chance
		}
		hard++
		if kind := plan.Proof.Kind(); kind != optimize.ProofPacking {
			t.Errorf("seed %d: a proof of kind %v", seed, kind)
		}
		wholly(t, p, plan)
		o := optimize.Unseal(plan.Proof)
		if len(o.Beyond.Forced) < threes-1 || len(o.Beyond.Searches) == 0 {
			t.Errorf("seed %d: %d forced sticks of %d, %d searches", seed, len(o.Beyond.Forced), threes, len(o.Beyond.Searches))
		}
	}
	if hard < 5 {
		t.Errorf("%d of 8 problems need a stick more than their length", hard)
	}
}

// wholly checks that a plan's bound is verified in full, also after its proof went through JSON.
func wholly(t *testing.T, p optimize.Problem, plan *optimize.Plan) {
	t.Helper()
	text, err := json.Marshal(plan)
	if err != nil {
		t.Fatal(err)
	}
	var read optimize.Plan
	if err := json.Unmarshal(text, &read); err != nil {
		t.Fatal(err)
	}
	report, err := optimize.Audit(context.Background(), p, &read)
	if err != nil {
		t.Fatal(err)
	}
	if shown, complete := report.Bound(); !complete || shown != plan.Cost {
		t.Errorf("%v, want all of it", report)
	}
}

// TestListShown: bounds from a search over a list of patterns are verified by the search tree.
func TestListShown(t *testing.T) {
	for _, want := range []struct {
		class, job string
		kind       optimize.ProofKind
	}{
		{"house", "house-15", optimize.ProofEnumeration},
		{"house", "house-02", optimize.ProofEnumeration},
		{"room", "room-17", optimize.ProofDual},
	} {
		for _, k := range trimjob.OfClass(want.class) {
			if k.Job().Name != want.job || testing.Short() && want.job == "house-02" {
				continue
			}
			j := k.Job()
			p := optimize.Problem{Sticks: j.Sticks(), Pieces: j.Wanted(), Kerf: j.SawKerf()}
			plan := mustSolve(t, p)
			if kind := plan.Proof.Kind(); kind != want.kind || !plan.Proven {
				t.Errorf("%s: a proof of kind %v, proven: %t, want %v", want.job, kind, plan.Proven, want.kind)
			}
			if plan.Proof.Size() > 10_000 {
				t.Errorf("%s: a proof of %d bytes", want.job, plan.Proof.Size())
			}
			wholly(t, p, plan)
			// With fewer steps less is verified, and the plan is never reported as better proven than
			// that.
			for _, steps := range []int64{1, 1000, 20_000, 300_000} {
				if r, err := optimize.AuditWithin(p, plan, steps); err == nil {
					if shown, _ := r.Bound(); shown > plan.Cost {
						t.Errorf("%s: in %d steps %d shown, the least cost is %d", want.job, steps, shown, plan.Cost)
					}
				}
			}
		}
	}
}

// TestSearchesEndless: a search over a list without end, and many of them, take no more steps than a check has.
func TestSearchesEndless(t *testing.T) {
	for _, k := range trimjob.OfClass("house")[2:3] {
		j := k.Job()
		p := optimize.Problem{Sticks: j.Sticks(), Pieces: j.Wanted(), Kerf: j.SawKerf()}
		plan := mustSolve(t, p)
		lengths := map[measure.Length]bool{}
		for i := range p.Pieces {
			lengths[p.Pieces[i].Length] = true
		}
		l := rootLeaf(&p)
		o := &optimize.OpenProof{Kind: optimize.ProofEnumeration, Unit: 1, LeafBound: plan.Cost, Beyond: &optimize.Searching{Items: len(lengths)}}
		zero := optimize.Vector{Scale: 1, Items: make([]int64, len(lengths)), Classes: make([]int64, len(l.Hi))}
		search := optimize.Search{Filters: []optimize.Vector{zero}, Root: &optimize.Node{Vector: &zero}}
		for leaf := range 50 {
			search.Leaf = leaf
			o.Leaves, o.Beyond.Searches = append(o.Leaves, l), append(o.Beyond.Searches, search)
		}
		bad := *plan
		var err error
		if bad.Proof, err = o.Sealed(); err != nil {
			t.Fatal(err)
		}
		bad.Bound, bad.Proven, bad.Stop = plan.Cost, true, optimize.StopProven
		var ce *optimize.CheckError
		if err := optimize.Check(context.Background(), p, &bad); !errors.As(err, &ce) || ce.Field != "proof.leaf_bound" {
			t.Errorf("%s: %v, want a CheckError that names proof.leaf_bound", j.Name, err)
		}
	}
}

// TestSearchBytes changes bytes of proofs with searches and forced sticks: Check rejects what is wrong
// and never panics.
func TestSearchBytes(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 89))
	pieces, stick := hidden(r, 5)
	p := packed(pieces, stick, 1, 0)
	plan := mustSolve(t, p)
	data := []byte(plan.Proof.Bytes())
	higher := *plan
	for round := range 1500 {
		b := append([]byte(nil), data...)
		for range 1 + r.IntN(3) {
			switch at := r.IntN(len(b)); r.IntN(4) {
			case 0:
				b[at] = byte(r.Uint32())
			case 1:
				b[at] ^= 1 << r.IntN(8)
			case 2:
				b = append(b[:at], b[at+1:]...)
			default:
				b = append(b[:at], append([]byte{byte(r.IntN(4))}, b[at:]...)...)
			}
		}
		pl := higher
		pl.Proof = optimize.ProofOf(optimize.ProofPacking, string(b))
		report, err := optimize.AuditWithin(p, &pl, 1<<24)
		if err == nil {
			if shown, _ := report.Bound(); shown > plan.Cost {
				t.Fatalf("round %d: %d shown", round, shown)
			}
			continue
		}
		if bad := (*optimize.CheckError)(nil); !errors.As(err, &bad) {
			t.Fatalf("round %d: %v", round, err)
		}
	}
}
