package takeoff_test

import (
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
	"pgregory.net/rapid"
)

// Whatever the base is of and however it is fitted, a run is its part of the wall plus its
// named allowances, its parts are the run plus what each splice adds, and no part is longer
// than a strip or shorter than a tick.
func TestEveryMaterialAddsUp(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	names := []string{""}
	for _, m := range stock.Generic().Materials {
		names = append(names, m.Name)
	}
	spring := stock.UsualSpring()
	rapid.Check(t, func(t *rapid.T) {
		r := walls(t, everyCorner...)
		p := &stock.Profile{
			Name: "base", Thickness: length(in/4, in).Draw(t, "thickness"), Width: length(2*in, 6*in).Draw(t, "width"),
			Material: rapid.SampledFrom(names).Draw(t, "material"), Inside: stock.Inside(rapid.IntRange(0, 2).Draw(t, "inside")),
			Plain: rapid.Bool().Draw(t, "plain"), Lengths: []measure.Length{rapid.SampledFrom([]measure.Length{ft, 5 * ft, 16 * ft}).Draw(t, "sold")},
			EndTrim: length(0, in/2).Draw(t, "end trim"), Short: length(0, in).Draw(t, "short"),
		}
		if p.Plain {
			p.Joint = length(0, in/4).Draw(t, "joint")
		}
		f := stock.DegreeF
		o := &takeoff.Options{Fit: &stock.Fit{
			Spring: &spring, Between: in / 32, Laid: 60 * f, Warmest: rapid.SampledFrom([]stock.Temperature{60 * f, 90 * f, 40 * f}).Draw(t, "warmest"),
			Published: rapid.Bool().Draw(t, "published"), LaidAt: 7 * stock.Percent, Dampest: 12 * stock.Percent,
		}}
		list, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: p}, o)
		if err != nil {
			known(t, err)
			return
		}
		sums, parts := map[string]measure.Length{}, map[string]int{}
		for _, q := range list.Pieces {
			if sum, err := stock.SumAllowances(q.Allowances); err != nil || sum != q.Length || q.Length <= 0 || q.Length > p.Longest() {
				t.Fatalf("%s: length %v of at most %v, allowances %v", q.Label, q.Length, p.Longest(), q.Allowances)
			}
			sums[q.Run] += q.Length
			parts[q.Run]++
		}
		for _, run := range list.Runs {
			sum, err := stock.SumAllowances(run.Allowances)
			if err != nil || sum != run.Length {
				t.Fatalf("%s: %v, allowances %v", run.Label, run.Length, run.Allowances)
			}
			if want := run.Length + measure.Length(len(run.Splices))*run.Splice.Overlap; sums[run.Label] != want || parts[run.Label] != len(run.Splices)+1 {
				t.Fatalf("%s: parts sum to %v, want %v", run.Label, sums[run.Label], want)
			}
			// The run's own rule gives these very pieces.
			if ps, err := run.Pieces(run.Splices); err != nil || len(ps) != parts[run.Label] {
				t.Fatalf("%s: %v, %v", run.Label, ps, err)
			}
		}
	})
}
