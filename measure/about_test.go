package measure_test

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"pgregory.net/rapid"
)

func TestAbout(t *testing.T) {
	const tick, mm = measure.Tick, measure.Millimeter
	foot := measure.Foot
	for _, c := range []struct {
		l    measure.Length
		like []measure.Length
		want string
	}{
		{0, nil, `0"`},
		{7*foot + 4*in + 3*in/4, nil, `7' 4-3/4"`},
		{in * 37 / 64, nil, `37/64"`},
		{88*in + in/1000, nil, `88.001"`},
		{12345 * mm / 10, nil, "1234.5mm"},
		{measure.MustParse("3062.719425mm"), nil, `about 10' 9/16"`},
		{measure.MustParse("3062.719425mm"), []measure.Length{3 * mm}, "about 3063 mm"},
		{measure.MustParse("3062.719425mm"), []measure.Length{3 * mm / 10}, "about 3062.7 mm"},
		{measure.MustParse("1049.8666625mm"), []measure.Length{foot}, `about 3' 5-5/16"`},
		{measure.MustParse("1049.8666625mm"), []measure.Length{in / 64}, `about 3' 5-21/64"`},
		{measure.MustParse("1049.8666625mm"), []measure.Length{0, 254 * mm, in / 8, 3 * mm}, `about 3' 5-5/16"`}, // the first that tells
		{1234561 * measure.Micrometer, nil, "1234.561mm"},                                                        // as it was given
		{1234561 * measure.Micrometer, []measure.Length{foot}, `about 4' 5/8"`},
		{in/4 + tick, nil, `about 1/4"`},
		{-in/4 + tick, nil, `about -1/4"`},
		{tick, nil, `less than 1/16"`},
		{-tick, nil, `just below 0"`},
		{tick, []measure.Length{5 * mm}, "less than 1 mm"},
		{in/16 - tick, nil, `about 1/16"`},
	} {
		if got := c.l.About(c.like...); got != c.want {
			t.Errorf("%v like %v: %s, want %s", c.l, c.like, got, c.want)
		}
	}
}

// About is exact unless it says otherwise, never off by more than half a graduation, and never shows
// too many places.
func TestAboutProperty(t *testing.T) {
	fine := regexp.MustCompile(`\.\d\d+ ?mm`)
	rapid.Check(t, func(t *rapid.T) {
		l := measure.Length(rapid.Int64Range(math.MinInt64, math.MaxInt64).Draw(t, "l"))
		if rapid.Bool().Draw(t, "usual") {
			l %= 40 * measure.Foot
		}
		like := rapid.SliceOfN(rapid.Map(rapid.Int64Range(1, 5000), func(n int64) measure.Length { return measure.Length(n) * in / 128 }), 1, 3).Draw(t, "like")
		if rapid.Bool().Draw(t, "metric") {
			for i := range like {
				like[i] = like[i] / (in / 128) * measure.Millimeter / 10
			}
		}
		got := l.About(like...)
		if fine.MatchString(got) && l%(measure.Millimeter/10) != 0 {
			t.Fatalf("%v like %v: %s", l, like, got)
		}
		rounded, marked := strings.CutPrefix(got, "about ")
		if !marked && (strings.HasPrefix(got, "less than ") && l > 0 || strings.HasPrefix(got, "just below ") && l < 0) {
			if l > measure.Millimeter || l < -measure.Inch/16 && l < -measure.Millimeter {
				t.Fatalf("%v like %v: %s", l, like, got)
			}
			if _, err := measure.Parse(got); err == nil {
				t.Fatalf("%q is read", got)
			}
			return
		}
		back, err := measure.Parse(rounded)
		if err != nil {
			return // beyond the range, after rounding up
		}
		if l > math.MaxInt64-in || l < math.MinInt64+in {
			return // the nearest graduation may be beyond the range
		}
		if off := back - l; (off == 0) == marked || off > measure.Inch/32 || off < -measure.Inch/32 {
			t.Fatalf("%v like %v: %s", l, like, got)
		}
		if _, err := measure.Parse(got); marked && err == nil {
			t.Fatalf("%q is read", got)
		}
	})
}

// A length that happens to be a whole tenth of a millimeter is still a length of the job.
func TestAboutByAccident(t *testing.T) {
	for _, c := range []struct {
		l    measure.Length
		like measure.Length
		want string
	}{
		{19 * measure.Millimeter, 3 * measure.Inch / 8, `about 3/4"`},
		{19 * measure.Millimeter, 25 * measure.Millimeter, "19mm"},
		{19 * measure.Millimeter, 0, "19mm"},
		{3 * measure.Inch / 8, 1210 * measure.Millimeter, "about 10 mm"},
		{3 * measure.Inch / 8, 3 * measure.Inch / 8, `3/8"`},
	} {
		if got := c.l.About(c.like); got != c.want {
			t.Errorf("%v among %v: %q, want %q", c.l, c.like, got, c.want)
		}
	}
}
