package optimize

// effort is the number of steps that a check may still use, and the condition that ends it early.
// A nil effort is unlimited.
type effort struct {
	left int64

	// ended returns the reason why the check has to end, or nil if it may continue. A nil
	// function never ends it.
	ended  func() error
	grace  int64 // steps allowed after it has ended; none if below zero
	unseen int64 // steps since the last call of ended
	cause  error // its error
}

const (
	// askEvery is the number of steps between two calls of ended: less than a millisecond.
	askEvery = 1 << 15

	// lastSteps is the number of steps allowed after it has ended: some milliseconds, enough
	// for the proof of most plans that are found in that time.
	lastSteps = 1 << 20
)

// patient returns an effort that only the steps limit.
func patient(steps int64) effort { return effort{left: steps} }

// hurried returns an effort that ends soon after ended returns an error.
func hurried(steps int64, ended func() error) effort {
	return effort{left: steps, ended: ended, grace: lastSteps, unseen: askEvery}
}

// prompt returns an effort that is over as soon as ended returns an error. Then cause is set, and
// the results so far are to be discarded.
func prompt(steps int64, ended func() error) effort {
	return effort{left: steps, ended: ended, grace: -1, unseen: askEvery}
}

// spend uses n steps and reports whether there were as many.
func (e *effort) spend(n int64) bool {
	e.left -= n
	e.awaited(n)
	return e.left >= 0
}

// awaited calls ended if it is time, after n more steps without a limit, and reports whether to
// continue.
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
