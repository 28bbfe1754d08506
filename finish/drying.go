package finish

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// hour is the span of time that drying is made of.
const hour measure.Duration = 3600_000_000_000

// Drying is how long a material takes after it was put on, at the temperature
// and humidity for which its sheet says so. Cold or damp rooms take longer.
type Drying struct {
	Recoat measure.Duration `json:"recoat,omitempty"` // until work goes on over it; >= 0
	Cure   measure.Duration `json:"cure,omitempty"`   // until it is in use, or may be sealed; 0 = Recoat, else >= Recoat
}

func (d Drying) check() error {
	switch {
	case d.Recoat < 0:
		return fault.Field("recoat", d.Recoat, "zero or more")
	case d.Cure != 0 && d.Cure < d.Recoat:
		return fault.Field("cure", d.Cure, "zero or at least as long as recoat ("+d.Recoat.String()+")")
	}
	return nil
}

// TaskDrying is how long what a task puts on takes to dry, where neither the
// step nor the product says.
type TaskDrying struct {
	Task   Task   `json:"task"`             // what dries
	Dry    Drying `json:"dry"`              // how long
	Source string `json:"source,omitempty"` // publication, or "common practice, no source"
}

// DefaultDrying returns drying times to start from, as a fresh slice. All are
// common practice without a source, but for the cure of paint; the product's own
// sheet goes before them (see [Product.Dry]). Adhesive and the glue of joints do
// not keep the nails waiting, which hold them while they cure.
func DefaultDrying() []TaskDrying {
	return []TaskDrying{
		{TaskGlue, Drying{0, 24 * hour}, commonPractice},
		{TaskFill, Drying{2 * hour, 24 * hour}, commonPractice},
		{TaskCaulk, Drying{2 * hour, 24 * hour}, commonPractice},
		{TaskPrime, Drying{4 * hour, 24 * hour}, commonPractice},
		{TaskPaint, Drying{4 * hour, 30 * 24 * hour}, "recoating: common practice, no source; cure: data sheets of trim enamels give 14 to 30 days, of which this is the longest"},
		{TaskSet, Drying{24 * hour, 24 * hour}, commonPractice},
		{TaskGrout, Drying{24 * hour, 72 * hour}, commonPractice},
		{TaskSeal, Drying{2 * hour, 24 * hour}, commonPractice},
		{TaskGlueJoints, Drying{0, 24 * hour}, commonPractice},
	}
}
