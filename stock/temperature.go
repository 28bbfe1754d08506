package stock

import (
	"strconv"
	"strings"
)

// Temperature counts 1/50 °F from 0 °F, which is also 1/90 °C: whole degrees of
// both scales, and tenths, are whole numbers. A difference of two temperatures is
// a Temperature too, with [DegreeF] and [DegreeC] as units; write 70*DegreeF for a
// room at 70 °F and [Celsius] for one that is given in °C.
type Temperature int64

const (
	DegreeF Temperature = 50 // one degree Fahrenheit
	DegreeC Temperature = 90 // one degree Celsius, or one kelvin
)

// maxTemperature bounds what is accepted as a temperature: far beyond any site.
const maxTemperature = 10_000 * DegreeF

// Celsius returns the temperature of a whole number of °C; beyond ±1,000,000 °C it
// returns the nearest of those, which no validation lets pass.
func Celsius(degrees int) Temperature {
	return Temperature(max(-1_000_000, min(degrees, 1_000_000)))*DegreeC + 32*DegreeF
}

// String returns the temperature in °F, exactly, such as "70°F" or "68.9°F".
func (t Temperature) String() string {
	sign, u := "", uint64(t)
	if t < 0 {
		sign, u = "-", -u
	}
	whole, cents := u/uint64(DegreeF), u%uint64(DegreeF)*2
	s := sign + strconv.FormatUint(whole, 10)
	if cents != 0 {
		s += "." + strings.TrimRight(string([]byte{byte('0' + cents/10), byte('0' + cents%10)}), "0")
	}
	return s + "°F"
}

// MarshalText writes what String returns.
func (t Temperature) MarshalText() ([]byte, error) { return []byte(t.String()), nil }

// UnmarshalText reads a number with at most two decimals, or one in °C, and its
// scale: "70°F", "70 F", "-5.5C". Anything else is a *FieldError, as is what lies
// beyond ±10,000 °F.
func (t *Temperature) UnmarshalText(text []byte) error {
	bad := &FieldError{Field: "temperature", Value: string(text), Want: `a number and its scale, such as "70°F" or "21.5°C"`}
	s := strings.TrimSpace(string(text))
	celsius := strings.HasSuffix(s, "C")
	if !celsius && !strings.HasSuffix(s, "F") {
		return bad
	}
	s = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(s[:len(s)-1]), "°"))
	neg := strings.HasPrefix(s, "-")
	whole, frac, point := strings.Cut(strings.TrimPrefix(s, "-"), ".")
	if point && (frac == "" || len(frac) > 2) {
		return bad
	}
	w, err := strconv.ParseUint(whole, 10, 16)
	if err != nil {
		return bad
	}
	cents := uint64(0)
	if frac != "" {
		if cents, err = strconv.ParseUint((frac + "0")[:2], 10, 16); err != nil {
			return bad
		}
	}
	unit, zero := uint64(DegreeF), Temperature(0)
	if celsius {
		unit, zero = uint64(DegreeC), 32*DegreeF
	}
	hundredths := (w*100 + cents) * unit
	if hundredths%100 != 0 {
		return bad
	}
	v := Temperature(hundredths / 100)
	if neg {
		v = -v
	}
	if v += zero; v > maxTemperature || v < -maxTemperature {
		return bad
	}
	*t = v
	return nil
}
