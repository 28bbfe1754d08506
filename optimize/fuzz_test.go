package optimize_test

import (
	"context"
	"encoding/binary"
	"errors"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// FuzzSolve builds a problem from raw bytes, small values and wild ones.
func FuzzSolve(f *testing.F) {
	f.Add([]byte{})
	f.Add([]byte{1, 10, 7, 0, 3, 2, 4, 1, 6, 2})
	f.Add([]byte{2, 255, 1, 2, 3, 4, 5, 6, 7, 8, 3, 0, 2, 20, 9, 5, 3, 1})
	f.Fuzz(func(t *testing.T, b []byte) {
		number := func() int64 {
			if len(b) == 0 {
				return 0
			}
			v := b[0]
			b = b[1:]
			if v == 255 && len(b) >= 8 { // any value at all
				w := binary.LittleEndian.Uint64(b)
				b = b[8:]
				return int64(w)
			}
			return int64(v) - 2
		}
		p := optimize.Problem{Kerf: measure.Length(number())}
		for range number() % 8 {
			p.Sticks = append(p.Sticks, stock.Stick{
				Length: measure.Length(number()), Price: number(), Limit: int(number()),
				TrimStart: measure.Length(number() % 4), TrimEnd: measure.Length(number() % 4),
			})
		}
		for len(b) > 0 && len(p.Pieces) < 40 {
			p.Pieces = append(p.Pieces, stock.Piece{Length: measure.Length(number()), Quantity: int(number())})
		}
		plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 1_000_000})
		if (plan == nil) != (err != nil) {
			t.Fatalf("plan %v, error %v", plan, err)
		}
		if err != nil {
			if !errors.As(err, new(*measure.FieldError)) && !errors.As(err, new(*optimize.InfeasibleError)) && !errors.As(err, new(*optimize.LimitError)) {
				t.Fatalf("%v\n%#v", err, p)
			}
			return
		}
		if err := optimize.Check(context.Background(), p, plan); err != nil {
			t.Fatalf("%v\n%#v\n%+v", err, p, plan)
		}
	})
}
