// Package svgcheck checks a picture of package svg for tests, as a reader would see it: it
// parses the markup independently and shares no code with package svg.
package svgcheck

import (
	"bytes"
	"cmp"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A Text is a text of a picture with its box: X, Y is its upper left corner.
type Text struct {
	S          string
	X, Y, W, H float64
	Anchor     string // start, middle or end
}

// A Shape is an element of a picture other than text, with its points in order: the ends of a
// line, the corners of a rectangle, the points of a path.
type Shape struct {
	Name   string
	Attr   map[string]string
	Points [][2]float64
	Group  string // the title of the innermost group that has one
}

// A Picture is the contents of a picture.
type Picture struct {
	Width, Height float64
	Title, Desc   string
	Texts         []Text
	Shapes        []Shape
}

// Words returns all texts, each on a separate line.
func (p *Picture) Words() string {
	var b strings.Builder
	for _, t := range p.Texts {
		b.WriteString(t.S + "\n")
	}
	return b.String()
}

// Check parses a picture and returns its faults, joined: markup that is not well-formed, ids,
// scripts, styles or links, a missing title or description, anything outside the box, texts
// that overlap by their estimated width.
func Check(data []byte) (*Picture, error) {
	p, err := parse(data)
	if err != nil {
		return p, err
	}
	var bad []error
	fail := func(format string, args ...any) {
		if len(bad) < 10 {
			bad = append(bad, fmt.Errorf(format, args...))
		}
	}
	if strings.TrimSpace(p.Title) == "" || strings.TrimSpace(p.Desc) == "" {
		fail("title %q, description %q", p.Title, p.Desc)
	}
	const hair = 0.02
	for _, t := range p.Texts {
		if t.X < -hair || t.Y < -hair || t.X+t.W > p.Width+hair || t.Y+t.H > p.Height+hair {
			fail("text %q at %.2f %.2f, %.2f wide and %.2f high, is not within %v x %v", t.S, t.X, t.Y, t.W, t.H, p.Width, p.Height)
		}
	}
	for i, t := range p.Texts {
		for _, u := range p.Texts[:i] {
			if t.X+hair < u.X+u.W && u.X+hair < t.X+t.W && t.Y+hair < u.Y+u.H && u.Y+hair < t.Y+t.H {
				fail("text %q at %.2f %.2f overlaps %q at %.2f %.2f", t.S, t.X, t.Y, u.S, u.X, u.Y)
			}
		}
	}
	for _, s := range p.Shapes {
		for _, q := range s.Points {
			if q[0] < -hair || q[1] < -hair || q[0] > p.Width+hair || q[1] > p.Height+hair {
				fail("%s %v reaches %v, outside %v x %v", s.Name, s.Attr, q, p.Width, p.Height)
				break
			}
		}
	}
	return p, errors.Join(bad...)
}

func parse(data []byte) (*Picture, error) {
	p := new(Picture)
	if !utf8.Valid(data) {
		return p, errors.New("no UTF-8")
	}
	d := xml.NewDecoder(bytes.NewReader(data))
	var stack []xml.StartElement
	var groups []string
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			return p, err
		}
		switch e := token.(type) {
		case xml.StartElement:
			if len(stack) == 0 && (e.Name.Local != "svg" || p.Width != 0) {
				return p, fmt.Errorf("<%s> at the top", e.Name.Local)
			}
			if err := p.begin(e, groups); err != nil {
				return p, err
			}
			if e.Name.Local == "g" {
				groups = append(groups, "")
			}
			stack = append(stack, e)
		case xml.EndElement:
			stack = stack[:len(stack)-1]
			if e.Name.Local == "g" {
				groups = groups[:len(groups)-1]
			}
		case xml.CharData:
			if len(stack) == 0 {
				continue
			}
			switch name := stack[len(stack)-1].Name.Local; {
			case name == "text":
				p.Texts[len(p.Texts)-1].S += string(e)
			case name == "title" && len(groups) > 0:
				groups[len(groups)-1] += string(e)
			case name == "title":
				p.Title += string(e)
			case name == "desc":
				p.Desc += string(e)
			case strings.TrimSpace(string(e)) != "":
				return p, fmt.Errorf("text %q in <%s>", e, name)
			}
		}
	}
	for i := range p.Texts {
		p.Texts[i].measure()
	}
	return p, nil
}

// begin handles the start of an element.
func (p *Picture) begin(e xml.StartElement, groups []string) error {
	attr := map[string]string{}
	for _, a := range e.Attr {
		attr[a.Name.Local] = a.Value
		if n := a.Name.Local; n == "id" || n == "style" || n == "class" || n == "href" || strings.HasPrefix(n, "on") {
			return fmt.Errorf("attribute %s", n)
		}
	}
	switch e.Name.Local {
	case "svg":
		size, err := numbers(attr["viewBox"])
		if err != nil || len(size) != 4 || attr["role"] != "img" || attr["aria-label"] == "" {
			return fmt.Errorf("<svg> %v", attr)
		}
		p.Width, p.Height = size[2], size[3]
		return nil
	case "title", "desc", "g":
		return nil
	case "text":
		return p.text(attr)
	}
	s := Shape{Name: e.Name.Local, Attr: attr}
	for _, g := range groups {
		if g != "" {
			s.Group = g
		}
	}
	at, err := outline(s.Name, attr)
	if err != nil || len(at)%2 != 0 || len(at) == 0 {
		return fmt.Errorf("<%s> %v", s.Name, attr)
	}
	for i := 0; i < len(at); i += 2 {
		s.Points = append(s.Points, [2]float64{at[i], at[i+1]})
	}
	p.Shapes = append(p.Shapes, s)
	return nil
}

// text takes a text, of which only the place is read.
func (p *Picture) text(attr map[string]string) error {
	at, err := numbers(attr["x"] + " " + attr["y"] + " " + attr["font-size"])
	if err != nil || len(at) != 3 {
		return fmt.Errorf("<text> %v", attr)
	}
	where := cmp.Or(attr["text-anchor"], "start")
	anchor := map[string]float64{"start": 0, "middle": 0.5, "end": 1}[where]
	t := Text{X: at[0], Y: at[1], H: at[2], W: anchor, Anchor: where}
	if tr := attr["transform"]; tr != "" {
		if tr != "rotate(-90 "+attr["x"]+" "+attr["y"]+")" {
			return fmt.Errorf("transform %s", tr)
		}
		t.H = -t.H
	}
	p.Texts = append(p.Texts, t)
	return nil
}

// outline returns the coordinates of a shape's points, of the box around it if it is a circle.
func outline(name string, attr map[string]string) ([]float64, error) {
	switch name {
	case "line":
		return numbers(attr["x1"] + " " + attr["y1"] + " " + attr["x2"] + " " + attr["y2"])
	case "rect":
		size, err := numbers(attr["width"] + " " + attr["height"])
		if err != nil || len(size) != 2 {
			return size, err
		}
		at, err := numbers("0" + attr["x"] + " 0" + attr["y"])
		if err != nil || len(at) != 2 {
			return at, err
		}
		x, y, w, h := at[0], at[1], size[0], size[1]
		return []float64{x, y, x + w, y, x + w, y + h, x, y + h}, nil
	case "circle":
		at, err := numbers(attr["cx"] + " " + attr["cy"] + " " + attr["r"])
		if err != nil || len(at) != 3 {
			return at, err
		}
		x, y, r := at[0], at[1], at[2]
		return []float64{x - r, y, x, y - r, x + r, y, x, y + r}, nil
	case "polygon", "polyline":
		return numbers(attr["points"])
	case "path":
		return numbers(arc.ReplaceAllString(attr["d"], ""))
	}
	return nil, fmt.Errorf("<%s>", name)
}

// numbers returns the numbers in a text.
func numbers(text string) (ns []float64, err error) {
	for _, n := range number.FindAllString(text, -1) {
		x, err := strconv.ParseFloat(n, 64)
		if err != nil {
			return nil, err
		}
		ns = append(ns, x)
	}
	return ns, nil
}

var (
	number = regexp.MustCompile(`-?[0-9.]+`)
	arc    = regexp.MustCompile(`A[0-9.]+ [0-9.]+ [01] [01] [01]`) // radii and flags are not points
)

// measure computes the box of a text from its point, anchor and size: six tenths of the size
// for each character, as in monospaced fonts, and twice that for wide ones; the middle of the
// line at seven tenths of the size.
func (t *Text) measure() {
	n := 0.0
	for _, r := range t.S {
		switch {
		case unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf): // zero width
		case r >= 0x1100 && (r < 0x2000 || r >= 0x2e80):
			n += 2
		default:
			n++
		}
	}
	size := math.Abs(t.H)
	w := float64(n * size * 0.6)
	x, y, before := t.X, t.Y, float64(w*t.W)
	if t.H < 0 { // turned to the left: reads upward
		t.X, t.Y, t.W, t.H = x-float64(size*0.75), y-(w-before), size*0.95, w
		return
	}
	t.X, t.Y, t.W, t.H = x-before, y-float64(size*0.75), w, size*0.95
}
