package cutsheet_test

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"sync"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// The jobs of these tests come from one house: a one-room schoolhouse of the
// 1920s that becomes a community workshop.

func ft(feet, inches, sixteenths measure.Length) measure.Length {
	return feet*measure.Foot + inches*measure.Inch + sixteenths*measure.Inch/16
}

func end(k stock.EndKind, degrees measure.Angle) stock.End {
	return stock.End{Kind: k, Angle: degrees * measure.Degree}
}

// base is the baseboard of the classroom, the cloakroom and the corridor, with
// every kind of end that base has, and sticks off the rack.
func base() (optimize.Problem, *cutsheet.Options) {
	square, cope := stock.End{}, end(stock.EndCope, 0)
	piece := func(label string, l measure.Length, left, right stock.End) stock.Piece {
		return stock.Piece{Label: label, Length: l, Profile: "primed pine base", Left: left, Right: right}
	}
	p := optimize.Problem{
		Kerf: measure.Inch / 8,
		Sticks: []stock.Stick{
			{Label: "pine 12", Length: ft(12, 0, 0), Price: 1908, TrimStart: measure.Inch / 2, TrimEnd: measure.Inch / 2},
			{Label: "pine 16", Length: ft(16, 0, 0), Price: 2608, TrimStart: measure.Inch / 2, TrimEnd: measure.Inch / 2},
			{Label: "from the porch", Length: ft(6, 2, 8), Limit: 1, Rack: true},
			{Label: "rack 2", Length: ft(3, 5, 6), Limit: 2, Rack: true},
		},
		Pieces: []stock.Piece{
			piece("classroom N left", ft(12, 1, 6), square, square),
			piece("classroom chimney W", ft(1, 2, 9), cope, end(stock.EndOutsideMiter, 0)),
			piece("classroom chimney face left", ft(0, 5, 9), end(stock.EndOutsideMiter, 0), square),
			piece("classroom chimney face right", ft(0, 5, 9), square, end(stock.EndOutsideMiter, 0)),
			piece("classroom chimney E", ft(1, 2, 9), end(stock.EndOutsideMiter, 0), cope),
			piece("classroom N right", ft(11, 6, 10), square, square),
			piece("classroom E left", ft(6, 1, 8), cope, end(stock.EndOutsideMiter, 135)),
			piece("classroom bay N", ft(2, 10, 3), end(stock.EndOutsideMiter, 135), end(stock.EndInsideMiter, 135)),
			piece("classroom bay face", ft(6, 6, 0), end(stock.EndInsideMiter, 135), end(stock.EndInsideMiter, 135)),
			piece("classroom bay S", ft(2, 10, 3), end(stock.EndInsideMiter, 135), end(stock.EndOutsideMiter, 135)),
			piece("classroom E right", ft(6, 0, 8), end(stock.EndOutsideMiter, 135), square),
			piece("classroom S 1/2", ft(13, 4, 2), cope, end(stock.EndScarfOver, 0)),
			piece("classroom S 2/2", ft(6, 7, 0), end(stock.EndScarfUnder, 0), cope),
			piece("cloakroom N", ft(9, 2, 8), cope, square),
			piece("cloakroom closet N", ft(4, 1, 1), end(stock.EndOutsideMiter, 0), end(stock.EndScribe, 0)),
			piece("corridor N by the stair", ft(4, 9, 5)+measure.Inch/64, square, end(stock.EndReturn, 0)),
		},
	}
	p.Pieces = append(p.Pieces, stock.Piece{Label: "corridor niche", Length: ft(1, 2, 2), Quantity: 4, Profile: "primed pine base"})
	return p, &cutsheet.Options{
		Title:  "The old schoolhouse: base",
		Locale: measure.Locale{Currency: measure.Currency{Symbol: "$"}},
		Profile: &stock.Profile{
			Name: "primed pine base", Role: stock.RoleBase, Thickness: 9 * measure.Inch / 16, Width: ft(0, 5, 4),
		},
	}
}

// crown is the crown of the teacher's room, whose saw settings need the profile.
func crown() (optimize.Problem, *cutsheet.Options) {
	in, out := end(stock.EndInsideMiter, 0), end(stock.EndOutsideMiter, 0)
	return optimize.Problem{
			Kerf:   measure.Inch / 8,
			Sticks: []stock.Stick{{Length: ft(12, 0, 0), Price: 2976}, {Length: ft(16, 0, 0), Price: 4016}},
			Pieces: []stock.Piece{
				{Label: "N", Length: ft(12, 2, 8), Left: in, Right: in},
				{Label: "E", Length: ft(10, 8, 0), Left: in, Right: in},
				{Label: "S left", Length: ft(4, 3, 0), Left: in, Right: in},
				{Label: "flue E", Length: ft(1, 6, 6), Left: in, Right: out},
				{Label: "flue face", Length: ft(4, 2, 0), Left: out, Right: out},
				{Label: "flue W", Length: ft(1, 6, 6), Left: out, Right: in},
				{Label: "S right", Length: ft(4, 3, 3), Left: in, Right: in},
				{Label: "W", Length: ft(10, 8, 1), Left: in, Right: in},
			},
		}, &cutsheet.Options{
			Title:   "Teacher's room: crown",
			Profile: &stock.Profile{Name: "primed crown", Role: stock.RoleCrown, Thickness: 11 * measure.Inch / 16, Width: ft(0, 4, 10)},
		}
}

// plain is a job without labels, prices or ends.
func plain() (optimize.Problem, *cutsheet.Options) {
	return optimize.Problem{
		Sticks: []stock.Stick{{Length: ft(8, 0, 0)}, {Length: ft(10, 0, 0)}},
		Pieces: []stock.Piece{{Length: ft(3, 0, 0), Quantity: 5}, {Length: ft(2, 6, 0), Quantity: 3}},
	}, nil
}

// board is an end of a board that lies flat, 3-1/2 in wide: the short point of a
// square corner is as far behind as the board is wide.
var board = stock.End{Kind: stock.EndFlatMiter, Setback: ft(0, 3, 8)}

// studs are the middles of studs, 16 in apart, from the first on.
func studs(first, length measure.Length) (at []measure.Length) {
	for x := first; x < length; x += 16 * measure.Inch {
		at = append(at, x)
	}
	return at
}

// boards is the shop's order for poplar boards, square-edged and planed on all four sides: rails
// spliced on studs, frames whose miters nest, a board with a knot, bundles, a spare, and goals.
func boards() (optimize.Problem, *cutsheet.Options) {
	scarf := func(first, length measure.Length) stock.SpliceRule {
		return stock.SpliceRule{At: studs(first, length), Bevel: 45 * measure.Degree, Overlap: ft(0, 0, 12), MinPart: ft(2, 0, 0), Price: 350}
	}
	frame := func(label string, l measure.Length, n int) stock.Piece {
		return stock.Piece{Label: label, Length: l, Quantity: n, Left: board, Right: board, Symmetry: stock.SymmetryAll}
	}
	return optimize.Problem{
			Kerf: measure.Inch / 8,
			Sticks: []stock.Stick{
				{Label: "poplar 8", Length: ft(8, 0, 0), Price: 1180, Supplier: "the mill", Bundle: 2, TrimStart: measure.Inch / 2, TrimEnd: measure.Inch / 2},
				{Label: "poplar 12", Length: ft(12, 0, 0), Price: 1790, Supplier: "the mill", TrimStart: measure.Inch / 2, TrimEnd: measure.Inch / 2,
					Breaks: []stock.PriceBreak{{From: 4, Price: 1690}}},
				{Label: "with a knot", Length: ft(9, 1, 8), Limit: 1, Rack: true, Defects: []stock.Defect{{From: ft(3, 7, 4), To: ft(3, 9, 12)}}},
			},
			Pieces: []stock.Piece{
				frame("notice rail", ft(3, 2, 0), 4),
				frame("notice stile", ft(2, 2, 0), 4),
				frame("map rail", ft(4, 3, 8), 2),
				frame("map stile", ft(2, 10, 4), 2),
				{Label: "coat rail", Length: ft(5, 4, 0), Symmetry: stock.SymmetryAll},
			},
			Runs: []stock.Run{
				{Label: "classroom N chair rail", Length: ft(19, 10, 4), Splice: scarf(ft(0, 14, 0), ft(19, 10, 4))},
				{Label: "corridor E chair rail", Length: ft(10, 7, 12), Splice: scarf(ft(0, 9, 8), ft(10, 7, 12))},
			},
			Rules: optimize.Rules{
				Nest: true, Spare: 1,
				Charges: []optimize.Charge{{Supplier: "the mill", Amount: 2500}},
				Goals:   []optimize.Goal{optimize.GoalCost, optimize.GoalSticks, optimize.GoalLongestOffcut},
			},
		}, &cutsheet.Options{
			Title:  "Schoolhouse workshop: boards of poplar",
			Locale: measure.Locale{Currency: measure.Currency{Symbol: "$"}},
		}
}

// yard is stock that is longer than the car, and pieces that belong together.
func yard() (optimize.Problem, *cutsheet.Options) {
	return optimize.Problem{
			Kerf: measure.Inch / 8,
			Sticks: []stock.Stick{
				{Label: "fir 16", Length: ft(16, 0, 0), Price: 2210},
				{Label: "fir 8", Length: ft(8, 0, 0), Price: 1350},
			},
			Pieces: []stock.Piece{
				{Label: "bench slat", Length: ft(5, 2, 0), Quantity: 6},
				{Label: "bench end W", Length: ft(2, 6, 8)},
				{Label: "bench end E", Length: ft(2, 6, 8)},
				{Label: "shelf over the sink", Length: ft(7, 4, 0), Quantity: 2},
			},
			Rules: optimize.Rules{
				MaxTransport: ft(9, 0, 0), YardCut: 200,
				Groups: []optimize.Group{{Kind: optimize.GroupInSequence, Pieces: []int{1, 2}}},
			},
		}, &cutsheet.Options{
			Title:  "Cloakroom: benches and shelves",
			Locale: measure.Locale{Currency: measure.Currency{Symbol: "$"}},
		}
}

// jobs are all the jobs of these tests that go through every rendering.
var jobs = map[string]func() (optimize.Problem, *cutsheet.Options){
	"base": base, "crown": crown, "plain": plain, "boards": boards, "yard": yard, "hostile": hostileJob,
}

// recorded holds the plans of those sheets in testdata that take long to find, or that another search
// may cut differently at the same cost. New checks a plan, so these tests need not find it each time;
// -anew does.
var recorded = sync.OnceValue(func() map[string]*optimize.Plan {
	plans := make(map[string]*optimize.Plan)
	for _, name := range []string{"boards", "picture", "rooms", "yard"} {
		b, err := os.ReadFile("testdata/" + name + ".json")
		if err != nil || *anew {
			continue
		}
		if p, plan, _, err := cutsheet.ReadJSON(bytes.NewReader(b)); err == nil {
			plans[text(p)] = plan
		}
	}
	return plans
})

func text(p optimize.Problem) string {
	b, _ := json.Marshal(p)
	return string(b)
}

func solve(t testing.TB, p optimize.Problem) *optimize.Plan {
	t.Helper()
	if plan := recorded()[text(p)]; plan != nil {
		return plan
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

func sheet(t testing.TB, p optimize.Problem, o *cutsheet.Options) *cutsheet.Sheet {
	t.Helper()
	s, err := cutsheet.New(context.Background(), p, solve(t, p), o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}
