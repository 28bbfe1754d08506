package cutsheet_test

import (
	"context"
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
	square, cope := stock.End{}, end(stock.Cope, 0)
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
			piece("classroom chimney W", ft(1, 2, 9), cope, end(stock.OutsideMiter, 0)),
			piece("classroom chimney face left", ft(0, 5, 9), end(stock.OutsideMiter, 0), square),
			piece("classroom chimney face right", ft(0, 5, 9), square, end(stock.OutsideMiter, 0)),
			piece("classroom chimney E", ft(1, 2, 9), end(stock.OutsideMiter, 0), cope),
			piece("classroom N right", ft(11, 6, 10), square, square),
			piece("classroom E left", ft(6, 1, 8), cope, end(stock.OutsideMiter, 135)),
			piece("classroom bay N", ft(2, 10, 3), end(stock.OutsideMiter, 135), end(stock.InsideMiter, 135)),
			piece("classroom bay face", ft(6, 6, 0), end(stock.InsideMiter, 135), end(stock.InsideMiter, 135)),
			piece("classroom bay S", ft(2, 10, 3), end(stock.InsideMiter, 135), end(stock.OutsideMiter, 135)),
			piece("classroom E right", ft(6, 0, 8), end(stock.OutsideMiter, 135), square),
			piece("classroom S 1/2", ft(13, 4, 2), cope, end(stock.ScarfOver, 0)),
			piece("classroom S 2/2", ft(6, 7, 0), end(stock.ScarfUnder, 0), cope),
			piece("cloakroom N", ft(9, 2, 8), cope, square),
			piece("cloakroom closet N", ft(4, 1, 1), end(stock.OutsideMiter, 0), end(stock.Scribe, 0)),
			piece("corridor N by the stair", ft(4, 9, 5)+measure.Inch/64, square, end(stock.Return, 0)),
		},
	}
	p.Pieces = append(p.Pieces, stock.Piece{Label: "corridor niche", Length: ft(1, 2, 2), Quantity: 4, Profile: "primed pine base"})
	return p, &cutsheet.Options{
		Title: "The old schoolhouse: base",
		Money: cutsheet.Money{Symbol: "$"},
		Profile: &stock.Profile{
			Name: "primed pine base", Use: stock.Baseboard, Thickness: 9 * measure.Inch / 16, Width: ft(0, 5, 4),
		},
	}
}

// crown is the crown of the teacher's room, whose saw settings need the profile.
func crown() (optimize.Problem, *cutsheet.Options) {
	in, out := end(stock.InsideMiter, 0), end(stock.OutsideMiter, 0)
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
			Profile: &stock.Profile{Name: "primed crown", Use: stock.Crown, Thickness: 11 * measure.Inch / 16, Width: ft(0, 4, 10)},
		}
}

// plain is a job without labels, prices or ends.
func plain() (optimize.Problem, *cutsheet.Options) {
	return optimize.Problem{
		Sticks: []stock.Stick{{Length: ft(8, 0, 0)}, {Length: ft(10, 0, 0)}},
		Pieces: []stock.Piece{{Length: ft(3, 0, 0), Quantity: 5}, {Length: ft(2, 6, 0), Quantity: 3}},
	}, nil
}

func solve(t testing.TB, p optimize.Problem) *optimize.Plan {
	t.Helper()
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

func sheet(t testing.TB, p optimize.Problem, o *cutsheet.Options) *cutsheet.Sheet {
	t.Helper()
	s, err := cutsheet.New(p, solve(t, p), o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}
