package share_test

import (
	"context"
	"testing"
	"time"

	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/share"
)

// Shares divide the work, or the time if only a deadline sets a limit: as Solve reads the
// options, and no share outlasts the whole.
func TestShares(t *testing.T) {
	soon, cancel := context.WithTimeout(context.Background(), time.Hour)
	defer cancel()
	for _, tt := range []struct {
		ctx  context.Context
		o    *optimize.Options
		want int64
	}{
		{nil, nil, optimize.DefaultWork},
		{context.Background(), nil, optimize.DefaultWork},
		{context.Background(), &optimize.Options{}, optimize.DefaultWork},
		{context.Background(), &optimize.Options{Work: 7}, 7},
		{context.Background(), &optimize.Options{Work: -1}, 0},
		{soon, nil, 0},
		{soon, &optimize.Options{}, 0},
		{soon, &optimize.Options{Work: 7}, 7},
		{soon, &optimize.Options{Work: -1}, 0},
	} {
		if got := share.Work(tt.ctx, tt.o); got != tt.want {
			t.Errorf("%v, %+v: work %d, want %d", tt.ctx, tt.o, got, tt.want)
		}
		for k := range 4 {
			mine, o, done := share.Of(tt.ctx, tt.o, k, 4)
			got := share.Work(mine, o)
			if want := tt.want / 4; got != want {
				t.Errorf("%v, %+v: share %d has work %d, want %d", tt.ctx, tt.o, k, got, want)
			}
			if tt.ctx == nil {
				done()
				continue
			}
			at, ok := mine.Deadline()
			end, limited := tt.ctx.Deadline()
			if ok != limited || at.After(end) || limited && tt.want == 0 && (k < 3) != at.Before(end.Add(-time.Minute)) {
				t.Errorf("%v, %+v: share %d ends at %v, all at %v", tt.ctx, tt.o, k, at, end)
			}
			done()
		}
	}
}
