package takeoff

import (
	"fmt"

	"example.com/longpoint/measure"
)

// shortPiece is the length from which a hand can hold a piece at the saw: the width of a hand,
// 4 in, plus the 4 in that newer manuals of miter saws require between the hand and either side
// of the blade. Derived; optimize.DefaultMinRemnant is the same.
const shortPiece = 8 * measure.Inch

// bentRun is the part of a run that findings about curves need.
type bentRun struct {
	profile string
	length  measure.Length
}

// bentRuns returns the runs from an index on, by label.
func (l *List) bentRuns(from int) map[string]bentRun {
	runs := make(map[string]bentRun, len(l.Runs)-from)
	for i := range l.Runs[from:] {
		r := &l.Runs[from+i]
		runs[r.Label] = bentRun{r.Profile, r.Length}
	}
	return runs
}

// shortSegments cautions about pieces around curves and bullnose corners that are as short as
// returns at the saw, all those on one wall at once.
func shortSegments(w words, curves []CurvedTrim, runs map[string]bentRun) (fs []Finding) {
	type count struct {
		short, all int
		least      measure.Length
	}
	var walls []string
	of := map[string]count{}
	room := ""
	for _, v := range curves {
		if v.Method != CurveSegments {
			continue
		}
		n, known := of[v.Wall]
		if room = v.Room; !known {
			walls = append(walls, v.Wall)
		}
		for _, label := range v.Runs {
			n.all++
			if r := runs[label]; r.length < shortPiece {
				if n.short++; n.short == 1 || r.length < n.least {
					n.least = r.length
				}
			}
		}
		of[v.Wall] = n
	}
	for _, wall := range walls {
		n := of[wall]
		if n.short == 0 {
			continue
		}
		label := fmt.Sprintf("the segment of %s around %s", w.about(n.least), wall)
		f := shortReturn(label, room, wall, n.least)
		if n.short > 1 {
			which := fmt.Sprintf("%d of %d segments", n.short, n.all)
			if n.short == n.all {
				which = fmt.Sprintf("all %d segments", n.all)
			}
			f.Reason = fmt.Sprintf("%s around %s, the shortest %s, are too short to hold at the saw: cut each off the end of a longer piece, let the blade stop, then take it away", which, wall, w.about(n.least))
		}
		fs = append(fs, f)
	}
	return fs
}
