package optimize_test

import (
	"bytes"
	"context"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/internal/trimjob"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// kindsJob is a made-up job of n lengths.
func kindsJob(n int, seed uint64) optimize.Problem {
	chance := rand.New(rand.NewPCG(seed, uint64(n)))
	p := optimize.Problem{Kerf: measure.Inch / 8, Sticks: []stock.Stick{
		{Length: 8 * measure.Foot, Price: 1120}, {Length: 12 * measure.Foot, Price: 1697}, {Length: 16 * measure.Foot, Price: 2311},
	}}
	for i := range n {
		p.Pieces = append(p.Pieces, stock.Piece{
			Label:    fmt.Sprint("piece ", i),
			Length:   measure.Length(10+chance.IntN(150))*measure.Inch + measure.Length(chance.IntN(16))*measure.Inch/16,
			Quantity: 1 + chance.IntN(3),
		})
	}
	return p
}

// Proofs of many leaves stay short. With all values of all leaves in JSON the first three took
// 100 to 360 KB, and the house, which has two thousand leaves, more than 3 MB.
func TestProofsAreShort(t *testing.T) {
	jobs := map[string]optimize.Problem{"150 kinds, 3": kindsJob(150, 3), "150 kinds, 12": kindsJob(150, 12)}
	if !testing.Short() {
		jobs["150 kinds, 14"] = kindsJob(150, 14)
		for _, k := range trimjob.OfClass("house") {
			if k.Name == "house-14" {
				jobs[k.Name] = problem(k.Job())
			}
		}
	}
	for name, p := range jobs {
		plan, err := optimize.Solve(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		if n := len(optimize.Unseal(plan.Proof).Leaves); n < 30 || plan.Proof.Kind() != optimize.ProofTree {
			t.Errorf("%s: %d leaves, %v: this tests nothing", name, n, plan.Proof.Kind())
		}
		most := 10_000
		if name == "house-14" {
			most = 100_000
		}
		if size := plan.Proof.Size(); size > most {
			t.Errorf("%s: the proof takes %d bytes, want at most %d", name, size, most)
		}
		a, err := optimize.Audit(context.Background(), p, plan)
		if err != nil || !complete(a, plan) {
			t.Errorf("%s: %v, %v", name, a, err)
		}
	}
}

// Leaves share values, or keep their own values with few binary places, if that is enough; their
// boxes do not change.
func TestShorten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var leaves []optimize.Leaf
		for k := range rapid.IntRange(1, 20).Draw(t, "leaves") {
			l := optimize.Leaf{Lo: []int64{int64(k)}, Hi: []int64{int64(k + 1)}, Scale: rapid.SampledFrom([]int64{0, 1, 9, 1 << 40}).Draw(t, "scale"),
				Sums: rapid.Bool().Draw(t, "sums"), Spare: rapid.Int64Range(0, 1<<50).Draw(t, "spare"), Used: []int{k%3 - 1}}
			for range 3 {
				l.Values = append(l.Values, rapid.Int64Range(0, 1<<50).Draw(t, "value"))
			}
			l.Parts = []optimize.Part{{Length: 7, Value: rapid.Int64Range(0, 1<<50).Draw(t, "part")}}
			leaves = append(leaves, l)
		}
		before := slices.Clone(leaves)
		type question struct{ values, box string }
		said := map[question]bool{}
		key := func(values, l *optimize.Leaf) question {
			return question{fmt.Sprint(values.Scale, values.Spare, values.Values, values.Parts), fmt.Sprint(l.Lo)}
		}
		optimize.Shorten(leaves, func(values *optimize.Leaf) func(*optimize.Leaf) bool {
			return func(l *optimize.Leaf) bool {
				if q := key(values, l); q != key(l, l) {
					t.Fatal("called with values that are not the leaf's")
				}
				yes := rapid.IntRange(0, 3).Draw(t, "enough") == 0
				said[key(values, l)] = said[key(values, l)] || yes
				return yes
			}
		})
		for k := range leaves {
			l, was := &leaves[k], &before[k]
			if !slices.Equal(l.Lo, was.Lo) || !slices.Equal(l.Hi, was.Hi) || !slices.Equal(l.Used, was.Used) || l.Sums != was.Sums {
				t.Fatalf("leaf %d has a different box: %+v, was %+v", k, l, was)
			}
			if !reflect.DeepEqual(l, was) && !said[key(l, l)] {
				t.Fatalf("unexpected leaf %d: %+v", k, l)
			}
		}
	})
	few := []optimize.Leaf{{Lo: []int64{1}, Scale: 1 << 40, Values: []int64{3 << 39, 1}}, {Lo: []int64{2}, Scale: 1 << 40, Values: []int64{5, 6}}}
	optimize.Shorten(few, func(*optimize.Leaf) func(*optimize.Leaf) bool { return func(*optimize.Leaf) bool { return true } })
	want := []optimize.Leaf{{Lo: []int64{1}, Scale: 1 << 4, Values: []int64{3 << 3, 0}}, {Lo: []int64{2}, Scale: 1 << 4, Values: []int64{3 << 3, 0}}}
	if d := cmp.Diff(want, few); d != "" {
		t.Errorf("with everything allowed:\n%s", d)
	}
}

// A proof reads back from JSON unchanged, alone and in its plan, and is a value: it can be compared,
// and changing a copy does not affect it.
func TestProofReadsBack(t *testing.T) {
	for seed := range uint64(60) {
		plan := solveOrNil(tiny(rand.New(rand.NewPCG(seed, 41))))
		if plan == nil {
			continue
		}
		for _, pl := range []*optimize.Plan{plan, plan.WithoutProof(), {}} {
			text, err := json.Marshal(pl.Proof)
			if err != nil {
				t.Fatal(err)
			}
			var got optimize.Proof
			if err := json.Unmarshal(text, &got); err != nil || got != pl.Proof || !got.Equal(pl.Proof) {
				t.Fatalf("%s: read as %+v, %v", text, got, err)
			}
			if (pl.Proof.Size() == 0) != !strings.Contains(string(text), "data") {
				t.Errorf("%d bytes: %s", pl.Proof.Size(), text)
			}
			if err := json.Unmarshal([]byte("null"), &got); err != nil || got != pl.Proof {
				t.Errorf("null: %v, %v", got, err)
			}
			kept := got
			if err := json.Unmarshal([]byte(`{"version":1,"kind":"omitted"}`), &got); err != nil || got.Kind() != optimize.ProofOmitted || kept != pl.Proof {
				t.Errorf("%v, %v; the copy: %v", got, err, kept)
			}
		}
	}
}

// An unreadable proof is a FieldError that names the fault, and the destination is unchanged.
func TestProofJSONErrors(t *testing.T) {
	for _, c := range []struct{ text, field, value string }{
		{`{}`, "version", ""},
		{`{"kind":"none"}`, "version", ""},
		{`{"kind":"dual","unit":1,"leaves":[{"lo":[0],"hi":[3],"values":[5],"scale":8}],"leaf_bound":2}`, "version", ""}, // as before there were versions
		{`{"version":0,"kind":"none"}`, "version", "0"},
		{`{"version":2,"kind":{"of":"another form"},"data":7}`, "version", "2"},
		{`{"version":"1","kind":"none"}`, "version", `"1"`},
		{`{"version":1.0,"kind":"none"}`, "version", "1.0"},
		{`{"version":null,"kind":"none"}`, "version", "null"},
		{`{"version":1,"kind":"hearsay"}`, "kind", "hearsay"},
		{`{"version":1,"kind":7}`, "kind", "7"},
		{`{"version":1,"kind":"dual","data":7}`, "data", "7"},
		{`{"version":1,"kind":"dual","data":["AA=="]}`, "data", `["AA=="]`},
		{`{"version":1,"kind":"dual","data":"AAA"}`, "data", "AAA"},
		{`{"version":1,"kind":"dual","data":"A A A"}`, "data", "A A A"},
		{`{"version":1,"kind":"dual","data":"AA=="}`, "data", "AA=="},
		{`{"version":1,"kind":"dual","data":"AB=="}`, "data", "AB=="},
		{`{"version":1,"kind":"dual","data":"` + base64.StdEncoding.EncodeToString([]byte("\x02\x02\x00\x00\x00\x00\x00\x00\x00")) + `"}`, "data", "AgIAAAAAAAAA"},
	} {
		before := optimize.ProofOf(optimize.ProofSearch, "")
		got := before
		var fe *measure.FieldError
		if err := json.Unmarshal([]byte(c.text), &got); !errors.As(err, &fe) || fe.Field != c.field || fe.Value != c.value || fe.Want == "" {
			t.Errorf("%s: %v", c.text, err)
		}
		if got != before {
			t.Errorf("%s: changed to %v", c.text, got)
		}
		var strict struct {
			Plan optimize.Plan `json:"plan"`
		}
		err := measure.UnmarshalStrict([]byte(`{"plan":{"proof":`+c.text+`}}`), &strict)
		if !errors.As(err, &fe) || fe.Field != "plan.proof."+c.field {
			t.Errorf("%s in a plan: %v", c.text, err)
		}
	}
	for _, text := range []string{`7`, `"proof"`, `[]`} {
		var got optimize.Proof
		if err := json.Unmarshal([]byte(text), &got); err == nil {
			t.Errorf("%s is read as %+v", text, got)
		}
	}
	if text, err := json.Marshal(optimize.ProofOf(99, "")); err == nil {
		t.Errorf("an unknown kind is marshaled as %s", text)
	}
}

// Bytes that cannot come from JSON are no proof either.
func TestCheckRefusesOtherBytes(t *testing.T) {
	p := tinyBase(rand.New(rand.NewPCG(5, 5)))
	for _, most := range []int{0, 9} {
		p.Rules.MaxPieces = most
		plan := *mustSolve(t, p)
		plan.Proof = optimize.ProofOf(plan.Proof.Kind(), plan.Proof.Bytes()+"\x00")
		var ce *optimize.CheckError
		if err := optimize.Check(context.Background(), p, &plan); !errors.As(err, &ce) || ce.Field != "proof" {
			t.Errorf("most %d: %v", most, err)
		}
		if v, ok := plan.PieceValues(); ok {
			t.Errorf("most %d: values %v", most, v)
		}
	}
}

// TestForgedBytes changes bytes of proofs, with rules and without: whatever still reads as a proof is
// rejected or proves no more than the least cost.
func TestForgedBytes(t *testing.T) {
	jobs := 600
	if testing.Short() {
		jobs = 150
	}
	var unread, refused, shown int
	for seed := range uint64(jobs) {
		r := rand.New(rand.NewPCG(seed, 73))
		p := tiny(r)
		if seed%2 == 1 {
			p = bothAdded(r.IntN(len(features)), r.IntN(len(features)), seed)
		}
		least, ok := bruteSolve(&p)
		plan := solveOrNil(p)
		if !ok || plan == nil || plan.Proof.Size() == 0 {
			continue
		}
		for range 40 {
			data := []byte(plan.Proof.Bytes())
			for range 1 + r.IntN(3) {
				k := r.IntN(len(data))
				switch r.IntN(6) {
				case 0:
					data[k] ^= 1 << r.IntN(8)
				case 1:
					data[k] = byte(r.IntN(256))
				case 2:
					data = slices.Insert(data, k, binary.AppendVarint(nil, huge(r))...)
				case 3:
					if len(data) > 1 {
						data = slices.Delete(data, k, k+1)
					}
				default:
					data[k] += byte(2*r.IntN(9)) - 8
				}
			}
			text, err := json.Marshal(map[string]any{"version": 1, "kind": optimize.ProofSearch, "data": data})
			if err != nil {
				t.Fatal(err)
			}
			forged := *plan
			if err := json.Unmarshal(text, &forged.Proof); err != nil {
				unread++
				continue
			}
			for _, kind := range []optimize.ProofKind{plan.Proof.Kind(), optimize.ProofSearch} {
				forged.Proof = optimize.ProofOf(kind, forged.Proof.Bytes())
				a, err := optimize.Audit(context.Background(), p, &forged)
				var ce *optimize.CheckError
				switch {
				case errors.As(err, &ce):
					refused++
				case err != nil:
					t.Fatalf("seed %d: %v", seed, err)
				default:
					if n, complete := a.Bound(); n > least[0] || n > forged.Bound || complete != (n == forged.Bound) {
						t.Fatalf("seed %d: %v, the least cost is %d\n%s\n%s", seed, a, least[0], text, written(&p))
					}
					shown++
				}
			}
		}
	}
	if unread < jobs || refused < jobs || shown < jobs {
		t.Errorf("%d unread, %d rejected, %d verified: too few of some kind", unread, refused, shown)
	}
}

// Leaves that take two bytes each and stand for millions of numbers: Check looks at none of them, and
// does not allocate the memory that they would fill.
func TestLeavesWithoutEnd(t *testing.T) {
	for _, c := range []struct{ leaves, classes, pieces int }{{1 << 18, 16, 1}, {1 << 16, 1, 1 << 11}} {
		p := optimize.Problem{Rules: optimize.Rules{}}
		plan := &optimize.Plan{Cost: 7 * int64(c.pieces), Bound: 7 * int64(c.pieces), Proven: true}
		for k := range c.classes {
			p.Sticks = append(p.Sticks, stock.Stick{Length: measure.Length(1000 + k), Price: 7})
		}
		for k := range c.pieces {
			p.Pieces = append(p.Pieces, stock.Piece{Length: 900})
			plan.Patterns = append(plan.Patterns, optimize.Pattern{Count: 1, Pieces: []int{k}, Offcut: 100})
		}
		buys(&p, plan)
		data := binary.AppendVarint(binary.AppendVarint(nil, 7), plan.Bound)
		data = binary.AppendUvarint(binary.AppendUvarint(data, uint64(c.classes)), uint64(c.pieces))
		data = append(data, 0, 0, 1, 2, 0, 0, 2)                       // no charges, no lists, one row of scale 1, values of 1
		data = append(data, make([]byte, c.pieces-1)...)               //
		data = append(binary.AppendUvarint(data, uint64(c.leaves)), 0) // each of the first row
		for range c.classes {
			data = binary.AppendVarint(append(data, 0), int64(c.pieces)) // from none to all
		}
		data = append(data, make([]byte, 2*(c.leaves-1))...) // no change
		plan.Proof = optimize.ProofOf(optimize.ProofTree, string(data))
		for _, most := range []int{0, 9} {
			p.Rules.MaxPieces = most
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			err := optimize.Check(context.Background(), p, plan)
			runtime.ReadMemStats(&after)
			var ce *optimize.CheckError
			if !errors.As(err, &ce) || ce.Field != "proof.leaf_bound" || !strings.Contains(ce.Want, "whether the boxes of the leaves hold every count") {
				t.Errorf("%d leaves of %d classes and %d pieces: %v", c.leaves, c.classes, c.pieces, err)
			}
			if got, want := after.TotalAlloc-before.TotalAlloc, uint64(32*len(data)); got > want {
				t.Errorf("%d leaves in %d bytes take %d of memory, want at most %d", c.leaves, len(data), got, want)
			}
		}
		// Fewer of the same are a proof.
		few := slices.Clone(data[:len(data)-2*(c.leaves-1)])
		at := bytes.LastIndex(few, binary.AppendUvarint(nil, uint64(c.leaves)))
		few = slices.Replace(few, at, at+len(binary.AppendUvarint(nil, uint64(c.leaves))), 2)
		plan.Proof = optimize.ProofOf(optimize.ProofTree, string(few)+"\x00\x00")
		p.Rules.MaxPieces = 0
		if err := optimize.Check(context.Background(), p, plan); err != nil {
			t.Errorf("two leaves: %v", err)
		}
	}
}

// FuzzProof: no text of a proof does harm, and none makes Audit verify more than is true.
func FuzzProof(f *testing.F) {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 9, Price: 5}, {Length: 13, Price: 7, Limit: 2}},
		Pieces: []stock.Piece{{Length: 4, Quantity: 5}, {Length: 3, Quantity: 2}, {Length: 6}},
		Kerf:   1,
	}
	ruled := p
	ruled.Rules = optimize.Rules{MaxPieces: 3, Spare: 1, Charges: []optimize.Charge{{Supplier: "", Amount: 0}}}
	ruled.Rules.Charges = nil
	type job struct {
		p    optimize.Problem
		plan *optimize.Plan
	}
	var jobs []job
	for _, p := range []optimize.Problem{p, ruled} {
		plan, err := optimize.Solve(context.Background(), p, nil)
		if err != nil || !plan.Proven {
			f.Fatal(plan, err)
		}
		jobs = append(jobs, job{p, plan})
		text, err := json.Marshal(plan.Proof)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(text))
	}
	f.Add(`{"version":1,"kind":"omitted"}`)
	f.Add(`{"version":1,"kind":"exhausted search","data":""}`)
	f.Add(`{"version":2,"kind":"dual"}`)
	f.Add(`{"version":1,"kind":"tree","data":"AAAAAAAAAAA="}`)
	f.Fuzz(func(t *testing.T, text string) {
		var proof optimize.Proof
		if err := json.Unmarshal([]byte(text), &proof); err != nil {
			return
		}
		again, err := json.Marshal(proof)
		var back optimize.Proof
		if err == nil {
			err = json.Unmarshal(again, &back)
		}
		if err != nil || back != proof {
			t.Fatalf("%s is written as %s: %v", text, again, err)
		}
		for _, j := range jobs {
			plan := *j.plan
			plan.Proof = proof
			if a, err := optimize.Audit(context.Background(), j.p, &plan); err == nil {
				if shown, _ := a.Bound(); shown > j.plan.Cost {
					t.Fatalf("%s shows %d, the least cost is %d", text, shown, j.plan.Cost)
				}
			}
			plan.PieceValues()
		}
	})
}
