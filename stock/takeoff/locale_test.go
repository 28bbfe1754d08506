package takeoff_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

var (
	customary = regexp.MustCompile(`[0-9⁄½¼¾][ -]?(ft|in|yd|F)\b|[0-9½¼¾][ -]?['"′″]|°F|\b(foot|feet|inch|inches)\b`)
	decimal   = regexp.MustCompile(`[0-9]\.[0-9]`)
)

var countryside = measure.Locale{Metric: true, DecimalComma: true}

// doubtfulRoom draws a room with something to find in it, by a tape in inches or in
// millimeters.
func doubtfulRoom(t *rapid.T) takeoff.Room {
	unit := rapid.SampledFrom([]measure.Length{measure.Inch / 16, measure.Millimeter}).Draw(t, "tape")
	l := func(name string, lo, hi measure.Length) measure.Length {
		return unit * measure.Length(rapid.Int64Range(int64(lo/unit), int64(hi/unit)).Draw(t, name))
	}
	const ft, m = measure.Foot, measure.Meter
	long, wide, high := l("long", 8*ft, 30*ft), l("wide", 8*ft, 20*ft), l("high", 7*ft, 10*ft)
	r := takeoff.Room{Name: "classroom", Height: high, PaintLine: l("paint", 0, 1*ft), Wet: rapid.Bool().Draw(t, "wet"), Walls: []takeoff.Wall{
		{Name: "N", Length: long}, {Name: "E", Length: wide}, {Name: "S", Length: long}, {Name: "W", Length: wide},
	}}
	off := rapid.SampledFrom([]measure.Length{0, 0, measure.Inch, -measure.Foot, 100 * measure.Millimeter, m, measure.Inch / 2, 40 * measure.Millimeter}).Draw(t, "slip")
	w := &r.Walls[rapid.IntRange(0, 3).Draw(t, "misread")]
	w.Length = max(w.Length+off, ft)
	if rapid.Bool().Draw(t, "crooked") {
		r.Walls[0].TopLength = long + l("top", 0, ft)
		r.Walls[1].HeightLeft = high + l("height", 0, ft)
		r.Walls[1].Corner.Angle = rapid.SampledFrom([]measure.Angle{0, 91 * measure.Degree, 1805 * measure.Degree / 20}).Draw(t, "corner")
	}
	if rapid.Bool().Draw(t, "diagonal") {
		r.Diagonals = []takeoff.Diagonal{{From: "N", To: "S", Length: l("across", 12*ft, 36*ft)}}
		r.OffSquare = l("off", 0, measure.Inch)
	}
	r.Walls[2].Openings = []takeoff.Opening{{Kind: takeoff.OpeningDoor, At: l("door", 0, 2*ft), Width: 3 * ft, Height: l("head", 6*ft, 10*ft), TopWidth: 3*ft + l("more", 0, measure.Inch)}}
	r.Walls[2].Fixtures = []takeoff.Fixture{{Name: "stove", At: l("stove", 2*ft, 5*ft), Width: ft, Depth: ft}}
	r.Walls[0].KeepClear = []takeoff.KeepClear{{Name: "outlet", At: l("outlet", 0, 6*ft), Width: ft}}
	return r
}

// A locale changes all texts of findings and allowances, and nothing else.
func TestLocaleChangesTextsOnly(t *testing.T) {
	seen := map[takeoff.FindingCode]bool{}
	rapid.Check(t, func(t *rapid.T) {
		r, s := doubtfulRoom(t), fullScheme()
		const in = measure.Inch
		if rapid.Bool().Draw(t, "odd trim") {
			s.Base.Thickness, s.Casing.Width, s.Base.Material = in, 6*in, "MDF"
			s.Crown.Spring = 52 * measure.Degree
			s.Plinth = board("plinth", in/2, 6*in)
		}
		if rapid.Bool().Draw(t, "stone") {
			s.Base.Material, s.Base.StripJoint, s.Base.ButtSpliced = "slate", in/32, true
		}
		for _, m := range stock.GenericCatalog().Materials { // whatever they are called there
			if rapid.IntRange(0, 5).Draw(t, "material") == 0 {
				s.Base.Material = m.Name
			}
		}
		s.Base.Lengths = []measure.Length{rapid.SampledFrom([]measure.Length{6 * measure.Foot, 16 * measure.Foot, 3 * measure.Meter}).Draw(t, "stick")}
		fit := &stock.Fit{InstallTemp: 70 * measure.DegreeF, MaxTemp: 995 * measure.DegreeF / 10, InstallMoisture: 65 * measure.Percent / 10, MaxMoisture: 12 * measure.Percent}
		at := takeoff.Conditions{MaxTransport: 10 * measure.Foot, MinTemp: 20 * measure.DegreeF, MaxTemp: 90 * measure.DegreeF, MinMoisture: 65 * measure.Percent / 10, MaxMoisture: 14 * measure.Percent}
		o := &takeoff.Options{Sight: measure.Foot}
		if rapid.Bool().Draw(t, "fit") {
			o.Fit = fit
		}
		there, then := *o, at
		there.Locale, then.Locale = countryside, countryside

		text := func(s string) {
			if bad := customary.FindString(s) + decimal.FindString(s); bad != "" {
				t.Errorf("%q in %s", bad, s)
			}
		}
		same := func(what string, plain, metric []takeoff.Finding, err1, err2 error) {
			if err1 != nil || err2 != nil {
				t.Fatalf("%s: %v, %v", what, err1, err2)
			}
			for i := range metric {
				seen[metric[i].Code] = true
				text(metric[i].Reason)
				metric[i].Reason = ""
			}
			bare := append([]takeoff.Finding(nil), plain...)
			for i := range bare {
				bare[i].Reason = ""
			}
			if d := cmp.Diff(bare, metric); d != "" {
				t.Errorf("%s: more than the texts differ (-plain +metric)\n%s", what, d)
			}
		}
		rooms := []takeoff.Room{r}
		p, err1 := takeoff.Check(rooms, s, o)
		m, err2 := takeoff.Check(rooms, s, &there)
		same("Check", p, m, err1, err2)
		p, err1 = takeoff.CheckTrim(rooms, s, at)
		m, err2 = takeoff.CheckTrim(rooms, s, then)
		same("CheckTrim", p, m, err1, err2)
		plain, err1 := takeoff.Take(rooms, s, o)
		metric, err2 := takeoff.Take(rooms, s, &there)
		if fmt.Sprint(err1) != fmt.Sprint(err2) {
			t.Fatalf("%v, metric %v", err1, err2)
		}
		if err1 != nil {
			return
		}
		same("Take", plain.Findings, metric.Findings, nil, nil)
		plain.Findings, metric.Findings = nil, nil
		names := func(as, bs []stock.Allowance) {
			for i := range bs {
				if i < len(as) {
					bs[i].Name = as[i].Name
				}
			}
		}
		for _, r := range metric.Runs {
			for _, a := range r.Allowances {
				text(a.Name)
			}
		}
		for _, p := range metric.Pieces { // before those that both share are made alike
			for _, a := range p.Allowances {
				text(a.Name)
			}
		}
		for i := range metric.Runs {
			names(plain.Runs[i].Allowances, metric.Runs[i].Allowances)
		}
		for i := range metric.Pieces {
			names(plain.Pieces[i].Allowances, metric.Pieces[i].Allowances)
		}
		if d := cmp.Diff(plain, metric); d != "" {
			t.Errorf("Take: more than the texts differ (-plain +metric)\n%s", d)
		}
	})
	// These come up in more than every tenth room.
	for _, code := range []takeoff.FindingCode{takeoff.FindingClosure, takeoff.FindingCasingFit, takeoff.FindingThickBase, takeoff.FindingCeilingAngle, takeoff.FindingPaintLine, takeoff.FindingTransport, takeoff.FindingOpenJoints} {
		if !seen[code] && !testing.Short() {
			t.Errorf("no %s was found", code)
		}
	}
}

// A metric tape is held at the 100 mm mark, and has no feet to misread.
func TestMissedDecimeter(t *testing.T) {
	const mm = measure.Millimeter
	room := takeoff.Room{Name: "workshop", Walls: []takeoff.Wall{{Name: "N", Length: 6253 * mm}, {Name: "E", Length: 4121 * mm}, {Name: "S", Length: 6153 * mm}, {Name: "W", Length: 4121 * mm}}}
	for _, c := range []struct {
		south measure.Length
		code  takeoff.FindingCode
		says  string
	}{
		{6153 * mm, takeoff.FindingMissedDecimeter, "a tape held at the 100 mm mark and that not subtracted, or subtracted twice: N would be 6153 mm instead of 6253 mm, or S would be 6253 mm instead of 6153 mm"},
		{5253 * mm, takeoff.FindingMissedMeter, "a meter mark misread: N would be 5253 mm instead of 6253 mm, or S would be 6253 mm instead of 5253 mm"},
	} {
		room.Walls[2].Length = c.south
		fs, err := takeoff.Check([]takeoff.Room{room}, takeoff.Scheme{}, &takeoff.Options{Locale: measure.Locale{Metric: true}})
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, f := range fs {
			if f.Code == c.code {
				got = append(got, f.Reason)
			}
			if strings.Contains(string(f.Code), "inch") || strings.Contains(string(f.Code), "foot") {
				t.Errorf("%s: %s", f.Code, f.Reason)
			}
		}
		if len(got) != 1 || got[0] != c.says {
			t.Errorf("%q, want %q", got, c.says)
		}
	}
}

func TestLocaleIsValidated(t *testing.T) {
	wrong := measure.Locale{Currency: measure.Currency{Minor: 7}}
	if _, err := takeoff.Take(nil, takeoff.Scheme{}, &takeoff.Options{Locale: wrong}); err == nil || !strings.Contains(err.Error(), "locale.currency.minor is 7") {
		t.Errorf("Take: %v", err)
	}
	if _, err := takeoff.CheckTrim(nil, takeoff.Scheme{}, takeoff.Conditions{Locale: wrong}); err == nil || !strings.Contains(err.Error(), "locale.currency.minor is 7") {
		t.Errorf("CheckTrim: %v", err)
	}
}
