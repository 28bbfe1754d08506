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
// Everything is counted in integers, so that the same picture is the same bytes everywhere. A
// picture has no ids, scripts, styles or links and may stand several times on one page; its
// ground is white, so that it can be read on a dark page. Text may be anybody's: it is made
// visible and escaped. What is drawn makes the picture as high as it has to be; texts and
// plates lie above all shapes.
package svg
