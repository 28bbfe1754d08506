package finish

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// groutDensity is the dry weight that fills a volume of joint, 1.6 kg per liter
// (about 100 lb per cubic foot). No association's formula was seen; three
// published yields agree with this figure.
func groutDensity() Yield {
	return Yield{Covers: AmountOf(measure.Liter), Of: AmountOf(1600 * measure.Gram)}
}

// Grout fills the joints of tile: of a field, given by its Area, or of a one-course
// base, given by its Length. The upright joints of a course are grouted; the lines along
// the floor and the top only if Bottom and Top are set (a change of plane usually takes
// sealant instead).
type Grout struct {
	Material string       `json:"material,omitempty"` // "" = "grout"
	Area     measure.Area `json:"area,omitempty"`     // of a field; >= 0
	Tile     Tile         `json:"tile,omitzero"`      // its Width is the height of a base
	Density  Yield        `json:"density,omitzero"`   // volume per weight; zero = 1.6 kg a liter of joint; three published yields agree
	Waste    Waste        `json:"waste,omitzero"`

	Length  measure.Length `json:"length,omitempty"`  // total length of the runs of a course; >= 0, not together with Area
	Between int64          `json:"between,omitempty"` // upright joints between tiles, if the layout is known; 0 = one for each started pitch of tile and joint
	Ends    int64          `json:"ends,omitempty"`    // further upright joints, such as outside corners
	Bottom  bool           `json:"bottom,omitempty"`  // the line along the floor is also grouted
	Top     bool           `json:"top,omitempty"`     // the line along the top is also grouted
}

// Tile is one tile and the joint around it.
type Tile struct {
	Length    measure.Length `json:"length"`    // > 0
	Width     measure.Length `json:"width"`     // > 0; of a base, its height
	Thickness measure.Length `json:"thickness"` // depth of the grout; > 0
	Joint     measure.Length `json:"joint"`     // between tiles; >= 0
}

func (t Tile) check() error {
	for _, f := range [...]struct {
		name string
		l    measure.Length
	}{{"length", t.Length}, {"width", t.Width}, {"thickness", t.Thickness}} {
		if f.l <= 0 {
			return fault.Field(f.name, AmountOf(f.l), "more than zero")
		}
	}
	if t.Joint < 0 {
		return fault.Field("joint", AmountOf(t.Joint), "zero or more")
	}
	return nil
}

// Need returns the weight of dry grout. For a field it uses the pitch formula: the tile
// takes LW of each pitch (L+J)(W+J), and the rest is joint, filled to the thickness of
// the tile. The usual shortcut J(L+W)/LW counts the crossings twice and relates the
// joints to the bare tile, which is a quarter too much for small mosaics.
func (g Grout) Need() (Need, error) { return g.need(words{}) }

func (g Grout) need(w words) (Need, error) {
	if err := g.Tile.check(); err != nil {
		return Need{}, fault.Under("tile", err)
	}
	if g.Area == 0 || g.Length != 0 || g.Between != 0 || g.Ends != 0 {
		if g.Area != 0 {
			return Need{}, fault.Field("area", AmountOf(g.Area), "nothing beside the length and the joints of a course")
		}
		return g.course(w)
	}
	if g.Area < 0 {
		return Need{}, fault.Field("area", AmountOf(g.Area), "zero or more")
	}
	t := g.Tile
	pl, ok1 := natural.Add(int64(t.Length), int64(t.Joint))
	pw, ok2 := natural.Add(int64(t.Width), int64(t.Joint))
	// (L+J)(W+J) - LW = J (L + W + J)
	lw, ok3 := natural.Add(pl, int64(t.Width))
	if !ok1 || !ok2 || !ok3 {
		return Need{}, tooLarge("the pitch of the tile")
	}
	v, ok := natural.Quotient(natural.Up,
		[]int64{int64(g.Area), int64(t.Joint), lw, int64(t.Thickness), squareTicksPerUnit},
		[]int64{pl, pw, cubicTicksPerUnit})
	if !ok {
		return Need{}, tooLarge("the volume of the joints")
	}
	return groutNeed(w, g.Material, measure.Volume(v), g.Density, g.Waste,
		w.amount(AmountOf(g.Area))+" of "+w.across(t.Length)+" x "+w.across(t.Width)+" tile with "+w.across(t.Joint)+" joints, "+w.across(t.Thickness)+" deep")
}

// Joints returns the number of upright joints of a course: those between tiles plus
// Ends.
func (g Grout) Joints() (int64, error) {
	if err := g.Tile.check(); err != nil {
		return 0, fault.Under("tile", err)
	}
	switch {
	case g.Length < 0:
		return 0, fault.Field("length", AmountOf(g.Length), "zero or more")
	case g.Between < 0:
		return 0, fault.Field("between", g.Between, "zero or more")
	case g.Ends < 0:
		return 0, fault.Field("ends", g.Ends, "zero or more")
	}
	pitch, ok1 := natural.Add(int64(g.Tile.Length), int64(g.Tile.Joint))
	n, ok2 := natural.Quotient(natural.Up, []int64{int64(g.Length)}, []int64{max(pitch, 1)})
	if g.Between > 0 {
		n, ok1, ok2 = g.Between, true, true
	}
	n, ok3 := natural.Add(n, g.Ends)
	if !ok1 || !ok2 || !ok3 {
		return 0, tooLarge("the number of joints")
	}
	return n, nil
}

// course returns the weight of dry grout for a course.
func (g Grout) course(w words) (Need, error) {
	n, err := g.Joints()
	if err != nil {
		return Need{}, err
	}
	t := g.Tile
	v, ok := volumeOf(natural.Up, []int64{n, int64(t.Thickness), int64(t.Joint)}, nil, t.Width)
	why := itoa(n) + " upright joints " + w.across(t.Joint) + " wide, " + w.across(t.Width) + " high and " + w.across(t.Thickness) + " deep"
	for _, line := range [...]struct {
		grouted bool
		where   string
	}{{g.Bottom, "floor"}, {g.Top, "top"}} {
		if !line.grouted || !ok {
			continue
		}
		var b measure.Volume
		if b, ok = volumeOf(natural.Up, []int64{int64(t.Thickness), int64(t.Joint)}, nil, g.Length); ok {
			var sum int64
			sum, ok = natural.Add(int64(v), int64(b))
			v = measure.Volume(sum)
		}
		why += ", and " + w.along(g.Length) + " along the " + line.where
	}
	if !ok {
		return Need{}, tooLarge("the volume of the joints")
	}
	return groutNeed(w, g.Material, v, g.Density, g.Waste, why)
}

func groutNeed(w words, material string, v measure.Volume, density Yield, waste Waste, why string) (Need, error) {
	if density.IsZero() {
		density = groutDensity()
	}
	if err := density.must("density", byVolume, byWeight); err != nil {
		return Need{}, err
	}
	net, err := density.Material(AmountOf(v))
	if err != nil {
		return Need{}, err
	}
	return w.need(or(material, "grout"), net, waste, why,
		w.amount(AmountOf(v))+" of joint takes "+w.amount(net))
}
