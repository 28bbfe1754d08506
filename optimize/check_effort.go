package optimize

// effort is what a check may still spend, in steps, and who waits for it. A nil one has no
// limit, and nobody waits.
type effort struct {
	left int64

	// ended says why whoever waits does not wait any longer, nil while they do; it is nil
	// where nobody minds.
	ended  func() error
	grace  int64 // what may be spent once it has ended; below zero: nothing at all
	unseen int64 // steps since the last look at ended
	cause  error // what it said
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
func hurried(steps int64, ended func() error) effort {
	return effort{left: steps, ended: ended, grace: lastSteps, unseen: askEvery}
}

// prompt returns an effort that is over as soon as ended says so; cause is set then, and
// whatever was found by that time is to be thrown away.
func prompt(steps int64, ended func() error) effort {
	return effort{left: steps, ended: ended, grace: -1, unseen: askEvery}
}

// spend takes n steps and reports whether they were there.
func (e *effort) spend(n int64) bool {
	e.left -= n
	e.awaited(n)
	return e.left >= 0
}

// awaited looks at ended if it is time, after n more steps that nothing limits, and reports
// whether to go on at all.
func (e *effort) awaited(n int64) bool {
	if e == nil {
		return true
	}
	if e.unseen += n; e.unseen >= askEvery && e.ended != nil {
		e.unseen = 0
		if e.cause = e.ended(); e.cause != nil {
			e.left, e.ended = min(e.left, e.grace), nil
		}
	}
	return e.cause == nil || e.grace >= 0
}
