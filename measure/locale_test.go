package measure_test

import (
	"encoding/json"
	"errors"
	"math"
	"math/big"
	"regexp"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"pgregory.net/rapid"
)

var (
	metric = measure.Locale{Metric: true}
	comma  = measure.Locale{Metric: true, DecimalComma: true, Currency: measure.Currency{Symbol: "€", After: true}}
)

func TestLocale(t *testing.T) {
	l := measure.MustParse(`7' 4-3/4"`)
	quart := measure.Gallon / 4
	for _, c := range []struct {
		what string
		got  [3]string // for the zero Locale, metric and with a comma
		want [3]string
	}{
		{"length", each(func(c measure.Locale) string { return c.FormatLength(l + in/40) }), [3]string{`7' 4-3/4"`, `2255 mm`, `2255 mm`}},
		{"length as it is", each(func(c measure.Locale) string { return c.About(l) }), [3]string{`7' 4-3/4"`, `about 2254 mm`, `about 2254 mm`}},
		{"tenths", each(func(c measure.Locale) string { return c.About(22543 * mm / 10) }), [3]string{`2254.3mm`, `2254.3 mm`, `2254,3 mm`}},
		{"small", each(func(c measure.Locale) string { return c.About(in / 8) }), [3]string{`1/8"`, `about 3.2 mm`, `about 3,2 mm`}},
		{"tiny", each(func(c measure.Locale) string { return c.About(in / 2000) }), [3]string{`less than 1/16"`, `less than 0.1 mm`, `less than 0,1 mm`}},
		{"below nothing", each(func(c measure.Locale) string { return c.About(-in / 2000) }), [3]string{`just below 0"`, `just below 0.0 mm`, `just below 0,0 mm`}},
		{"by angle", each(func(c measure.Locale) string { return c.About(l+1, mm) }), [3]string{`about 2254 mm`, `about 2254 mm`, `about 2254 mm`}},
		{"area", each(func(c measure.Locale) string { return c.FormatArea(25 * measure.SquareFoot / 2) }), [3]string{`12.5 sq ft`, `1.16 m²`, `1,16 m²`}},
		{"metric area", each(func(c measure.Locale) string { return c.FormatArea(5 * measure.SquareMeter / 2) }), [3]string{`2.5 sq m`, `2.5 m²`, `2,5 m²`}},
		{"small area", each(func(c measure.Locale) string { return c.FormatArea(12345 * measure.SquareMillimeter) }), [3]string{`19.13 sq in`, `123.45 cm²`, `123,45 cm²`}},
		{"volume", each(func(c measure.Locale) string { return c.FormatVolume(quart) }), [3]string{`1 qt`, `946.35 mL`, `946,35 mL`}},
		{"liters", each(func(c measure.Locale) string { return c.FormatVolume(5 * measure.Liter / 2) }), [3]string{`2.5 L`, `2.5 L`, `2,5 L`}},
		{"a cartridge", each(func(c measure.Locale) string { return c.FormatVolume(300 * measure.Milliliter) }), [3]string{`300 mL`, `300 mL`, `300 mL`}},
		{"weight", each(func(c measure.Locale) string { return c.FormatWeight(50 * measure.Pound) }), [3]string{`50 lb`, `22.68 kg`, `22,68 kg`}},
		{"little", each(func(c measure.Locale) string { return c.FormatWeight(measure.Gram / 8) }), [3]string{`0.004409 oz`, `0.125 g`, `0,125 g`}},
		{"nothing", each(func(c measure.Locale) string { return c.FormatWeight(0) }), [3]string{`0 lb`, `0 kg`, `0 kg`}},
		{"warmth", each(func(c measure.Locale) string { return c.FormatTemperature(70 * measure.DegreeF) }), [3]string{`70°F`, `21.1 °C`, `21,1 °C`}},
		{"frost", each(func(c measure.Locale) string { return c.FormatTemperature(0) }), [3]string{`0°F`, `-17.8 °C`, `-17,8 °C`}},
		{"just frost", each(func(c measure.Locale) string { return c.FormatTemperature(measure.Celsius(0) - 1) }), [3]string{`31.98°F`, `0 °C`, `0 °C`}},
		{"angle", each(func(c measure.Locale) string { return c.FormatAngle(45 * deg / 2) }), [3]string{`22.5°`, `22.5°`, `22,5°`}},
		{"ratio", each(func(c measure.Locale) string { return c.FormatRatio(825 * measure.Percent / 100) }), [3]string{`8.25%`, `8.25%`, `8,25%`}},
		{"money", each(func(c measure.Locale) string { return c.FormatMoney(-123456789) }), [3]string{`-1,234,567.89`, `-1,234,567.89`, `-1.234.567,89 €`}},
	} {
		if c.got != c.want {
			t.Errorf("%s: %q, want %q", c.what, c.got, c.want)
		}
	}
	if got, err := comma.Parser().Parse(`2,5 m`); err != nil || got != 2500*mm {
		t.Errorf("the parser reads %v, %v", got, err)
	}
}

func each(f func(measure.Locale) string) [3]string {
	return [3]string{f(measure.Locale{}), f(metric), f(comma)}
}

// With Metric, whatever units the style has, no length is in feet or inches.
func TestLocaleLengthStyle(t *testing.T) {
	for _, c := range []struct {
		c    measure.Locale
		want string
	}{
		{measure.Locale{Metric: true, Length: measure.Style{Unit: measure.Meter}}, `2.25425 m`},
		{measure.Locale{Metric: true, Length: measure.Style{Unit: 10 * mm, Graduation: mm}}, `225.4 cm`},
		{measure.Locale{Metric: true, Length: measure.Style{Unit: in, Graduation: mm / 10}}, `2254.2 mm`},
		{measure.Locale{Metric: true, Length: measure.Style{Hyphen: true, Spoken: true}}, `2254.25 mm`},
		{measure.Locale{Metric: true, DecimalComma: true, Length: measure.Style{Unit: measure.Meter}}, `2,25425 m`},
		{measure.Locale{Length: measure.Style{Unit: mm}}, `2254.25 mm`},
		{measure.Locale{Length: measure.Style{Hyphen: true}}, `7'-4 3/4"`},
		{measure.Locale{DecimalComma: true, Length: measure.Style{Unit: in, Decimal: true}}, `88,75"`},
	} {
		if got := c.c.FormatLength(measure.MustParse(`7' 4-3/4"`)); got != c.want {
			t.Errorf("%+v writes %s, want %s", c.c, got, c.want)
		}
	}
}

var customary = regexp.MustCompile(`['"′″]|ft|in\b|yd|gal|qt|oz|lb|°F`)

// A metric locale writes metric text, and any locale writes within half a hundredth of the unit that it
// names.
func TestLocaleShowsTheValue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := measure.Locale{Metric: rapid.Bool().Draw(t, "metric"), DecimalComma: rapid.Bool().Draw(t, "comma"), Length: rapid.OneOf(rapid.Just(measure.Style{}), anyStyle()).Draw(t, "style")}
		n := rapid.OneOf(rapid.Int64(), rapid.Int64Range(-1e12, 1e12)).Draw(t, "n")
		check := func(text string, parse func(string) (int64, error)) {
			if c.Metric && customary.MatchString(text) {
				t.Fatalf("%q in %+v", text, c)
			}
			if strings.Contains(text, map[bool]string{true: ".", false: ","}[c.DecimalComma]) {
				t.Fatalf("%q in %+v", text, c)
			}
			number, unit, _ := strings.Cut(strings.Replace(text, ",", ".", 1), " ")
			one, err1 := parse("1 " + unit)
			shown, ok := new(big.Rat).SetString(number)
			if err1 != nil || !ok {
				t.Fatalf("%q: %v", text, err1)
			}
			off := new(big.Rat).Mul(shown, big.NewRat(one, 1))
			off.Sub(off, big.NewRat(n, 1)).Abs(off)
			// One beyond, for the least int64; half a unit if hundredths are beyond the range.
			most := new(big.Rat).Add(big.NewRat(one, 200), big.NewRat(1, 1))
			if new(big.Rat).Abs(shown).Cmp(big.NewRat(9e16, 1)) > 0 {
				most.Add(most, big.NewRat(one, 2))
			}
			if off.Cmp(most) > 0 {
				t.Fatalf("%d is %q", n, text)
			}
		}
		check(c.FormatArea(measure.Area(n)), func(s string) (int64, error) { v, err := measure.ParseArea(s); return int64(v), err })
		check(c.FormatVolume(measure.Volume(n)), func(s string) (int64, error) { v, err := measure.ParseVolume(s); return int64(v), err })
		check(c.FormatWeight(measure.Weight(n)), func(s string) (int64, error) { v, err := measure.ParseWeight(s); return int64(v), err })
		for _, text := range []string{c.FormatLength(measure.Length(n)), c.About(measure.Length(n), in), c.FormatTemperature(measure.Temperature(n))} {
			if c.Metric && customary.MatchString(text) || c.Metric && c.DecimalComma && strings.Contains(text, ".") {
				t.Fatalf("%q in %+v", text, c)
			}
		}
		// A tenth of a degree, from the temperature as a rational number of °C.
		if c.Metric && n < math.MaxInt64-1600 && n > math.MinInt64/2 {
			number, _, _ := strings.Cut(strings.Replace(c.FormatTemperature(measure.Temperature(n)), ",", ".", 1), " ")
			shown, ok := new(big.Rat).SetString(number)
			off := new(big.Rat).Sub(big.NewRat(n-1600, 90), shown)
			if !ok || off.Abs(off).Cmp(big.NewRat(1, 20)) > 0 && n < 1<<55 && n > -1<<55 {
				t.Fatalf("%d is %q", n, number)
			}
		}
	})
}

func TestLocaleExtremes(t *testing.T) {
	for _, n := range []int64{math.MinInt64, math.MaxInt64, 0, -1} {
		for _, c := range []measure.Locale{{}, metric, comma, {Currency: measure.Currency{Minor: 7}}, {Currency: measure.Currency{Minor: -100}}} {
			for _, text := range []string{c.FormatLength(measure.Length(n)), c.About(measure.Length(n)), c.FormatArea(measure.Area(n)), c.FormatVolume(measure.Volume(n)), c.FormatWeight(measure.Weight(n)), c.FormatTemperature(measure.Temperature(n)), c.FormatMoney(n)} {
				if text == "" || strings.Contains(text, "--") {
					t.Errorf("%d in %+v is %q", n, c, text)
				}
			}
		}
	}
}

func TestCurrency(t *testing.T) {
	for _, c := range []struct {
		c     measure.Currency
		comma bool
		n     int64
		want  string
	}{
		{measure.Currency{}, false, 1234567, "12,345.67"},
		{measure.Currency{Symbol: "$"}, false, 5, "$0.05"},
		{measure.Currency{Symbol: "$"}, false, 100, "$1.00"},
		{measure.Currency{Symbol: "$"}, false, -123456, "-$1,234.56"},
		{measure.Currency{Symbol: "EUR", After: true}, false, 123456, "1,234.56 EUR"},
		{measure.Currency{Symbol: "EUR", After: true}, true, 123456, "1.234,56 EUR"},
		{measure.Currency{After: true}, true, -5, "-0,05"},
		{measure.Currency{Symbol: "¥", Minor: 1}, false, 1234567, "¥1,234,567"},
		{measure.Currency{Symbol: "JPY", After: true, Minor: 1}, false, 99, "99 JPY"},
		{measure.Currency{Minor: 1000}, false, 1234567, "1,234.567"},
		{measure.Currency{Minor: 10}, false, 99, "9.9"},
		{measure.Currency{Minor: 1_000_000_000}, false, 1, "0.000000001"},
		{measure.Currency{}, false, math.MinInt64, "-92,233,720,368,547,758.08"},
	} {
		if got := (measure.Locale{DecimalComma: c.comma, Currency: c.c}).FormatMoney(c.n); got != c.want {
			t.Errorf("%d in %+v is %s, want %s", c.n, c.c, got, c.want)
		}
	}
}

// Amounts mean their count: the digits without marks and symbol are the number.
func TestMoneyCounts(t *testing.T) {
	digits := regexp.MustCompile(`[0-9]`)
	rapid.Check(t, func(t *rapid.T) {
		places := rapid.IntRange(0, 9).Draw(t, "places")
		c := measure.Currency{Symbol: rapid.SampledFrom([]string{"", "$", "EUR"}).Draw(t, "symbol"), After: rapid.Bool().Draw(t, "after"), Minor: int64(math.Pow10(places))}
		n, comma := rapid.Int64().Draw(t, "n"), rapid.Bool().Draw(t, "comma")
		text := measure.Locale{DecimalComma: comma, Currency: c}.FormatMoney(n)
		point := "."
		if comma {
			point = ","
		}
		number := strings.TrimPrefix(strings.TrimSuffix(strings.Replace(text, "-", "", 1), " "+c.Symbol), c.Symbol)
		whole, fraction, _ := strings.Cut(number, point)
		if len(digits.FindAllString(fraction, -1)) != places || len(fraction) != places {
			t.Fatalf("%d in %+v is %q", n, c, text)
		}
		groups := regexp.MustCompile(`^[0-9]{1,3}([.,][0-9]{3})*$`)
		got, _ := new(big.Int).SetString(strings.Join(digits.FindAllString(number, -1), ""), 10)
		if !groups.MatchString(whole) || strings.Contains(whole, point) || got.CmpAbs(big.NewInt(n)) != 0 || strings.Contains(text, "-") != (n < 0) {
			t.Fatalf("%d in %+v is %q", n, c, text)
		}
	})
}

func TestLocaleJSON(t *testing.T) {
	c := measure.Locale{Metric: true, DecimalComma: true, Length: measure.Style{Unit: measure.Meter, Graduation: mm, Rounding: measure.RoundUp}, Currency: measure.Currency{Symbol: "¥", Minor: 1}}
	text, err := json.Marshal(c)
	const want = `{"metric":true,"decimal_comma":true,"length":{"unit":"1000mm","graduation":"1mm","rounding":"up"},"currency":{"symbol":"¥","minor":1}}`
	if err != nil || string(text) != want {
		t.Errorf("%s, %v", text, err)
	}
	var back measure.Locale
	if err := measure.UnmarshalStrict(text, &back); err != nil || back != c {
		t.Errorf("%+v, %v", back, err)
	}
	if text, err := json.Marshal(measure.Locale{}); err != nil || string(text) != "{}" {
		t.Errorf("%s, %v", text, err)
	}
	for text, says := range map[string]string{
		`{"currency":{"minor":0}}`:      "currency.minor is 0, want 1 for a currency without a minor unit, or nothing for 100",
		`{"length":{"rounding":"off"}}`: `length.rounding is "off", want half-even, down, up or half-up`,
		`{"length":{"unit":7}}`:         "length.unit",
	} {
		if err := measure.UnmarshalStrict([]byte(text), &back); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v", text, err)
		}
	}
	var fe *measure.FieldError
	if err := json.Unmarshal([]byte(`{"currency":{"minor":0}}`), &back); !errors.As(err, &fe) || fe.Field != "minor" {
		t.Errorf("by encoding/json: %v", err)
	}
}

func TestLocaleValidate(t *testing.T) {
	for _, c := range []struct {
		c    measure.Currency
		want []string
	}{
		{measure.Currency{}, nil},
		{measure.Currency{Minor: 1}, nil},
		{measure.Currency{Minor: 100}, nil},
		{measure.Currency{Minor: 1_000_000_000}, nil},
		{measure.Currency{Minor: 12}, []string{"currency.minor"}},
		{measure.Currency{Minor: -100}, []string{"currency.minor"}},
		{measure.Currency{Minor: 10_000_000_000}, []string{"currency.minor"}},
		{measure.Currency{Minor: 120, Symbol: "\xff"}, []string{"currency.symbol", "currency.minor"}},
	} {
		var got []string
		for e := range measure.FieldErrors(measure.Locale{Currency: c.c}.Validate()) {
			got = append(got, e.Field)
		}
		if strings.Join(got, " ") != strings.Join(c.want, " ") {
			t.Errorf("%+v: %q, want %q", c.c, got, c.want)
		}
	}
}
