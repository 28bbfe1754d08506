package optimize_test

import (
	"context"
	"flag"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/optimize"
)

var (
	listedJobs = flag.Int("listedjobs", 3000, "random problems in TestListsHoldPlans and TestForgedRuleSearches")
	listedFrom = flag.Int("listedfrom", 0, "their first seed")
)

// TestListsHoldPlans looks up the patterns of plans in the lists that Check makes, by random values: a list without one of them
// would take a plan for impossible.
func TestListsHoldPlans(t *testing.T) {
	t.Parallel()
	jobs := *listedJobs
	if testing.Short() {
		jobs = min(jobs, 300)
	}
	looked, none := 0, 0
	for seed := uint64(*listedFrom); seed < uint64(*listedFrom+jobs); seed++ {
		r := rand.New(rand.NewPCG(seed, 83))
		p := mixed(seed)
		if seed%3 == 0 {
			p = bothAdded(r.IntN(len(features)), r.IntN(len(features)), seed)
		}
		plan := solveOrNil(p)
		if plan == nil || plan.Cost == 0 {
			continue
		}
		for _, most := range []int64{0, 3, 40, 1 << 40} {
			missing, ok := optimize.Listed(&p, plan, r, most)
			if !ok {
				none++
				continue
			}
			if looked++; missing != "" {
				t.Fatalf("seed %d: the list lacks %s\n%+v\n%s", seed, missing, plan, written(&p))
			}
		}
	}
	t.Logf("%d lists have all patterns of a plan, %d were not made", looked, none)
	if looked < jobs {
		t.Errorf("%d lists for %d problems: this tests little", looked, jobs)
	}
}

// TestForgedRuleSearches forges searches of problems with rules: nothing above the least cost is taken for shown.
func TestForgedRuleSearches(t *testing.T) {
	t.Parallel()
	jobs := *listedJobs
	if testing.Short() {
		jobs = min(jobs, 720)
	}
	shown, refused := make([]int, len(searchForgeries)), make([]int, len(searchForgeries))
	honest, branched, ways := 0, 0, 0
	for seed := uint64(*listedFrom); seed < uint64(*listedFrom+jobs); seed++ {
		r := rand.New(rand.NewPCG(seed, 89))
		a := int(seed) % len(features)
		p := bothAdded(a, a, seed/uint64(len(features)))
		right := solveOrNil(p)
		if right == nil || right.Proof.Kind() != optimize.ProofEnumeration {
			continue
		}
		least, ok := bruteSolve(&p)
		if !ok || right.Bound != least[0] {
			t.Fatalf("seed %d: bound %d, the least cost is %v\n%s", seed, right.Bound, least, written(&p))
		}
		honest++
		for _, n := range insideOf(optimize.Unseal(right.Proof)).nodes {
			if (*n).Less != nil {
				branched++
			}
			if (*n).Way != nil {
				ways++
			}
		}
		plans := []*optimize.Plan{right}
		if d := dearer(r, &p); d != nil && d.Cost > least[0] {
			plans = append(plans, d)
		}
		for k := range searchForgeries {
			for _, plan := range plans {
				pr := optimize.Unseal(right.Proof)
				in := insideOf(pr)
				if len(in.indexes) == 0 || len(in.nodes) == 0 {
					continue
				}
				searchForgeries[k].make(r, &p, pr, in)
				tally(t, &p, plan, pr, least[0], &shown[k], &refused[k])
				if t.Failed() {
					t.Fatalf("seed %d: %s", seed, searchForgeries[k].name)
				}
			}
		}
	}
	t.Logf("%d valid searches, %d branches, %d on ways", honest, branched, ways)
	for k := range searchForgeries {
		if shown[k]+refused[k] == 0 {
			t.Errorf("%s: neither rejected nor verified", searchForgeries[k].name)
		}
	}
	if shown[0] == 0 || honest < jobs/60 || branched < jobs/60 {
		t.Errorf("%d verified unchanged, %d valid ones, %d branches: this tests little", shown[0], honest, branched)
	}
}

// TestSearchesOfOtherProblems gives plans the searches of other problems, whose least cost is higher: nothing above the least cost
// is taken for shown.
func TestSearchesOfOtherProblems(t *testing.T) {
	t.Parallel()
	jobs := *listedJobs
	if testing.Short() {
		jobs = min(jobs, 144)
	}
	tried := 0
	for seed := range uint64(jobs) {
		a := int(seed) % len(features)
		p := bothAdded(a, a, seed/uint64(len(features)))
		right := solveOrNil(p)
		if right == nil || right.Proof.Kind() != optimize.ProofEnumeration {
			continue
		}
		// The same problem with a shorter piece, or cheaper sticks: the proof of
		// the more expensive one shows too much.
		for k := range 8 {
			q := p
			q.Pieces, q.Sticks = slices.Clone(p.Pieces), slices.Clone(p.Sticks)
			if i := k / 2 % max(1, len(q.Pieces)); k%2 == 0 && len(q.Pieces) > 0 {
				q.Pieces[i].Length -= q.Pieces[i].Length / 3
			} else {
				q.Sticks[k/2%len(q.Sticks)].Price /= 2
			}
			least, ok := bruteSolve(&q)
			other := solveOrNil(q)
			if !ok || other == nil {
				continue
			}
			other.Proof = right.Proof
			if d := dearer(rand.New(rand.NewPCG(seed, 97)), &q); d != nil {
				d.Proof = right.Proof
				other = d
			}
			other.Bound = min(right.Bound, other.Cost)
			if other.Proven = other.Bound == other.Cost; !other.Proven || len(other.Goals) > 0 {
				other.Stop = optimize.StopUnknown
			}
			tried++
			if a, err := optimize.Audit(context.Background(), q, other); err == nil {
				if s, _ := a.Bound(); s > least[0] {
					t.Fatalf("seed %d: %d verified by the proof of another problem, but the least cost is %d\n%s", seed, s, least[0], written(&q))
				}
			}
		}
	}
	if tried < jobs/20 {
		t.Errorf("only %d tried: this tests little", tried)
	}
}
