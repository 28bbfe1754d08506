package measure_test

import (
	"errors"
	"testing"

	"example.com/longpoint/measure"
)

// The square units follow from the inch of 25.4 mm.
func TestAreaUnits(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want measure.Area
	}{
		{"645.16 mm²", 100 * measure.SquareInch, 64516 * measure.SquareMillimeter},
		{"square foot", measure.SquareFoot, 144 * measure.SquareInch},
		{"square yard", measure.SquareYard, 9 * measure.SquareFoot},
		{"square meter", measure.SquareMeter, 1e6 * measure.SquareMillimeter},
		{"0.001 sq in", measure.SquareInch / 1000 * 1000, measure.SquareInch},
	} {
		if c.got != c.want {
			t.Errorf("%s: %d, want %d", c.name, c.got, c.want)
		}
	}
	for _, c := range []struct {
		l, m measure.Length
		want measure.Area
	}{
		{ft, ft, measure.SquareFoot},
		{in / 128, in / 128, measure.SquareInch / 16384},
		{mm / 100, mm / 100, measure.SquareMillimeter / 1e4},
		{in / 10, in / 10, measure.SquareInch / 100},
		{-ft, 2 * in, -24 * measure.SquareInch},
		// Walls of a 10 by 15 by 8 ft room: 400 sq ft; an almanac's "How much interior paint".
		{50 * ft, 8 * ft, 400 * measure.SquareFoot},
	} {
		// Exact, so every mode gives the same.
		for _, mode := range modes {
			if got, err := c.l.Area(c.m, mode); err != nil || got != c.want {
				t.Errorf("%v by %v, %v: %v, %v; want %v", c.l, c.m, mode, got, err, c.want)
			}
		}
	}
	if got := (25 * measure.SquareFoot / 2).SquareFeet(); got != 12.5 {
		t.Errorf("SquareFeet = %v", got)
	}
	if got := (measure.SquareFoot / 2).SquareInches(); got != 72 {
		t.Errorf("SquareInches = %v", got)
	}
	if got := (5 * measure.SquareMeter / 2).SquareMeters(); got != 2.5 {
		t.Errorf("SquareMeters = %v", got)
	}
	if got := measure.MustParse(`7.3"`); true {
		a, err := got.Area(in, measure.RoundUp)
		if err != nil || a.Round(measure.SquareInch, measure.RoundUp) != 8*measure.SquareInch {
			t.Errorf("7.3 sq in up to a square inch: %v, %v", a, err)
		}
	}
}

func TestParseArea(t *testing.T) {
	for _, c := range []struct {
		want measure.Area
		text []string
	}{
		{25 * measure.SquareFoot / 2, []string{`12.5 sq ft`, `12.5 sq. ft.`, `12 1/2 square feet`, `12½ ft²`, `12.5 ft2`, `12.5ft^2`, `12.5 SF`, `12.5 sqft`, `1800 sq in`, `12 sq ft 72 sq in`}},
		{48 * measure.SquareInch, []string{`48 sq in`, `48 square inches`, `48 in²`, `48in2`, `48 sqin`, `1/3 sq ft`}},
		{9 * measure.SquareFoot, []string{`1 sq yd`, `1 yd²`, `9 sq ft`}},
		{5 * measure.SquareMeter / 2, []string{`2.5 sq m`, `2.5 m²`, `2.5 square meters`, `25000 cm2`, `2500000 mm²`}},
		{-measure.SquareInch / 10, []string{`-0.1 sq in`, `−1/10 in²`}},
		{0, []string{`0 sq ft`, `0 mm²`}},
	} {
		for _, s := range c.text {
			if got, err := measure.ParseArea(s); err != nil || got != c.want {
				t.Errorf("ParseArea(%q) = %v, %v; want %v", s, got, err, c.want)
			}
		}
	}
	for _, c := range []struct {
		text string
		err  error
	}{
		{``, measure.ErrSyntax}, {`12`, measure.ErrUnit}, {`12 ft`, measure.ErrUnit}, {`12'`, measure.ErrSyntax}, {`12 sq`, measure.ErrUnit}, {`12 ft3`, measure.ErrUnit},
		{`12 ft22`, measure.ErrUnit}, {`1,200 sq ft`, measure.ErrAmbiguous}, {`3 sq ft 2 sq m`, measure.ErrAmbiguous}, {`1/7 sq in`, measure.ErrInexact}, {`2000000 sq ft`, measure.ErrRange},
	} {
		got, err := measure.ParseArea(c.text)
		var pe *measure.ParseError
		if got != 0 || !errors.Is(err, c.err) || !errors.As(err, &pe) || pe.Kind != "area" {
			t.Errorf("ParseArea(%q) = %v, %v; want %v", c.text, got, err, c.err)
		}
	}
}

func TestAreaString(t *testing.T) {
	for want, a := range map[string]measure.Area{
		`0 sq ft`:                0,
		`12.5 sq ft`:             25 * measure.SquareFoot / 2,
		`0.001 sq in`:            measure.SquareInch / 1000,
		`-48 sq in`:              -48 * measure.SquareInch,
		`144.25 sq in`:           144*measure.SquareInch + measure.SquareInch/4,
		`2.5 sq m`:               5 * measure.SquareMeter / 2,
		`600 sq mm`:              600 * measure.SquareMillimeter,
		`0.00000001953125 sq mm`: 1,
	} {
		if got := a.String(); got != want {
			t.Errorf("String of %d = %s, want %s", int64(a), got, want)
		}
	}
}
