package estimate

import (
	"example.com/longpoint/internal/fault"
)

// WageRange is the range of wages From, From + Step, From + 2 Step and so on up to To, in cents
// an hour.
type WageRange struct {
	From int64 `json:"from"`           // >= 0
	To   int64 `json:"to"`             // >= From
	Step int64 `json:"step,omitempty"` // 0 = 1 cent; at most 100,000 steps
}

func (w *WageRange) fill() (steps int64, err error) {
	if w.Step == 0 {
		w.Step = 1
	}
	var bad fault.List
	if w.From < 0 {
		bad.Add("from", w.From, wantCents)
	}
	if w.To < w.From {
		bad.Add("to", w.To, "at least from")
	}
	switch {
	case w.Step < 0:
		bad.Add("step", w.Step, wantCents)
	case len(bad) == 0 && (w.To-w.From)/w.Step > maxSteps:
		bad.Add("step", w.Step, "more: at most 100,000 steps from from to to")
	}
	if err := bad.Err(); err != nil {
		return 0, err
	}
	return (w.To - w.From) / w.Step, nil
}

// WageSpan is a range of wages over which the order of two alternatives is the same.
type WageSpan struct {
	From    int64  `json:"from"`    // lowest wage, in cents an hour
	To      int64  `json:"to"`      // highest wage
	Cheaper string `json:"cheaper"` // label of the cheaper alternative, "" if they cost the same
}

// BreakEvenWage returns which of two alternatives is cheaper per net foot at each of the wages,
// used instead of that of the terms; labor with its own wage keeps it. The break-even wage is
// where a span ends. It is exact like [BreakEven]: it compares prices as [NewQuote] rounds
// them, so near the break-even the order may alternate by a cent, or with Rounding.UpTo by a
// step.
func BreakEvenWage(a, b Alternative, t Terms, at WageRange) ([]WageSpan, error) {
	var bad fault.List
	steps, err := at.fill()
	bad.Under("wages", err)
	bad.Under("", checkPair(a, b, t))
	if a.Label == b.Label && a.Label != "" {
		bad.Add("alternatives[1].label", b.Label, "a label that no other has")
	}
	if err := bad.Err(); err != nil {
		return nil, err
	}
	wage := func(i int64) int64 { return at.From + i*at.Step }
	m := mapping{net: [2]int64{int64(a.Net), int64(b.Net)}, price: func(i int64) (p [2]int64, err error) {
		terms := t
		terms.Wage = wage(i)
		for k, c := range [2]Alternative{a, b} {
			if p[k], err = priceOf(c, terms); err != nil {
				return p, err
			}
		}
		return p, nil
	}}
	if err := m.run(steps); err != nil {
		return nil, err
	}
	var spans []WageSpan
	for _, s := range m.spans {
		spans = append(spans, WageSpan{From: wage(s.from), To: wage(s.to), Cheaper: cheaper(s.order, a.Label, b.Label)})
	}
	return spans, nil
}
