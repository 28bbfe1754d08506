package measure_test

import (
	"encoding"
	"errors"
	"fmt"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.com/longpoint/measure"
)

func TestWeightUnits(t *testing.T) {
	// The international pound is 453.59237 g exactly (the agreement of 1959, from memory).
	if 100_000*measure.Pound != 45_359_237*measure.Gram || 16*measure.Ounce != measure.Pound || measure.Kilogram != 1000*measure.Gram {
		t.Error("the units of weight are inconsistent")
	}
	for _, w := range []measure.Weight{measure.Ounce % 16, measure.Ounce % 1000, measure.Gram % 1000} {
		if w != 0 {
			t.Errorf("a unit is not a multiple of its fraction: remainder %d", w)
		}
	}
}

func TestParseQuantities(t *testing.T) {
	weight := func(s string) (int64, error) { v, err := measure.ParseWeight(s); return int64(v), err }
	ratio := func(s string) (int64, error) { v, err := measure.ParseRatio(s); return int64(v), err }
	temperature := func(s string) (int64, error) { v, err := measure.ParseTemperature(s); return int64(v), err }
	duration := func(s string) (int64, error) {
		var d measure.Duration
		err := d.UnmarshalText([]byte(s))
		return int64(d), err
	}
	for _, c := range []struct {
		read func(string) (int64, error)
		text string
		want int64
		err  error
	}{
		{weight, "50 lb", int64(50 * measure.Pound), nil},
		{weight, "2 1/2 lb", int64(5 * measure.Pound / 2), nil},
		{weight, "2 lbs. 4 oz", int64(9 * measure.Pound / 4), nil},
		{weight, "-0.5 Pounds", int64(-measure.Pound / 2), nil},
		{weight, "25kg", int64(25 * measure.Kilogram), nil},
		{weight, "1 kg 5 mg", int64(measure.Kilogram + measure.Gram/200), nil},
		{weight, "50", 0, measure.ErrUnit},
		{weight, "50 stone", 0, measure.ErrUnit},
		{weight, "1/3 lb", 0, measure.ErrInexact},
		{weight, "10000000 lb", 0, measure.ErrRange},
		{weight, "1 lb 5 g", 0, measure.ErrAmbiguous},
		{weight, "4 oz 1 lb", 0, measure.ErrSyntax},
		{weight, "", 0, measure.ErrSyntax},

		{ratio, "8.25%", 82_500, nil},
		{ratio, "10 %", 100_000, nil},
		{ratio, "110%", 1_100_000, nil},
		{ratio, "-5%", -50_000, nil},
		{ratio, "+12 1/2 %", 125_000, nil},
		{ratio, "0.0825", 82_500, nil},
		{ratio, "1/8", 125_000, nil},
		{ratio, "1", 1_000_000, nil},
		{ratio, "-1", -1_000_000, nil},
		{ratio, "6", 0, measure.ErrAmbiguous},
		{ratio, "1.01", 0, measure.ErrAmbiguous},
		{ratio, "-3/2", 0, measure.ErrAmbiguous},
		{ratio, "1/3", 0, measure.ErrInexact},
		{ratio, "NaN%", 0, measure.ErrSyntax},
		{ratio, "5% of it", 0, measure.ErrSyntax},
		{ratio, "%", 0, measure.ErrSyntax},
		{ratio, "5.", 0, measure.ErrSyntax},
		{ratio, "1e3%", 0, measure.ErrSyntax},
		{ratio, "999999999999999%", 0, measure.ErrRange},

		{temperature, "70°F", 70 * 50, nil},
		{temperature, "70 F", 70 * 50, nil},
		{temperature, "-5.5 °C", -495 + 1600, nil},
		{temperature, "21.5C", 1935 + 1600, nil},
		{temperature, "-40 C", -40 * 50, nil},
		{temperature, "100 ° celsius", 212 * 50, nil},
		{temperature, "68.02F", 3401, nil},
		{temperature, "70", 0, measure.ErrUnit},
		{temperature, "70°", 0, measure.ErrUnit},
		{temperature, "70K", 0, measure.ErrUnit},
		{temperature, "F", 0, measure.ErrSyntax},
		{temperature, "7.F", 0, measure.ErrSyntax},
		{temperature, "--5F", 0, measure.ErrSyntax},
		{temperature, "70F to 80F", 0, measure.ErrSyntax},
		{temperature, "1.234F", 0, measure.ErrInexact},
		{temperature, "20.01C", 0, measure.ErrInexact},
		{temperature, "999999999999999999F", 0, measure.ErrRange},
		{temperature, "102481911520608620C", 0, measure.ErrRange},

		{duration, "2h30m", int64(150 * time.Minute), nil},
		{duration, "2.5h", int64(150 * time.Minute), nil},
		{duration, "3h25m0s", int64(205 * time.Minute), nil},
		{duration, "-45m", int64(-45 * time.Minute), nil},
		{duration, "45", 0, measure.ErrUnit},
		{duration, "2 days", 0, measure.ErrUnit},
		{duration, "soon", 0, measure.ErrSyntax},
		{duration, "", 0, measure.ErrSyntax},
	} {
		got, err := c.read(c.text)
		var p *measure.ParseError
		switch {
		case !errors.Is(err, c.err) || got != c.want:
			t.Errorf("%q is %d, %v; want %d, %v", c.text, got, err, c.want, c.err)
		case err != nil && (!errors.As(err, &p) || p.Input != c.text || p.Reason == "" || p.Input[p.Offset:p.Offset+len(p.Part)] != p.Part):
			t.Errorf("%q: %#v", c.text, err)
		case err != nil && c.err == measure.ErrInexact || c.err == measure.ErrAmbiguous:
			for _, choice := range p.Choices {
				if _, err := c.read(choice); err != nil {
					t.Errorf("%q offers %q, which cannot be read: %v", c.text, choice, err)
				}
			}
			if len(p.Choices) == 0 {
				t.Errorf("%q offers %q", c.text, p.Choices)
			}
		}
	}
}

// The two temperatures beside one that is not exact enclose it, whatever its sign.
func TestNeighborsOfATemperature(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		thousandths := rapid.Int64Range(-200_000, 200_000).Draw(t, "thousandths of a degree")
		for scale, size := range map[string]int64{"F": 50, "C": 90} {
			zero := map[string]int64{"C": 1600}[scale]
			sign, n := "", thousandths
			if n < 0 {
				sign, n = "-", -n
			}
			text := fmt.Sprintf("%s%d.%03d%s", sign, n/1000, n%1000, scale)
			got, err := measure.ParseTemperature(text)
			exact := thousandths * size // thousandths of a unit from the zero of the scale
			if exact%1000 == 0 {
				if err != nil || int64(got) != exact/1000+zero {
					t.Fatalf("%s is %d, %v", text, got, err)
				}
				continue
			}
			var p *measure.ParseError
			if !errors.As(err, &p) || len(p.Choices) != 2 {
				t.Fatalf("%s: %v, want two choices", text, err)
			}
			low, err1 := measure.ParseTemperature(p.Choices[0])
			high, err2 := measure.ParseTemperature(p.Choices[1])
			if err1 != nil || err2 != nil || high != low+1 || 1000*(int64(low)-zero) >= exact || 1000*(int64(high)-zero) <= exact {
				t.Fatalf("%s lies between %q", text, p.Choices)
			}
		}
	})
}

// Over its whole range every quantity parses from its text, and its text is that of String.
func TestQuantitiesReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.OneOf(rapid.Int64(), rapid.Int64Range(-1_000_000, 1_000_000), rapid.SampledFrom([]int64{math.MinInt64, math.MaxInt64})).Draw(t, "n")
		if back, err := measure.ParseWeight(measure.Weight(n).String()); err != nil || back != measure.Weight(n) {
			t.Fatalf("%v reads as %v, %v", measure.Weight(n), back, err)
		}
		if back, err := measure.ParseRatio(measure.Ratio(n).String()); err != nil || back != measure.Ratio(n) {
			t.Fatalf("%v reads as %v, %v", measure.Ratio(n), back, err)
		}
		if back, err := measure.ParseTemperature(measure.Temperature(n).String()); err != nil || back != measure.Temperature(n) {
			t.Fatalf("%v reads as %v, %v", measure.Temperature(n), back, err)
		}
		var d measure.Duration
		if err := d.UnmarshalText([]byte(measure.Duration(n).String())); err != nil || d != measure.Duration(n) {
			t.Fatalf("%v reads as %v, %v", measure.Duration(n), d, err)
		}
		for _, q := range []interface {
			encoding.TextMarshaler
			encoding.TextAppender
			String() string
		}{measure.Weight(n), measure.Ratio(n), measure.Temperature(n), measure.Duration(n)} {
			text, err := q.MarshalText()
			more, err2 := q.AppendText([]byte("x"))
			if string(text) != q.String() || string(more) != "x"+q.String() || err != nil || err2 != nil {
				t.Fatalf("%T %v marshals as %s, %v, and appends as %s, %v", q, q, text, err, more, err2)
			}
		}
	})
}

func TestDurationText(t *testing.T) {
	for d, want := range map[time.Duration]string{
		0: "0s", 24 * time.Hour: "24h", 205 * time.Minute: "3h25m", 20 * time.Hour: "20h", 10 * time.Minute: "10m",
		time.Hour + time.Second: "1h0m1s", -90 * time.Minute: "-1h30m", 30 * time.Second: "30s", 1500 * time.Millisecond: "1.5s", 100 * time.Minute: "1h40m",
	} {
		if got := measure.Duration(d).String(); got != want {
			t.Errorf("%v is written %s, want %s", d, got, want)
		}
		if got := measure.Duration(d).Hours(); got != d.Hours() {
			t.Errorf("%v is %v hours", d, got)
		}
	}
}

func TestCelsius(t *testing.T) {
	for c, f := range map[int]measure.Temperature{-40: -40, 0: 32, 10: 50, 25: 77, 100: 212} { // derived
		if got := measure.Celsius(c); got != f*measure.DegreeF {
			t.Errorf("%d °C is %v, want %d °F", c, got, f)
		}
	}
	if measure.Celsius(math.MaxInt) != measure.Celsius(1_000_000) || measure.Celsius(math.MinInt) != measure.Celsius(-1_000_000) {
		t.Error("a temperature out of range does not saturate")
	}
}
