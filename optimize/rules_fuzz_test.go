package optimize_test

import (
	"context"
	"errors"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// tape deals numbers from bytes; zeros if there are no more.
type tape struct{ b []byte }

func (t *tape) next() int {
	if len(t.b) == 0 {
		return 0
	}
	x := t.b[0]
	t.b = t.b[1:]
	return int(x)
}

// length is mostly a small one, now and then one that makes no sense.
func (t *tape) length() measure.Length {
	switch x := t.next(); {
	case x == 255:
		return -measure.Inch
	case x == 254:
		return 1 << 62
	case x > 200:
		return measure.Length(x) * measure.Foot
	default:
		return measure.Length(x) * measure.Inch / 2
	}
}

func (t *tape) problem() optimize.Problem {
	var p optimize.Problem
	p.Kerf = t.length() / 16
	for range 1 + t.next()%4 {
		s := stock.Stick{Length: t.length() + measure.Foot, Price: int64(t.next() * 10), Limit: t.next() % 8, Grade: t.next()%3 - 1, Bundle: t.next() % 4, Minimum: t.next() % 4}
		s.Lot, s.Supplier = []string{"", "A", "B"}[t.next()%3], []string{"", "M", "N"}[t.next()%3]
		s.Rack = t.next()%5 == 0
		if t.next()%4 == 0 {
			s.TrimStart, s.TrimEnd = t.length()/8, t.length()/8
		}
		for range t.next() % 3 {
			s.Breaks = append(s.Breaks, stock.PriceBreak{From: t.next() % 9, Price: int64(t.next() * 9)})
		}
		for range t.next() % 3 {
			from := t.length()
			s.Defects = append(s.Defects, stock.Defect{From: from, To: from + t.length()/4})
		}
		p.Sticks = append(p.Sticks, s)
	}
	end := func() stock.End {
		return stock.End{Kind: stock.EndKind(t.next() % 14), Setback: t.length() / 16}
	}
	for range t.next() % 6 {
		p.Pieces = append(p.Pieces, stock.Piece{Length: t.length(), Quantity: t.next() % 5, Grade: t.next()%3 - 1,
			Left: end(), Right: end(), Symmetry: stock.Symmetry(t.next() % 4)})
	}
	for range t.next() % 3 {
		r := stock.Run{Length: t.length() * 2, Left: end(), Right: end()}
		for x := t.length(); x < r.Length && x > 0 && len(r.Splice.At) < 12; x += t.length() {
			r.Splice.At = append(r.Splice.At, x)
		}
		r.Splice.Overlap, r.Splice.Price, r.Splice.MaxSplices, r.Splice.MinPart = t.length()/32, int64(t.next()), t.next()%4, t.length()/4
		p.Runs = append(p.Runs, r)
	}
	r := &p.Rules
	r.MaxPieces, r.Spare, r.Nest = t.next()%6, t.next()%3, t.next()%3 == 0
	if t.next()%3 == 0 {
		r.MinHold = t.length()
	}
	if t.next()%3 == 0 {
		r.MaxTransport, r.YardCut = t.length(), int64(t.next())
	}
	for range t.next() % 3 {
		kind := t.next()
		g := optimize.Group{Kind: optimize.GroupKind(kind % 4), Pieces: []int{t.next()%6 - 1, t.next() % 6}}
		if kind >= 200 {
			g.Started, g.Lot = true, []string{"", "A", "B"}[kind%3]
		}
		r.Groups = append(r.Groups, g)
	}
	for range t.next() % 3 {
		r.Charges = append(r.Charges, optimize.Charge{Supplier: []string{"", "M", "N"}[t.next()%3], Amount: int64(t.next())})
	}
	for range t.next() % 3 {
		r.OffcutValues = append(r.OffcutValues, optimize.OffcutValue{Length: t.length(), Value: int64(t.next())})
	}
	for range t.next() % 5 {
		r.Goals = append(r.Goals, optimize.Goal(t.next()%7))
	}
	return p
}

// Whatever the problem, Solve does not panic, reports faults by its own errors, and its plans pass
// Check.
func FuzzRules(f *testing.F) {
	f.Add([]byte{4, 2, 180, 90, 0, 1, 0, 0, 0, 0, 1, 1, 0, 0})
	f.Add([]byte("a knot, a splice, a bundle of four and a spare; the rest is zeros for the tape to run out"))
	f.Fuzz(func(t *testing.T, b []byte) {
		p := (&tape{b}).problem()
		plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 3_000_000})
		var internal *optimize.InternalError
		if errors.As(err, &internal) {
			t.Fatalf("%v\n%+v", err, p)
		}
		if (plan == nil) != (err != nil) {
			t.Fatalf("plan %v, error %v", plan, err)
		}
		if plan == nil {
			if !errors.As(err, new(*measure.FieldError)) && !errors.As(err, new(*optimize.InfeasibleError)) && !errors.As(err, new(*optimize.LimitError)) {
				t.Fatalf("error of unknown type: %v", err)
			}
			return
		}
		if err := optimize.Check(context.Background(), p, plan); err != nil {
			t.Fatalf("%v\n%+v\n%+v", err, p, plan)
		}
	})
}
