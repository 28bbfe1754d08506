package main

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"net/http"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
	"github.com/google/go-cmp/cmp"
)

// someJob is a job of n lengths from a seed.
func someJob(t *testing.T, n int, seed uint64) string {
	t.Helper()
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
	text, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// An answer is about as long as the job and its cuts. The proof comes on request only,
// and takes nothing but itself along.
func TestProofOnRequest(t *testing.T) {
	l := usual
	l.work, l.deadline = 300_000_000, 10*patience
	server := serve(t, newService(l, quiet()))
	longest := 0
	sizes := []int{1, 5, 20, 60, 150}
	if testing.Short() {
		sizes = []int{1, 5, 150}
	}
	for _, n := range sizes {
		for seed := range uint64(2) {
			job := someJob(t, n, seed)
			read := func(query string) (optimize.Problem, *optimize.Plan, int) {
				r, text := send(t, server.URL+"/plan"+query, job)
				if r.StatusCode != http.StatusOK {
					t.Fatalf("%s: %s", r.Status, text)
				}
				p, plan, _, err := cutsheet.ReadJSON(strings.NewReader(text))
				if err != nil {
					t.Fatal(err)
				}
				if err := optimize.Check(context.Background(), p, plan); err != nil {
					t.Fatal(err)
				}
				return p, plan, len(text)
			}
			p, bare, size := read("")
			_, full, whole := read("?proof=full")
			if n <= 20 {
				_, none, _ := read("?proof=none")
				if d := cmp.Diff(bare, none); d != "" {
					t.Errorf("with proof=none it differs:\n%s", d)
				}
			}
			if d := cmp.Diff(bare, full.WithoutProof()); d != "" {
				t.Errorf("without its proof the plan differs:\n%s", d)
			}
			if limit := 1000 + 4*len(job); size > limit || bare.Proof.Kind() != optimize.ProofOmitted {
				t.Errorf("%d bytes are answered with %d, want at most %d; proof %v", len(job), size, limit, bare.Proof.Kind())
			}
			a, err := optimize.Audit(context.Background(), p, full)
			if err != nil {
				t.Fatal(err)
			}
			if shown, _ := a.Bound(); shown == 0 || full.Proof.Kind() == optimize.ProofOmitted {
				t.Errorf("the full answer shows nothing: %v", a)
			}
			if whole-size < full.Proof.Size() {
				t.Errorf("the answer with a proof of %d bytes takes %d, without %d", full.Proof.Size(), whole, size)
			}
			longest = max(longest, full.Proof.Size())
		}
	}
	if longest < 800 {
		t.Errorf("the longest proof takes %d bytes: these jobs test nothing", longest)
	}
}
