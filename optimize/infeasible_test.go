package optimize_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"

	"github.com/google/go-cmp/cmp"
)

// What no plan can yield is reported at once, by name.
func TestInfeasibleRules(t *testing.T) {
	const ft = measure.Foot
	pieces := func(grade int, lengths ...measure.Length) (out []stock.Piece) {
		for _, l := range lengths {
			out = append(out, stock.Piece{Length: l, Grade: grade})
		}
		return out
	}
	groups := func(kind optimize.GroupKind, of ...int) []optimize.Group {
		return []optimize.Group{{Kind: optimize.GroupOneStick, Pieces: []int{0, 1}}, {Kind: kind, Pieces: of}}
	}
	long := stock.Stick{Length: 10 * ft, Price: 9}
	miter := stock.End{Kind: stock.EndOutsideMiter, Setback: ft / 12}
	for _, tt := range []struct {
		name string
		p    optimize.Problem
		want optimize.InfeasibleError
		text string
	}{
		{"more pieces than a stick may give",
			optimize.Problem{Sticks: []stock.Stick{long}, Pieces: pieces(0, ft, ft, ft, ft, ft),
				Rules: optimize.Rules{MaxPieces: 2, Groups: groups(optimize.GroupOneStick, 2, 3, 4)}},
			optimize.InfeasibleError{Reason: optimize.ReasonGroupTooMany, ShortFrom: -1, Run: -1, Piece: -1, Stick: -1, Group: 1, NeedCount: 3, HaveCount: 2},
			"rules.groups[1] from one stick is 3 pieces, rules.max_pieces is 2"},
		{"more pieces in sequence than a stick may give",
			optimize.Problem{Sticks: []stock.Stick{long}, Pieces: pieces(0, ft, ft, ft, ft, ft),
				Rules: optimize.Rules{MaxPieces: 2, Groups: groups(optimize.GroupInSequence, 4, 3, 2)}},
			optimize.InfeasibleError{Reason: optimize.ReasonGroupTooMany, ShortFrom: -1, Run: -1, Piece: -1, Stick: -1, Group: 1, NeedCount: 3, HaveCount: 2}, ""},
		{"a group longer than every stick",
			optimize.Problem{Sticks: []stock.Stick{long, {Length: 11 * ft, Price: 12}}, Kerf: ft / 96, Pieces: pieces(0, ft, ft, 6*ft, 5*ft),
				Rules: optimize.Rules{Groups: groups(optimize.GroupOneStick, 2, 3)}},
			optimize.InfeasibleError{Reason: optimize.ReasonGroupTooLong, ShortFrom: -1, Run: -1, Piece: -1, Stick: 1, Group: 1, Need: 11*ft + ft/96, Have: 11 * ft},
			"rules.groups[1] from one stick is 11' 1/8\" long with kerfs, the longest usable length is 11' (sticks[1]), short by 1/8\""},
		{"a group longer than every stick of its grade",
			optimize.Problem{Sticks: []stock.Stick{{Length: 7 * ft, Price: 5, Grade: 1}, long}, Pieces: append(pieces(0, ft, ft, 4*ft), pieces(1, 4*ft)...),
				Rules: optimize.Rules{Groups: groups(optimize.GroupOneStick, 2, 3)}},
			optimize.InfeasibleError{Reason: optimize.ReasonGroupTooLong, ShortFrom: -1, Run: -1, Piece: -1, Stick: 0, Group: 1, Need: 8 * ft, Have: 7 * ft}, "rules.groups[1]"},
		{"a group longer than every clear stretch",
			optimize.Problem{Sticks: []stock.Stick{{Length: 10 * ft, Price: 5, Limit: 2, Defects: []stock.Defect{{From: 5 * ft, To: 6 * ft}}}},
				Pieces: pieces(0, ft, ft, 3*ft, 3*ft),
				Rules:  optimize.Rules{Groups: groups(optimize.GroupInSequence, 2, 3)}},
			optimize.InfeasibleError{Reason: optimize.ReasonGroupTooLong, ShortFrom: -1, Run: -1, Piece: -1, Stick: 0, Group: 1, Need: 6 * ft, Have: 5 * ft}, ""},
		{"a group longer than what is carried",
			optimize.Problem{Sticks: []stock.Stick{long}, Pieces: pieces(0, ft, ft, 4*ft, 4*ft),
				Rules: optimize.Rules{MaxTransport: 7 * ft, Groups: groups(optimize.GroupOneStick, 2, 3)}},
			optimize.InfeasibleError{Reason: optimize.ReasonGroupTooLong, ShortFrom: -1, Run: -1, Piece: -1, Stick: 0, Group: 1, Need: 8 * ft, Have: 7 * ft}, ""},
		// Two parallel ends save an inch, the last bevel takes 0.41 of the kerf more.
		{"a group in sequence that nests and is still too long",
			optimize.Problem{Sticks: []stock.Stick{{Length: 8*ft - ft/12, Price: 1}}, Kerf: ft / 96, Pieces: []stock.Piece{
				{Length: 4 * ft, Right: miter}, {Length: 4 * ft, Left: miter, Right: miter}},
				Rules: optimize.Rules{Nest: true, Groups: []optimize.Group{{Kind: optimize.GroupInSequence, Pieces: []int{0, 1}}}}},
			optimize.InfeasibleError{Reason: optimize.ReasonGroupTooLong, ShortFrom: -1, Run: -1, Piece: -1, Stick: 0, Group: 0}, "rules.groups[0]"},
		{"a piece whose bevel takes more than the kerf",
			optimize.Problem{Sticks: []stock.Stick{{Length: 4 * ft, Price: 1}}, Kerf: ft / 96, Pieces: []stock.Piece{{Length: 4 * ft, Right: miter}},
				Rules: optimize.Rules{Nest: true}},
			optimize.InfeasibleError{Reason: optimize.ReasonPieceTooLong, ShortFrom: -1, Run: -1, Group: -1, Piece: 0, Stick: 0}, "pieces[0]"},
		{"a piece too good for every stick",
			optimize.Problem{Sticks: []stock.Stick{long}, Pieces: pieces(1, ft)},
			optimize.InfeasibleError{Reason: optimize.ReasonPieceTooLong, ShortFrom: -1, Run: -1, Group: -1, Piece: 0, Stick: -1, Need: ft},
			"pieces[0] is 1' long, no available stick is good enough"},
		{"no lot for all",
			optimize.Problem{Sticks: []stock.Stick{{Length: 10 * ft, Price: 9, Lot: "A"}, {Length: 9 * ft, Price: 9, Lot: "B", Grade: 1}},
				Pieces: append(pieces(0, ft, ft, 10*ft), pieces(1, ft)...),
				Rules:  optimize.Rules{Groups: groups(optimize.GroupOneLot, 2, 3)}},
			optimize.InfeasibleError{Reason: optimize.ReasonGroupInNoLot, ShortFrom: -1, Run: -1, Piece: -1, Stick: -1, Group: 1},
			"no lot that rules.groups[1] may come from has a stick long and good enough for each of its pieces"},
		{"no stick of the lot that a group is begun from",
			optimize.Problem{Sticks: []stock.Stick{{Length: 10 * ft, Price: 9, Lot: "A"}}, Pieces: pieces(0, ft, ft, ft),
				Rules: optimize.Rules{Groups: []optimize.Group{{Kind: optimize.GroupOneStick, Pieces: []int{0, 1}},
					{Kind: optimize.GroupOneLot, Pieces: []int{2}, Started: true, Lot: "B"}}}},
			optimize.InfeasibleError{Reason: optimize.ReasonGroupInNoLot, ShortFrom: -1, Run: -1, Piece: -1, Stick: -1, Group: 1}, "rules.groups[1]"},
		{"a run that may not be spliced",
			optimize.Problem{Sticks: []stock.Stick{long}, Runs: []stock.Run{{Length: 3 * ft}, {Length: 12 * ft}}},
			optimize.InfeasibleError{Reason: optimize.ReasonRunTooLong, ShortFrom: -1, Group: -1, Piece: -1, Stick: 0, Run: 1, Need: 12 * ft, Have: 10 * ft},
			"runs[1] is 12' long and cannot be spliced into parts that fit"},
		{"a run that may not be spliced often enough",
			optimize.Problem{Sticks: []stock.Stick{long}, Runs: []stock.Run{{Length: 21 * ft,
				Splice: stock.SpliceRule{At: []measure.Length{7 * ft, 14 * ft}, MaxSplices: 1}}}},
			optimize.InfeasibleError{Reason: optimize.ReasonRunTooLong, ShortFrom: -1, Group: -1, Piece: -1, Stick: 0, Run: 0, Need: 21 * ft, Have: 10 * ft}, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			// At once: no search could begin with so little work.
			_, err := optimize.Solve(context.Background(), tt.p, &optimize.Options{Work: 1})
			var no *optimize.InfeasibleError
			if !errors.As(err, &no) {
				t.Fatalf("%v", err)
			}
			if tt.p.Rules.Nest {
				if no.Need <= no.Have || no.Have != tt.p.Sticks[0].Length {
					t.Errorf("needs %v, has %v", no.Need, no.Have)
				}
				no.Need, no.Have = 0, 0
			} else if _, known := bruteSolve(&tt.p); known {
				t.Error("there is a plan")
			}
			if d := cmp.Diff(tt.want, *no); d != "" {
				t.Errorf("(-want +got):\n%s", d)
			}
			if !strings.Contains(err.Error(), tt.text) {
				t.Errorf("%q, want %q in it", err, tt.text)
			}
		})
	}
}
