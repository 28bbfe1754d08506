package stair_test

import (
	"encoding/json"
	"errors"
	"math"
	"reflect"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/stair"
	"pgregory.net/rapid"
)

// Whatever is asked, the answer is one or a fault that names a field.
func TestNeverPanics(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		any := func(name string) measure.Length {
			return measure.Length(rapid.OneOf(rapid.Int64(), rapid.Int64Range(-1000, int64(3*measure.Foot)), rapid.SampledFrom([]int64{0, math.MaxInt64, math.MinInt64})).Draw(t, name))
		}
		fine := func(err error) {
			if err == nil {
				return
			}
			n := 0
			for f := range measure.FieldErrors(err) {
				if n++; f.Field == "" || f.Want == "" {
					t.Fatalf("%+v", f)
				}
			}
			if n == 0 {
				t.Fatalf("%T %v", err, err)
			}
		}
		f := stair.Flight{Risers: rapid.OneOf(rapid.Int(), rapid.IntRange(0, 40)).Draw(t, "risers"), Rise: any("rise"), Run: any("run"), Nosing: any("nosing")}
		_, err := f.Rake()
		fine(err)
		s := stair.Skirt{Width: any("width"), Foot: any("foot"), Head: any("head"), Joint: stair.Joint(rapid.Uint8Range(0, 3).Draw(t, "joint"))}
		b, err := f.Skirt(s)
		fine(err)
		if err == nil && (b.Length <= 0 || len(b.Outline) < 4) {
			t.Fatalf("%+v gives %+v", f, b)
		}
		_, err = f.Rail(any("width"))
		fine(err)

		slope, err := measure.NewSlope(any("rise"), any("run"))
		if err != nil {
			slope = measure.Slope{}
		}
		_, err = stair.Meet(slope, any("level"), any("rake"))
		fine(err)
		c := stair.Corner{Slope: slope, Angle: measure.Angle(any("angle")), Outside: rapid.Bool().Draw(t, "outside")}
		points := []stock.Point{{Along: any("out"), Up: any("up")}}
		_, err = c.Rake(points)
		fine(err)
		_, err = c.Level(points)
		fine(err)
		p := stock.Profile{Role: stock.RoleCrown, Width: any("width"), Thickness: any("thickness"), Spring: measure.Angle(any("spring"))}
		_, err = c.Crown(p)
		fine(err)
		_, _, err = c.Cut(p)
		fine(err)
	})
}

func TestFaults(t *testing.T) {
	good := stair.Flight{Risers: 14, Rise: 7 * in, Run: 10 * in}
	_, rake := stair.Flight{Risers: 1, Rise: 0, Run: -1, Nosing: -1}.Rake()
	_, steep := stair.Flight{Risers: 14, Rise: 21 * in, Run: in}.Rake()
	_, skirt := good.Skirt(stair.Skirt{Width: 0, Foot: -1, Head: -1, Joint: 9})
	_, narrow := good.Skirt(stair.Skirt{Width: 5 * in})
	_, rail := good.Rail(0)
	_, level := stair.Meet(measure.Slope{}, 0, 0)
	_, crown := stair.Corner{Angle: 180 * deg}.Crown(stock.Profile{Spring: 90 * deg})
	_, far := stair.Corner{}.Rake([]stock.Point{{}, {Up: 1001 * measure.Foot}})
	_, sharp := stair.Corner{Slope: pitch(t, 12, 12), Angle: 1}.Level([]stock.Point{{Along: 900 * measure.Foot}})
	for _, c := range []struct {
		err  error
		want []string
	}{
		{rake, []string{"risers", "rise", "run", "nosing"}}, {steep, []string{"run"}},
		{skirt, []string{"skirt.width", "skirt.foot", "skirt.head", "skirt.joint"}}, {narrow, []string{"skirt.width"}},
		{rail, []string{"width"}}, {level, []string{"slope", "level", "rake"}}, {crown, []string{"angle", "slope", "profile.width", "profile.spring"}},
		{far, []string{"points[1]"}}, {sharp, []string{"angle"}},
	} {
		var got []string
		for f := range measure.FieldErrors(c.err) {
			got = append(got, f.Field)
		}
		if !reflect.DeepEqual(got, c.want) {
			t.Errorf("%v: fields %v, want %v", c.err, got, c.want)
		}
	}
}

func TestJSON(t *testing.T) {
	f := stair.Flight{Risers: 14, Rise: 15 * in / 2, Run: 10 * in, Nosing: in}
	b, err := f.Skirt(stair.Skirt{Width: 37 * in / 4, Foot: 11 * in / 2, Joint: stair.JointPlumb})
	if err != nil {
		t.Fatal(err)
	}
	r, err := f.Rake()
	if err != nil {
		t.Fatal(err)
	}
	w, err := stair.Corner{Slope: pitch(t, 6, 12)}.Crown(crownOf(45*deg, 4*in))
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range []any{f, b, r, w, stair.Skirt{Width: in, Joint: stair.JointPlumb}, stair.Corner{Slope: pitch(t, -6, 12), Angle: 135 * deg, Outside: true}} {
		text, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		back := reflect.New(reflect.TypeOf(v))
		if err := json.Unmarshal(text, back.Interface()); err != nil || !reflect.DeepEqual(back.Elem().Interface(), v) {
			t.Errorf("%s is read back as %+v, %v", text, back.Elem(), err)
		}
	}
	var j stair.Joint
	var fe *measure.FieldError
	if err := j.UnmarshalText([]byte("dovetail")); !errors.As(err, &fe) || fe.Value != "dovetail" {
		t.Errorf("%v", err)
	}
	if _, err := stair.Joint(7).MarshalText(); !errors.As(err, &fe) || stair.Joint(7).String() != "Joint(7)" {
		t.Errorf("%v", err)
	}
}
