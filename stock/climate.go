package stock

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// maxMoisture bounds what is accepted as a moisture content, the weight of the water
// in a material over its dry weight: green wood may hold twice its own weight of water.
const maxMoisture = 500 * measure.Percent

// maxTemperature bounds what is accepted as a temperature: far beyond any site.
const maxTemperature = 10_000 * measure.DegreeF

// noteTemperature notes a temperature that is far beyond any site.
func noteTemperature(bad *fault.List, field string, t measure.Temperature) {
	if t < -maxTemperature || t > maxTemperature {
		bad.Add(field, t.String(), "at most 10,000°F from zero")
	}
}
