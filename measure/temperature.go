package measure

// Temperature is a temperature, an exact count of 1/50 °F from 0 °F, which is also
// 1/90 °C: whole degrees of both scales, and tenths, are whole numbers. A
// difference of two temperatures is a Temperature too, with [DegreeF] and [DegreeC]
// as units. Write 70*DegreeF for a room at 70 °F, and [Celsius] for a temperature
// in °C.
//
// The zero value is 0 °F.
type Temperature int64

// Degrees to multiply by.
const (
	DegreeF Temperature = 50 // one degree Fahrenheit
	DegreeC Temperature = 90 // one degree Celsius, or one kelvin, as a difference
)

// freezing is 0 °C.
const freezing = 32 * DegreeF

// Celsius returns the temperature of a whole number of °C. Beyond ±1,000,000 °C it
// returns the nearest of those.
func Celsius(degrees int) Temperature {
	return Temperature(max(-1_000_000, min(degrees, 1_000_000)))*DegreeC + freezing
}

// ParseTemperature reads a number and its scale: 70°F, 70 F, -5.5 °C, 21.5C. The
// error is a *[ParseError].
func ParseTemperature(s string) (Temperature, error) {
	var t text
	v, ok := read(&t, s, temperatures, Parser{})
	if !ok {
		return 0, t.err(temperatures, s, Parser{})
	}
	return Temperature(v), nil
}

// String returns t in °F, in the form that [ParseTemperature] reads back to the
// same value, such as 70°F or 68.9°F.
func (t Temperature) String() string {
	var buf [48]byte
	return string(appendScaled(buf[:0], int64(t), temperatureForms[:]))
}

// AppendText appends what String returns to b. It never fails.
func (t Temperature) AppendText(b []byte) ([]byte, error) {
	return appendScaled(b, int64(t), temperatureForms[:]), nil
}

// MarshalText returns what String returns. It never fails.
func (t Temperature) MarshalText() ([]byte, error) { return t.AppendText(make([]byte, 0, 16)) }

// UnmarshalText reads what [ParseTemperature] reads.
func (t *Temperature) UnmarshalText(b []byte) error {
	v, err := ParseTemperature(string(b))
	if err == nil {
		*t = v
	}
	return err
}

var temperatureForms = [...]form{{"°F", uint64(DegreeF), 2, true}}

// readTemperature reads one number and its scale.
func readTemperature[S string | []byte](t *text, s S) (int64, bool) {
	var x number
	start, i, neg, ok := loadNumber(t, s, &x)
	if !ok {
		return 0, false
	}
	at := i
	if t.b[i] == foldDegree {
		i = t.spaces(i + 1)
	}
	size, zero := uint64(DegreeF), int64(0)
	j := t.word(i)
	switch string(t.b[i:j]) {
	case "f", "fahrenheit":
	case "c", "celsius":
		size, zero = uint64(DegreeC), int64(freezing)
	case "":
		if i < t.n {
			t.unexpected(i)
		} else {
			t.fail(faultNoUnit, start, at)
		}
		return 0, false
	default:
		t.unknownUnit(i)
		return 0, false
	}
	if i = t.spaces(j); i < t.n {
		t.unexpected(i)
		return 0, false
	}
	total, rem, _, ok := x.times(size)
	if !ok || total > 1<<63-1<<12 { // so far from the end that the zero of the scale fits
		if v, fits := signed(total, neg); ok && fits && zero == 0 && rem == 0 {
			return v, true
		}
		t.fail(faultRange, 0, t.n)
		return 0, false
	}
	v := int64(total)
	if neg {
		v = -v
		if rem != 0 {
			v-- // the neighbor below
		}
	}
	v += zero
	if rem != 0 {
		if t.fail(faultInexact, 0, t.n); v >= 0 {
			t.f.low, t.f.neg = uint64(v), false
		} else {
			t.f.low, t.f.neg = uint64(-(v + 1)), true
		}
		return 0, false
	}
	return v, true
}
