package sequence

import (
	"strconv"
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// Delivery is a delivery of material to the site.
type Delivery struct {
	ID      string `json:"id,omitempty"`      // of its activity; "" = "delivery" and its material
	Profile string `json:"profile,omitempty"` // the trim that comes; "" = all trim, or the material of Tasks alone

	// Tasks are the tasks that use the material, such as paint. If empty, the material is
	// the trim itself.
	Tasks []finish.Task `json:"tasks,omitempty"`

	Day      time.Time `json:"day,omitzero"`        // day of the order, or of the delivery if LeadDays is zero; zero = from the start
	LeadDays int64     `json:"lead_days,omitempty"` // calendar days from order to delivery; 0 to 3650

	// Class and StainGrade describe the trim, which determines how long it settles in the
	// air of the house. Settle overrides them if it is not zero; less than zero means no
	// settling.
	Class      stock.Class      `json:"class,omitzero"`
	StainGrade bool             `json:"stain_grade,omitempty"` // solid stock for a clear finish
	Settle     measure.Duration `json:"settle,omitempty"`

	// Moisture is the meter reading, zero if not measured. If it is within two points of
	// the equilibrium moisture content in Options.Site, the trim need not wait longer: the
	// meter decides, not the clock.
	Moisture measure.Ratio `json:"moisture,omitempty"`
}

// Acclimation is the usual settling time of a kind of trim in the air of the house.
type Acclimation struct {
	Class      stock.Class      `json:"class,omitzero"`
	StainGrade bool             `json:"stain_grade,omitempty"`
	Lag        measure.Duration `json:"lag"` // by the clock; >= 0
	Source     string           `json:"source,omitempty"`
}

const (
	hour = measure.Duration(time.Hour)
	day  = 24 * hour
)

// closeEnough is the distance from the equilibrium within which trim may be installed
// (Wengert, cited by a maker of moisture meters).
const closeEnough = 2 * measure.Percent

// DefaultAcclimation returns the usual settling times, as a fresh slice: the longer ones in
// common use. Trim that is not listed does not wait. A moisture meter decides, not the
// clock.
func DefaultAcclimation() []Acclimation {
	const woodweb = "Woodweb, 2008: 48 to 72 h for stock molding on stickers, 1 to 2 weeks for solid or stain grade; the meter decides"
	return []Acclimation{
		{stock.ClassWood, false, 72 * hour, woodweb},
		{stock.ClassWood, true, 14 * day, woodweb},
		{stock.ClassComposite, false, 72 * hour, "as stock molding: common practice, no source"},
		{stock.ClassComposite, true, 14 * day, "veneered, as solid: common practice, no source"},
		{stock.ClassPlastic, false, 24 * hour, "until it is as warm as the room: common practice, no source"},
	}
}

// days bounds a lead time.
const days = 3650

// Validate returns nil if the delivery is valid, or every fault as joined
// [*measure.FieldError] values.
func (d Delivery) Validate() error {
	var bad fault.List
	for i, t := range d.Tasks {
		if _, err := t.MarshalText(); err != nil {
			bad.Add("tasks["+strconv.Itoa(i)+"]", t, "a known task")
		}
	}
	if d.LeadDays < 0 || d.LeadDays > days {
		bad.Add("lead_days", d.LeadDays, "0 to "+strconv.Itoa(days))
	}
	if d.LeadDays > 0 && d.Day.IsZero() {
		bad.Add("day", "", "the day on which it is ordered, from which lead_days count")
	}
	if _, err := d.Class.MarshalText(); err != nil {
		bad.Add("class", d.Class, "a known class")
	}
	if d.Moisture < 0 || d.Moisture > 100*measure.Percent {
		bad.Add("moisture", d.Moisture, "0% to 100%")
	}
	return bad.Err()
}

// On returns when the material is on site; zero if it is there from the start.
func (d Delivery) On() time.Time {
	if d.Day.IsZero() {
		return d.Day
	}
	return d.Day.AddDate(0, 0, int(min(max(d.LeadDays, 0), days)))
}

// settles returns the settling time of the trim of a delivery, with the reason.
func (d Delivery) settles(o Options) (lag measure.Duration, reason string, doubt string) {
	meter := "; the plan goes by the clock, a moisture meter decides"
	var settled measure.Ratio
	if o.Site != (finish.Climate{}) && (d.Class == stock.ClassWood || d.Class == stock.ClassComposite) {
		settled, _ = stock.EquilibriumMoisture(o.Site.Temperature, o.Site.Humidity)
	}
	if settled > 0 {
		meter += ": within two points of " + settled.String()
	}
	if d.Moisture > 0 && settled > 0 {
		read := "the meter reads " + d.Moisture.String() + ", trim settles at " + settled.String()
		if off := max(d.Moisture-settled, settled-d.Moisture); off <= closeEnough {
			return 0, read + ": it goes up", ""
		}
		doubt = read + ": more than two points apart, so it does not go up, whatever the clock says"
	}
	switch {
	case d.Settle < 0:
		return 0, "it is settled", doubt
	case d.Settle > 0:
		return d.Settle, "it settles for " + d.Settle.String() + meter, doubt
	}
	for _, a := range o.Acclimation {
		if a.Class == d.Class && a.StainGrade == d.StainGrade {
			return a.Lag, "it settles for " + a.Lag.String() + " (" + a.Source + ")" + meter, doubt
		}
	}
	return 0, "it need not settle", doubt
}
