package measure_test

import (
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"math"
	"math/big"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"github.com/google/go-cmp/cmp"
)

func TestString(t *testing.T) {
	for _, c := range []struct {
		l          measure.Length
		text, mark string // of String and of MarshalText
	}{
		{0, `0"`, `0in`},
		{7*ft + 4*in + 3*in/4, `7' 4-3/4"`, `7ft 4-3/4in`},
		{-(7*ft + 4*in + 3*in/4), `-7' 4-3/4"`, `-7ft 4-3/4in`},
		{6 * ft, `6'`, `6ft`},
		{-6 * ft, `-6'`, `-6ft`},
		{6*ft + in/2, `6' 1/2"`, `6ft 1/2in`},
		{4*in + 3*in/4, `4-3/4"`, `4-3/4in`},
		{3 * in / 4, `3/4"`, `3/4in`},
		{-3 * in / 8, `-3/8"`, `-3/8in`},
		{in / 128, `1/128"`, `1/128in`},
		{12*in - in/128, `11-127/128"`, `11-127/128in`},
		{100*ft + 10*in, `100' 10"`, `100ft 10in`},
		{88*in + in/1000, `88.001"`, `88.001in`},
		{88*in + 10*in/1000, `88.01"`, `88.01in`},
		{-in / 1000, `-0.001"`, `-0.001in`},
		{25*mm + 4*mm/10, `1"`, `1in`},
		{100 * mm, `100mm`, `100mm`},
		{2219*mm + 26001, `2219.3250125mm`, `2219.3250125mm`},
		{1, `0.0000125mm`, `0.0000125mm`},
		{-80, `-0.001mm`, `-0.001mm`},
		{math.MaxInt64, `115292150460684.6975875mm`, `115292150460684.6975875mm`},
		{math.MinInt64, `-115292150460684.6976mm`, `-115292150460684.6976mm`},
		// The multiple of 1/128 in nearest to the end of the range.
		{math.MinInt64 / (in / 128) * (in / 128), `-378255086813' 3-15/64"`, `-378255086813ft 3-15/64in`},
	} {
		if got := c.l.String(); got != c.text {
			t.Errorf("String of %d ticks = %s, want %s", int64(c.l), got, c.text)
		}
		if got, err := c.l.MarshalText(); err != nil || string(got) != c.mark {
			t.Errorf("MarshalText of %d ticks = %s, %v, want %s", int64(c.l), got, err, c.mark)
		}
		for _, s := range []string{c.text, c.mark} {
			if got, err := measure.Parse(s); err != nil || got != c.l {
				t.Errorf("Parse(%q) = %d ticks, %v, want %d", s, int64(got), err, int64(c.l))
			}
		}
	}
}

// The output of each verb of package fmt. The quantities have no fmt.Formatter: fmt does the right
// thing without one.
func TestFmt(t *testing.T) {
	l := 7*ft + 4*in
	for _, c := range []struct {
		format string
		v      any
		want   string
	}{
		{"%v", l, `7' 4"`}, {"%s", l, `7' 4"`}, {"%q", l, `"7' 4\""`}, {"%+v", l, `7' 4"`}, {"%d", l, `178816000`}, {"%#v", l, `measure.MustParse("7' 4\"")`}, {"%T", l, `measure.Length`},
		{"%8v|", l, `   7' 4"|`}, {"%-8s|", l, `7' 4"   |`}, {"%012d", l, `000178816000`}, {"%x", l, `3727203422`}, {"%v", &struct{ L measure.Length }{l}, `&{7' 4"}`},
		{"%v", 45 * deg / 2, `22.5°`}, {"%s", measure.SquareFoot, `1 sq ft`}, {"%v", measure.Gallon, `1 gal`}, {"%v", measure.Scale{}, `1:1`}, {"%v", measure.Slope{}, `0 in 12`},
		{"%v", measure.RoundHalfEven, `half-even`}, {"%v", []measure.Length{in, ft}, `[1" 1']`},
	} {
		if got := fmt.Sprintf(c.format, c.v); got != c.want {
			t.Errorf("%s of %T is %s, want %s", c.format, c.v, got, c.want)
		}
	}
}

// Each sixty-fourth of an inch has a decimal of at most six places. The table is
// derived; its sixteenths are listed in a conversion forum's table as well.
func TestSixtyFourths(t *testing.T) {
	table := strings.Fields(`.015625 .03125 .046875 .0625 .078125 .09375 .109375 .125 .140625 .15625
		.171875 .1875 .203125 .21875 .234375 .25 .265625 .28125 .296875 .3125 .328125 .34375 .359375
		.375 .390625 .40625 .421875 .4375 .453125 .46875 .484375 .5`)
	if len(table) != 32 {
		t.Fatalf("%d rows, want 32", len(table))
	}
	for i, dec := range table {
		want := measure.Length(i+1) * in / 64
		fraction := fmt.Sprintf(`%d/64"`, i+1)
		for _, s := range []string{dec + `"`, "0" + dec + " in", fraction} {
			if got, err := measure.Parse(s); err != nil || got != want {
				t.Errorf("Parse(%q) = %v, %v; want %v", s, got, err, want)
			}
		}
		decimal := measure.Style{Unit: measure.Inch, Decimal: true}
		if got := want.Format(decimal); got != "0"+dec+`"` {
			t.Errorf("%d/64 is written %s, want 0%s", i+1, got, dec)
		}
		if i == 31 {
			break // 64/64 could be 6 4/64
		}
		upper, _ := new(big.Rat).SetString("0" + dec)
		if got, want := (want + in/2).Format(decimal), strings.TrimRight(upper.Add(upper, big.NewRat(1, 2)).FloatString(6), "0")+`"`; got != want {
			t.Errorf("%d/64 is written %s, want %s", i+33, got, want)
		}
		if got, err := measure.Parse(fmt.Sprintf(`%d/64"`, i+33)); err != nil || got != want+in/2 {
			t.Errorf("%d/64 = %v, %v; want %v", i+33, got, err, want+in/2)
		}
	}
}

// Decimal feet. Feet and inches to a sixteenth are rarely exact in them, so the
// published values are compared at the places they print.
func TestDecimalFeet(t *testing.T) {
	for _, c := range []struct {
		text   string
		feet   string // as published
		source string
		wrong  bool // the source is wrong, and we must not reproduce it
	}{
		{`16'-10 5/8"`, "16.88541667", "Math Forum, Dr. Math 58323 (1996)", false},
		{`15'-11 1/8"`, "15.92708333", "derived", false},
		{`7'-4 3/4"`, "7.39583333", "derived", false},
		{`7'-4 3/4"`, "7.3955", `"Convert feet/inches/fractions to decimal" page: adds rounded parts`, true},
		{`1/4"`, "0.020883", `"Convert feet/inches/fractions to decimal" page`, true},
		{`5/16"`, "0.026004", `"Convert feet/inches/fractions to decimal" page`, true},
		{`1/4"`, "0.020833", "derived", false},
		{`5/16"`, "0.026042", "derived", false},
		{`1/16"`, "0.005208", `"Convert feet/inches/fractions to decimal" page`, false},
		{`1/8"`, "0.01042", `"Convert feet/inches/fractions to decimal" page`, false},
		{`3/16"`, "0.015625", `"Convert feet/inches/fractions to decimal" page`, false},
		{`3/8"`, "0.03125", `"Convert feet/inches/fractions to decimal" page`, false},
		{`7/16"`, "0.036458", `"Convert feet/inches/fractions to decimal" page`, false},
		{`5/8"`, "0.05208", `"Convert feet/inches/fractions to decimal" page`, false},
		{`3/4"`, "0.0625", `"Convert feet/inches/fractions to decimal" page`, false},
		{`1"`, ".08", "Q&A hundredths table", false}, {`2"`, ".17", "Q&A hundredths table", false},
		{`3"`, ".25", "Q&A hundredths table", false}, {`4"`, ".33", "Q&A hundredths table", false},
		{`5"`, ".42", "Q&A hundredths table", false}, {`6"`, ".50", "Q&A hundredths table", false},
		{`7"`, ".58", "Q&A hundredths table", false}, {`8"`, ".67", "Q&A hundredths table", false},
		{`9"`, ".75", "Q&A hundredths table", false}, {`10"`, ".83", "Q&A hundredths table", false},
		{`11"`, ".92", "Q&A hundredths table", false}, {`12"`, "1.0", "Q&A hundredths table", false},
	} {
		_, frac, _ := strings.Cut(c.feet, ".")
		places := len(frac)
		got := fmt.Sprintf("%.*f", places, measure.MustParse(c.text).Feet())
		want := c.feet
		if strings.HasPrefix(want, ".") {
			want = "0" + want
		}
		if (got == want) == c.wrong {
			t.Errorf("%s is %s ft; %s prints %s (wrong: %v)", c.text, got, c.source, c.feet, c.wrong)
		}
	}
	// "Metric tables" page: 6.37 ft is 6 ft 4.44 in.
	if a, b := measure.MustParse(`6.37 ft`), measure.MustParse(`6' 4.44"`); a != b {
		t.Errorf("6.37 ft is %v, want %v", a, b)
	}
	// Reference Q&A, tenths of a foot: 0.1 ft is 1.2 in. Derived: 0.01 ft is 0.12 in.
	if a, b := measure.MustParse(`0.1 ft`), measure.MustParse(`1.2"`); a != b {
		t.Errorf("0.1 ft is %v, want %v", a, b)
	}
	if a, b := measure.MustParse(`0.01 ft`), measure.MustParse(`0.12"`); a != b {
		t.Errorf("0.01 ft is %v, want %v", a, b)
	}
}

// Published and wrong: our results must differ.
func TestPublishedButWrong(t *testing.T) {
	// "Convert feet/inches/fractions to decimal" page: decimal feet of 1/4 in,
	// 5/16 in and 7'-4 3/4", neither written nor read.
	for text, wrong := range map[string]string{`1/4"`: "0.020883", `5/16"`: "0.026004", `7'-4 3/4"`: "7.3955"} {
		_, frac, _ := strings.Cut(wrong, ".")
		l := measure.MustParse(text)
		if got := fmt.Sprintf("%.*f", len(frac), l.Feet()); got == wrong {
			t.Errorf("%s is %s ft", text, got)
		}
		if got, err := (measure.Parser{Graduation: 1}).Parse(wrong + "'"); err != nil || got == l {
			t.Errorf("%s ft reads as %v, %v", wrong, got, err)
		}
	}
	// A framing page gives a 20 by 25 cm photo in wood 1 cm wide sides of 23 and
	// 28 cm; size and twice the width are 22 and 27.
	for _, c := range []struct{ size, right, wrong string }{{"20 cm", "22 cm", "23 cm"}, {"25 cm", "27 cm", "28 cm"}} {
		side, err := measure.MustParse(c.size).Add(2 * measure.Centimeter)
		if err != nil || side != measure.MustParse(c.right) || side == measure.MustParse(c.wrong) {
			t.Errorf("%s with two widths is %v, %v", c.size, side, err)
		}
	}
	// Web tables of caulk give a 10.1 fl oz tube 50 to 55 ft of a 1/4 by 1/4 in
	// bead: twice the 24.3 ft that it holds (derived).
	bead, err := (in / 4).Area(in/4, measure.RoundHalfEven)
	if err != nil {
		t.Fatal(err)
	}
	foot, err := bead.Volume(ft, measure.RoundHalfEven)
	if err != nil {
		t.Fatal(err)
	}
	if got := float64(101*measure.FluidOunce/10) / float64(foot); got < 24.25 || got > 24.35 {
		t.Errorf("a tube is %v ft of bead", got)
	}
}

// What a job file looks like: values are strings with units, without escapes.
func TestJSON(t *testing.T) {
	type room struct {
		Wall  measure.Length
		Miter measure.Angle
		Floor measure.Area
		Paint measure.Volume
		Rack  map[measure.Length]int
	}
	want := room{7*ft + 4*in + 3*in/4, 45 * measure.Degree / 2, 25 * measure.SquareFoot / 2, 3 * measure.Gallon,
		map[measure.Length]int{8 * ft: 2, 12*ft + in/2: 1}}
	b, err := json.Marshal(want)
	if err != nil {
		t.Fatal(err)
	}
	const text = `{"Wall":"7ft 4-3/4in","Miter":"22.5deg","Floor":"12.5 sq ft","Paint":"3 gal","Rack":{"12ft 1/2in":1,"8ft":2}}`
	if string(b) != text {
		t.Errorf("JSON is\n%s, want\n%s", b, text)
	}
	var got room
	if err := json.Unmarshal(b, &got); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("after JSON (-want +got):\n%s", d)
	}

	for _, c := range []struct{ text, says string }{
		{`{"Wall": 88.75}`, "cannot unmarshal number into Go struct field room.Wall of type measure.Length"},
		{`{"Miter": 45}`, "cannot unmarshal number into Go struct field room.Miter of type measure.Angle"},
		{`{"Floor": 12}`, "cannot unmarshal number into Go struct field room.Floor of type measure.Area"},
		{`{"Paint": 3}`, "cannot unmarshal number into Go struct field room.Paint of type measure.Volume"},
		{`{"Wall": "88.75"}`, `measure: length "88.75": missing or unknown unit`},
		{`{"Rack": {"7-4": 1}}`, `measure: length "7-4": ambiguous`},
	} {
		got := room{}
		err := json.Unmarshal([]byte(c.text), &got)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("Unmarshal(%s): %v, want %q", c.text, err, c.says)
		}
	}
}

func TestFlag(t *testing.T) {
	fs := flag.NewFlagSet("", flag.ContinueOnError)
	fs.SetOutput(io.Discard)
	var kerf measure.Length
	fs.TextVar(&kerf, "kerf", in/8, "width of the saw cut")
	if err := fs.Parse(nil); err != nil || kerf != in/8 {
		t.Errorf("default: %v, %v", kerf, err)
	}
	if err := fs.Parse([]string{"-kerf", "3/32in"}); err != nil || kerf != 3*in/32 {
		t.Errorf("-kerf 3/32in: %v, %v", kerf, err)
	}
	if err := fs.Parse([]string{"-kerf", "0.1"}); err == nil || !strings.Contains(err.Error(), "no unit") {
		t.Errorf("-kerf 0.1: %v", err)
	}
}

func TestAppendDoesNotAllocate(t *testing.T) {
	buf := make([]byte, 0, 64)
	if n := testing.AllocsPerRun(100, func() {
		for _, l := range []measure.Length{7*ft + 4*in + 3*in/4, 88*in + in/1000, 1, math.MinInt64} {
			buf, _ = l.AppendText(buf[:0])
		}
		buf, _ = (81015 * measure.Arcsecond).AppendText(buf[:0])
		buf, _ = measure.SquareFoot.AppendText(buf[:0])
		buf, _ = measure.Gallon.AppendText(buf[:0])
	}); n != 0 {
		t.Errorf("AppendText allocates %v times", n)
	}
}

func TestFloats(t *testing.T) {
	l := 7*ft + 4*in + 3*in/4
	if got := l.Inches(); got != 88.75 {
		t.Errorf("Inches = %v", got)
	}
	if got := l.Feet(); got != 88.75/12 {
		t.Errorf("Feet = %v", got)
	}
	if got := (10 * in).Millimeters(); got != 254 {
		t.Errorf("Millimeters = %v", got)
	}
	for _, c := range []struct {
		x    float64
		want measure.Length
	}{
		{0, 0}, {math.Copysign(0, -1), 0}, {88.75, l}, {-88.75, -l}, {1.0 / 3, 677333}, {-0.6 / 2032000, -1}, {0.4 / 2032000, 0}, {1.0 / 256, 7938}, {3.0 / 256, 23812}, {-3.0 / 256, -23812},
		{5e-324, 0}, {4.5e12, measure.Length(4.5e12) * in}, {-4539061041759, -4539061041759 * in},
	} {
		if got, err := measure.FromInches(c.x); err != nil || got != c.want {
			t.Errorf("FromInches(%v) = %d, %v; want %d", c.x, int64(got), err, int64(c.want))
		}
	}
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 4.6e12, -4.6e12, 1e300, math.MaxFloat64} {
		got, err := measure.FromInches(x)
		wantRange(t, "FromInches", got, err)
	}
}
