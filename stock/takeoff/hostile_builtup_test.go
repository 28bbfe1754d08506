package takeoff_test

import (
	"errors"
	"fmt"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/scribe"
	"example.com/longpoint/stock/takeoff"
)

// hostileAssembly is as many members as there may be, each in front of all before it, with
// blocks behind them.
func hostileAssembly(spacing measure.Length) takeoff.Scheme {
	const in = measure.Inch
	a := takeoff.Assembly{Name: "cornice", FromCeiling: true, ReturnToWall: true}
	for i := range 49 {
		m := sprung(stock.RoleCrown, fmt.Sprintf("crown %d", i), 3*in/4, 0)
		m.Name = fmt.Sprint(i)
		m.Backing = &takeoff.Backing{Profile: *board("block", in, in), Clearance: in / 64, HoldBack: in / 64, BlockLength: in / 64, Spacing: spacing}
		a.Members = append(a.Members, m)
	}
	return takeoff.Scheme{Assemblies: []takeoff.Assembly{a}}
}

// As many members as may be in as many walls as may be are taken, more are refused by the field
// that asks too much.
func TestHostileAssemblies(t *testing.T) {
	for _, c := range []struct {
		walls   int
		spacing measure.Length
		field   string
	}{
		{600, 8 * measure.Foot, ""}, {1000, 8 * measure.Foot, "assemblies"}, {600, measure.Inch, "assemblies[0].members[0].backing.spacing"},
	} {
		r := coil(c.walls)
		r.Height = 9 * measure.Foot
		rooms, s := []takeoff.Room{r}, hostileAssembly(c.spacing)
		_, err := takeoff.Take(rooms, s, nil)
		_, err2 := takeoff.Check(rooms, s, nil)
		_, err3 := takeoff.CheckTrim(rooms, s, takeoff.Conditions{})
		for k, err := range []error{err, err2, err3} {
			var bad *measure.FieldError
			if errors.As(err, &bad); c.field == "" && err != nil || c.field != "" && (bad == nil || bad.Field != c.field) {
				t.Errorf("%d walls, every %v: %d: %.200v, want a FieldError for %q", c.walls, c.spacing, k, err, c.field)
			}
		}
	}
}

// Fifty rooms with all that is run in them: base, cap and shoe, scribed to readings of the floor,
// boxes of molding, rails, a cornice of five with its backing, casing with its stools, plinths and backbands,
// entablatures over the doors and extensions of the jambs.
func BenchmarkFiftyRooms(b *testing.B) {
	const in, ft = measure.Inch, measure.Foot
	var rooms []takeoff.Room
	for i := range 50 {
		r := takeoff.Room{Name: fmt.Sprintf("room %d", i), Height: 10 * ft}
		for k, l := range []measure.Length{14 * ft, 3 * ft, 12 * ft, 2 * ft, 11 * ft, 2 * ft, 15*ft + measure.Length(i)*in/4, 16 * ft} {
			w := takeoff.Wall{Name: fmt.Sprint(k), Length: l}
			for at := measure.Length(0); at <= l; at += 2 * ft {
				w.Floor = append(w.Floor, scribe.Reading{At: at, FromLine: 40*in + measure.Length((i+k)%5)*in/8 + at/200})
			}
			if k == 1 || k == 4 {
				w.Corner.Kind = takeoff.CornerOutside
			}
			switch k {
			case 0, 6:
				w.Openings = []takeoff.Opening{{At: 3 * ft, Width: 32 * in, Depths: &scribe.Depths{TopLeft: in, TopRight: 3 * in / 4, BottomLeft: in, BottomRight: 3 * in / 4}}}
			case 2, 7:
				w.Openings = []takeoff.Opening{{Kind: takeoff.OpeningWindow, At: 3 * ft, Width: 36 * in, Height: 5 * ft, Sill: 30 * in}}
			}
			r.Walls = append(r.Walls, w)
		}
		rooms = append(rooms, r)
	}
	s := fullScheme()
	s.Stool, s.Apron, s.Plinth, s.Backband = board("stool", in, 5*in), board("apron", in, 3*in), board("plinth", in, 4*in), board("band", in, in)
	s.Base, s.Shoe, s.Crown = nil, nil, nil
	s.Extension = &takeoff.ExtensionStock{Board: *board("1x6", 3*in/4, 11*in/2), Kerf: in / 8}
	head := func(role stock.Role, name string, thickness, width measure.Length) *stock.Profile {
		return &stock.Profile{Name: name, Role: role, Thickness: thickness, Width: width}
	}
	s.CasingStyles = []takeoff.CasingStyle{{Name: "entablature", Kinds: []takeoff.OpeningKind{takeoff.OpeningDoor}, Joint: takeoff.CasingButt, Head: []takeoff.HeadMember{
		{Profile: head(stock.RoleFillet, "head fillet", 5*in/4, in/2), Overhang: in / 2},
		{Profile: head(stock.RoleFrieze, "head frieze", 3*in/4, 11*in/2)},
		{Profile: head(stock.RoleCrown, "head crown", 9*in/16, 3*in)},
		{Profile: head(stock.RoleCap, "head cap", 3*in, 3*in/4), Overhang: 2 * in},
	}}}
	s.Wainscot = &takeoff.Wainscot{Profile: board("panel mold", in/2, 5*in/4), Target: 24 * in}
	s.ChairRailAt = 40 * in
	c := cornice()
	c.Members = append([]takeoff.Member{member(stock.RoleBacking, "furring", in/4, in, 8*in)}, c.Members...)
	c.Members = append(c.Members, member(stock.RoleBand, "bead", in/4, in/2, 8*in))
	c.Members[3].Backing = &takeoff.Backing{Profile: *board("2x4", 3*in/2, 7*in/2)}
	s.Assemblies = []takeoff.Assembly{threePieceBase(), c}
	for i := range s.Assemblies {
		for k := range s.Assemblies[i].Members {
			s.Assemblies[i].Members[k].Profile.Lengths = []measure.Length{8 * ft, 12 * ft, 16 * ft}
		}
	}
	runs := 0
	for b.Loop() {
		list, err := takeoff.Take(rooms, s, nil)
		if err != nil {
			b.Fatal(err)
		}
		runs = len(list.Runs)
	}
	b.ReportMetric(float64(runs), "runs")
}
