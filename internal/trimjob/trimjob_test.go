package trimjob_test

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/longpoint/internal/trimjob"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// Written by the program that this package descends from: a change here means
// that every number ever measured on these jobs is of other jobs.
//
//go:embed testdata/golden.txt
var golden string

type summary struct {
	SHA256                                            string
	Pieces, Lengths, Sticks, Limited, Offcuts, LB, FF int64
}

func goldens(t *testing.T) map[string]summary {
	t.Helper()
	out := map[string]summary{}
	for line := range strings.Lines(golden) {
		if strings.HasPrefix(line, "#") {
			continue
		}
		var name string
		var s summary
		if _, err := fmt.Sscan(line, &name, &s.SHA256, &s.Pieces, &s.Lengths, &s.Sticks, &s.Limited, &s.Offcuts, &s.LB, &s.FF); err != nil {
			t.Fatalf("golden line %q: %v", line, err)
		}
		out[name] = s
	}
	return out
}

func TestSetIsTheSameForEver(t *testing.T) {
	want := goldens(t)
	set := trimjob.Set()
	if len(set) != 53 || len(want) != 53 {
		t.Fatalf("%d jobs, %d goldens, want 53 of each", len(set), len(want))
	}
	for _, k := range set {
		if k.Class == trimjob.Tract && testing.Short() {
			continue
		}
		t.Run(k.Name, func(t *testing.T) {
			j := k.Job()
			sum := sha256.Sum256(j.Encode())
			got := summary{SHA256: hex.EncodeToString(sum[:]), Pieces: j.Count(), Lengths: int64(len(j.Pieces)), Sticks: int64(len(j.Stock)), LB: j.MaterialBound()}
			for _, s := range j.Stock {
				if s.Supply != trimjob.Unlimited {
					got.Limited++
				}
			}
			for _, s := range j.Offcuts {
				got.Offcuts += s.Supply
			}
			var ok bool
			if got.FF, ok = j.FirstFit(); !ok {
				t.Error("first fit finds no plan")
			}
			if d := cmp.Diff(want[k.Name], got); d != "" {
				t.Errorf("-want +got:\n%s", d)
			}
			// A general solver's bound can be weaker than the material bound.
			if k.Best > 0 && (k.Bound > k.Best || got.LB > k.Best || k.Best > got.FF) {
				t.Errorf("want bound %d and material bound %d <= best %d <= first fit %d", k.Bound, got.LB, k.Best, got.FF)
			}
		})
	}
}

func TestClassesKeepTheirRanges(t *testing.T) {
	limits := map[string]struct{ pieces, lengths [2]int64 }{
		trimjob.Room:   {[2]int64{10, 25}, [2]int64{5, 25}},
		trimjob.House:  {[2]int64{150, 400}, [2]int64{40, 120}},
		trimjob.Retail: {[2]int64{13, 95}, [2]int64{10, 40}},
	}
	rapid.Check(t, func(t *rapid.T) {
		class := rapid.SampledFrom([]string{trimjob.Room, trimjob.House, trimjob.Retail}).Draw(t, "class")
		j, err := trimjob.Generate(class, rapid.Uint64().Draw(t, "seed"), "x")
		if err != nil {
			t.Fatal(err)
		}
		if err := j.Validate(); err != nil {
			t.Error(err)
		}
		lim := limits[class]
		if n := j.Count(); n < lim.pieces[0] || n > lim.pieces[1] {
			t.Errorf("%d pieces", n)
		}
		if n := int64(len(j.Pieces)); n < lim.lengths[0] || n > lim.lengths[1] {
			t.Errorf("%d lengths", n)
		}
		for i := 1; i < len(j.Pieces); i++ {
			if j.Pieces[i].Length >= j.Pieces[i-1].Length {
				t.Errorf("length %d follows %d", j.Pieces[i].Length, j.Pieces[i-1].Length)
			}
		}
		if c, ok := j.FirstFit(); !ok || c < j.MaterialBound() {
			t.Errorf("first fit %d, %v; material bound %d", c, ok, j.MaterialBound())
		}
	})
}

func TestDecodeReadsWhatEncodeWrites(t *testing.T) {
	for _, k := range trimjob.OfClass(trimjob.House) {
		j := k.Job()
		got, err := trimjob.Decode(bytes.NewReader(j.Encode()))
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(j, got); d != "" {
			t.Errorf("%s: -want +got:\n%s", k.Name, d)
		}
	}
}

func TestDecodeErrors(t *testing.T) {
	const head = `"unit":"1/16 in","currency":"cents",`
	for _, c := range []struct{ name, in, want string }{
		{"empty", ``, "EOF"},
		{"unknown field", `{"blade":1}`, "blade"},
		{"trailing", `{` + head + `"kerf":2} {}`, "more follows"},
		{"unit", `{"unit":"mm"}`, "unit is mm"},
		{"currency", `{"unit":"1/16 in","currency":"dollars"}`, "currency is dollars"},
		{"kerf", `{` + head + `"kerf":-1}`, "kerf is -1"},
		{"huge", `{` + head + `"kerf":9223372036854775808}`, "kerf"},
		{"length", `{` + head + `"stock":[{"length":0}]}`, "stock[0].length is 0"},
		{"price", `{` + head + `"stock":[{"length":1,"price":-3}]}`, "stock[0].price is -3"},
		{"supply", `{` + head + `"offcuts":[{"length":1,"supply":-2}]}`, "offcuts[0].supply is -2"},
		{"piece", `{` + head + `"pieces":[{"length":4294967296,"demand":1}]}`, "pieces[0].length is 4294967296"},
		{"demand", `{` + head + `"pieces":[{"length":1,"demand":0}]}`, "pieces[0].demand is 0"},
	} {
		if _, err := trimjob.Decode(strings.NewReader(c.in)); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want one with %q", c.name, err, c.want)
		}
	}
	if _, err := trimjob.Generate("castle", 1, "x"); err == nil || !strings.Contains(err.Error(), "castle") {
		t.Errorf("class castle: error %v", err)
	}
}

func TestNounsOfStock(t *testing.T) {
	j := trimjob.Job{
		Kerf:    2,
		Stock:   []trimjob.Source{{Length: 1536, Price: 700, Supply: trimjob.Unlimited}, {Length: 1920, Price: 900, Supply: 0}, {Length: 2304, Price: 1100, Supply: 3}},
		Offcuts: []trimjob.Source{{Length: 400, Supply: 2}},
		Pieces:  []trimjob.Want{{Length: 1357, Demand: 4}},
	}
	wantSticks := []stock.Stick{
		{Length: 8 * measure.Foot, Price: 700},
		{Length: 12 * measure.Foot, Price: 1100, Limit: 3},
		{Length: 25 * measure.Inch, Limit: 2, Rack: true},
	}
	if d := cmp.Diff(wantSticks, j.Sticks()); d != "" {
		t.Errorf("sticks: -want +got:\n%s", d)
	}
	wantPieces := []stock.Piece{{Length: 84*measure.Inch + 13*measure.Inch/16, Quantity: 4}}
	if d := cmp.Diff(wantPieces, j.Wanted()); d != "" {
		t.Errorf("pieces: -want +got:\n%s", d)
	}
	if got, want := j.SawKerf(), measure.Inch/8; got != want {
		t.Errorf("kerf %d, want %d", got, want)
	}
}
