package cutsheet_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"example.com/longpoint/internal/solver/certificate"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
	"pgregory.net/rapid"
)

// A billion sticks of a few patterns make a sheet as small as that of one each.
func TestBillionsStaySmall(t *testing.T) {
	p := optimize.Problem{
		Kerf:   measure.Inch / 8,
		Sticks: []stock.Stick{{Label: "pine 16", Length: ft(16, 0, 0), Price: 1}},
		Pieces: []stock.Piece{
			{Label: "peg rail", Length: ft(5, 3, 0), Quantity: 2_000_000_001},
			{Label: "peg", Length: ft(0, 3, 0), Quantity: 2_000_000_003},
		},
	}
	plan := solve(t, p)
	s, err := cutsheet.New(context.Background(), p, plan, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range renderings {
		if n := len(render(t, s, r)); n > 40_000 {
			t.Errorf("%s takes %d bytes", r.ext, n)
		}
	}
	if text := render(t, s, renderings[0]); !strings.Contains(text, "4,000,000,004 pieces to cut") {
		t.Errorf("the pieces are not counted:\n%s", text)
	}
	readBack(t, p, plan, nil)
}

// A stick may hold 65,536 pieces.
func TestFullestStick(t *testing.T) {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 65_536 * measure.Inch}},
		Pieces: []stock.Piece{{Label: "peg", Length: measure.Inch, Quantity: 65_536}},
	}
	s := sheet(t, p, nil)
	for _, r := range renderings {
		if n := len(render(t, s, r)); n > 40_000 && r.ext != "json" {
			t.Errorf("%s takes %d bytes", r.ext, n)
		}
	}
}

func TestInputErrors(t *testing.T) {
	p, o := base()
	good := solve(t, p)
	for _, c := range []struct {
		field string
		spoil func(p *optimize.Problem, plan *optimize.Plan, o *cutsheet.Options)
	}{
		{"options.locale.currency.minor", func(_ *optimize.Problem, _ *optimize.Plan, o *cutsheet.Options) { o.Locale.Currency.Minor = 12 }},
		{"options.locale.currency.minor", func(_ *optimize.Problem, _ *optimize.Plan, o *cutsheet.Options) { o.Locale.Currency.Minor = -100 }},
		{"options.locale.currency.minor", func(_ *optimize.Problem, _ *optimize.Plan, o *cutsheet.Options) {
			o.Locale.Currency.Minor = 10_000_000_000
		}},
		{"options.graduation", func(_ *optimize.Problem, _ *optimize.Plan, o *cutsheet.Options) { o.Graduation = -1 }},
		{"options.graduation", func(_ *optimize.Problem, _ *optimize.Plan, o *cutsheet.Options) { o.Graduation = 90 * measure.Degree }},
		{"pieces[1].left", func(p *optimize.Problem, _ *optimize.Plan, _ *cutsheet.Options) { p.Pieces[1].Left.Kind = 99 }},
		{"pieces[1].right", func(p *optimize.Problem, _ *optimize.Plan, _ *cutsheet.Options) {
			p.Pieces[1].Right.Angle = 180 * measure.Degree
		}},
		{"pieces[3].right.setback", func(p *optimize.Problem, _ *optimize.Plan, _ *cutsheet.Options) { p.Pieces[3].Right.Setback = -1 }},
	} {
		q, plan, o := p, *good, *o
		q.Sticks, q.Pieces = slices.Clone(p.Sticks), slices.Clone(p.Pieces)
		c.spoil(&q, &plan, &o)
		s, err := cutsheet.New(context.Background(), q, &plan, &o)
		var input *measure.FieldError
		switch {
		case s != nil:
			t.Errorf("%s: a sheet", c.field)
		case !errors.As(err, &input) || input.Field != c.field:
			t.Errorf("%s: %v", c.field, err)
		case !strings.HasPrefix(err.Error(), c.field+" is "):
			t.Errorf("%s: %q", c.field, err)
		}
	}

	unnamed := *good
	unnamed.Stop = 99
	if _, err := cutsheet.New(context.Background(), p, &unnamed, nil); err == nil {
		t.Error("a plan with an unknown Stop")
	}
	// Wrong plans and problems get the errors of package optimize.
	wrong := *good
	wrong.Cost++
	var check *optimize.CheckError
	if _, err := cutsheet.New(context.Background(), p, &wrong, nil); !errors.As(err, &check) {
		t.Errorf("a wrong cost: %v", err)
	}
	if _, err := cutsheet.New(context.Background(), p, nil, nil); !errors.As(err, &check) {
		t.Errorf("no plan: %v", err)
	}
	if _, err := cutsheet.New(context.Background(), optimize.Problem{}, good, nil); !errors.As(err, new(*measure.FieldError)) {
		t.Errorf("no problem: %v", err)
	}
	var field *measure.FieldError
	// All of them at once, in the order of the data, by one name each.
	many := p
	many.Pieces = slices.Clone(p.Pieces)
	many.Pieces[0].Label = "\xff"
	_, all := cutsheet.New(context.Background(), many, good, &cutsheet.Options{
		Title: "\xff", Locale: measure.Locale{Currency: measure.Currency{Symbol: "\xff"}}, Profile: &stock.Profile{Name: "\xff", Width: -1, Thickness: measure.Inch}, Keep: -1, Graduation: -1,
	})
	var paths []string
	for e := range measure.FieldErrors(all) {
		paths = append(paths, e.Field)
	}
	if want := []string{"pieces[0].label", "options.title", "options.locale.currency.symbol", "options.profile.name", "options.profile.width", "options.keep", "options.graduation"}; !slices.Equal(paths, want) {
		t.Errorf("%q, want %q", paths, want)
	}
	if _, err := cutsheet.New(context.Background(), p, good, &cutsheet.Options{Profile: &stock.Profile{}}); !errors.As(err, &field) {
		t.Errorf("an empty profile: %v", err)
	}
}

// full accepts n bytes.
type full struct{ n int }

var errFull = errors.New("disk full")

func (f *full) Write(b []byte) (int, error) {
	if len(b) > f.n {
		return f.n, errFull
	}
	f.n -= len(b)
	return len(b), nil
}

func TestErrorOfTheWriter(t *testing.T) {
	p, o := base()
	s := sheet(t, p, o)
	for _, r := range renderings {
		if err := r.write(s, &full{100}); !errors.Is(err, errFull) {
			t.Errorf("%s: %v", r.ext, err)
		}
	}
}

// The same sheet gives the same bytes, also to several at once.
func TestSameBytesAtOnce(t *testing.T) {
	p, o := base()
	o.Locale.Length = measure.Style{Graduation: measure.Inch / 16, Typographic: true}
	s := sheet(t, p, o)
	var want, got [2 * 5]bytes.Buffer
	var wait sync.WaitGroup
	for i := range got {
		r := renderings[i%5]
		if err := r.write(sheet(t, p, o), &want[i]); err != nil { // one that nothing else was written of
			t.Fatal(err)
		}
	}
	for i := range got {
		wait.Go(func() { _ = renderings[i%5].write(s, &got[i]) })
	}
	wait.Wait()
	for i := range got {
		if !bytes.Equal(want[i].Bytes(), got[i].Bytes()) {
			t.Errorf("%s differs", renderings[i%5].ext)
		}
	}
}

func TestMoney(t *testing.T) {
	for _, c := range []struct {
		money measure.Currency
		price int64
		want  string
	}{
		{measure.Currency{}, 1234567, "12,345.67"},
		{measure.Currency{Symbol: "$"}, 5, "$0.05"},
		{measure.Currency{Symbol: "$"}, 100, "$1.00"},
		{measure.Currency{Symbol: "EUR", After: true}, 123456, "1,234.56 EUR"},
		{measure.Currency{Minor: 1}, 1234567, "1,234,567"},
		{measure.Currency{Minor: 1000}, 1234567, "1,234.567"},
		{measure.Currency{Minor: 10}, 99, "9.9"},
		{measure.Currency{Minor: 1_000_000_000}, 1, "0.000000001"},
	} {
		p := optimize.Problem{Sticks: []stock.Stick{{Length: ft(8, 0, 0), Price: c.price}}, Pieces: []stock.Piece{{Length: ft(7, 0, 0)}}}
		text := render(t, sheet(t, p, &cutsheet.Options{Locale: measure.Locale{Currency: c.money}}), renderings[0])
		if want := "cost " + c.want + "."; !strings.Contains(text, want) {
			t.Errorf("%d minor units: want %q in\n%s", c.price, want, text)
		}
	}
}

// Every piece is on every sheet as often as it is wanted, whatever the plan.
func TestNothingIsMissing(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		p := optimize.Problem{Kerf: measure.Inch / 8, Sticks: []stock.Stick{{Length: ft(8, 0, 0), Price: 900}, {Length: ft(12, 0, 0), Price: 1300}}}
		wanted := make(map[string]int)
		total := 0
		for i := range rapid.IntRange(1, 6).Draw(rt, "kinds") {
			q := rapid.IntRange(1, 30).Draw(rt, "quantity")
			label := fmt.Sprintf("window %d head", i)
			p.Pieces = append(p.Pieces, stock.Piece{Label: label, Quantity: q, Length: measure.Length(rapid.IntRange(16, 95*16).Draw(rt, "length")) * measure.Inch / 16})
			wanted[label] = q
			total += q
		}
		plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 100_000})
		if err != nil {
			rt.Skip(err)
		}
		s, err := cutsheet.New(context.Background(), p, plan, nil)
		if err != nil {
			rt.Fatal(err)
		}
		// There is a tag for each piece, and on the page a box, or a place for a number.
		var b strings.Builder
		if err := s.WriteTags(&b); err != nil {
			rt.Fatal(err)
		}
		page := render(t, s, renderings[2])
		boxes := strings.Count(page, `aria-label="cut `)
		for _, m := range regexp.MustCompile(`<span class="write"> </span> of ([0-9,]+)<`).FindAllStringSubmatch(page, -1) {
			n, err := strconv.Atoi(strings.ReplaceAll(m[1], ",", ""))
			if err != nil {
				rt.Fatal(err)
			}
			boxes += n
		}
		if boxes != total {
			rt.Errorf("boxes for %d pieces, want %d", boxes, total)
		}
		for label, n := range wanted {
			if got := strings.Count(b.String(), "<bdi>"+label+"</bdi>"); got != n {
				rt.Errorf("%d tags for %s, want %d", got, label, n)
			}
			for _, r := range renderings {
				if !strings.Contains(render(t, s, r), label) && r.ext != "svg" { // where it may be cut short
					rt.Errorf("%s: no %s", r.ext, label)
				}
			}
		}
	})
}

// The proof is described as it is.
func TestProofInWords(t *testing.T) {
	p, o := base()
	o.ProofDetails = true
	plan := solve(t, p)
	stopped := *plan
	stopped.Proven, stopped.Stop = false, optimize.StopDeadline
	stopped.Bound, stopped.Proof = 0, optimize.Proof{}
	for name, c := range map[string]struct {
		plan *optimize.Plan
		want string
	}{
		"proven":  {plan, "Proven: no way to cut these pieces from these sticks costs less than"},
		"nothing": {&stopped, "Not proven: a better plan may exist. The search ran out of time."},
	} {
		s, err := cutsheet.New(context.Background(), p, c.plan, o)
		if err != nil {
			t.Fatal(name, err)
		}
		for _, r := range renderings[:3] {
			text := strings.Join(strings.Fields(render(t, s, r)), " ")
			if !strings.Contains(text, c.want) {
				t.Errorf("%s, %s: does not say %q", name, r.ext, c.want)
			}
		}
	}

	// The material bound, below the cost, by hand. Two pieces of 5 ft take two sticks of 8 ft at 10.00;
	// by material 10 ft of stock at 1.25 a foot prove 12.50, rounded up to whole sticks 20.00, so three
	// pieces of 5 ft and a bound of two sticks leave a third to save.
	q := optimize.Problem{Sticks: []stock.Stick{{Length: ft(8, 0, 0), Price: 1000}}, Pieces: []stock.Piece{{Length: ft(5, 0, 0), Quantity: 3}}}
	half := optimize.Plan{
		Patterns: []optimize.Pattern{{Count: 3, Pieces: []int{0}, Offcut: ft(3, 0, 0)}},
		Buy:      []optimize.Purchase{{Count: 3, Cost: 3000}},
		Cost:     3000, Bound: 2000, Stop: optimize.StopWork,
		Proof: proofOf(t, optimize.ProofMaterial, certificate.Evidence{Unit: 1000, LeafBound: 2000,
			Leaves: []certificate.Leaf{{Lo: []int64{0}, Hi: []int64{3}, Values: []int64{5}, Scale: 8}}}),
	}
	s, err := cutsheet.New(context.Background(), q, &half, &cutsheet.Options{ProofDetails: true})
	if err != nil {
		t.Fatal(err)
	}
	const want = "No plan costs less than 20.00, so at most 10.00 could be saved (33.4%). The search reached its work limit."
	if text := strings.Join(strings.Fields(render(t, s, renderings[0])), " "); !strings.Contains(text, want) {
		t.Errorf("want %q in\n%s", want, text)
	}
}

// proofOf makes a proof by the form that it has in JSON.
func proofOf(t *testing.T, kind optimize.ProofKind, e certificate.Evidence) (p optimize.Proof) {
	t.Helper()
	data, err := e.Encode()
	if err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(map[string]any{"version": 1, "kind": kind, "data": data})
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &p); err != nil {
		t.Fatal(err)
	}
	return p
}

// Settings are those of the trade: inside and outside miters in a square corner
// at 45, crown with a spring angle of 38 on the flat at 31.62 and 33.86 ("52/38"
// crown; published in tables of miter saw manuals, from memory).
func TestSawSettings(t *testing.T) {
	p, o := crown()
	text := strings.Join(strings.Fields(render(t, sheet(t, p, o), renderings[0])), " ")
	if want := "inside miter left end, nested: miter 45 deg, or flat: miter 31.6 deg+, bevel 33.9 deg-"; !strings.Contains(text, want) {
		t.Errorf("want %q in\n%s", want, text)
	}
	o.Graduation = measure.Degree / 2
	if text := render(t, sheet(t, p, o), renderings[0]); !strings.Contains(text, "miter 31.5 deg+") {
		t.Errorf("half degrees:\n%s", text)
	}
	q, _ := plain()
	if text := render(t, sheet(t, q, nil), renderings[2]); strings.Contains(text, "Saw settings") {
		t.Error("square pieces need no settings")
	}
}

func TestInexactIsMarked(t *testing.T) {
	job := func(l measure.Length) string {
		p := optimize.Problem{Sticks: []stock.Stick{{Length: ft(8, 0, 0)}}, Pieces: []stock.Piece{{Label: "sill", Length: l}}}
		return render(t, sheet(t, p, nil), renderings[0])
	}
	for l, want := range map[measure.Length]string{
		ft(5, 3, 8):                     `5' 3-1/2"  sill`,
		ft(5, 3, 8) + 1:                 `5' 3-1/2"+  sill`,
		ft(5, 3, 8) - 1:                 `5' 3-1/2"-  sill`,
		ft(5, 3, 8) + measure.Inch/32:   `5' 3-1/2"+  sill`, // a tie goes to the even sixteenth
		ft(5, 3, 9) + measure.Inch*3/64: `5' 3-5/8"-  sill`,
	} {
		text := job(l)
		if !strings.Contains(text, want) {
			t.Errorf("%v: want %q in\n%s", l, want, text)
		}
		if marked := strings.Contains(text, "a hair over"); marked != strings.ContainsAny(want, "+") && marked != strings.Contains(want, `"-`) {
			t.Errorf("%v: the marks are explained: %v", l, marked)
		}
	}
}
