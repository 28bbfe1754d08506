package gates

import (
	"bytes"
	"context"
	"io"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/paper"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/optimize/replan"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
	"example.com/longpoint/stock/takeoff"
)

// noTape finds a length that is on no tape and no rule.
var noTape = regexp.MustCompile(`\d\.\d\d+ ?mm`)

// lengths returns the place of every length in a value, which must be addressable.
func lengths(v reflect.Value) []*measure.Length {
	if v.CanAddr() {
		if l, ok := v.Addr().Interface().(*measure.Length); ok {
			return []*measure.Length{l}
		}
	}
	if v.Type() == reflect.TypeFor[measure.Style]() {
		return nil // a style that rounds to an unusual graduation is on its own
	}
	var all []*measure.Length
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			all = lengths(v.Elem())
		}
	case reflect.Slice:
		for i := range v.Len() {
			all = append(all, lengths(v.Index(i))...)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				all = append(all, lengths(v.Field(i))...)
			}
		}
	}
	return all
}

// strange are wrong values for a length of an inch job: off every graduation, too short, negative, too
// long. Some differ only by a hair.
func strange(l measure.Length) []measure.Length {
	const odd = 977 * measure.Tick // less than 1/1000 in, and no whole micrometers
	return []measure.Length{l + odd, l - odd, l + measure.Tick, odd, -odd, -measure.Foot - odd, 7*measure.Inch + odd, 31*measure.Foot + odd, 3000*measure.Foot + odd, 1<<60 + 1}
}

// spoil calls say with each length of v spoiled in each way, v as it was between, and
// returns how many texts differed.
func spoil(t *testing.T, v any, say func() []string) int {
	t.Helper()
	seen := make(map[string]bool)
	places := lengths(reflect.ValueOf(v))
	if len(places) == 0 {
		t.Fatalf("%T has no lengths", v)
	}
	for _, l := range places {
		was := *l
		for _, x := range strange(was) {
			*l = x
			for _, text := range say() {
				if !seen[text] {
					seen[text] = true
					if bad := noTape.FindString(text); bad != "" {
						t.Errorf("%T: %q in %.300s", v, bad, text)
					}
				}
			}
		}
		*l = was
	}
	return len(seen)
}

func said(errs ...error) (texts []string) {
	for _, err := range errs {
		if err != nil {
			texts = append(texts, err.Error())
		}
	}
	return texts
}

func second[T any](_ T, err error) error { return err }

// Whatever is wrong with a length of an inch job, even if nothing is, every error, finding and sheet
// shows graduations, and marks rounding.
func TestPeopleReadGraduations(t *testing.T) {
	atRoot(t)
	const in, ft = measure.Inch, measure.Foot
	atLeast := func(what string, got, want int) {
		if got < want {
			t.Errorf("%s: only %d texts; this test looked in the wrong place", what, got)
		}
	}

	// Profiles, ends, blanks, racks.
	profile := stock.Profile{
		Name: "oak base", Thickness: 9 * in / 16, Width: 5 * in, Face: 6 * in, EndTrim: in / 2, MillShort: in / 4,
		Lengths: []measure.Length{8 * ft, 12 * ft},
	}
	rip := stock.Rip{Width: 11 * in, Strip: 5 * in, Kerf: in / 8, Trim: in / 4, MinStrip: in}
	rack := stock.Rack{Keep: ft, Rules: []stock.KeepRule{{Keep: 2 * ft}}, Offcuts: []stock.Offcut{{Length: 3 * ft}, {Length: 5 * ft}}}
	bow := stock.UsualBow()
	fit := stock.Fit{Bow: &bow, BetweenFinished: in / 16}
	atLeast("profile", spoil(t, &profile, func() []string {
		return said(profile.Validate(), second(joint.NewCut(profile, stock.End{Kind: stock.EndOutsideMiter, Angle: 100 * measure.Degree})))
	}), 5)
	atLeast("rip", spoil(t, &rip, func() []string { return said(second(rip.Blank()), second(rip.Blanks(3))) }), 4)
	atLeast("rack", spoil(t, &rack, func() []string { return said(rack.Validate()) }), 4)
	atLeast("fit", spoil(t, &fit, func() []string { return said(fit.Validate()) }), 3)
	run := stock.Run{Label: "N", Length: 20 * ft, Splice: stock.SpliceRule{At: []measure.Length{9 * ft, 11 * ft}, Clear: ft, MinPart: 16 * in, Overlap: 3 * in / 4, Bevel: 45 * measure.Degree}}
	at := []measure.Length{9 * ft}
	spliced := func() (texts []string) {
		parts, err := run.Pieces(at)
		for i := range parts {
			for _, a := range parts[i].Allowances {
				texts = append(texts, a.Name)
			}
		}
		return append(texts, said(err)...)
	}
	atLeast("run", spoil(t, &run, spliced)+spoil(t, &at, spliced), 10)

	// Rooms.
	rooms := []takeoff.Room{{
		Name: "cloakroom", Height: 9 * ft, PaintLine: 6 * in, OffSquare: in / 4, Studs: takeoff.Studs{First: 8 * in, Spacing: 16 * in},
		Walls: []takeoff.Wall{
			{Name: "N", Length: 16*ft + 3*in, Fixtures: []takeoff.Fixture{{Name: "shelf", At: 2 * ft, Width: 3 * ft, Bottom: in, Height: ft, Depth: in}}},
			{Name: "E", Length: 6*ft + 8*in, HeightLeft: 9 * ft, HeightRight: 9*ft + in},
			{Name: "S", Length: 16*ft + 3*in, TopLength: 16 * ft, Openings: []takeoff.Opening{{Kind: takeoff.OpeningDoor, At: 5 * ft, Width: 32 * in, Height: 80 * in, TopWidth: 33 * in, RightHeight: 81 * in}}},
			{Name: "W", Length: 6*ft + 7*in, Openings: []takeoff.Opening{{Kind: takeoff.OpeningWindow, At: 2 * ft, Width: 2 * ft, Height: 4 * ft, Sill: 2 * ft, Reveal: in / 4}}},
		},
	}}
	casing := stock.Profile{Name: "oak casing", Thickness: 3 * in / 4, Width: 3*in + in/2, Lengths: []measure.Length{8 * ft}}
	crown := stock.Profile{Name: "oak crown", Thickness: 11 * in / 16, Width: 4 * in, Lengths: []measure.Length{12 * ft}}
	scheme := takeoff.Scheme{Base: &profile, Casing: &casing, Crown: &crown, PlinthHeight: 6 * in, ChairRailAt: 32 * in}
	habits := takeoff.Options{Clear: ft, MinPart: ft, Scribe: in / 4, FloorGap: in / 4, Sight: 3 * ft}
	taken := func() []string {
		var texts []string
		findings, err := takeoff.Check(rooms, scheme, nil)
		for _, f := range findings {
			texts = append(texts, f.Reason)
		}
		list, taken := takeoff.Take(rooms, scheme, &habits)
		if list != nil {
			for i := range list.Pieces {
				for _, a := range list.Pieces[i].Allowances {
					texts = append(texts, a.Name)
				}
			}
		}
		unsuited, suit := takeoff.CheckTrim(rooms, scheme, takeoff.Conditions{MaxTransport: 10*ft + 977})
		for _, f := range unsuited {
			texts = append(texts, f.Reason)
		}
		return append(texts, said(err, taken, suit)...)
	}
	atLeast("rooms", spoil(t, &rooms, taken)+spoil(t, &scheme, taken)+spoil(t, &habits, taken), 200)

	// Problems, plans, progress and sheets.
	p := optimize.Problem{
		Kerf: in / 8,
		Sticks: []stock.Stick{
			{Label: "fir 12", Length: 12 * ft, Nominal: 12 * ft, Price: 1500, TrimStart: in / 2, TrimEnd: in / 2},
			{Label: "knotty", Length: 9 * ft, Limit: 1, Rack: true, Defects: []stock.Defect{{From: 4 * ft, To: 4*ft + in}}},
		},
		Pieces: []stock.Piece{
			{Label: "rail", Length: 5 * ft, Left: stock.End{Kind: stock.EndFlatMiter, Setback: 3 * in}},
			{Label: "stile", Length: 3 * ft, Quantity: 2},
		},
		Runs:  []stock.Run{run},
		Rules: optimize.Rules{MinHold: 2 * in, OffcutValues: []optimize.OffcutValue{{Length: 4 * ft, Value: 100}}, Goals: []optimize.Goal{optimize.GoalCost}},
	}
	few := &optimize.Options{Work: 1 << 16}
	plan, err := optimize.Solve(context.Background(), p, few)
	if err != nil {
		t.Fatal(err)
	}
	atLeast("problem", spoil(t, &p, func() []string { return said(second(optimize.Solve(context.Background(), p, few))) }), 40)
	atLeast("plan", spoil(t, plan, func() []string { return said(optimize.Check(context.Background(), p, plan)) }), 20)
	done := replan.Progress{
		Started: []replan.Started{{Stick: 0, Left: 3 * ft}}, Owned: []replan.Owned{{Place: replan.PlaceLeftover, Stick: 0, Length: ft}, {Place: replan.PlaceWhole, Stick: 0, Length: 12 * ft}},
	}
	atLeast("progress", spoil(t, &done, func() []string {
		rev, err := replan.Solve(context.Background(), p, plan, done, few)
		texts := said(err)
		if rev != nil {
			texts = append(texts, rev.String())
		}
		return texts
	}), 5)
	simple := optimize.Problem{Kerf: in / 8, Sticks: p.Sticks[:1], Pieces: p.Pieces[1:]}
	atLeast("simple", spoil(t, &simple, func() []string {
		plan, err := optimize.Solve(context.Background(), simple, few)
		texts := said(err)
		if plan == nil {
			return texts
		}
		s, err := cutsheet.New(context.Background(), simple, plan, nil)
		if err != nil {
			return append(texts, err.Error())
		}
		for _, write := range []func(io.Writer) error{s.WriteText, s.WriteHTML, s.WriteSVG, s.WriteCSV} {
			var b bytes.Buffer
			if err := write(&b); err != nil {
				t.Fatal(err)
			}
			texts = append(texts, strings.ReplaceAll(b.String(), "12mm 11mm 14mm", "")) // margins of paper
		}
		return texts
	}), 50)

	// Papers.
	proposal := paper.Proposal{Scope: []paper.Scope{{Room: "cloakroom", Items: []paper.Item{{Label: "base", Length: 45 * ft}}}}}
	atLeast("proposal", spoil(t, &proposal, func() []string {
		var text, page bytes.Buffer
		texts := said(proposal.WriteText(&text, 0), proposal.WriteHTML(&page))
		return append(texts, text.String(), page.String())
	}), 5)

	// Finishing.
	grout := finish.Grout{Tile: finish.Tile{Length: ft, Width: 6 * in, Thickness: 3 * in / 8, Joint: in / 16}}
	nails := finish.Nails{Length: 40 * ft, Spacing: 16 * in}
	rod := finish.BackerRod{Length: 40 * ft, Joint: in / 4}
	atLeast("grout", spoil(t, &grout, func() []string { return said(second(grout.Need())) }), 3)
	atLeast("nails", spoil(t, &nails, func() []string { return said(second(nails.Need())) }), 2)
	atLeast("rod", spoil(t, &rod, func() []string { return said(second(rod.Need())) }), 2)
}
