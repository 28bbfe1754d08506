package stock

import (
	"math"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// Range of the data to which EquilibriumMoisture was fitted (Wood Handbook, table 4-2, from
// memory: 30 °F to 270 °F, 5% to 95%).
const (
	coldestFitted = 30 * measure.DegreeF
	warmestFitted = 270 * measure.DegreeF
	dampestFitted = 95 * measure.Percent
)

// EquilibriumMoisture returns the moisture content that wood reaches in air of a given
// temperature and relative humidity, to the nearest 0.01%: 9.25% at 70 °F and 50%. Trim is
// installed when a meter reads within about two points of it. The formula is that of the
// Wood Handbook, chapter 4 (from memory; the tests have the check values of the same
// chapter), computed in floating point. The result is for comparison; no other result of
// this library depends on it.
//
// The error is a [*measure.FieldError] for a temperature outside 30 °F to 270 °F or a humidity
// outside 0% to 95%.
func EquilibriumMoisture(temperature measure.Temperature, humidity measure.Ratio) (measure.Ratio, error) {
	var bad fault.List
	if temperature < coldestFitted || temperature > warmestFitted {
		bad.Add("temperature", temperature, "30°F to 270°F")
	}
	if humidity < 0 || humidity > dampestFitted {
		bad.Add("humidity", humidity, "0% to 95%")
	}
	if err := bad.Err(); err != nil {
		return 0, err
	}
	t := float64(temperature) / float64(measure.DegreeF)
	h := float64(humidity) / float64(100*measure.Percent)
	tt := float64(t * t)
	w := 330 + float64(0.452*t) + float64(0.00415*tt)
	k := 0.791 + float64(0.000463*t) - float64(0.000000844*tt)
	k1 := 6.34 + float64(0.000775*t) - float64(0.0000935*tt)
	k2 := 1.09 + float64(0.0284*t) - float64(0.0000904*tt)
	kh := float64(k * h)
	one := float64(k1 * kh)
	two := float64(float64(one*k2) * kh)
	percent := float64(1800/w) * (float64(kh/(1-kh)) + float64((one+float64(2*two))/(1+one+two)))
	return measure.Ratio(math.RoundToEven(float64(percent*100))) * measure.Percent / 100, nil
}
