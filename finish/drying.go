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

// Climate is the air that coats dry in and trim settles in. The zero Climate is not stated.
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

// DryingRow is a row of a product's sheet that says how long a coat takes in air as warm and
// as dry as that, or warmer and drier.
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

// meets reports whether the air is as warm and as dry as the row asks.
func (r DryingRow) meets(c Climate) bool {
	return c.Temperature >= r.MinTemperature && (r.MaxHumidity == 0 || c.Humidity <= r.MaxHumidity)
}

// DryIn returns how long a coat of the product takes in a climate, and what of that is in
// doubt, or "". Of the rows of its sheet that the climate meets the quickest counts; nothing
// is read between rows or beyond them. A climate that meets none, or that is not stated,
// takes the slowest of the rows and Dry, and is in doubt. A product without rows takes Dry in
// every climate.
func (p Product) DryIn(c Climate) (Drying, string) { return p.dryIn(words{}, c) }

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

// quicker reports whether d lets work go on sooner than o, or else cures sooner.
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
