package takeoff_test

import (
	"errors"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock/takeoff"
	"github.com/google/go-cmp/cmp"
)

// joinedWindows are two windows of 24 by 40 in with 6 in of wall between them, cased as one.
func joinedWindows() []takeoff.Opening {
	const in = measure.Inch
	w := takeoff.Opening{Kind: takeoff.OpeningWindow, At: 30 * in, Width: 24 * in, Height: 40 * in, Sill: 30 * in}
	v := w
	v.At, w.Joined = 60*in, true
	return []takeoff.Opening{w, v}
}

// Derived, for casing of 3 1/2 in and reveals of 3/16 in: over all the opening is 24 + 6 + 24 = 54,
// the mullion 6 - 2 · 3/16 = 5 5/8 wide.
func TestJoinedWindows(t *testing.T) {
	const in = measure.Inch
	wide := board("mullion", 3*in/4, 45*in/8)
	stool := takeoff.Scheme{Stool: board("stool", in, 5*in), Apron: board("apron", in/2, 3*in)}
	for _, tt := range []struct {
		name   string
		scheme takeoff.Scheme
		style  takeoff.CasingStyle
		want   map[string]string
		joints takeoff.Joints
	}{
		{"frame", takeoff.Scheme{}, takeoff.CasingStyle{Mullion: wide}, map[string]string{
			"casing leg left": "47.375in", "casing leg right": "47.375in", "casing head": "61.375in", "bottom casing": "61.375in", "casing mullion": "40.375in",
		}, takeoff.Joints{FlatMiters: 4, Butts: 2}},
		{"on a stool", stool, takeoff.CasingStyle{Joint: takeoff.CasingButt, Mullion: wide}, map[string]string{
			"stool": "62.875in", "apron": "61.375in", "casing leg left": "40.1875in", "casing leg right": "40.1875in", "casing mullion": "40.1875in", "casing head": "61.375in",
		}, takeoff.Joints{Butts: 6}},
	} {
		s := tt.scheme
		s.Casing, s.ChairRail, tt.style.Name = board("casing", 3*in/4, 7*in/2), board("chair rail", in/2, 2*in), "style"
		s.CasingStyles = []takeoff.CasingStyle{tt.style}
		list, err := takeoff.Take(doorWall(joinedWindows()...), s, nil)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		got, want := map[string]string{}, map[string]string{"chair rail A": "26.3125in", "chair rail B": "56.3125in"}
		for k, v := range lengthsOf(list) {
			got[strings.TrimPrefix(k, "window 1 ")] = v
		}
		for k, v := range tt.want {
			want[k] = v
		}
		for k, v := range want {
			want[k] = measure.MustParse(v).String()
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("%s (-want +got):\n%s", tt.name, d)
		}
		tt.joints.Stops = 4
		if list.Joints != tt.joints {
			t.Errorf("%s: %+v, want %+v", tt.name, list.Joints, tt.joints)
		}
		if fs, err := takeoff.Check(doorWall(joinedWindows()...), s, nil); err != nil || len(fs) > 0 {
			t.Errorf("%s: %+v, %v", tt.name, fs, err)
		}
	}
}

// It does not matter in which order the openings of a wall are listed.
func TestJoinedInAnyOrder(t *testing.T) {
	const in = measure.Inch
	s := takeoff.Scheme{Casing: board("casing", 3*in/4, 45*in/8)}
	on := append(joinedWindows(), takeoff.Opening{At: 110 * in, Width: 20 * in})
	want := 0
	for _, order := range [][3]int{{0, 1, 2}, {1, 0, 2}, {2, 1, 0}, {1, 2, 0}} {
		list, err := takeoff.Take(doorWall(on[order[0]], on[order[1]], on[order[2]]), s, nil)
		if err != nil {
			t.Fatal(err)
		}
		sum := 0
		for _, p := range list.Pieces {
			sum += int(p.Length)
		}
		if want == 0 {
			want = sum
		}
		if sum != want || len(list.Pieces) != 8 {
			t.Errorf("%v: %d pieces of %d, want %d", order, len(list.Pieces), sum, want)
		}
	}
}

// A mullion casing that is too wide is ripped, one that is too narrow is an error, and unequal openings
// cannot be joined.
func TestJoinedFaults(t *testing.T) {
	const in = measure.Inch
	s := takeoff.Scheme{Casing: board("casing", 3*in/4, 6*in)}
	list, err := takeoff.Take(doorWall(joinedWindows()...), s, nil)
	if err != nil {
		t.Fatal(err)
	}
	if got := finding(list.Findings, takeoff.FindingCasingFit); len(got) != 1 || got[0] != `3/8": corridor S window 1 casing mullion is ripped to 5-5/8", what is between the reveals` {
		t.Errorf("%q", got)
	}
	s.Casing = board("casing", 3*in/4, 5*in)
	var fe *measure.FieldError
	if _, err := takeoff.Take(doorWall(joinedWindows()...), s, nil); !errors.As(err, &fe) || fe.Field != "rooms[0].walls[0].openings[0]" || !strings.Contains(err.Error(), `5-5/8"`) {
		t.Errorf("%v", err)
	}
	for want, change := range map[string]func(a, b *takeoff.Opening){
		"another opening to its right":                                  func(a, b *takeoff.Opening) { a.Joined, b.Joined = false, true },
		"nothing, because a plain opening has no casing":                func(a, b *takeoff.Opening) { a.Kind = takeoff.OpeningPlain },
		"a kind and a casing like those of door":                        func(a, b *takeoff.Opening) { b.Kind = takeoff.OpeningDoor },
		"height, sill and reveal like those of window 2":                func(a, b *takeoff.Opening) { b.Sill += in },
		"no width at the head of its own, nor of window 2":              func(a, b *takeoff.Opening) { b.TopWidth = b.Width + in },
		"height, sill and reveal like those of window 2 ":               func(a, b *takeoff.Opening) { b.Flush = true },
		"height, sill and reveal like those of window 2, floor sloping": func(a, b *takeoff.Opening) { a.RightHeight = a.Height + in },
	} {
		o := joinedWindows()
		change(&o[0], &o[1])
		_, err := takeoff.Take(doorWall(o...), takeoff.Scheme{Casing: board("casing", 3*in/4, 6*in)}, nil)
		if want, _, _ = strings.Cut(want, ", floor"); !errors.As(err, &fe) || !strings.HasSuffix(fe.Field, ".joined") || fe.Want != strings.TrimSpace(want) {
			t.Errorf("%v, want %s", err, want)
		}
	}
}
