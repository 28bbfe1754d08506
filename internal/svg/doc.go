// Package svg draws pictures to scale: lines, hatching, dimensions and labels that do not
// overlap, as SVG that works as a file and inside a page.
//
//	p := svg.New(svg.Wide, "Kitchen, wall A", "A wall of 12 ft with one door.")
//	k := svg.Fit(wallLength, 600*svg.One)
//	p.Rect(svg.Box{X: x, Y: y, W: k.Of(wallLength), H: k.Of(height)}, svg.Style{Fill: svg.Paper, Stroke: svg.Ink})
//	p.Dimension(a, b, 14*svg.One, "12'")
//	p.Label(svg.Text{S: "door", At: at}, svg.Spot{At: elsewhere})
//	_, err := p.WriteTo(w)
//
// All coordinates are integers, so the same picture has the same bytes everywhere. A picture
// has no ids, scripts, styles or links and may occur several times on one page; its background
// is white, so it is readable on a dark page. Foreign text is made visible and escaped. The
// height of a picture follows from its contents; texts and plates lie above all shapes.
package svg
