package takeoff_test

import (
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// finding returns the findings of a code, as their lengths and reasons.
func finding(fs []takeoff.Finding, code takeoff.FindingCode) (out []string) {
	for _, f := range fs {
		if f.Code == code {
			out = append(out, f.Length.About()+": "+f.Reason)
		}
	}
	return out
}

// Misfits beside a corner, another opening, a ceiling, a crown or a picture rail, and the remedies.
// Casing of 3 1/2 in with a reveal of 3/16 in takes 3 11/16 beside the jamb; the entablature has 2 in
// more, and ends 6 15/16 above the head jamb (all derived).
func TestStyleFit(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	casing := board("casing", 3*in/4, 7*in/2)
	door := func(at measure.Length) takeoff.Opening {
		return takeoff.Opening{At: at, Width: 32 * in, Height: 80 * in}
	}
	window := func(at, sill measure.Length) takeoff.Opening {
		return takeoff.Opening{Kind: takeoff.OpeningWindow, At: at, Width: 24 * in, Height: 40 * in, Sill: sill}
	}
	crown := board("crown", in/2, 4*in)
	crown.Spring = 60 * measure.Degree // 2 in down the wall
	mitered := takeoff.CasingStyle{Name: "mitered"}
	rosettes := takeoff.CasingStyle{Name: "rosettes", Joint: takeoff.CasingBlock, Block: board("rosette", in, 15*in/4)}
	for _, tt := range []struct {
		name   string
		style  takeoff.CasingStyle
		height measure.Length
		scheme takeoff.Scheme
		on     []takeoff.Opening
		code   takeoff.FindingCode
		want   []string
	}{
		{"room for all", entablature(), 8 * ft, takeoff.Scheme{}, []takeoff.Opening{door(6 * in)}, takeoff.FindingCasingFit, nil},
		{"head beyond the corner", entablature(), 8 * ft, takeoff.Scheme{}, []takeoff.Opening{door(4 * in)}, takeoff.FindingCasingFit,
			[]string{`1-11/16": the head of door is 1-11/16" too wide for the left end of the wall; the legs fit: end it 1-11/16" short there, without a return`}},
		{"leg and head beyond the corner", entablature(), 8 * ft, takeoff.Scheme{}, []takeoff.Opening{door(12*ft - 35*in)}, takeoff.FindingCasingFit, []string{
			`11/16": the casing of door is 11/16" too wide for the right end of the wall; its leg ripped to 2-13/16" fits`,
			`2-11/16": the head of door is 2-11/16" too wide for the right end of the wall`}},
		{"block beyond the corner", rosettes, 8 * ft, takeoff.Scheme{}, []takeoff.Opening{door(15 * in / 4)}, takeoff.FindingCasingFit,
			[]string{`1/16": the block of door is 1/16" too wide for the left end of the wall`}},
		{"block over the jamb", rosettes, 8 * ft, takeoff.Scheme{}, []takeoff.Opening{{At: 50 * in, Width: 32 * in, Reveal: in / 16}}, takeoff.FindingCasingFit,
			[]string{`1/16": the block of door is 1/16" too wide for the reveal and reaches over the jamb; a reveal of 1/8" clears it`}},
		{"plinth beyond the corner", takeoff.CasingStyle{Name: "feet", Plinth: board("plinth", in, 4*in)}, 8 * ft, takeoff.Scheme{}, []takeoff.Opening{door(4 * in)}, takeoff.FindingCasingFit,
			[]string{`3/16": the plinth of door is 3/16" too wide for the left end of the wall; ripped to 3-13/16" it fits`}},
		{"horn beyond the corner", takeoff.CasingStyle{Name: "stool", Stool: board("stool", in, 5*in)}, 8 * ft, takeoff.Scheme{}, []takeoff.Opening{window(4*in, 30*in)}, takeoff.FindingCasingFit,
			[]string{`7/16": the stool of window is 7/16" too wide for the left end of the wall; a horn of 5/16" fits`}},
		{"two windows", mitered, 8 * ft, takeoff.Scheme{}, []takeoff.Opening{window(30*in, 30*in), window(60*in, 30*in)}, takeoff.FindingCasingFit,
			[]string{`1-3/8": the casing of window 2 is 1-3/8" too wide for the one of window 1; between the reveals are 5-5/8": one flat casing of that width serves both, if they are joined`}},
		{"two heads", entablature(), 8 * ft, takeoff.Scheme{}, []takeoff.Opening{window(30*in, 30*in), window(64*in, 30*in)}, takeoff.FindingCasingFit,
			[]string{`1-3/8": the head of window 2 is 1-3/8" too wide for the one of window 1; the legs fit: let one head run over both`}},
		// The heads pass each other: one window ends below the other's.
		{"two heights", entablature(), 9 * ft, takeoff.Scheme{}, []takeoff.Opening{window(30*in, 20*in), window(64*in, 36*in)}, takeoff.FindingCasingFit, nil},
		{"head in the ceiling", entablature(), 86 * in, takeoff.Scheme{}, []takeoff.Opening{door(50 * in)}, takeoff.FindingCasingFit,
			[]string{`15/16": the head of door is 15/16" too high for the ceiling`}},
		{"head in the crown", entablature(), 88 * in, takeoff.Scheme{Crown: crown}, []takeoff.Opening{door(50 * in)}, takeoff.FindingHighCrown,
			[]string{`15/16": the trim of door reaches 15/16" into the crown`}},
		{"head in the picture rail", entablature(), 8 * ft, takeoff.Scheme{PictureRail: board("picture rail", in/2, 2*in), PictureRailAt: 86 * in}, []takeoff.Opening{door(50 * in)}, takeoff.FindingRailFit,
			[]string{`15/16": the head of door ends 7' 2-15/16" above the floor, 15/16" up the picture rail, which dies into it in part only`}},
		{"mitered head in the picture rail", mitered, 8 * ft, takeoff.Scheme{PictureRail: board("picture rail", in/2, 2*in), PictureRailAt: 82 * in}, []takeoff.Opening{door(50 * in)}, takeoff.FindingRailFit,
			[]string{`1-11/16": the casing of door ends 6' 11-11/16" above the floor, 1-11/16" up the picture rail, which dies into it in part only`}},
		{"head in a rail below the ceiling", mitered, 9 * ft, takeoff.Scheme{Assemblies: []takeoff.Assembly{{Name: "rail", At: 24 * in, FromCeiling: true, Members: []takeoff.Member{{Profile: *rolled(stock.RolePictureRail, "rail", in/2, 2*in)}}}}},
			[]takeoff.Opening{door(50 * in)}, takeoff.FindingRailFit,
			[]string{`1-11/16": the casing of door ends 6' 11-11/16" above the floor, 1-11/16" up the picture rail, which dies into it in part only`}},
		{"rail over a window of unknown height", mitered, 8 * ft, takeoff.Scheme{PictureRail: board("picture rail", in/2, 2*in), PictureRailAt: 42 * in}, []takeoff.Opening{window(50*in, 0)}, takeoff.FindingRailFit, nil},
		{"high block in the ceiling", takeoff.CasingStyle{Name: "rosettes", Joint: takeoff.CasingBlock, Block: board("rosette", in, 15*in/4), BlockHeight: 6 * in}, 85 * in, takeoff.Scheme{}, []takeoff.Opening{door(50 * in)}, takeoff.FindingCasingFit,
			[]string{`1-1/16": the block of door is 1-1/16" too high for the ceiling`}},
		{"rail thicker than the frieze", entablature(), 8 * ft, takeoff.Scheme{PictureRail: board("picture rail", in, 2*in), PictureRailAt: 81 * in}, []takeoff.Opening{door(50 * in)}, takeoff.FindingThickBase,
			[]string{`1/4": picture rail reaches 1/4" farther into the room than the head of door that it dies into; its end will show`}},
		{"rail no thicker than the cornice", entablature(), 8 * ft, takeoff.Scheme{PictureRail: board("picture rail", in, 2*in), PictureRailAt: 83 * in}, []takeoff.Opening{door(50 * in)}, takeoff.FindingThickBase, nil},
		{"rail thicker than the leg", mitered, 8 * ft, takeoff.Scheme{PictureRail: board("picture rail", in, 2*in), PictureRailAt: 70 * in}, []takeoff.Opening{door(50 * in)}, takeoff.FindingThickBase,
			[]string{`1/4": picture rail reaches 1/4" farther into the room than the casing of door that it dies into; its end will show`}},
		{"head through the picture rail", entablature(), 8 * ft, takeoff.Scheme{PictureRail: board("picture rail", in/2, 2*in), PictureRailAt: 84 * in}, []takeoff.Opening{door(50 * in)}, takeoff.FindingRailFit, nil},
	} {
		s := tt.scheme
		s.Casing, s.CasingStyles = casing, []takeoff.CasingStyle{tt.style}
		rooms := doorWall(tt.on...)
		rooms[0].Height = tt.height
		fs, err := takeoff.Check(rooms, s, nil)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if got := finding(fs, tt.code); !slices.Equal(got, tt.want) {
			t.Errorf("%s:\n\t%s\nwant\n\t%s", tt.name, strings.Join(got, "\n\t"), strings.Join(tt.want, "\n\t"))
		}
	}
}

// Casings of two walls that meet in their corner: each is 3/4 in thick. On a wall where
// 3 15/16 in are beside the jamb, the casing of 3 11/16 stands 1/4 in from the corner, inside the
// thickness of the one on the other wall if that is there too.
func TestCasingsInACorner(t *testing.T) {
	const in = measure.Inch
	s := takeoff.Scheme{Casing: board("casing", 3*in/4, 7*in/2)}
	for _, tt := range []struct {
		here, there measure.Length // beside the jambs
		angle       measure.Angle
		kind        takeoff.CornerKind
		want        string
	}{
		{63 * in / 16, 63 * in / 16, 0, takeoff.CornerInside, `1/2"`}, // 3/4 less 1/4
		{63 * in / 16, 71 * in / 16, 0, takeoff.CornerInside, ""},     // the other stays clear: 4 7/16
		{63 * in / 16, 69 * in / 16, 0, takeoff.CornerInside, `1/8"`}, // 5/8 from the corner
		{63 * in / 16, 63 * in / 16, 0, takeoff.CornerOutside, ""},
		{63 * in / 16, 63 * in / 16, 180 * measure.Degree, takeoff.CornerInside, ""},
		// Two faces in a corner of 60° meet 3/4/tan 30° = 1.299 from it, and the casing is 3/4 from it.
		{71 * in / 16, 71 * in / 16, 60 * measure.Degree, takeoff.CornerInside, `about 9/16"`},
	} {
		room := takeoff.Room{Name: "hall", Walls: []takeoff.Wall{
			{Name: "N", Length: 80 * in, Corner: takeoff.Corner{Kind: tt.kind, Angle: tt.angle}, Openings: []takeoff.Opening{{At: 80*in - 30*in - tt.here, Width: 30 * in}}},
			{Name: "E", Length: 80 * in, Corner: takeoff.Corner{Kind: takeoff.CornerStop}, Openings: []takeoff.Opening{{At: tt.there, Width: 30 * in}}},
		}}
		fs, err := takeoff.Check([]takeoff.Room{room}, s, nil)
		if err != nil {
			t.Fatal(err)
		}
		got := finding(fs, takeoff.FindingCasingFit)
		if tt.want == "" && len(got) > 0 || tt.want != "" && (len(got) != 1 || !strings.HasPrefix(got[0], tt.want+": the casing of door runs ")) {
			t.Errorf("%v and %v at %v: %q, want %q", tt.here, tt.there, tt.angle, got, tt.want)
		}
	}
}

// Mismatches of a style where its parts meet, once for all rooms.
func TestStyleFindings(t *testing.T) {
	const in = measure.Inch
	casing := board("casing", 3*in/4, 7*in/2)
	thin, deep := rolled(stock.RoleFrieze, "frieze", in/2, 5*in), rolled(stock.RoleFrieze, "frieze", 7*in/8, 5*in)
	crown := rolled(stock.RoleCrown, "cornice", in/2, 3*in)
	crown.Spring = 30 * measure.Degree
	for _, tt := range []struct {
		name  string
		style takeoff.CasingStyle
		code  takeoff.FindingCode
		want  []string
	}{
		{"entablature", entablature(), takeoff.FindingThinHead, nil},
		{"thin head", takeoff.CasingStyle{Joint: takeoff.CasingButt, Head: []takeoff.HeadMember{{Profile: thin}}}, takeoff.FindingThinHead,
			[]string{`1/4": style: frieze reaches 1/4" less into the room than casing below it, whose upper edge will show`}},
		{"thick head", takeoff.CasingStyle{Joint: takeoff.CasingButt, Head: []takeoff.HeadMember{{Profile: deep}}}, takeoff.FindingThinHead, nil},
		{"flush head", takeoff.CasingStyle{Joint: takeoff.CasingButt, Head: []takeoff.HeadMember{{Overhang: in}}}, takeoff.FindingThinHead,
			[]string{`0": style: head casing is flush with the legs, casing: it will show as they shrink, which a thicker one hides`}},
		{"cap too short for its crown", takeoff.CasingStyle{Joint: takeoff.CasingButt, Head: []takeoff.HeadMember{
			{Profile: deep}, {Profile: crown}, {Profile: rolled(stock.RoleCap, "cap", 3*in, in), Overhang: in}}}, takeoff.FindingThinHead,
			[]string{`1/2": style: cap covers cornice but for 1/2" at either end; its overhang has to be at least 1-1/2"`}},
		{"cap too narrow for its crown", takeoff.CasingStyle{Joint: takeoff.CasingButt, Head: []takeoff.HeadMember{
			{Profile: deep}, {Profile: crown}, {Profile: rolled(stock.RoleCap, "cap", 2*in, in), Overhang: 2 * in}}}, takeoff.FindingThinHead,
			[]string{`3/8": style: cap reaches 3/8" less into the room than cornice below it, whose upper edge will show`}},
		{"wide block", takeoff.CasingStyle{Joint: takeoff.CasingBlock, Block: board("rosette", 7*in/8, 15*in/4)}, takeoff.FindingWideBlock,
			[]string{`1/4": style: block rosette is 1/4" wider than casing: legs are 1/8" shorter, and a head 1/4"`}},
		{"thin block", takeoff.CasingStyle{Joint: takeoff.CasingBlock, Block: board("rosette", 5*in/8, 7*in/2)}, takeoff.FindingThinHead,
			[]string{`1/8": style: block rosette is 1/8" thinner than casing that ends at it; its end grain will show`}},
		{"wide lap", takeoff.CasingStyle{Backband: board("band", in, in), BackbandLap: 3 * in / 8, FlatEdge: in / 4}, takeoff.FindingWideLap,
			[]string{`1/8": style: the lip of backband band laps 3/8" over casing, whose edge is flat for 1/4"`}},
		{"lap not measured", takeoff.CasingStyle{Backband: board("band", in, in), BackbandLap: 3 * in / 8}, takeoff.FindingWideLap, nil},
		{"thick base", takeoff.CasingStyle{Without: []stock.Role{stock.RolePlinth}}, takeoff.FindingThickBase,
			[]string{`1/8": base is 1/8" thicker than the casing that it dies into; its end will show; chamfer it over 1/8" at 45° or about 7/16" at 15°, return it short of there, or let it end at a backband at least 7/8" thick or at a plinth 1" thick and 5-1/8" high`}},
		{"thick base at a backband", takeoff.CasingStyle{Without: []stock.Role{stock.RolePlinth}, Backband: board("band", in, in)}, takeoff.FindingThickBase, nil},
		{"thick base at a plinth", takeoff.CasingStyle{}, takeoff.FindingThickBase, nil},
	} {
		tt.style.Name = "style"
		s := takeoff.Scheme{Base: board("base", 7*in/8, 5*in), Casing: casing, Plinth: board("plinth", in, 4*in), CasingStyles: []takeoff.CasingStyle{tt.style}}
		rooms := doorWall(takeoff.Opening{At: 30 * in, Width: 32 * in}, takeoff.Opening{At: 90 * in, Width: 32 * in})
		list, err := takeoff.Take(rooms, s, nil)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		fs, err := takeoff.CheckTrim(rooms, s, takeoff.Conditions{})
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		for _, fs := range [][]takeoff.Finding{list.Findings, fs} {
			if got := finding(fs, tt.code); !slices.Equal(got, tt.want) {
				t.Errorf("%s:\n\t%s\nwant\n\t%s", tt.name, strings.Join(got, "\n\t"), strings.Join(tt.want, "\n\t"))
			}
		}
	}
	// A style that no opening has is not checked.
	s := takeoff.Scheme{Casing: casing, CasingStyles: []takeoff.CasingStyle{{Name: "windows", Kinds: []takeoff.OpeningKind{takeoff.OpeningWindow}, Joint: takeoff.CasingButt, Head: []takeoff.HeadMember{{Profile: thin}}}}}
	list, err := takeoff.Take(doorWall(takeoff.Opening{At: 30 * in, Width: 32 * in}), s, nil)
	if err != nil || len(finding(list.Findings, takeoff.FindingThinHead)) > 0 {
		t.Errorf("%+v, %v", list, err)
	}
}
