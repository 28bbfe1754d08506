package tearout_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/finish/tearout"
	"example.com/longpoint/measure"
)

// The plastic against a count of the spots of the floor: for each, half a foot square, the distance
// from the trim is measured. If trim is on all walls, the plastic is exactly the spots within its
// reach; if it is on some of them, it is at least those.
func TestSheetCoversItsReach(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		l, w := 2+r.IntN(40), 2+r.IntN(40)
		reach := 1 + r.IntN(8)
		type span struct {
			x0, y0, x1, y1 float64
		}
		var spans []span
		var parts []tearout.Part
		add := func(wall, from, to int) {
			a, b := float64(from), float64(to)
			spans = append(spans, [...]span{{a, 0, b, 0}, {a, float64(w), b, float64(w)}, {0, a, 0, b}, {float64(l), a, float64(l), b}}[wall])
			parts = append(parts, tearout.Part{Length: measure.Length(to-from) * ft})
		}
		all := r.IntN(3) == 0
		for wall := range 4 {
			long := l
			if wall > 1 {
				long = w
			}
			switch from := r.IntN(long); {
			case all:
				add(wall, 0, long)
			case wall == 0 || r.IntN(2) == 0:
				add(wall, from, from+1+r.IntN(long-from))
			}
		}
		near := 0
		for x := 0.25; x < float64(l); x += 0.5 {
			for y := 0.25; y < float64(w); y += 0.5 {
				if slices.ContainsFunc(spans, func(s span) bool {
					return math.Hypot(x-min(max(x, s.x0), s.x1), y-min(max(y, s.y0), s.y1)) <= float64(reach)
				}) {
					near++
				}
			}
		}
		c := tearout.DefaultContainment()
		c.Reach = measure.Length(reach) * ft
		got, _, err := c.Sheet(tearout.Room{Length: measure.Length(l) * ft, Width: measure.Length(w) * ft}, parts)
		if err != nil {
			t.Fatal(err)
		}
		// Spots by the edge of the reach count in or out as a whole.
		slack := 0.0
		if !all {
			slack = float64(len(spans)) * 4 * float64(reach)
		}
		want := float64(near) / 4
		if sf := got.SquareFeet(); all && sf != want || sf < want-slack || sf > float64(l*w) {
			t.Fatalf("%d by %d ft, reach %d, trim at %v: %v sq ft of plastic, but %v are within reach", l, w, reach, spans, sf, want)
		}
	}
}

// The order in which the parts are listed is nothing to the law or the dump.
func TestOrderOfPartsDoesNotMatter(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 200 {
		job := tearout.Job{Building: old, Rooms: []tearout.Room{classroom(), {Name: "corridor", Length: 20 * ft, Width: 6 * ft}}}
		for range 1 + r.IntN(6) {
			job.Parts = append(job.Parts, tearout.Part{
				Room: job.Rooms[r.IntN(2)].Name, Profile: "old base", Length: measure.Length(1+r.IntN(100)) * in, Count: int64(r.IntN(4)),
				Width: measure.Length(1+r.IntN(6)) * in, Thickness: in / 2, Method: tearout.Method(1 + r.IntN(2)), Day: int64(r.IntN(60)),
			})
		}
		a := plan(t, job)
		job.Parts = slices.Clone(job.Parts)
		r.Shuffle(len(job.Parts), func(i, k int) { job.Parts[i], job.Parts[k] = job.Parts[k], job.Parts[i] })
		b := plan(t, job)
		if a.Gate.Verdict != b.Gate.Verdict || !slices.Equal(ids(a), ids(b)) || a.Labor != b.Labor {
			t.Fatalf("%v, %v, %v\n%v, %v, %v", a.Gate, ids(a), a.Labor, b.Gate, ids(b), b.Labor)
		}
		for _, room := range a.Gate.Covered {
			if !b.Gate.Covers(room) {
				t.Fatalf("%v, %v", a.Gate.Covered, b.Gate.Covered)
			}
		}
		saved := func(p *tearout.Plan) (n int, l measure.Length) {
			for _, o := range p.Salvage {
				n += o.Count
				l += measure.Length(o.Count) * o.Length
			}
			return n, l
		}
		an, al := saved(a)
		if bn, bl := saved(b); an != bn || al != bl {
			t.Fatalf("%d pieces, %v saved; shuffled %d, %v", an, al, bn, bl)
		}
	}
}
