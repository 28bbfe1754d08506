package stock

import (
	"strconv"
	"strings"
)

// Moisture is a moisture content, the weight of the water in a material over its
// dry weight, in hundredths of a percent. Write 8*Percent.
type Moisture int64

// Percent is one percent of moisture content.
const Percent Moisture = 100

// maxMoisture bounds what is accepted as a moisture content: green wood may hold
// twice its own weight of water.
const maxMoisture = 500 * Percent

// String returns the moisture content in percent, such as "8%" or "11.5%".
func (m Moisture) String() string {
	sign, u := "", uint64(m)
	if m < 0 {
		sign, u = "-", -u
	}
	s := sign + strconv.FormatUint(u/100, 10)
	if c := u % 100; c != 0 {
		s += "." + strings.TrimRight(string([]byte{byte('0' + c/10), byte('0' + c%10)}), "0")
	}
	return s + "%"
}

// MarshalText writes what String returns.
func (m Moisture) MarshalText() ([]byte, error) { return []byte(m.String()), nil }

// UnmarshalText reads a percentage with at most two decimals, such as "8%" or
// "11.5 %", from 0 to 500%. Anything else is a *FieldError.
func (m *Moisture) UnmarshalText(text []byte) error {
	bad := &FieldError{Field: "moisture", Value: string(text), Want: `a percentage from 0% to 500%, such as "8%" or "11.5%"`}
	s, percent := strings.CutSuffix(strings.TrimSpace(string(text)), "%")
	whole, frac, point := strings.Cut(strings.TrimSpace(s), ".")
	if !percent || point && (frac == "" || len(frac) > 2) {
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
	v := Moisture(w*100 + cents)
	if v > maxMoisture {
		return bad
	}
	*m = v
	return nil
}
