package rcpsp

import "sort"

// Never is later than every moment of a calendar.
const Never = int64(1) << 60

// Calendar holds windows of working time, in order, of which no two touch. It
// requests more of them as needed.
type Calendar struct {
	open, end []int64
	worked    []int64 // before window i, in all windows before
	more      func() (open, end int64, ok bool)
}

// NewCalendar returns the calendar with the windows that more returns, in order, each
// after the previous one and not empty; more is called until it returns false.
func NewCalendar(more func() (open, end int64, ok bool)) *Calendar { return &Calendar{more: more} }

// Always returns the calendar of continuous working time.
func Always() *Calendar { return &Calendar{open: []int64{0}, end: []int64{Never}, worked: []int64{0}} }

// grow adds one more window, and reports whether there is one.
func (c *Calendar) grow() bool {
	if c.more == nil {
		return false
	}
	open, end, ok := c.more()
	if !ok {
		c.more = nil
		return false
	}
	n := len(c.open)
	if n > 0 && open <= c.end[n-1] {
		c.end[n-1] = end
		return true
	}
	worked := int64(0)
	if n > 0 {
		worked = c.worked[n-1] + c.end[n-1] - c.open[n-1]
	}
	c.open, c.end, c.worked = append(c.open, open), append(c.end, end), append(c.worked, worked)
	return true
}

// cover requests windows until one ends after t, and one more, so that the previous one
// is known to be complete; it reports whether there is such a window.
func (c *Calendar) cover(t int64) bool {
	for len(c.end) < 2 || c.end[len(c.end)-2] <= t {
		if !c.grow() {
			break
		}
	}
	return len(c.end) > 0 && c.end[len(c.end)-1] > t
}

// coverWork is cover for an amount of working time: it requests windows until one goes
// beyond it.
func (c *Calendar) coverWork(w int64) bool {
	for len(c.end) < 2 || c.worked[len(c.end)-1] <= w {
		if !c.grow() {
			break
		}
	}
	n := len(c.end)
	return n > 0 && c.worked[n-1]+c.end[n-1]-c.open[n-1] > w
}

// From returns the first working moment at or after t.
func (c *Calendar) From(t int64) int64 {
	if t >= Never || !c.cover(t) {
		return Never
	}
	i := sort.Search(len(c.end), func(i int) bool { return c.end[i] > t })
	return max(t, c.open[i])
}

// Worked returns the working time before t. For a moment after the last window it returns
// the total working time.
func (c *Calendar) Worked(t int64) int64 {
	c.cover(min(t, Never-1))
	i := sort.Search(len(c.end), func(i int) bool { return c.end[i] > t })
	switch {
	case len(c.end) == 0:
		return 0
	case i == len(c.end):
		i--
		return c.worked[i] + c.end[i] - c.open[i]
	}
	return c.worked[i] + max(0, t-c.open[i])
}

// startAt returns the last moment with w working time before it: the moment at which
// work continues.
func (c *Calendar) startAt(w int64) int64 {
	if w >= Never || !c.coverWork(w) {
		return Never
	}
	i := sort.Search(len(c.end), func(i int) bool { return c.worked[i] > w }) - 1
	return c.open[i] + w - c.worked[i]
}

// endAt returns the first moment with w working time before it: the moment at which
// work ends.
func (c *Calendar) endAt(w int64) int64 {
	if w <= 0 {
		return 0
	}
	if t := c.startAt(w - 1); t < Never {
		return t + 1
	}
	return Never
}

// Advance returns the end of work that starts at s, a working moment, and takes d.
// Work that takes no time ends when it starts.
func (c *Calendar) Advance(s, d int64) int64 {
	if d == 0 || s >= Never {
		return s
	}
	return c.endAt(c.Worked(s) + d)
}

// StartToEnd returns the earliest start of work that takes d and ends at or after t.
func (c *Calendar) StartToEnd(t, d int64) int64 {
	if d == 0 || t >= Never {
		return c.at(t, d)
	}
	if !c.cover(t - 1) {
		return Never
	}
	i := sort.Search(len(c.end), func(i int) bool { return c.end[i] >= t })
	if i == len(c.end) {
		return Never
	}
	end := c.worked[i] + max(1, t-c.open[i]) // not in the preceding night
	return c.startAt(max(0, end-d))
}

// at returns the earliest start at or after t of work that takes d. Work that takes
// no time needs no working time.
func (c *Calendar) at(t, d int64) int64 {
	if d == 0 {
		return t
	}
	return c.From(t)
}

// Retreat returns the latest start of work that takes d and ends at or before t, or -1.
func (c *Calendar) Retreat(t, d int64) int64 {
	if d == 0 || t >= Never {
		return t
	}
	w := c.Worked(t) - d
	if w < 0 {
		return -1
	}
	return c.startAt(w)
}

// LatestStart returns the last moment at or before t at which work that takes d can
// start, or -1.
func (c *Calendar) LatestStart(t, d int64) int64 {
	if d == 0 || t >= Never {
		return t
	}
	if f := c.From(t); f == t {
		return t
	}
	w := c.Worked(t)
	if w == 0 {
		return -1
	}
	return c.startAt(w - 1)
}

// Add returns the moment at a lag after t, which may be negative.
func (c *Calendar) Add(t int64, lag Lag) int64 {
	switch {
	case t >= Never:
		return Never
	case lag.Time == 0:
		return t
	case !lag.Working:
		return max(0, min(t+lag.Time, Never))
	}
	return c.endAt(c.Worked(t) + lag.Time)
}

// Sub returns the latest moment for which Add returns t or earlier, or -1.
func (c *Calendar) Sub(t int64, lag Lag) int64 {
	switch {
	case t >= Never || t < 0 || lag.Time == 0:
		return t
	case !lag.Working:
		return max(-1, t-lag.Time)
	}
	w := c.Worked(t) - lag.Time
	if w < 0 {
		return -1
	}
	return c.startAt(w)
}

// Lag is a span of clock time or of working time.
type Lag struct {
	Time    int64 // at most Never/2 in size
	Working bool
}
