package measure

// The Set methods make the quantities flag.Values, for flag.Var and for what
// is built on that interface:
//
//	kerf := measure.Inch / 8
//	flag.Var(&kerf, "kerf", "width of the saw cut")
//
// flag.TextVar works as well, and takes the default as an argument.

// Set reads what [Parse] reads. It makes *Length a flag.Value.
func (l *Length) Set(s string) error { return l.UnmarshalText([]byte(s)) }

// Set reads what [ParseAngle] reads. It makes *Angle a flag.Value.
func (a *Angle) Set(s string) error { return a.UnmarshalText([]byte(s)) }

// Set reads what [ParseArea] reads. It makes *Area a flag.Value.
func (a *Area) Set(s string) error { return a.UnmarshalText([]byte(s)) }

// Set reads what [ParseVolume] reads. It makes *Volume a flag.Value.
func (v *Volume) Set(s string) error { return v.UnmarshalText([]byte(s)) }

// Set reads what [ParseScale] reads. It makes *Scale a flag.Value.
func (s *Scale) Set(text string) error { return s.UnmarshalText([]byte(text)) }

// Set reads what [ParseSlope] reads. It makes *Slope a flag.Value.
func (s *Slope) Set(text string) error { return s.UnmarshalText([]byte(text)) }
