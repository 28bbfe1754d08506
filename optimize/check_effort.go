package optimize

// effort is what a check of a proof may still spend, in steps.
type effort struct {
	left int64

	// ended says that whoever waits would rather have an answer; nil where nobody
	// minds. It is asked when left comes down to ask.
	ended func() bool
	ask   int64
}

const (
	// askEvery is how many steps pass between two looks at ended: less than a
	// millisecond.
	askEvery = 1 << 15

	// lastSteps is what may be spent once it has ended: some milliseconds, enough for
	// the proof of most plans that are found in a hurry.
	lastSteps = 1 << 20
)

// patient returns an effort that nobody waits for.
func patient(steps int64) effort { return effort{left: steps} }

// hurried returns an effort that comes to its end soon after ended says so.
func hurried(steps int64, ended func() bool) effort {
	return effort{left: steps, ended: ended, ask: steps}
}

// spend takes n steps and reports whether they were there.
func (e *effort) spend(n int64) bool {
	e.left -= n
	if e.ended != nil && e.left <= e.ask {
		e.ask = e.left - askEvery
		if e.ended() {
			e.left, e.ended = min(e.left, lastSteps), nil
		}
	}
	return e.left >= 0
}
