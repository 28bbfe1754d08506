package optimize_test

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"math/rand/v2"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/internal/trimjob"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/brute"
)

var (
	pythonPlans = flag.Int("pythonplans", 150, "plans of random problems for TestPythonChecker")
	pythonFrom  = flag.Uint64("pythonfrom", 0, "the first seed of TestPythonChecker")
)

// A question is a problem and a plan for the checker in internal/secondcheck.
type question struct {
	seed    uint64
	what    string // name of the change that makes the plan false; empty if it is right
	problem *optimize.Problem
	plan    *optimize.Plan
	doc     []byte
	shown   int64    // the bound that Audit shows
	open    []string // the claims that Audit reports as open
	least   []int64  // the best value of each goal, the cost first, by brute force; nil if it is not known
}

// An answer is the result of that checker for one document.
type answer struct {
	Accepted bool     `json:"accepted"`
	Why      string   `json:"why"`
	Shown    int64    `json:"shown"`
	Open     []string `json:"open"`
}

// sheetJSON returns a problem and a plan in the form of cutsheet.Sheet.WriteJSON, also if no sheet shows that
// plan. It returns nil for a plan without a form in JSON.
func sheetJSON(t *testing.T, p *optimize.Problem, plan *optimize.Plan) []byte {
	t.Helper()
	written, err := json.Marshal(plan)
	if err != nil {
		return nil
	}
	doc, err := json.Marshal(map[string]any{"format": "longpoint cut sheet", "version": 3, "problem": p, "plan": json.RawMessage(written)})
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// pythonPath returns the path of Python 3: LONGPOINT_PYTHON if it is set. Without Python the test is skipped.
func pythonPath(t *testing.T) string {
	t.Helper()
	if path := os.Getenv("LONGPOINT_PYTHON"); path != "" {
		return path
	}
	path, err := exec.LookPath("python3")
	if err != nil {
		t.Skip("skipped: internal/secondcheck is written in Python 3, and python3 is not installed")
	}
	return path
}

// answers runs the checker once for all questions.
func answers(t *testing.T, python string, questions []question) []answer {
	t.Helper()
	var in, stderr bytes.Buffer
	for k := range questions {
		in.Write(questions[k].doc)
		in.WriteByte('\n')
	}
	cmd := exec.Command(python, "-B", "../internal/secondcheck/check.py")
	cmd.Stdin, cmd.Stderr = &in, &stderr
	out, err := cmd.Output()
	if err != nil && !errors.As(err, new(*exec.ExitError)) || stderr.Len() > 0 {
		t.Fatalf("%v\n%s", err, stderr.Bytes())
	}
	var all []answer
	for lines := bufio.NewScanner(bytes.NewReader(out)); lines.Scan(); {
		var a answer
		if err := json.Unmarshal(lines.Bytes(), &a); err != nil {
			t.Fatalf("%v: %s", err, lines.Bytes())
		}
		all = append(all, a)
	}
	if len(all) != len(questions) {
		t.Fatalf("%d answers to %d questions", len(all), len(questions))
	}
	return all
}

// A quiz collects questions.
type quiz struct {
	t     *testing.T
	all   []question
	kinds map[string]int // right plans by the features of their problems and proofs
}

// right asks about a plan that Audit accepts.
func (q *quiz) right(seed uint64, p *optimize.Problem, plan *optimize.Plan, least []int64) {
	q.t.Helper()
	report, err := optimize.Audit(context.Background(), *p, plan)
	if err != nil {
		q.t.Fatalf("seed %d: %v\n%s", seed, err, written(p))
	}
	shown, _ := report.Bound()
	q.all = append(q.all, question{seed, "", p, plan, sheetJSON(q.t, p, plan), shown, report.Open(), least})
	q.kinds[plan.Proof.Kind().String()]++
	for k := range plan.Goals {
		if plan.Goals[k].Proof != (optimize.Proof{}) {
			q.kinds["goal by "+plan.Goals[k].Proof.Kind().String()]++
		}
	}
	for name, has := range rulesIn(p) {
		if has {
			q.kinds[name]++
		}
	}
}

// rulesIn names the features of a problem.
func rulesIn(p *optimize.Problem) map[string]bool {
	r := &p.Rules
	in := map[string]bool{
		"without rules": optimize.Plain(p), "runs": len(p.Runs) > 0, "max_pieces": r.MaxPieces > 0, "min_hold": r.MinHold > 0,
		"nest": r.Nest, "max_transport": r.MaxTransport > 0, "charges": len(r.Charges) > 0, "spare": r.Spare > 0,
		"goals": len(r.Goals) > 0, "offcut_values": len(r.OffcutValues) > 0,
	}
	for _, g := range r.Groups {
		in[g.Kind.String()] = true
	}
	for i := range p.Sticks {
		s := &p.Sticks[i]
		in["defects"] = in["defects"] || len(s.Defects) > 0
		in["bundles"] = in["bundles"] || s.Bundle > 1 || s.Minimum > 1
		in["breaks"] = in["breaks"] || len(s.Breaks) > 0
		in["rack"] = in["rack"] || s.Rack
	}
	for i := range p.Pieces {
		in["grades"] = in["grades"] || p.Pieces[i].Grade != 0
	}
	return in
}

// mutants asks about false plans: every third kind of those of TestMutants.
func (q *quiz) mutants(seed uint64, p *optimize.Problem, right *optimize.Plan) {
	for k := int(seed % 3); k < len(mutants); k += 3 {
		plan := clone(q.t, right)
		if mutants[k].make(rand.New(rand.NewPCG(seed, uint64(k))), p, plan) {
			if doc := sheetJSON(q.t, p, plan); doc != nil {
				q.all = append(q.all, question{seed: seed, what: mutants[k].name, problem: p, plan: plan, doc: doc})
			}
		}
	}
}

// forged asks about plans whose proofs were changed. Some changes leave a proof right, so the
// question is whether it shows anything that brute force refutes.
func (q *quiz) forged(seed uint64, p *optimize.Problem, right *optimize.Plan, least []int64) {
	r := rand.New(rand.NewPCG(seed, 91))
	plans := []*optimize.Plan{right}
	if d := dearer(r, p); d != nil && d.Cost > least[0] {
		plans = append(plans, d)
	}
	for _, plan := range plans {
		for range 2 {
			pr := optimize.Unseal(right.Proof)
			what := ""
			if pr.Beyond != nil && len(pr.Beyond.Searches) > 0 && r.IntN(2) == 0 {
				f := &searchForgeries[r.IntN(len(searchForgeries))]
				f.make(r, p, pr, insideOf(pr))
				what = f.name
			} else if f := &forgeries[r.IntN(len(forgeries))]; len(pr.Leaves) > 0 {
				f.make(r, p, pr)
				what = f.name
			}
			for _, bound := range []int64{least[0], least[0] + 1, plan.Cost} {
				if bound > plan.Cost || what == "" {
					continue
				}
				pr.LeafBound = bound
				if proof, err := pr.Sealed(); err == nil {
					q.ask(seed, what, p, withCost(plan, bound, proof), least)
				}
			}
		}
	}
	for k := 1; k < len(right.Goals) && k < len(least) && right.Goals[k-1].Value == least[k-1]; k++ {
		better := least[k] - 1
		if moreIsBetter(right.Goals[k].Goal) {
			better = least[k] + 1
		}
		for _, bound := range []int64{least[k], better} {
			pr := optimize.Unseal(right.Goals[k].Proof)
			if len(pr.Leaves) == 0 {
				break
			}
			f := &forgeries[r.IntN(len(forgeries))]
			f.make(r, p, pr)
			pr.LeafBound = bound
			if proof, err := pr.Sealed(); err == nil {
				q.ask(seed, f.name, p, withGoal(right, k, bound, proof), least)
			}
		}
	}
}

func (q *quiz) ask(seed uint64, what string, p *optimize.Problem, plan *optimize.Plan, least []int64) {
	q.all = append(q.all, question{seed: seed, what: what, problem: p, plan: plan, doc: sheetJSON(q.t, p, plan), least: least})
}

// withCost returns a plan with another bound on its cost, and no proof for other goals.
func withCost(plan *optimize.Plan, bound int64, proof optimize.Proof) *optimize.Plan {
	pl := *plan
	pl.Bound, pl.Proof, pl.Proven, pl.Stop = bound, proof, bound == plan.Cost, optimize.StopUnknown
	pl.Goals = slices.Clone(plan.Goals)
	sound := true
	for k := range pl.Goals {
		g := &pl.Goals[k]
		g.Proof = optimize.Proof{}
		if k == 0 {
			g.Bound = bound
		}
		sound = sound && g.Value == g.Bound
		g.Proven = sound
	}
	return &pl
}

// fault describes the fault of an answer; it is empty if there is none.
func (q *question) fault(a *answer) string {
	switch {
	case q.what == "" && !a.Accepted:
		return "refuses a right plan: " + a.Why
	case q.what == "" && a.Shown < q.shown && q.plan.Proof.Kind() == optimize.ProofEnumeration && slices.Contains(a.Open, "beyond this program"):
		return "" // a search of a problem with rules that takes too long, or in which ends nest
	case q.what == "" && a.Shown != q.shown:
		return "shows another bound"
	case q.what == "" && !slices.Equal(openGoals(q.open, q.plan), openGoals(a.Open, q.plan)):
		return "leaves other goals open"
	case q.what != "" && a.Accepted && q.least == nil:
		return "accepts a false plan"
	case q.least == nil || !a.Accepted:
		return ""
	case a.Shown > q.least[0]:
		return "shows a bound above the least cost"
	}
	for k := 1; k < len(q.plan.Goals) && k < len(q.least) && q.plan.Goals[k-1].Value == q.least[k-1]; k++ {
		g := &q.plan.Goals[k]
		if slices.Contains(a.Open, g.Goal.String()) {
			continue
		}
		if moreIsBetter(g.Goal) && g.Bound < q.least[k] || !moreIsBetter(g.Goal) && g.Bound > q.least[k] {
			return "shows a bound of a goal that a plan passes"
		}
	}
	return ""
}

// openGoals returns the goals after the cost whose bounds are said to be open, without GoalPatterns, of
// whose bound the checker in Python knows nothing.
func openGoals(open []string, plan *optimize.Plan) (goals []string) {
	for k := range plan.Goals {
		name := plan.Goals[k].Goal.String()
		if k > 0 && plan.Goals[k].Goal != optimize.GoalPatterns && slices.ContainsFunc(open, func(s string) bool { return strings.HasSuffix(s, name) }) {
			goals = append(goals, name)
		}
	}
	return goals
}

// TestPythonChecker compares Check with a checker in another language that was written from the documentation
// alone, on plans of all kinds. That checker accepts what Check accepts and shows the same bound; it
// refuses false plans, and of forged proofs it takes none for a bound that brute force refutes.
//
// The whole of it, as .ci/run does it: go test -run TestPythonChecker ./optimize -pythonplans 1000
func TestPythonChecker(t *testing.T) {
	most := *pythonPlans
	if testing.Short() {
		most = min(most, 40)
	}
	python := pythonPath(t)
	q := &quiz{t: t, kinds: map[string]int{}}
	for seed, plans := *pythonFrom, 0; plans < most; seed++ {
		r := rand.New(rand.NewPCG(seed, 89))
		var p optimize.Problem
		switch seed % 10 {
		case 0:
			p = brute.Job(rand.New(rand.NewPCG(seed, 5)))
		case 1, 2:
			p = perfect(r)
		case 3:
			p = tiny(r)
		default:
			p = mixed(seed)
		}
		right := solveOrNil(p)
		if right == nil {
			continue
		}
		plans++
		if optimize.Plain(&p) && right.Proven && r.IntN(2) == 0 {
			if other := searchedInstead(t, r, &p, right); optimize.Check(context.Background(), p, other) == nil {
				right = other
			}
		}
		least, _ := bruteSolve(&p)
		q.right(seed, &p, right, least)
		q.mutants(seed, &p, right)
		if least != nil {
			q.forged(seed, &p, right, least)
		}
	}
	if *pythonFrom == 0 && !testing.Short() {
		houses := trimjob.OfClass("house")
		for k, j := range slices.Concat(trimjob.OfClass("room"), houses[1:2], houses[8:9]) {
			p := problem(j.Job())
			q.right(uint64(k), &p, solveOrNil(p), nil)
		}
		for seed := range uint64(5) {
			r := rand.New(rand.NewPCG(seed, 97))
			pieces, stick := hidden(r, 2+int(seed))
			p := packed(pieces, stick, 1, measure.Length(r.IntN(3)))
			q.right(seed, &p, solveOrNil(p), nil)
		}
	}
	wrong := 0
	for k, a := range answers(t, python, q.all) {
		asked := &q.all[k]
		if asked.what == "" && asked.plan.Proof.Kind() == optimize.ProofEnumeration && !optimize.Plain(asked.problem) {
			q.kinds["enumeration with rules"]++
			if a.Shown < asked.shown {
				q.kinds["enumeration with rules, not verified"]++
			}
		}
		if fault := asked.fault(&a); fault != "" {
			t.Errorf("seed %d, %q: the checker in Python %s\n%+v, want %d %q, the best is %d\n%s",
				asked.seed, asked.what, fault, a, asked.shown, asked.open, asked.least, asked.doc)
			if wrong++; wrong == 10 {
				break
			}
		}
	}
	t.Logf("%d questions, right plans: %v", len(q.all), q.kinds)
	for _, kind := range []string{"material", "dual", "tree", "enumeration", "enumeration with rules", "packing", "goal by dual", "goal by tree"} {
		if most >= 1000 && q.kinds[kind] == 0 {
			t.Errorf("no plan with a proof of kind %s", kind)
		}
	}
}
