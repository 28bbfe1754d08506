package stock

import "example.com/longpoint/measure"

// maxMoisture bounds what is accepted as a moisture content, the weight of the water
// in a material over its dry weight: green wood may hold twice its own weight of water.
const maxMoisture = 500 * measure.Percent

// maxTemperature bounds what is accepted as a temperature: far beyond any site.
const maxTemperature = 10_000 * measure.DegreeF
