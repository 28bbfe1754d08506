package measure_test

import (
	"errors"
	"math"
	"testing"

	"example.com/longpoint/measure"
)

func TestVolumeUnits(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want measure.Volume
	}{
		// A coating-gauge company's formula page; US military construction-estimating table.
		{"gallon of 231 in³", measure.Gallon, 231 * measure.CubicInch},
		{"cubic foot of 1728 in³", measure.CubicFoot, 1728 * measure.CubicInch},
		// A woodworking encyclopedia, "Calculating board feet".
		{"board foot of 144 in³", measure.BoardFoot, 144 * measure.CubicInch},
		// Derived from the gallon and from the inch of 25.4 mm.
		{"four quarts", 4 * measure.Quart, measure.Gallon},
		{"eight pints", 8 * measure.Pint, measure.Gallon},
		{"128 fluid ounces", 128 * measure.FluidOunce, measure.Gallon},
		{"16.387064 mL", 1e6 / 8 * measure.CubicInch, 16387064 / 8 * measure.Milliliter},
		{"0.001 gal", measure.Gallon / 1000 * 1000, measure.Gallon},
		{"0.01 fl oz", measure.FluidOunce / 100 * 100, measure.FluidOunce},
	} {
		if c.got != c.want {
			t.Errorf("%s: %d, want %d", c.name, c.got, c.want)
		}
	}
	// US military construction-estimating table: a cubic foot is 7.481 gal.
	if got := measure.CubicFoot.Gallons(); math.Abs(got-7.481) > 0.0005 {
		t.Errorf("a cubic foot is %v gal", got)
	}
	// Derived: a fluid ounce is 231/128 in³ and 29.5735 mL.
	if got := measure.FluidOunce.CubicInches(); got != 1.8046875 {
		t.Errorf("a fluid ounce is %v in³", got)
	}
	if got := measure.FluidOunce.Milliliters(); math.Abs(got-29.5735) > 0.00005 {
		t.Errorf("a fluid ounce is %v mL", got)
	}
	if got := measure.Quart.FluidOunces(); got != 32 {
		t.Errorf("a quart is %v fl oz", got)
	}
}

func TestVolumeOfSolids(t *testing.T) {
	for _, c := range []struct {
		a, b, l string
		want    measure.Volume
		source  string
	}{
		{`1/4"`, `1/4"`, `10'`, 15 * measure.CubicInch / 2, "published joint example: 1/4 by 1/4 in, 10 ft, is 7.5 in³"},
		{`10 mm`, `5 mm`, `1 m`, 50 * measure.Milliliter, "a sealant maker's guide: 10 by 5 mm takes 50 mL a meter"},
		{`3"`, `8"`, `10'`, 20 * measure.BoardFoot, "a sawmill's page"},
		{`4"`, `6"`, `10'`, 20 * measure.BoardFoot, `a reclaimed-timber firm's "Workshop math"`},
		{`1"`, `3"`, `8'`, 2 * measure.BoardFoot, `a woodworking encyclopedia, "Calculating board feet"`},
	} {
		a, err := measure.MustParse(c.a).Area(measure.MustParse(c.b), measure.RoundHalfEven)
		if err != nil {
			t.Fatal(err)
		}
		got, err := a.Volume(measure.MustParse(c.l), measure.RoundHalfEven)
		if err != nil || got != c.want {
			t.Errorf("%s by %s by %s = %v, %v; want %v (%s)", c.a, c.b, c.l, got, err, c.want, c.source)
		}
	}
	// Fourteen pieces 1 by 4 in by 8 ft are 37 1/3 board feet: US Army course EN5155.
	one, err := (4 * measure.SquareInch).Volume(8*ft, measure.RoundHalfEven)
	if err != nil {
		t.Fatal(err)
	}
	if got, err := one.Mul(14); err != nil || 3*got != 112*measure.BoardFoot {
		t.Errorf("14 pieces are %v, %v; want 37 1/3 board feet", got, err)
	}
	if got := (3 * measure.Gallon / 2).Round(measure.Gallon, measure.RoundUp); got != 2*measure.Gallon {
		t.Errorf("1.5 gal up to a gallon is %v", got)
	}
	if got, exact, err := measure.Gallon.MulDiv(1, 3, measure.RoundUp); err != nil || exact != (measure.Gallon%3 == 0) || 3*got < measure.Gallon {
		t.Errorf("a third of a gallon is %v, %v, %v", got, exact, err)
	}
	if got := (6 * measure.BoardFoot).BoardFeet(); got != 6 {
		t.Errorf("BoardFeet = %v", got)
	}
}

func TestParseVolume(t *testing.T) {
	for _, c := range []struct {
		want measure.Volume
		text []string
	}{
		{3 * measure.Gallon, []string{`3 gal`, `3 gal.`, `3 gallons`, `3GAL`, `12 qt`, `12 quarts`, `24 pints`, `384 fl oz`, `693 cu in`, `693 in³`, `693 cubic inches`, `2 gal 4 qt`, `2 gallons, 4 quarts`}},
		{101 * (measure.FluidOunce / 10), []string{`10.1 fl oz`, `10.1 fl. oz.`, `10.1 fluid ounces`, `10.1 floz`, `10 1/10 fl oz`}},
		{300 * measure.Milliliter, []string{`300 mL`, `300 ml`, `300 cc`, `0.3 L`, `300 milliliters`, `3/10 litre`}},
		{2 * measure.Liter, []string{`2 L`, `2 l`, `2 liters`, `2000 mL`, `1 L 1000 mL`}},
		{measure.Quart, []string{`1 qt`, `1 quart`, `2 pt`, `1/4 gal`, `.25 gal`, `¼ gallon`}},
		{measure.CubicFoot, []string{`1 cu ft`, `1 ft³`, `1 cubic foot`, `1 ft3`, `12 board feet`, `12 bd ft`, `12 bd. ft.`, `12 BF`, `1728 in^3`}},
		{-measure.Pint, []string{`-1 pint`, `−1 pt`}},
	} {
		for _, s := range c.text {
			if got, err := measure.ParseVolume(s); err != nil || got != c.want {
				t.Errorf("ParseVolume(%q) = %v, %v; want %v", s, got, err, c.want)
			}
		}
	}
	for _, c := range []struct {
		text string
		err  error
	}{
		{``, measure.ErrSyntax}, {`3`, measure.ErrUnit}, {`5 oz`, measure.ErrUnit}, {`5 fl`, measure.ErrUnit}, {`5 in`, measure.ErrUnit}, {`5 ft2`, measure.ErrUnit}, {`5 cu`, measure.ErrUnit},
		{`1 gal 1 L`, measure.ErrAmbiguous}, {`1 qt 1 gal`, measure.ErrSyntax}, {`1/3 mL`, measure.ErrInexact}, {`400000 gal`, measure.ErrRange},
	} {
		got, err := measure.ParseVolume(c.text)
		var pe *measure.ParseError
		if got != 0 || !errors.Is(err, c.err) || !errors.As(err, &pe) || pe.Kind != "volume" {
			t.Errorf("ParseVolume(%q) = %v, %v; want %v", c.text, got, err, c.err)
		}
	}
}

func TestVolumeString(t *testing.T) {
	for want, v := range map[string]measure.Volume{
		`0 gal`:             0,
		`3 gal`:             3 * measure.Gallon,
		`1.25 gal`:          5 * measure.Quart,
		`1 qt`:              measure.Quart,
		`10.1 fl oz`:        101 * (measure.FluidOunce / 10),
		`16 fl oz`:          measure.Pint,
		`-0.01 fl oz`:       -measure.FluidOunce / 100,
		`7.5 cu in`:         15 * measure.CubicInch / 2,
		`300 mL`:            300 * measure.Milliliter,
		`2 L`:               2 * measure.Liter,
		`0.000000000125 mL`: 1,
	} {
		if got := v.String(); got != want {
			t.Errorf("String of %d = %s, want %s", int64(v), got, want)
		}
	}
}
