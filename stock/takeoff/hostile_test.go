package takeoff_test

import (
	"errors"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/scribe"
	"example.com/longpoint/stock/takeoff"
)

// hostileRooms require as much time or memory as they can; field is the rejected field, empty if they
// are accepted at the limit.
var hostileRooms = []struct {
	name, field string
	make        func() []takeoff.Room
}{
	{"10^5 walls", "rooms[0]", func() []takeoff.Room { return []takeoff.Room{coil(100_000)} }},
	{"10^5 openings", "rooms[0]", func() []takeoff.Room { r := coil(4); crowded(&r.Walls[0], 100_000); return []takeoff.Room{r} }},
	{"10^5 fixtures", "rooms[0]", func() []takeoff.Room {
		r := coil(4)
		r.Walls[0].Fixtures = make([]takeoff.Fixture, 100_000)
		return []takeoff.Room{r}
	}},
	{"10^5 stretches to avoid", "rooms[0]", func() []takeoff.Room {
		r := coil(4)
		r.Walls[0].KeepClear = make([]takeoff.KeepClear, 100_000)
		return []takeoff.Room{r}
	}},
	{"10^5 readings", "rooms[0]", func() []takeoff.Room { r := coil(4); r.Walls[0].Floor = zigzag(100_000); return []takeoff.Room{r} }},
	{"as many readings as may be, below many openings", "", func() []takeoff.Room {
		r := coil(4)
		crowded(&r.Walls[0], 400)
		r.Walls[0].Floor, r.Walls[1].Ceiling = zigzag(550), zigzag(40)
		for i := range r.Walls[1].Ceiling { // that wall is shorter
			r.Walls[1].Ceiling[i].At = measure.Length(i) * measure.Inch
		}
		return []takeoff.Room{r}
	}},
	{"10^5 rooms", "rooms", func() []takeoff.Room { return make([]takeoff.Room, 100_000) }},
	{"10^4 rooms of four walls", "rooms", func() []takeoff.Room {
		var rs []takeoff.Room
		for i := range 10_000 {
			rs = append(rs, coil(4))
			rs[i].Name = strconv.Itoa(i)
		}
		return rs
	}},
	{"10^6 studs", "rooms[0].studs.at", func() []takeoff.Room {
		r := coil(4)
		r.Studs.At = tenths(1_000_000)
		return []takeoff.Room{r}
	}},
	{"10^4 studs for each of many walls", "rooms", func() []takeoff.Room {
		r := coil(400)
		r.Studs.At = tenths(10_000)
		return []takeoff.Room{r}
	}},
	{"walls of many miles", "rooms", func() []takeoff.Room {
		r := coil(400)
		for i := range r.Walls {
			r.Walls[i].Length = 5280 * measure.Foot
		}
		return []takeoff.Room{r}
	}},
	{"a name of a megabyte", "rooms[0].name", func() []takeoff.Room {
		r := coil(4)
		r.Name = strings.Repeat("hall ö ", 150_000)
		return []takeoff.Room{r}
	}},
	{"a wall's name of a megabyte", "rooms[0].walls[1].name", func() []takeoff.Room {
		r := coil(4)
		r.Walls[1].Name = strings.Repeat("w", 1_000_000)
		return []takeoff.Room{r}
	}},
	{"as many walls as may be, around and around", "", func() []takeoff.Room { return []takeoff.Room{coil(1000)} }},
	{"as many openings as may be", "", func() []takeoff.Room { r := coil(4); crowded(&r.Walls[0], 900); return []takeoff.Room{r} }},
	{"as many jogs as may be", "", func() []takeoff.Room { return []takeoff.Room{jogs(1000)} }},
	{"five miles of studs an inch apart", "", func() []takeoff.Room {
		r := coil(10)
		r.Studs.Spacing = measure.Inch
		for i := range r.Walls {
			r.Walls[i].Length = 2640 * measure.Foot
			for k := range measure.Length(50) {
				r.Walls[i].KeepClear = append(r.Walls[i].KeepClear, takeoff.KeepClear{Name: "outlet", At: 10 * k * measure.Foot, Width: measure.Inch})
			}
		}
		return []takeoff.Room{r}
	}},
	{"a ring of as many walls as may be, and diagonals", "", func() []takeoff.Room {
		const n = 1000
		r := takeoff.Room{Name: "ring"}
		for i := range n {
			r.Walls = append(r.Walls, takeoff.Wall{Name: "w" + strconv.Itoa(i), Length: 2*measure.Foot + measure.Length(i%7)*measure.Inch/16,
				Corner: takeoff.Corner{Angle: 180*measure.Degree - 360*measure.Degree/n}})
		}
		for i := range 32 {
			r.Diagonals = append(r.Diagonals, takeoff.Diagonal{From: "w" + strconv.Itoa(i), To: "w" + strconv.Itoa(i+n/2), Length: 636 * measure.Foot})
		}
		return []takeoff.Room{r}
	}},
	{"ten rooms as large as may be", "", func() []takeoff.Room {
		var rs []takeoff.Room
		for i := range 10 {
			rs = append(rs, jogs(1000))
			if i%2 > 0 {
				rs[i] = coil(1000)
			}
			rs[i].Name = strconv.Itoa(i)
		}
		return rs
	}},
}

// zigzag is readings half an inch apart that go up and down.
func zigzag(n int) scribe.Surface {
	s := make(scribe.Surface, n)
	for i := range s {
		s[i] = scribe.Reading{At: measure.Length(i) * measure.Inch / 2, FromLine: measure.Length(12+i%3) * measure.Inch / 4}
	}
	return s
}

// coil is a room whose walls go around and around and do not close.
func coil(n int) takeoff.Room {
	r := takeoff.Room{Name: "coil"}
	for i := range n {
		r.Walls = append(r.Walls, takeoff.Wall{Name: "w" + strconv.Itoa(i), Length: 4*measure.Foot + measure.Length(i)*measure.Inch/64})
	}
	r.Walls[n-1].Corner.Kind = takeoff.CornerStop
	return r
}

// jogs is a room with walls that are jogs as deep as the trim is thick, one after the other.
func jogs(n int) takeoff.Room {
	r := takeoff.Room{Name: "jogs"}
	for i := range n {
		w := takeoff.Wall{Name: "w" + strconv.Itoa(i), Length: measure.Inch*5/8 + measure.Length(i%7)*measure.Inch/16}
		if i%2 == 0 {
			w.Length = measure.Length(1+i%5) * measure.Inch
		}
		if i%4 == 1 || i%4 == 2 {
			w.Corner.Kind = takeoff.CornerOutside
		}
		r.Walls = append(r.Walls, w)
	}
	r.Walls[n-1].Corner.Kind = takeoff.CornerStop
	return r
}

// crowded puts openings on a wall, as close as they can be.
func crowded(w *takeoff.Wall, n int) {
	w.Length = measure.Length(n) * 4 * measure.Foot
	for i := range n {
		w.Openings = append(w.Openings, takeoff.Opening{Kind: takeoff.OpeningDoor, At: measure.Length(i) * 4 * measure.Foot, Width: 3 * measure.Foot, Height: 80 * measure.Inch})
	}
}

func tenths(n int) []measure.Length {
	at := make([]measure.Length, n)
	for i := range at {
		at[i] = measure.Length(i) * measure.Inch / 10
	}
	return at
}

func hostileScheme() takeoff.Scheme {
	base := stock.Profile{Name: "base", Thickness: measure.Inch * 5 / 8, Width: 5 * measure.Inch, Lengths: []measure.Length{16 * measure.Foot}}
	casing := stock.Profile{Name: "casing", Thickness: measure.Inch * 5 / 8, Width: 3 * measure.Inch, Lengths: []measure.Length{16 * measure.Foot}}
	shoe := stock.Profile{Name: "shoe", Thickness: measure.Inch / 2, Width: measure.Inch * 3 / 4, Lengths: []measure.Length{16 * measure.Foot}}
	return takeoff.Scheme{Base: &base, Casing: &casing, Shoe: &shoe}
}

// Whatever the input, it is accepted or rejected by a field with its valid values. Slow code would run
// into the time limit of the whole test.
func TestHostileRooms(t *testing.T) {
	for _, h := range hostileRooms {
		t.Run(h.name, func(t *testing.T) {
			rooms := h.make()
			s := hostileScheme()
			_, err := takeoff.Take(rooms, s, nil)
			_, err2 := takeoff.Check(rooms, s, nil)
			_, err3 := takeoff.CheckTrim(rooms, s, takeoff.Conditions{})
			for k, err := range []error{err, err2, err3} {
				var bad *measure.FieldError
				if h.field == "" && err != nil && errors.As(err, &bad) {
					t.Errorf("%d: %v, want it accepted", k, err)
				}
				if h.field != "" && (!errors.As(err, &bad) || bad.Field != h.field) {
					t.Errorf("%d: %.200v, want a FieldError for %s", k, err, h.field)
				}
				if err != nil && len(err.Error()) > 1000 {
					t.Errorf("%d: an error of %d bytes", k, len(err.Error()))
				}
			}
		})
	}
}

func BenchmarkHostileRooms(b *testing.B) {
	for _, h := range hostileRooms {
		for _, f := range []struct {
			name string
			do   func([]takeoff.Room, takeoff.Scheme)
		}{
			{"take", func(r []takeoff.Room, s takeoff.Scheme) { takeoff.Take(r, s, nil) }},
			{"check", func(r []takeoff.Room, s takeoff.Scheme) { takeoff.Check(r, s, nil) }},
			{"trim", func(r []takeoff.Room, s takeoff.Scheme) { takeoff.CheckTrim(r, s, takeoff.Conditions{}) }},
		} {
			b.Run(h.name+"/"+f.name, func(b *testing.B) {
				rooms, s := h.make(), hostileScheme()
				var most time.Duration
				for range b.N {
					start := time.Now()
					f.do(rooms, s)
					most = max(most, time.Since(start))
				}
				b.ReportMetric(float64(most.Milliseconds()), "ms-most")
			})
		}
	}
}
