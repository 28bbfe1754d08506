package drawing_test

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"example.com/longpoint/internal/svg/svgcheck"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
	"example.com/longpoint/stock/takeoff/drawing"
)

// A mark stands in the room, and that of a cope or a butt nearer to the wall whose trim is cut than to
// any other: a reader with a mark in hand finds the piece.
func TestPlanMarks(t *testing.T) {
	rng := rand.New(rand.NewPCG(23, 1))
	size := func(lo, hi int64) measure.Length { return measure.Length(lo+rng.Int64N(hi-lo)) * measure.Inch }
	base := stock.Profile{Name: "base", Thickness: measure.Inch / 2, Width: 5 * measure.Inch}
	rail := stock.Profile{Name: "rail", Thickness: measure.Inch / 2, Width: 2 * measure.Inch, Inside: stock.JointButt}
	marked := 0
	for n := range 150 {
		room := takeoff.Room{Name: "room"}
		wall := func(length measure.Length, c takeoff.Corner) {
			room.Walls = append(room.Walls, takeoff.Wall{Name: fmt.Sprint("w", len(room.Walls)+1), Length: length, Corner: c})
		}
		out := takeoff.Corner{Kind: takeoff.CornerOutside}
		for range 4 { // walls with a breast, most of them
			if deep := size(8, 40); rng.IntN(4) > 0 {
				wall(size(30, 120), takeoff.Corner{})
				wall(deep, out)
				wall(size(20, 60), out)
				wall(deep, takeoff.Corner{})
			}
			wall(size(30, 150), takeoff.Corner{})
		}
		list, err := takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{Base: &base, ChairRail: &rail}, nil)
		if err != nil {
			continue
		}
		var b bytes.Buffer
		if err := drawing.Plan(&b, room, list, &drawing.Options{Width: []int{drawing.PaperWidth, drawing.PhoneWidth}[n%2]}); err != nil {
			t.Fatal(err)
		}
		pic, err := svgcheck.Check(b.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		lines := map[string][][2]float64{}
		for _, s := range pic.Shapes {
			if name, ok := strings.CutPrefix(s.Group, "room "); ok && s.Name == "polyline" {
				lines[name] = s.Points
			}
		}
		for _, s := range pic.Shapes {
			kind, name, ok := strings.Cut(s.Group, ", ")
			if !ok || len(lines[name]) == 0 || kind != "cope" && kind != "butt" || s.Name != "circle" && s.Name != "polygon" {
				continue
			}
			marked++
			at := middleOf(s.Points)
			own := awayFrom(at, lines[name])
			for other, l := range lines {
				if d := awayFrom(at, l); d < own-0.05 {
					t.Errorf("room %d: a %s on %s is %.1f from it and %.1f from %s", n, kind, name, own, d, other)
				}
			}
			// The room is to the right of a wall.
			l := lines[name]
			inside := (l[1][0]-l[0][0])*(at[1]-l[0][1])-(l[1][1]-l[0][1])*(at[0]-l[0][0]) > 0
			if !inside {
				t.Errorf("room %d: a %s on %s is out of the room", n, kind, name)
			}
		}
	}
	if marked < 1000 {
		t.Errorf("%d marks seen", marked)
	}
}

func middleOf(points [][2]float64) (m [2]float64) {
	for _, p := range points {
		m[0] += p[0] / float64(len(points))
		m[1] += p[1] / float64(len(points))
	}
	return m
}

// awayFrom returns how far a point is from a line.
func awayFrom(q [2]float64, l [][2]float64) float64 {
	a, b := l[0], l[len(l)-1]
	dx, dy := b[0]-a[0], b[1]-a[1]
	t := ((q[0]-a[0])*dx + (q[1]-a[1])*dy) / (dx*dx + dy*dy)
	t = max(0, min(1, t))
	return math.Hypot(q[0]-a[0]-t*dx, q[1]-a[1]-t*dy)
}
