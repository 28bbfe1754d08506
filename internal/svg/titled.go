package svg

// Titled returns a picture on which its title stands, and where what is below it begins. The width is in
// units of a picture; zero and less is Wide.
func Titled(width int, title, desc string) (*Picture, Unit) {
	w := Wide
	if width > 0 {
		w = Unit(min(width, 4000)) * One
	}
	p := New(w, title, desc)
	return p, p.Paragraph(margin, title, Large, true) + 4*One
}
