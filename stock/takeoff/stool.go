package takeoff

import (
	"fmt"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/scribe"
)

// notched returns the notch in the stool of an opening whose sash was measured; ok is false if
// there is none.
func (o Opening) notched(s Scheme) (cut scribe.StoolCut, ok bool) {
	if o.Sash == nil || !o.hasStool(s.at(o)) {
		return cut, false
	}
	cut, err := scribe.Stool{Width: o.Width, Sash: *o.Sash}.Notch()
	return cut, err == nil
}

// notchStools marks the notches on the stools of the room taken off last. Openings are as
// measured: a stool goes between the jambs, not between their extensions.
func notchStools(w words, r *Room, called [][]string, s Scheme, list *List) {
	for wi := range r.Walls {
		wall := &r.Walls[wi]
		order := wall.fromLeft()
		for _, g := range wall.groups() {
			k := slices.Index(order, g.first)
			marks := wall.notches(order[k:k+1+len(g.mullions)], s)
			for i := len(list.Runs) - 1; i >= 0 && list.Runs[i].Room == r.Name && marks != nil; i-- {
				run := &list.Runs[i]
				if run.Role != stock.RoleStool || run.Label != called[wi][g.first]+" stool" {
					continue
				}
				marks[len(marks)-1].At = run.Start + run.Length
				marks[0].At = run.Start
				for k := range marks {
					marks[k].At -= run.Start
				}
				run.Scribe = marks
				for k := len(list.Pieces) - 1; k >= 0; k-- {
					if list.Pieces[k].Run == run.Label {
						w.noted(run, list.Pieces[k:k+1], nil, nil) // a stool is in one piece
						break
					}
				}
			}
		}
	}
}

// notches returns the marks of the common stool of some openings from left to right, by their
// positions on the wall, except its ends; nil unless the sash of each was measured.
func (w *Wall) notches(openings []int, s Scheme) []stock.ScribeMark {
	var marks []stock.ScribeMark
	add := func(at, depth measure.Length) {
		marks = append(marks, stock.ScribeMark{At: at, Depth: depth})
	}
	for k, i := range openings {
		o := w.Openings[i]
		cut, ok := o.notched(s)
		if !ok {
			return nil
		}
		if k == 0 {
			add(0, cut.LeftHorn)
		}
		add(o.At, cut.LeftJamb)
		add(o.At, 0)
		add(o.At+o.Width, 0)
		add(o.At+o.Width, cut.RightJamb)
		if k == len(openings)-1 {
			add(0, cut.RightHorn)
		}
	}
	return marks
}

// stools finds stools that are too narrow. A stool projects in front of the casing as far as
// its horns do beside it; common practice, no source.
func stools(r *Room, s Scheme, opt Options) []Finding {
	w := opt.words()
	var fs []Finding
	for _, wall := range r.Walls {
		for i, o := range wall.Openings {
			cut, ok := o.notched(s)
			if !ok {
				continue
			}
			at := s.at(o)
			_, casing := o.casing(at)
			need := cut.Width + casing + opt.Horn // the notch itself, without a nose
			lacks := need - at.Stool.Width
			if lacks <= 0 {
				continue
			}
			f := Finding{Code: FindingStoolWidth, Severity: SeverityAdvice, Room: r.Name, Wall: wall.Name, Length: lacks}
			if at.Stool.Width <= cut.Width+casing {
				f.Severity = SeverityDoubt
			}
			f.Reason = fmt.Sprintf("%s: the sash is up to %s behind the wall; a stool that stands out %s before the casing is %s wide, and %s is %v",
				wall.openingName(i), w.about(cut.Width), w.about(opt.Horn), w.about(need), at.Stool.Name, w.About(at.Stool.Width))
			fs = append(fs, f)
		}
	}
	return fs
}
