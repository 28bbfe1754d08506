package measure

// RoundChain rounds lengths that lie end to end, such as the segments of a wall
// or the pieces of a run, so that the rounded lengths still sum to the rounded
// whole: it rounds the marks, which are the running sums, and returns the
// distances between them. Rounding each part by itself instead lets the errors
// pile up. Each result is less than one graduation from its part for [RoundDown] and
// [RoundUp], and at most one graduation for the other modes.
//
// With a graduation of zero or less the parts are returned as they are. A running
// sum outside the range of Length gives a *[RangeError].
func RoundChain(parts []Length, graduation Length, mode Rounding) ([]Length, error) {
	rounded := make([]Length, len(parts))
	var exact, mark Length
	for i, p := range parts {
		sum, err := exact.Add(p)
		if err != nil {
			return nil, err
		}
		next := sum.Round(graduation, mode)
		rounded[i], err = next.Sub(mark)
		if err != nil {
			return nil, err
		}
		exact, mark = sum, next
	}
	return rounded, nil
}
