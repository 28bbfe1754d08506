package cutsheet

import (
	"math"

	"example.com/longpoint/internal/svg"
	"example.com/longpoint/measure"
)

// Styles of what many pictures show.
var (
	woodStyle  = svg.Style{Fill: svg.Wood, Stroke: svg.Ink}
	lostStyle  = svg.Style{Fill: svg.Shade, Stroke: svg.Ink}
	bareStyle  = svg.Style{Fill: svg.Paper, Stroke: svg.Ink}
	lineStyle  = svg.Style{Stroke: svg.Ink}
	quietStyle = svg.Style{Stroke: svg.Quiet, Width: 60}
	hatchStyle = svg.Style{Stroke: svg.Quiet, Width: 60}
	bladeStyle = svg.Style{Stroke: svg.Mark, Width: 220}
)

// times returns a unit times a factor that trigonometry gave, within what can be drawn.
func times(u svg.Unit, f float64) svg.Unit {
	x := math.RoundToEven(float64(u) * f)
	const most = 1e8
	return svg.Unit(max(-most, min(most, x)))
}

// markedAngle writes an angle to a graduation, with + or - where it is over or under the mark.
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
