package curve

import (
	"fmt"
	"math"
	"math/big"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// A Kerf is a saw cut across the back of a board, so that it bends.
type Kerf struct {
	Width measure.Length `json:"width"` // of the cut

	// Depth is the depth of the cut; zero means all of the thickness except Web, and in
	// JSON is an error.
	Depth measure.Length `json:"depth,omitzero" zero:"a depth such as \"1/2in\", or nothing for all but the web"`

	// Web is the least thickness that must remain in front of the cut; zero means 1/16 in
	// (a woodworking magazine of 1984; for soft wood it says 1/8 in), and in JSON is an
	// error.
	Web measure.Length `json:"web,omitzero" zero:"a thickness such as \"1/8in\", or nothing for 1/16in"`
}

// UnmarshalJSON reads an object by the names of the fields. A zero that would mean another
// number is a [*measure.FieldError].
func (k *Kerf) UnmarshalJSON(data []byte) error {
	type plain Kerf
	return fault.Unmarshal(data, (*plain)(k))
}

// Kerfs describes how a board is kerfed to go around an arc.
type Kerfs struct {
	Count int            `json:"count"` // the least number that closes far enough
	Depth measure.Length `json:"depth"` // of each
	Web   measure.Length `json:"web"`   // thickness that remains in front of it

	// Angle is the bend of one kerf as it closes. MaxSpacing is the greatest distance between
	// kerfs, middle to middle, at which all of them close; EvenSpacing is the distance if Count of
	// them are spread evenly, in which case none closes completely. More and narrower kerfs
	// make a fairer curve; 1/4 to 1/2 in apart is usual (common practice, no source).
	Angle       measure.Angle  `json:"angle"`
	MaxSpacing  measure.Length `json:"max_spacing"`
	EvenSpacing measure.Length `json:"even_spacing"`

	// Length is the length of the board along the inner side of the web, which does not
	// change as it bends; Radius is the radius at the bottoms of the kerfs.
	Length measure.Length `json:"length"`
	Radius measure.Length `json:"radius"`
}

const usualWeb = measure.Inch / 16

// Kerfs returns how to kerf the strip to go around a convex wall. A kerf of width f and
// depth y closes by 2·atan(f/2y), hinging on its bottom, which is y farther from the center
// than the back. On a concave wall kerfs in the back would open.
//
// The error joins a [*measure.FieldError] for each field out of range, those of k below kerf; for
// a concave wall (bend); for a kerf that leaves less than the web (kerf.depth); and for more than
// 10,000 kerfs (kerf.width).
func (s Strip) Kerfs(k Kerf) (Kerfs, error) {
	b, err := s.solve()
	var bad fault.List
	bad.Under("", err)
	if s.Bend == BendConcave {
		bad.Add("bend", s.Bend, "convex, because kerfs open on a concave wall")
	}
	length := func(field string, l, least measure.Length, want string) {
		if l < least || l > maxLength {
			bad.Add("kerf."+field, l.About(), want+", at most "+maxLength.About())
		}
	}
	length("width", k.Width, 1, "more than zero")
	length("depth", k.Depth, 0, "zero or more")
	length("web", k.Web, 0, "zero or more")
	if err := bad.Err(); err != nil {
		return Kerfs{}, err
	}
	if k.Web == 0 {
		k.Web = usualWeb
	}
	deepest := s.Thickness - k.Web
	if k.Depth == 0 {
		k.Depth = deepest
	}
	if k.Depth <= 0 || k.Depth > deepest {
		bad.Add("kerf.depth", k.Depth.About(), fmt.Sprintf("at most %v, which leaves a web of %v of %v", max(0, deepest).About(), k.Web.About(), s.Thickness.About()))
		return Kerfs{}, bad.Err()
	}
	closes := k.closes()
	if b.turn.radians/closes.radians > 10*maxCount {
		bad.Add("kerf.width", k.Width.About(), "so wide that 10,000 kerfs do")
		return Kerfs{}, bad.Err()
	}
	n := b.turn.count(closes)
	hinge := b.back + float64(k.Depth)
	long := float64(hinge * b.turn.radians)
	return Kerfs{
		Count: n, Depth: k.Depth, Web: s.Thickness - k.Depth, Angle: microarcseconds(closes.radians),
		MaxSpacing: tick(float64(hinge * closes.radians)), EvenSpacing: tick(long / float64(n)), Length: tick(long), Radius: tick(hinge),
	}, nil
}

// closes returns the angle by which a kerf closes. The tangent of half of it is f/2y, so
// its cosine is (4y² - f²)/(4y² + f²).
func (k Kerf) closes() step {
	f, y := big.NewInt(int64(k.Width)), big.NewInt(2*int64(k.Depth))
	f.Mul(f, f)
	y.Mul(y, y)
	return step{
		radians: 2 * math.Atan(float64(k.Width)/float64(2*k.Depth)),
		cos:     new(big.Rat).SetFrac(new(big.Int).Sub(y, f), new(big.Int).Add(y, f)),
	}
}
