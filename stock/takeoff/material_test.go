package takeoff_test

import (
	"errors"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// Whatever material the base has and however it is fitted, a run is its part of the wall plus its named
// allowances, its parts are the run plus the overlap of each splice, and no part is longer than a strip
// or shorter than a tick.
func TestEveryMaterialAddsUp(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	names := []string{""}
	for _, m := range stock.GenericCatalog().Materials {
		names = append(names, m.Name)
	}
	bow := stock.UsualBow()
	rapid.Check(t, func(t *rapid.T) {
		r := walls(t, everyCorner...)
		p := &stock.Profile{
			Name: "base", Thickness: length(in/4, in).Draw(t, "thickness"), Width: length(2*in, 6*in).Draw(t, "width"),
			Material: rapid.SampledFrom(names).Draw(t, "material"), Inside: stock.InsideJoint(rapid.IntRange(0, 2).Draw(t, "inside")),
			ButtSpliced: rapid.Bool().Draw(t, "plain"), Lengths: []measure.Length{rapid.SampledFrom([]measure.Length{ft, 5 * ft, 16 * ft}).Draw(t, "sold")},
			EndTrim: length(0, in/2).Draw(t, "end trim"), MillShort: length(0, in).Draw(t, "short"),
		}
		if p.ButtSpliced {
			p.StripJoint = length(0, in/4).Draw(t, "joint")
		}
		f := measure.DegreeF
		o := &takeoff.Options{Fit: &stock.Fit{
			Bow: &bow, BetweenFinished: in / 32, InstallTemp: 60 * f, MaxTemp: rapid.SampledFrom([]measure.Temperature{60 * f, 90 * f, 40 * f}).Draw(t, "warmest"),
			Published: rapid.Bool().Draw(t, "published"), InstallMoisture: 7 * measure.Percent, MaxMoisture: 12 * measure.Percent,
		}}
		list, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: p}, o)
		if err != nil {
			known(t, err)
			return
		}
		sums, parts := map[string]measure.Length{}, map[string]int{}
		for _, q := range list.Pieces {
			if sum, err := total(q.Allowances); err != nil || sum != q.Length || q.Length <= 0 || q.Length > p.Longest() {
				t.Fatalf("%s: length %v of at most %v, allowances %v", q.Label, q.Length, p.Longest(), q.Allowances)
			}
			sums[q.Run] += q.Length
			parts[q.Run]++
		}
		for _, run := range list.Runs {
			sum, err := total(run.Allowances)
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

// Stone and tile, by material or by the joint between the strips, are butted: never coped, scarfed or
// bowed, whatever the profile says. In each square corner one of two is short by the other and, if
// there are joints, by the joint; all others are coped.
func TestStoneIsNeverCoped(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	materials := append([]stock.Material{{Name: ""}, {Name: "unlisted"}}, stock.GenericCatalog().Materials...)
	bow := stock.UsualBow()
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.SampledFrom(materials).Draw(t, "material")
		p := &stock.Profile{
			Name: "base", Material: m.Name, Thickness: length(in/4, in).Draw(t, "thickness"), Width: 4 * in,
			ButtSpliced: rapid.Bool().Draw(t, "plain"), Lengths: []measure.Length{5 * ft},
		}
		if p.ButtSpliced {
			p.StripJoint = rapid.SampledFrom([]measure.Length{0, 0, in / 16, in / 4}).Draw(t, "joint")
		}
		var o takeoff.Options
		if rapid.Bool().Draw(t, "fit") && m.Name != "unlisted" {
			o.Fit = &stock.Fit{Bow: &bow}
		}
		r := square()
		for i := range r.Walls {
			r.Walls[i].Length = length(6*ft, 20*ft).Draw(t, "wall")
		}
		list, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: p}, &o)
		if err != nil {
			var se *takeoff.SpliceError
			if m.Class.Mineral() || p.ButtSpliced || !errors.As(err, &se) {
				t.Fatal(err)
			}
			return
		}
		butted := m.Class.Mineral() || p.StripJoint > 0
		j := list.Joints
		if splices := len(list.Pieces) - 4; butted && j != (takeoff.Joints{Butts: 4 + splices}) || !butted && j.Copes != 4 {
			t.Fatalf("%q, joint %v: %+v", m.Name, p.StripJoint, j)
		}
		open := measure.Length(0)
		if p.StripJoint > 0 {
			open = max(p.StripJoint, in/8)
		}
		var lost measure.Length
		ends := map[stock.EndKind]int{}
		for i, run := range list.Runs {
			lost += r.Walls[i].Length - run.Length
			ends[run.Left.Kind]++
			ends[run.Right.Kind]++
		}
		if butted {
			if want := 4 * (p.Thickness + open); lost != want || ends[stock.EndButt] != 4 || ends[stock.EndSquare] != 4 {
				t.Fatalf("%q: runs lose %v, want %v; ends %v", m.Name, lost, want, ends)
			}
		} else if ends[stock.EndCope] != 4 || ends[stock.EndSquare] != 4 {
			t.Fatalf("%q: ends %v", m.Name, ends)
		}
		for _, q := range list.Pieces {
			if butted && (q.Left.Kind.Mitered() || q.Right.Kind.Mitered() || q.Left.Kind.Spliced() || q.Right.Kind.Spliced()) {
				t.Fatalf("%s: %v, %v", q.Label, q.Left, q.Right)
			}
		}
	})
}
