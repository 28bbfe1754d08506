package measure

// Angle is a signed plane angle, an exact count of microarcseconds
// (1/3,600,000,000 degree).
type Angle int64

const (
	Arcsecond  Angle = 1_000_000
	Arcminute        = 60 * Arcsecond
	Degree           = 60 * Arcminute
	RightAngle       = 90 * Degree
)
