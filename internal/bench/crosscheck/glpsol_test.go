package crosscheck

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"example.com/longpoint/optimize"
)

// program writes the job as an integer program in the LP format of CPLEX: the variables are the uses of
// each full pattern of each kind of stick. It returns false if there are too many patterns.
func program(j job) (string, bool) {
	costs := j.costs()
	rows := make([]strings.Builder, len(j.pieces))
	limits := make([]strings.Builder, len(j.sticks))
	var objective, general strings.Builder
	n := 0
	for b, k := range j.sticks {
		if !j.patterns(k, 3000, func(counts []int) {
			n++
			fmt.Fprintf(&objective, " + %d x%d\n", costs[b], n)
			fmt.Fprintf(&general, " x%d\n", n)
			for i, c := range counts {
				if c > 0 {
					fmt.Fprintf(&rows[i], " + %d x%d\n", c, n)
				}
			}
			if k.limit > 0 {
				fmt.Fprintf(&limits[b], " + x%d\n", n)
			}
		}) {
			return "", false
		}
	}
	var out strings.Builder
	fmt.Fprintf(&out, "Minimize\n cost:%s\nSubject To\n", objective.String())
	for i, q := range j.pieces {
		if rows[i].Len() == 0 {
			return "", false // longer than every stick
		}
		fmt.Fprintf(&out, " piece%d:%s >= %d\n", i, rows[i].String(), q.quantity)
	}
	for b, k := range j.sticks {
		if limits[b].Len() > 0 {
			fmt.Fprintf(&out, " stick%d:%s <= %d\n", b, limits[b].String(), k.limit)
		}
	}
	fmt.Fprintf(&out, "General\n%sEnd\n", general.String())
	return out.String(), true
}

var errOpen = errors.New("not solved within the limit")

// glpsol solves a program by branch and bound, one second at most.
func glpsol(path, dir, text string) (cost int, feasible bool, err error) {
	in, out := filepath.Join(dir, "job.lp"), filepath.Join(dir, "job.sol")
	if err := os.WriteFile(in, []byte(text), 0o600); err != nil {
		return 0, false, err
	}
	log, err := exec.Command(path, "--lp", in, "--cuts", "--tmlim", "1", "-w", out).CombinedOutput()
	if err != nil {
		return 0, false, fmt.Errorf("%w\n%s", err, log)
	}
	if bytes.Contains(log, []byte("HAS NO PRIMAL FEASIBLE SOLUTION")) || bytes.Contains(log, []byte("HAS NO INTEGER FEASIBLE SOLUTION")) {
		return 0, false, nil
	}
	solution, err := os.ReadFile(out)
	if err != nil {
		return 0, false, err
	}
	// "s mip ROWS COLUMNS STATUS COST", status o for optimal.
	for line := range strings.Lines(string(solution)) {
		f := strings.Fields(line)
		if len(f) != 6 || f[0] != "s" {
			continue
		}
		switch f[4] {
		case "o":
			v, err := strconv.ParseFloat(f[5], 64)
			return int(v + 0.5), true, err
		case "n":
			return 0, false, nil
		}
		return 0, false, errOpen
	}
	return 0, false, fmt.Errorf("no status in\n%s", solution)
}

// TestGLPK compares optima of medium jobs with those of GLPK's branch and
// bound over the listed patterns.
func TestGLPK(t *testing.T) {
	path, err := exec.LookPath("glpsol")
	if err != nil {
		t.Skip("glpsol is not installed (package glpk-utils); medium jobs are not compared")
	}
	n := 200
	if testing.Short() {
		n = 20
	}
	dir := t.TempDir()
	r := rand.New(rand.NewPCG(11, 37))
	solved, none, open, pieces := 0, 0, 0, 0
	for c := 0; solved+none < n && open < n; c++ {
		j := random(r, shape{lengths: 14, quantity: 12, pieces: 90, longest: 120, sticks: 3, span: 2})
		if j.count() < 20 {
			continue
		}
		text, ok := program(j)
		if !ok {
			continue
		}
		want, feasible, err := glpsol(path, dir, text)
		if errors.Is(err, errOpen) {
			open++
			continue
		}
		if err != nil {
			t.Fatalf("case %d: %+v: %v", c, j, err)
		}
		p := j.problem()
		plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 2_000_000_000})
		if !feasible {
			none++
			if !errors.As(err, new(*optimize.InfeasibleError)) {
				t.Fatalf("case %d: %+v has no plan; got %v, error %v", c, j, plan, err)
			}
			continue
		}
		solved++
		pieces += j.count()
		if err != nil {
			t.Fatalf("case %d: %+v costs %d; got %v", c, j, want, err)
		}
		if got := planCost(plan); got != want || !plan.Proven {
			t.Fatalf("case %d: %+v costs %d; got %d, proven %t", c, j, want, got, plan.Proven)
		}
		if err := optimize.Check(context.Background(), p, plan); err != nil {
			t.Fatalf("case %d: %+v: %v", c, j, err)
		}
	}
	t.Logf("%d solved, of %d pieces on average; %d without a plan, %d left open by glpsol", solved, pieces/max(solved, 1), none, open)
	if solved < n*3/4 {
		t.Errorf("%d solved, %d without a plan, %d left open by glpsol: too little was compared", solved, none, open)
	}
}
