package stock

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// maxMoisture is the largest accepted moisture content, which is the weight of the
// water in a material over its dry weight: green wood may hold twice its own weight of
// water.
const maxMoisture = 500 * measure.Percent

// maxTemperature is the largest accepted temperature, far above that of any site.
const maxTemperature = 10_000 * measure.DegreeF

// noteTemperature records a temperature that is out of range.
func noteTemperature(bad *fault.List, field string, t measure.Temperature) {
	if t < -maxTemperature || t > maxTemperature {
		bad.Add(field, t.String(), "at most 10,000°F from zero")
	}
}
