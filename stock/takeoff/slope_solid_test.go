package takeoff_test

import (
	"math"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/stair"
	"example.com/longpoint/stock/takeoff"
	"pgregory.net/rapid"
)

type inSpace [3]float64 // east, south, up, in inches

func (a inSpace) plus(b inSpace, f float64) inSpace {
	return inSpace{a[0] + float64(f*b[0]), a[1] + float64(f*b[1]), a[2] + float64(f*b[2])}
}

func (a inSpace) from(b inSpace) float64 {
	d := a.plus(b, -1)
	return math.Sqrt(float64(d[0]*d[0]) + float64(d[1]*d[1]) + float64(d[2]*d[2]))
}

// wallAt is the left end of a wall at the floor, and its direction.
type wallAt struct{ at, along inSpace }

// out points into the room, to the right of the direction along the wall.
func (w wallAt) out() inSpace { return inSpace{-w.along[1], w.along[0], 0} }

// edges returns the four ends of the two edges of a run in space - lower edge at left and right, upper
// edge at left and right - from the data of the run. The upper edge lies drop square to the slope above
// the lower one and proj out from it.
func edges(w wallAt, r stock.Run, proj, drop measure.Length) [2][2]inSpace {
	sin, cos := math.Sincos(r.Slope.Radians())
	along := inSpace{float64(w.along[0] * cos), float64(w.along[1] * cos), sin}
	square := inSpace{-float64(w.along[0] * sin), -float64(w.along[1] * sin), cos}
	origin := w.at.plus(w.along, r.Start.Inches()).plus(inSpace{0, 0, 1}, r.Bottom.Inches())
	long := [2]float64{-r.Reach.Inches(), (r.Length - r.Reach).Inches()}
	var out [2][2]inSpace
	for side, e := range []stock.End{r.Left, r.Right} {
		var back [2]float64 // of the lower and of the upper edge behind the long point
		s := e.Setback.Inches()
		if e.Kind.Raked() { // zero where it must not nest: the angle says it
			s = drop.Inches() * math.Abs(math.Tan(e.Angle.Radians()))
		}
		switch e.LongPoint() {
		case "upper edge":
			back[0] = s
		case "lower edge":
			back[1] = s
		case "back": // at the wall, which of crown is the lower edge
			back[1] = s
		}
		for edge := range back {
			at := long[side] + back[edge]
			if side == 1 {
				at = long[side] - back[edge]
			}
			p := origin.plus(along, at)
			if edge == 1 {
				p = p.plus(square, drop.Inches()).plus(w.out(), proj.Inches())
			}
			out[edge][side] = p
		}
	}
	return out
}

// Crown under a shed roof and under a gable, put together in space from nothing but the data of its
// runs: every end of an edge meets one of its neighbor, all the way around, and all upper edges lie in
// the ceiling.
func TestCrownGoesAroundUnderARoof(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const in = measure.Inch
		size := func(name string, lo, hi int64) measure.Length {
			return measure.Length(rapid.Int64Range(lo*8, hi*8).Draw(t, name)) * in / 8
		}
		wide, deep, low := size("wide", 90, 200), size("deep", 60, 200), size("low", 50, 100)
		crown := &stock.Profile{Name: "crown", Thickness: in / 2, Width: size("width", 2, 5), Spring: measure.Angle(rapid.Int64Range(30, 50).Draw(t, "spring")) * measure.Degree}
		ridge := rapid.Bool().Draw(t, "ridge")
		run := wide
		if ridge {
			run = wide / 2
		}
		rise := measure.Length(rapid.Int64Range(1, int64(run)*6/10).Draw(t, "rise"))
		high := low + rise
		raked := func(name string, length, left, right measure.Length, c takeoff.Corner) takeoff.Wall {
			return takeoff.Wall{Name: name, Length: length, HeightLeft: left, HeightRight: right, Raked: true, Corner: c}
		}
		level := func(name string, length, height measure.Length) takeoff.Wall {
			return takeoff.Wall{Name: name, Length: length, HeightLeft: height, HeightRight: height}
		}
		straight := takeoff.Corner{Angle: 180 * measure.Degree}
		// The ceiling rises to the east, or to the middle.
		var walls []takeoff.Wall
		ceiling := func(x float64) float64 { return low.Inches() + x*rise.Inches()/run.Inches() }
		if ridge {
			walls = []takeoff.Wall{
				raked("N1", run, low, high, straight), raked("N2", run, high, low, takeoff.Corner{}), level("E", deep, low),
				raked("S1", run, low, high, straight), raked("S2", run, high, low, takeoff.Corner{}), level("W", deep, low),
			}
			wide = 2 * run
			shed := ceiling
			ceiling = func(x float64) float64 { return shed(min(x, wide.Inches()-x)) }
		} else {
			walls = []takeoff.Wall{raked("N", wide, low, high, takeoff.Corner{}), level("E", deep, high), raked("S", wide, high, low, takeoff.Corner{}), level("W", deep, low)}
		}
		list, err := takeoff.Take([]takeoff.Room{{Name: "loft", Walls: walls}}, takeoff.Scheme{Crown: crown}, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range list.Findings {
			if f.Code == takeoff.FindingSliver {
				t.Fatal(f.Reason)
			}
			if f.Code == takeoff.FindingRake && f.Severity == takeoff.SeverityDoubt {
				t.Skip("no wedge: " + f.Reason)
			}
		}
		at := map[string]wallAt{}
		w := wallAt{inSpace{}, inSpace{1, 0, 0}}
		for _, wall := range walls {
			at[wall.Name] = w
			w.at = w.at.plus(w.along, wall.Length.Inches())
			if wall.Corner == (takeoff.Corner{}) {
				w.along = w.out()
			}
		}
		p := *crown
		p.Role = stock.RoleCrown
		var ends [2][]inSpace // of lower and of upper edges
		for _, r := range list.Runs {
			for edge, pair := range edges(at[r.Wall], r, p.Projection(), p.Drop()) {
				ends[edge] = append(ends[edge], pair[0], pair[1])
				for _, q := range pair {
					if off := q[2] - ceiling(q[0]); edge == 1 && math.Abs(off) > 1e-4 {
						t.Fatalf("%s: an upper edge is %f off the ceiling: %+v", r.Label, off, r)
					}
				}
			}
			var sum measure.Length
			for _, a := range r.Allowances {
				sum += a.Length
			}
			if sum != r.Length {
				t.Fatalf("%s: allowances make %v, the run is %v", r.Label, sum, r.Length)
			}
		}
		for edge, all := range ends {
			for i, a := range all {
				met := false
				for j, b := range all {
					met = met || i/2 != j/2 && a.from(b) < 1e-3
				}
				if !met {
					t.Fatalf("edge %d of %s ends at %v and meets nothing: %+v", edge, list.Runs[i/2].Label, a, list.Runs[i/2])
				}
			}
		}
		corners := 8 // four corners, of level wall and wedge and of wedge and rake
		if ridge {
			corners += 2
		}
		if total := list.TotalsOf("crown"); total.Corners != corners || list.Joints.InsideMiters != 4 || list.Joints.RakeMiters != corners-4 {
			t.Fatalf("%+v", list.Joints)
		}
	})
}

// Base, skirt and chair rail of a stair, from the data of their runs: if a miter turns up the stair,
// both edges of the two pieces end at one point, and a rail keeps its height above the nosings.
func TestTrimTurnsUpAStair(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const in = measure.Inch
		size := func(name string, lo, hi int64) measure.Length {
			return measure.Length(rapid.Int64Range(lo*16, hi*16).Draw(t, name)) * in / 16
		}
		st := &takeoff.Stair{
			Flight:    stair.Flight{Risers: rapid.IntRange(2, 10).Draw(t, "risers"), Rise: size("rise", 5, 9), Run: size("run", 8, 12), Nosing: size("nosing", 0, 2)},
			RisesLeft: rapid.Bool().Draw(t, "left"), Head: size("head", 0, 6), Joint: stair.Joint(rapid.IntRange(0, 1).Draw(t, "joint")), Skirts: rapid.IntRange(0, 2).Draw(t, "skirts"),
		}
		long := measure.Length(st.Flight.Risers-1) * st.Flight.Run
		length := long + 120*in
		if st.At = 60 * in; st.RisesLeft {
			st.At += long
		}
		s := takeoff.Scheme{Base: board("base", in/2, size("base", 3, 8)), ChairRail: board("rail", in/2, size("rail", 1, 3)), Skirt: board("skirt", in/2, size("skirt", 9, 12))}
		room := takeoff.Room{Name: "classroom", Walls: []takeoff.Wall{{Name: "W", Length: length, Stair: st, Corner: takeoff.Corner{Kind: takeoff.CornerStop}}}}
		list, err := takeoff.Take([]takeoff.Room{room}, s, nil)
		if err != nil {
			t.Fatal(err)
		}
		w := wallAt{inSpace{}, inSpace{1, 0, 0}}
		var up, level []stock.Run
		n := 0
		for _, r := range list.Runs {
			if r.Wall == "" { // the far skirt
				n++
				continue
			}
			if r.Slope == 0 {
				level = append(level, r)
			} else {
				up = append(up, r)
			}
		}
		if len(up) != 2 || n != max(1, st.Skirts)-1 {
			t.Fatalf("%d runs go up, %d skirts for the other side", len(up), n)
		}
		role := map[stock.Role]*stock.Profile{stock.RoleBase: s.Base, stock.RoleSkirt: s.Skirt, stock.RoleChairRail: s.ChairRail}
		partner := map[stock.Role]stock.Role{stock.RoleSkirt: stock.RoleBase, stock.RoleChairRail: stock.RoleChairRail}
		for _, r := range up {
			foot := 0 // its left end, and the right end of the level piece
			if st.RisesLeft {
				foot = 1
			}
			e := edges(w, r, 0, role[r.Role].Width)
			met := false
			for _, q := range level {
				if q.Role != partner[r.Role] {
					continue
				}
				d := edges(w, q, 0, role[q.Role].Width)
				if r.Role == stock.RoleSkirt && st.Joint == stair.JointPlumb { // the base's square end, in full
					met = met || math.Abs(d[0][1-foot][0]-farthest(w, r, foot == 1)) < 1e-3
					continue
				}
				met = met || d[0][1-foot].from(e[0][foot]) < 1e-3 && d[1][1-foot].from(e[1][foot]) < 1e-3
			}
			if !met {
				t.Fatalf("%s meets nothing at its foot: %+v of %+v", r.Label, r, level)
			}
			if st.Head > 0 && r.Role == stock.RoleChairRail && [2]stock.End{r.Left, r.Right}[1-foot].Kind != stock.EndRake {
				t.Fatalf("the rail does not turn at its head: %+v", r)
			}
			if r.Role == stock.RoleSkirt {
				onFloors(t, w, r, st)
			}
			if r.Role != stock.RoleChairRail {
				continue
			}
			// Above each nosing, its lower edge is as high as above the floor.
			for i := 1; i <= st.Flight.Risers; i++ {
				x := (measure.Length(i-1)*st.Flight.Run - st.Flight.Nosing).Inches()
				if st.RisesLeft {
					x = -x
				}
				x += st.At.Inches()
				a, b := e[0][0], e[0][1]
				z := a[2] + (b[2]-a[2])*(x-a[0])/(b[0]-a[0])
				if above := z - (measure.Length(i) * st.Flight.Rise).Inches(); math.Abs(above-32) > 1e-3 {
					t.Fatalf("%f above nosing %d", above, i)
				}
			}
		}
	})
}

// onFloors checks the outline of a skirt: its lower edge begins at Start and Bottom and lies on the
// inner corners, and no corner of it lies in a floor.
func onFloors(t *rapid.T, w wallAt, r stock.Run, st *takeoff.Stair) {
	sin, cos := math.Sincos(r.Slope.Radians())
	var on [][2]float64
	for _, p := range r.Outline {
		along, up := (p.Along - r.Reach).Inches(), p.Up.Inches()
		x, z := r.Start.Inches()+float64(along*cos)-float64(up*sin), r.Bottom.Inches()+float64(along*sin)+float64(up*cos)
		x -= st.At.Inches() // from the first riser, the way the flight rises
		if st.RisesLeft {
			x = -x
		}
		on = append(on, [2]float64{x, z})
	}
	n := float64(st.Flight.Risers)
	rise, run := st.Flight.Rise.Inches(), st.Flight.Run.Inches()
	first, last := [2]float64{0, 0}, [2]float64{(n - 1) * run, (n - 1) * rise}
	if st.RisesLeft {
		first, last = last, first
	}
	for i, want := range [][2]float64{first, last} {
		if math.Abs(on[i][0]-want[0]) > 1e-3 || math.Abs(on[i][1]-want[1]) > 1e-3 {
			t.Fatalf("the lower edge goes through %v, want %v: %+v", on[i], want, r)
		}
	}
	for _, p := range on {
		if p[1] < -1e-3 || p[0] > (n-1)*run+1e-3 && p[1] < n*rise-1e-3 {
			t.Fatalf("a corner at %v lies in a floor: %+v", p, r)
		}
	}
}

// farthest returns the left or the right end of a skirt's outline on the wall.
func farthest(w wallAt, r stock.Run, right bool) float64 {
	sin, cos := math.Sincos(r.Slope.Radians())
	far := math.Inf(1)
	for _, p := range r.Outline {
		x := float64((p.Along-r.Reach).Inches()*cos) - float64(p.Up.Inches()*sin)
		if right {
			x = -x
		}
		far = min(far, x)
	}
	if right {
		far = -far
	}
	return w.at[0] + r.Start.Inches() + far
}
