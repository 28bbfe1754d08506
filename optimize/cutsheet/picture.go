package cutsheet

import (
	"math"

	"example.com/longpoint/internal/svg"
	"example.com/longpoint/measure"
)

// Styles that many pictures use.
var (
	woodStyle  = svg.Style{Fill: svg.Wood, Stroke: svg.Ink}
	lostStyle  = svg.Style{Fill: svg.Shade, Stroke: svg.Ink}
	bareStyle  = svg.Style{Fill: svg.Paper, Stroke: svg.Ink}
	lineStyle  = svg.Style{Stroke: svg.Ink}
	quietStyle = svg.Style{Stroke: svg.Quiet, Width: 60}
	hatchStyle = svg.Style{Stroke: svg.Quiet, Width: 60}
	bladeStyle = svg.Style{Stroke: svg.Mark, Width: 220}
)

// farthest is beyond all lengths and pictures.
const farthest = 1 << 60

// times returns a unit times a factor from trigonometry, to the nearest one.
func times(u svg.Unit, f float64) svg.Unit {
	x := math.RoundToEven(float64(u) * f)
	return svg.Unit(max(-farthest, min(farthest, x)))
}

// markedAngle writes an angle to a graduation, with + or - if it is over or under the mark.
func markedAngle(a, graduation measure.Angle, l measure.Locale) string {
	r := a.Round(graduation, measure.RoundHalfEven)
	text := l.FormatAngle(r)
	switch {
	case a > r:
		return text + "+"
	case a < r:
		return text + "-"
	}
	return text
}
