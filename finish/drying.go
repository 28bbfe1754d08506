package finish

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// hour is the unit of drying times.
const hour measure.Duration = 3600_000_000_000

// Drying holds the drying times of a material after its application, at the
// temperature and humidity given on its sheet. Drying takes longer in cold or
// damp rooms.
type Drying struct {
	Recoat measure.Duration `json:"recoat,omitempty"` // until work over it may continue; >= 0
	Cure   measure.Duration `json:"cure,omitempty"`   // until it may be used or sealed; 0 = Recoat, else >= Recoat
}

// Climate is the state of the air in which coats dry and trim settles. The zero Climate
// means not stated.
type Climate struct {
	Temperature measure.Temperature `json:"temperature"`
	Humidity    measure.Ratio       `json:"humidity"` // relative; 0 to 100 %
}

func (c Climate) check() error {
	if c.Humidity < 0 || c.Humidity > whole {
		return fault.Field("humidity", c.Humidity, wantHumidity)
	}
	return nil
}

// DryingRow is a row of a product's sheet with the drying time of a coat in air at least as
// warm and at most as humid as stated.
type DryingRow struct {
	MinTemperature measure.Temperature `json:"min_temperature"`        // at least as warm
	MaxHumidity    measure.Ratio       `json:"max_humidity,omitempty"` // at most as humid; 0 = the sheet does not say, so any
	Dry            Drying              `json:"dry"`
}

func (r DryingRow) check() error {
	if r.MaxHumidity < 0 || r.MaxHumidity > whole {
		return fault.Field("max_humidity", r.MaxHumidity, wantHumidity)
	}
	if r.Dry.Recoat == 0 && r.Dry.Cure == 0 {
		return fault.Field("dry", r.Dry.Recoat, "how long a coat dries")
	}
	return fault.Under("dry", r.Dry.check())
}

const wantHumidity = "a relative humidity, 0% to 100%"

// meets reports whether the air is as warm and as dry as the row requires.
func (r DryingRow) meets(c Climate) bool {
	return c.Temperature >= r.MinTemperature && (r.MaxHumidity == 0 || c.Humidity <= r.MaxHumidity)
}

// DryIn returns the drying time of a coat of the product in a climate, and a text about any
// doubt, or "". Among the rows that the climate meets, the quickest applies; DryIn does not
// interpolate or extrapolate. For a climate that meets no row or is not stated, it returns
// the slowest of the rows and Dry, with a doubt. A product without rows takes Dry in every
// climate.
func (p Product) DryIn(c Climate) (dry Drying, doubt string) { return p.dryIn(words{}, c) }

func (p Product) dryIn(w words, c Climate) (d Drying, doubt string) {
	if len(p.DryAt) == 0 {
		return p.Dry, ""
	}
	met := false
	for _, r := range p.DryAt {
		if c != (Climate{}) && r.meets(c) && (!met || r.Dry.quicker(d)) {
			met, d = true, r.Dry
		}
	}
	if met {
		return d, ""
	}
	d = p.Dry
	for _, r := range p.DryAt {
		d.Recoat, d.Cure = max(d.Recoat, r.Dry.Recoat), max(d.Cure, r.Dry.Cure)
	}
	d.Cure = max(d.Cure, d.Recoat)
	if c == (Climate{}) {
		return d, "the sheet of " + p.Label + " goes by temperature and humidity, which are not stated: the slowest of its times is used"
	}
	return d, "no row of the sheet of " + p.Label + " holds at " + w.FormatTemperature(c.Temperature) + " and " + c.Humidity.String() +
		" relative humidity: the slowest of its times is used, and it may take longer, or not dry at all"
}

// quicker reports whether d allows work to continue sooner than o, or, if equal in
// that, cures sooner.
func (d Drying) quicker(o Drying) bool {
	if d.Recoat != o.Recoat {
		return d.Recoat < o.Recoat
	}
	return max(d.Cure, d.Recoat) < max(o.Cure, o.Recoat)
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

// TaskDrying is the drying time of the material that a task applies, for use if
// neither the step nor the product states one.
type TaskDrying struct {
	Task   Task   `json:"task"`             // the task whose material dries
	Dry    Drying `json:"dry"`              // its drying times
	Source string `json:"source,omitempty"` // publication, or "common practice, no source"
}

// DefaultDrying returns drying times to start from, as a fresh slice. All are
// common practice without a source, except the cure of paint; the product's own
// sheet takes precedence (see [Product.Dry]). Nailing need not wait for adhesive
// and glued joints, since the nails hold them while they cure.
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
