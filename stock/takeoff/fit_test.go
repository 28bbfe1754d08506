package takeoff_test

import (
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// Every piece names the reasons for being cut long or short, by its ends.
func TestFitOfRuns(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	r := square()
	r.Walls[1].Corner = takeoff.Corner{Kind: takeoff.CornerOutside} // free at the end of E and the start of S
	r.Walls[3].Fixtures = []takeoff.Fixture{{Name: "bench", At: ft, Width: ft}, {Name: "hearth", At: 5 * ft, Width: 5 * ft}}
	bow := stock.UsualBow()
	o := &takeoff.Options{Fit: &stock.Fit{Bow: &bow, BetweenFinished: in / 32}}
	list, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: board("base", in/2, 5*in)}, o)
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]string{}
	for _, run := range list.Runs {
		for _, a := range run.Allowances {
			switch a.Name {
			case "long, to be bowed in", "short, to go in", "between two finished faces":
				got[run.Label] = a.Name + " " + a.Length.String()
			}
		}
	}
	want := map[string]string{
		"classroom N base":   `long, to be bowed in 1/16"`,
		"classroom W base B": `between two finished faces -1/32"`,
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	for _, p := range list.Pieces {
		if sum, err := total(p.Allowances); err != nil || sum != p.Length {
			t.Errorf("%s: %v", p.Label, p.Allowances)
		}
	}
}

// PVC is laid with room to expand, and the splice stays on its stud: half of the room is
// at the left end.
func TestFitOfPlastic(t *testing.T) {
	p := base()
	p.Material = "cellular PVC"
	r := takeoff.Room{Name: "corridor", Walls: []takeoff.Wall{stretch("N", 18*measure.Foot)}}
	r.Walls[0].Start.Kind = takeoff.CornerStop
	o := &takeoff.Options{Fit: &stock.Fit{InstallTemp: 70 * measure.DegreeF, MaxTemp: 130 * measure.DegreeF}}
	list, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: p}, o)
	if err != nil {
		t.Fatal(err)
	}
	run := list.Runs[0]
	room := 18*measure.Foot - run.Length
	if x := room.Inches(); x < .42 || x > .425 { // .42 in over 60 °F (derived)
		t.Errorf("room %v", x)
	}
	on := run.Splices[0] + room/2
	if on%bay != 0 {
		t.Errorf("splice at %v of the wall", on)
	}
	p.Material = "unobtainium"
	var fe *measure.FieldError
	if _, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: p}, o); !errors.As(err, &fe) || fe.Field != "base.material" {
		t.Errorf("%v", err)
	}
	o.Catalog = &stock.Catalog{Materials: []stock.Material{{Name: "unobtainium"}}}
	if list, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: p}, o); err != nil || list.Runs[0].Length != 18*measure.Foot {
		t.Errorf("%v", err)
	}
	o.Fit.BetweenFinished = -1
	if _, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: p}, o); !errors.As(err, &fe) || fe.Field != "fit.between_finished" {
		t.Errorf("%v", err)
	}
}

// total returns the sum of the allowances.
func total(as []stock.Allowance) (sum measure.Length, err error) {
	for _, a := range as {
		if sum, err = sum.Add(a.Length); err != nil {
			return 0, err
		}
	}
	return sum, nil
}
