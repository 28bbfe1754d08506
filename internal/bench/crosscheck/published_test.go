package crosscheck

import (
	"context"
	"os"
	"strings"
	"testing"

	"example.com/longpoint/internal/bench/instance"
	"example.com/longpoint/internal/bench/run"
)

// builtIn returns the built-in classes by name.
func builtIn(t *testing.T) map[string]instance.Class {
	t.Helper()
	list, err := instance.BuiltIn()
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]instance.Class{}
	for _, c := range list {
		out[c.Name] = c
	}
	return out
}

// solve runs the engine with a work limit, so that the result is the same everywhere, and fails the
// test if an answer cannot be true.
func solve(t *testing.T, in *instance.Instance, work int64) run.Record {
	t.Helper()
	r := run.Instance(context.Background(), in, run.Engine, run.Limits{Work: work})
	if r.Wrong != "" {
		t.Errorf("%s: %s", in.Name, r.Wrong)
	}
	return r
}

// TestPublishedOptima solves a sample of every built-in class and compares it with the published optima
// in the files (data/README.md names their source), for trim jobs with the best known costs and bounds.
func TestPublishedOptima(t *testing.T) {
	for _, test := range []struct {
		class  string
		every  int
		work   int64
		proven int // at least
	}{
		{"falkenauer_t", 9, 500_000_000, 6},
		{"falkenauer_u", 4, 500_000_000, 12},
		{"scholl_1", 12, 500_000_000, 42},
		{"scholl_2", 20, 300_000_000, 15},
		{"scholl_3", 4, 200_000_000, 0},
		{"schwerin_1", 9, 500_000_000, 8},
		{"schwerin_2", 9, 500_000_000, 8},
		{"waescher", 4, 500_000_000, 3},
		{"hard28", 9, 400_000_000, 1},
		{"room", 1, 500_000_000, 30},
		{"house", 5, 300_000_000, 1},
		{"tract", 3, 100_000_000, 0},
	} {
		t.Run(test.class, func(t *testing.T) {
			c := builtIn(t)[test.class].Every(test.every)
			if testing.Short() {
				c = c.Every(3)
			}
			proven := 0
			for _, in := range c.Instances {
				r := solve(t, in, test.work)
				if r.Proven {
					proven++
					if in.Lower == in.Upper && r.Cost != in.Upper {
						t.Errorf("%s: cost %d, published %d", in.Name, r.Cost, in.Upper)
					}
				}
			}
			t.Logf("%d of %d proven", proven, len(c.Instances))
			if !testing.Short() && proven < test.proven {
				t.Errorf("%d proven, want %d", proven, test.proven)
			}
		})
	}
}

// TestTriplets: every bin of Falkenauer's triplets holds exactly three items,
// so the optimum is a third of their number.
func TestTriplets(t *testing.T) {
	seen := map[int64]int{}
	for _, in := range builtIn(t)["falkenauer_t"].Instances {
		n := in.Count()
		seen[n]++
		if in.Lower != n/3 || in.Upper != n/3 || n%3 != 0 {
			t.Errorf("%s: %d items, optimum %d to %d", in.Name, n, in.Lower, in.Upper)
		}
		if seen[n] == 1 {
			if r := solve(t, in, 2_000_000_000); r.Proven && r.Cost != n/3 {
				t.Errorf("%s: cost %d, want %d", in.Name, r.Cost, n/3)
			}
		}
	}
	for _, n := range []int64{60, 120, 249, 501} {
		if seen[n] == 0 {
			t.Errorf("no triplets of %d items", n)
		}
	}
}

// Optima of Hard28: F. D. A. Brandao, Bin packing and related problems: pattern-based approaches, MSc
// thesis, University of Porto 2012, table 3.9. If gap is set, the relaxation rounded up is one bin
// less.
var hard28 = []struct {
	name string
	bins int64
	gap  bool
}{
	{"13", 67, false}, {"14", 62, true}, {"40", 59, false}, {"47", 71, false}, {"60", 63, false},
	{"119", 77, true}, {"144", 73, false}, {"175", 84, true}, {"178", 80, false}, {"181", 72, false},
	{"195", 64, false}, {"359", 76, true}, {"360", 62, false}, {"419", 80, false}, {"485", 71, false},
	{"531", 83, false}, {"561", 72, false}, {"640", 74, false}, {"645", 58, false}, {"709", 67, false},
	{"716", 76, true}, {"742", 64, false}, {"766", 62, false}, {"781", 71, false}, {"785", 68, false},
	{"814", 81, false}, {"832", 60, false}, {"900", 75, false},
}

func TestHard28(t *testing.T) {
	have := map[string]*instance.Instance{}
	for _, in := range builtIn(t)["hard28"].Instances {
		have[strings.TrimPrefix(in.Name, "Hard28_BPP")] = in
	}
	total := len(have)
	found, gaps := 0, 0
	for _, h := range hard28 {
		in := have[h.name]
		if in == nil {
			continue
		}
		found++
		if in.Lower != h.bins || in.Upper != h.bins {
			t.Errorf("%s: the file says %d to %d, the table %d", in.Name, in.Lower, in.Upper, h.bins)
		}
		if h.gap {
			gaps++
		}
		// At the root the leaves prove the relaxation: a little work suffices for it, and leaves a gap
		// if there is one.
		r := solve(t, in, 30_000_000)
		want := h.bins
		if h.gap {
			want--
		}
		if r.Bound != want && !r.Proven {
			t.Errorf("%s: bound %d, want %d", in.Name, r.Bound, want)
		}
	}
	if found != total || gaps == 0 {
		t.Errorf("%d of %d instances are in the table, %d with a gap", found, total, gaps)
	}
}

// TestDemandsInMillions: demands a million times larger take no more work (Brandao's thesis, table 3.5,
// states this for pattern-based methods).
func TestDemandsInMillions(t *testing.T) {
	const million = 1_000_000
	c := builtIn(t)
	for _, in := range append(c["falkenauer_u"].Every(9).Instances, c["schwerin_1"].Every(24).Instances...) {
		big := *in
		big.Lower, big.Upper = 0, in.Upper*million
		big.Pieces = nil
		for _, e := range in.Pieces {
			big.Pieces = append(big.Pieces, instance.Entry{Length: e.Length, Demand: e.Demand * million})
		}
		small := solve(t, in, 1_000_000_000)
		large := solve(t, &big, 1_000_000_000)
		if !small.Proven || !large.Proven || large.Work > 2*small.Work {
			t.Errorf("%s: proven %t in %d steps; in millions %t in %d", in.Name, small.Proven, small.Work, large.Proven, large.Work)
		}
	}
}

// TestGapClasses tests two classes that may not be redistributed, if they are available: AI has a plan
// without waste, and ANI has none of the size to which its relaxation rounds up (M. Delorme, M. Iori,
// S. Martello, Bin packing and cutting stock problems: mathematical models and exact algorithms, Eur.
// J. Oper. Res. 255 (2016) 1-20, for the classes; the fact for all solved ones from the result files of
// R. da Silva and R. Schouery, INFORMS J. Computing 2023.0399).
func TestGapClasses(t *testing.T) {
	dir := os.Getenv("LONGPOINT_BENCH")
	if dir == "" {
		t.Skip("LONGPOINT_BENCH is not set")
	}
	classes, err := instance.Dir(os.DirFS(dir))
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, c := range classes {
		if c.Name != "ai_201" && c.Name != "ani_201" {
			continue
		}
		for _, in := range c.Every(12).Instances {
			seen++
			var total int64
			for _, e := range in.Pieces {
				total += e.Length * e.Demand
			}
			material := (total + in.Longest() - 1) / in.Longest()
			want := material
			if c.Name == "ani_201" {
				want++
			}
			if r := solve(t, in, 500_000_000); r.Proven && r.Cost != want {
				t.Errorf("%s: cost %d, want %d", in.Name, r.Cost, want)
			}
		}
	}
	if seen == 0 {
		t.Error("no AI or ANI class in the directory")
	}
}
