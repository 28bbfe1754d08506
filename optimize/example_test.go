package optimize_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"log"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// show prints a plan like a cut list.
func show(p optimize.Problem, plan *optimize.Plan) {
	for _, pat := range plan.Patterns {
		fmt.Printf("%d x %s:", pat.Count, p.Sticks[pat.Stick].Label)
		for i, pc := range pat.Pieces {
			if i > 0 {
				fmt.Print(",")
			}
			fmt.Printf(" %v", p.Pieces[pc].Length)
		}
		fmt.Printf("; offcut %v\n", pat.Offcut)
	}
}

// Baseboard for the classroom: the cheapest mix of two stick lengths, proven.
func Example() {
	p := optimize.Problem{
		Sticks: []stock.Stick{
			{Label: "8-foot base", Length: 8 * measure.Foot, Price: 1150},
			{Label: "16-foot base", Length: 16 * measure.Foot, Price: 2180},
		},
		Pieces: []stock.Piece{
			{Label: "window wall", Length: measure.MustParse(`15' 3 1/2"`)},
			{Label: "blackboard wall, each side", Length: measure.MustParse(`7' 1 1/4"`), Quantity: 2},
			{Label: "door wall", Length: measure.MustParse(`5' 10 3/8"`)},
			{Label: "chimney, each side", Length: measure.MustParse(`1' 4"`), Quantity: 2},
		},
		Kerf: measure.Inch / 8,
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		log.Fatal(err)
	}
	show(p, plan)
	fmt.Printf("$%d.%02d, proven: %v\n", plan.Cost/100, plan.Cost%100, plan.Proven)
	// Output:
	// 1 x 8-foot base: 7' 1-1/4"; offcut 10-5/8"
	// 1 x 16-foot base: 15' 3-1/2"; offcut 8-3/8"
	// 1 x 16-foot base: 1' 4", 1' 4", 5' 10-3/8", 7' 1-1/4"; offcut 3-7/8"
	// $55.10, proven: true
}

// Four pieces of two feet fill eight feet only on paper: the saw takes its
// kerf three times.
func ExampleSolve_kerf() {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Label: "8-foot shelf cleat", Length: 8 * measure.Foot, Price: 640}},
		Pieces: []stock.Piece{{Label: "cloakroom cleat", Length: 2 * measure.Foot, Quantity: 4}},
	}
	for _, kerf := range []measure.Length{0, measure.Inch / 8} {
		p.Kerf = kerf
		plan, err := optimize.Solve(context.Background(), p, nil)
		if err != nil {
			log.Fatal(err)
		}
		fmt.Printf("kerf %v: %d stick(s)\n", kerf, plan.Sticks())
		show(p, plan)
	}
	// Output:
	// kerf 0": 1 stick(s)
	// 1 x 8-foot shelf cleat: 2', 2', 2', 2'; offcut 0"
	// kerf 1/8": 2 stick(s)
	// 1 x 8-foot shelf cleat: 2'; offcut 5' 11-7/8"
	// 1 x 8-foot shelf cleat: 2', 2', 2'; offcut 1' 11-5/8"
}

// The supplier has two long sticks left. They go where they save the most.
func ExampleSolve_limited() {
	p := optimize.Problem{
		Sticks: []stock.Stick{
			{Label: "10-foot crown", Length: 10 * measure.Foot, Price: 2600},
			{Label: "16-foot crown", Length: 16 * measure.Foot, Price: 3900, Limit: 2},
		},
		Pieces: []stock.Piece{
			{Label: "stage front", Length: measure.MustParse("13ft 2in")},
			{Label: "teacher's room", Length: measure.MustParse("7ft 11in"), Quantity: 4},
		},
		Kerf: measure.Inch / 8,
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		log.Fatal(err)
	}
	show(p, plan)
	fmt.Println("cost", plan.Cost, "bound", plan.Bound)
	// Output:
	// 2 x 10-foot crown: 7' 11"; offcut 2' 7/8"
	// 1 x 16-foot crown: 13' 2"; offcut 2' 9-7/8"
	// 1 x 16-foot crown: 7' 11", 7' 11"; offcut 1-3/4"
	// cost 13000 bound 13000
}

// Offcuts on the rack are sticks without a price. Checked ends are unusable.
func ExampleSolve_rack() {
	p := optimize.Problem{
		Sticks: []stock.Stick{
			{Label: "12-foot shoe", Length: 12 * measure.Foot, Price: 980},
			{Label: "offcut A", Length: measure.MustParse("5ft 4in"), Limit: 1, TrimEnd: 2 * measure.Inch, Rack: true},
			{Label: "offcut B", Length: measure.MustParse("3ft 1in"), Limit: 1, Rack: true},
		},
		Pieces: []stock.Piece{
			{Label: "corridor", Length: measure.MustParse("9ft 6in"), Quantity: 2},
			{Label: "corridor return", Length: measure.MustParse("2ft 6in"), Quantity: 3},
		},
		Kerf: measure.Inch / 8,
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		log.Fatal(err)
	}
	show(p, plan)
	fmt.Println("cost", plan.Cost)
	// Output:
	// 2 x 12-foot shoe: 9' 6"; offcut 2' 5-7/8"
	// 1 x offcut A: 2' 6", 2' 6"; offcut 1-3/4"
	// 1 x offcut B: 2' 6"; offcut 6-7/8"
	// cost 1960
}

// Without prices the least length of stock is best, and Cost counts it.
func ExampleSolve_length() {
	p := optimize.Problem{
		Sticks: []stock.Stick{
			{Label: "8-foot", Length: 8 * measure.Foot},
			{Label: "10-foot", Length: 10 * measure.Foot},
			{Label: "14-foot", Length: 14 * measure.Foot},
		},
		Pieces: []stock.Piece{{Length: 4*measure.Foot + 6*measure.Inch, Quantity: 5}},
		Kerf:   measure.Inch / 8,
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		log.Fatal(err)
	}
	show(p, plan)
	fmt.Println(plan.ByLength, measure.Length(plan.Cost))
	// Output:
	// 1 x 10-foot: 4' 6", 4' 6"; offcut 11-3/4"
	// 1 x 14-foot: 4' 6", 4' 6", 4' 6"; offcut 5-5/8"
	// true 24'
}

// The error for an infeasible problem names its parts.
func ExampleSolve_infeasible() {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Label: "12-foot picture rail", Length: 12 * measure.Foot, Price: 1500}},
		Pieces: []stock.Piece{{Label: "classroom, long wall", Length: measure.MustParse("23ft 4in")}},
	}
	_, err := optimize.Solve(context.Background(), p, nil)
	fmt.Println(err)
	var inf *optimize.InfeasibleError
	if errors.As(err, &inf) {
		fmt.Println(p.Pieces[inf.Piece].Label, "needs", inf.Need-inf.Have, "more")
	}
	// Output:
	// optimize: pieces[0] ("classroom, long wall") is 23' 4" long, the longest usable length is 12' (sticks[0]), short by 11' 4"
	// classroom, long wall needs 11' 4" more
}

// A work limit ends the search at the same point on every machine. The plan has the largest
// possible gap.
func ExampleOptions() {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 1000, Price: 1}},
		Pieces: []stock.Piece{
			{Length: 501, Quantity: 7}, {Length: 377, Quantity: 9}, {Length: 333, Quantity: 8},
			{Length: 251, Quantity: 7}, {Length: 127, Quantity: 5}, {Length: 94, Quantity: 6},
		},
	}
	plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 1})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(plan.Stop, plan.Cost, plan.Bound, plan.Proven)
	// Output:
	// work limit 14 13 false
}

// Check trusts no plan, neither one edited by hand nor one from a file.
func ExampleCheck() {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Label: "8-foot casing", Length: 8 * measure.Foot, Price: 900}},
		Pieces: []stock.Piece{{Label: "door leg", Length: measure.MustParse("6ft 10in"), Quantity: 4}},
		Kerf:   measure.Inch / 8,
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(optimize.Check(context.Background(), p, plan))
	plan.Patterns[0].Count = 3
	fmt.Println(optimize.Check(context.Background(), p, plan))
	// Output:
	// <nil>
	// optimize: plan is wrong: patterns is 3 of pieces[0], want 4
}

// Audit reports how much of the bound rests on the proof alone.
func ExampleAudit() {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 100, Price: 1}},
		Pieces: []stock.Piece{
			{Length: 45, Quantity: 97}, {Length: 36, Quantity: 610},
			{Length: 31, Quantity: 395}, {Length: 14, Quantity: 211},
		},
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		log.Fatal(err)
	}
	a, err := optimize.Audit(context.Background(), p, plan)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(plan.Cost, plan.Proof.Kind(), a)
	// Output:
	// 453 dual bound 453 shown
}

// A plan is plain data.
func ExamplePlan() {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Label: "10-foot chair rail", Length: 10 * measure.Foot, Price: 1400}},
		Pieces: []stock.Piece{{Label: "north wall", Length: 5 * measure.Foot}, {Label: "south wall", Length: 4 * measure.Foot}},
		Kerf:   measure.Inch / 8,
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		log.Fatal(err)
	}
	b, err := json.Marshal(plan.Patterns)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(string(b))
	fmt.Println(plan.ByLength, plan.Cost, plan.Stop, plan.Proof.Kind())
	// Output:
	// [{"stick":0,"count":1,"pieces":[1,0],"offcut":"11-3/4in"}]
	// false 1400 proven material
}

// A proof can be stored: it is a version, a kind and some bytes. Without it a plan can still be
// cut and checked, but its bound has no stored evidence.
func ExampleProof() {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Label: "12-foot cap", Length: 12 * measure.Foot, Price: 1800}, {Label: "8-foot cap", Length: 8 * measure.Foot, Price: 1150}},
		Pieces: []stock.Piece{{Label: "wainscot, north", Length: 7 * measure.Foot, Quantity: 3}, {Label: "wainscot, east", Length: 4 * measure.Foot, Quantity: 4}},
		Kerf:   measure.Inch / 8,
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		log.Fatal(err)
	}
	text, err := json.Marshal(plan.Proof)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%v, %d bytes: %s\n", plan.Proof.Kind(), plan.Proof.Size(), text)
	for _, pl := range []*optimize.Plan{plan, plan.WithoutProof()} {
		report, err := optimize.Audit(context.Background(), p, pl)
		if err != nil {
			log.Fatal(err)
		}
		fmt.Println(report)
	}
	// Output:
	// tree, 25 bytes: {"version":1,"kind":"tree","data":"ZKxmAgIAAAEgAADgBQACAQAGAA4BAQAIDg=="}
	// bound 6550 shown
	// bound 0 shown of 6550 claimed: nothing stored
}

// A report says how much of a bound was verified, and on what the rest depends.
func ExampleReport() {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Label: "12-foot cap", Length: 12 * measure.Foot, Price: 1800}},
		Pieces: []stock.Piece{{Label: "stove wall", Length: 5 * measure.Foot, Quantity: 3}},
		Kerf:   measure.Inch / 8,
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		log.Fatal(err)
	}
	report, err := optimize.Audit(context.Background(), p, plan.WithoutProof())
	if err != nil {
		log.Fatal(err)
	}
	shown, complete := report.Bound()
	fmt.Println(shown, complete, report.Open())
	fmt.Println(report)
	// Output:
	// 0 false [nothing stored]
	// bound 0 shown of 3600 claimed: nothing stored
}

// The meaning of each kind of proof, as a shop would put it.
func ExampleProofKind() {
	say := func(plan *optimize.Plan) string {
		switch plan.Proof.Kind() {
		case optimize.ProofNone:
			return "nobody claims anything"
		case optimize.ProofMaterial:
			return "less stock would be too short in all"
		case optimize.ProofDual, optimize.ProofTree:
			return "a check shows it with sums alone"
		case optimize.ProofEnumeration, optimize.ProofPacking:
			return "a check lists what a cheaper plan could use and shows that it does not do"
		case optimize.ProofSearch:
			return "a search left nothing out"
		case optimize.ProofOmitted:
			return "the proof was not kept"
		}
		return "a kind from later"
	}
	p := optimize.Problem{
		Sticks: []stock.Stick{{Label: "12-foot cap", Length: 12 * measure.Foot, Price: 1800}, {Label: "8-foot cap", Length: 8 * measure.Foot, Price: 1150}},
		Pieces: []stock.Piece{{Label: "north wall", Length: 7 * measure.Foot, Quantity: 3}, {Label: "east wall", Length: 4 * measure.Foot, Quantity: 4}},
		Kerf:   measure.Inch / 8,
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(say(plan))
	fmt.Println(say(plan.WithoutProof()))
	// Output:
	// a check shows it with sums alone
	// the proof was not kept
}

// A plan from an untrusted source with a false claim: the error names the claim.
func ExampleCheckError() {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Label: "12-foot cap", Length: 12 * measure.Foot, Price: 1800}},
		Pieces: []stock.Piece{{Label: "stove wall", Length: 5 * measure.Foot, Quantity: 3}},
		Kerf:   measure.Inch / 8,
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		log.Fatal(err)
	}
	plan.Cost -= 100
	var wrong *optimize.CheckError
	if err := optimize.Check(context.Background(), p, plan); errors.As(err, &wrong) {
		fmt.Printf("%s: %s, want %s\n", wrong.Field, wrong.Value, wrong.Want)
	}
	// Output:
	// cost: 3500, want 3600
}

// A plan is stored without its proof if it is only used for cutting.
func ExamplePlan_WithoutProof() {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Label: "12-foot cap", Length: 12 * measure.Foot, Price: 1800}},
		Pieces: []stock.Piece{{Label: "stove wall", Length: 5 * measure.Foot, Quantity: 3}},
		Kerf:   measure.Inch / 8,
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		log.Fatal(err)
	}
	bare := plan.WithoutProof()
	fmt.Println(plan.Proven, bare.Proven, bare.Proof.Size(), bare.Bound)
	fmt.Println(optimize.Check(context.Background(), p, bare))
	// Output:
	// true false 0 3600
	// <nil>
}
