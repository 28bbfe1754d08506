package optimize

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
)

// A Report says how much of a plan's bound [Audit] verified without the solver. The zero
// value reports on a plan that claims nothing, and so does nil.
type Report struct {
	shown, claimed int64
	open           []string
}

// The reasons why part of a bound is unverified.
const (
	openSearch  = "exhausted search"
	openNothing = "nothing stored"
)

// reportOn returns the report on a bound of which the part shown was verified; the rest is open
// for the given reason.
func reportOn(bound, shown int64, why string) *Report {
	r := &Report{shown: shown, claimed: bound}
	if shown < bound {
		r.open = []string{why}
	}
	return r
}

// Bound returns the verified lower bound on the cost of every plan, in units of Plan.Cost, and
// reports whether it is complete: if so, shown equals Plan.Bound; otherwise it is less.
func (r *Report) Bound() (shown int64, complete bool) {
	if r == nil {
		r = new(Report)
	}
	return r.shown, r.shown >= r.claimed
}

// Open lists, in words, the claims that rest on the solver alone: the part of Plan.Bound above the
// verified part, as "exhausted search", or as "nothing stored" if the proof was omitted; then the
// bounds of goals after the cost (Plan.Goals) that have no [GoalResult.Proof], unless they are
// trivial. It is empty if everything was verified.
func (r *Report) Open() []string {
	if r == nil {
		return nil
	}
	return slices.Clone(r.open)
}

// String returns the report on one line, such as "bound 4990 shown of 5120 claimed: exhausted
// search" or, if everything was verified, "bound 5120 shown".
func (r *Report) String() string {
	if r == nil {
		r = new(Report)
	}
	text := fmt.Sprintf("bound %d shown", r.shown)
	between := "; not shown: "
	if r.shown < r.claimed {
		text += fmt.Sprintf(" of %d claimed", r.claimed)
		between = ": "
	}
	if len(r.open) > 0 {
		text += between + strings.Join(r.open, ", ")
	}
	return text
}

// reported is the JSON of a report.
type reported struct {
	Shown   int64    `json:"shown"`
	Claimed int64    `json:"claimed"`
	Open    []string `json:"open,omitempty"`
}

// MarshalJSON writes the report as {"shown": 4990, "claimed": 5120, "open": ["exhausted search"]}.
func (r *Report) MarshalJSON() ([]byte, error) {
	if r == nil {
		r = new(Report)
	}
	return json.Marshal(reported{r.shown, r.claimed, r.open})
}

// UnmarshalJSON reads what MarshalJSON writes. A report is only as trustworthy as its source.
func (r *Report) UnmarshalJSON(text []byte) error {
	var x reported
	if err := json.Unmarshal(text, &x); err != nil {
		return err
	}
	*r = Report{x.Shown, x.Claimed, x.Open}
	return nil
}
