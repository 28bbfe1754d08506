package estimate_test

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"html"
	"io"
	"log"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/internal/svg/svgcheck"
	"example.com/longpoint/measure"
)

var update = flag.Bool("update", false, "rewrite the recorded pictures")

// storedPrices are quotes and a schedule of the schoolhouse, as they were once: no test works them out
// again.
type storedPrices struct {
	Locale   measure.Locale     `json:"locale"`
	Quotes   []*estimate.Quote  `json:"quotes"`
	Schedule *schedule.Schedule `json:"schedule"`
	Calendar schedule.Calendar  `json:"calendar"`
}

func readStored() (s storedPrices, err error) {
	b, err := os.ReadFile("testdata/priced.json")
	if err == nil {
		err = measure.UnmarshalStrict(b, &s)
	}
	return s, err
}

// drawPicture checks a picture as a reader would see it.
func drawPicture(t testing.TB, name string, f func(io.Writer) error) (string, *svgcheck.Picture) {
	t.Helper()
	var b bytes.Buffer
	if err := f(&b); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	pic, err := svgcheck.Check(b.Bytes())
	if err != nil {
		t.Fatalf("%s: %.2000v", name, err)
	}
	return b.String(), pic
}

var (
	pineInstalled   = estimate.Alternative{Label: "painted pine", Net: 212 * measure.Foot, StickCost: 48160, Consumables: 21350, Labor: 14 * hour}
	poplarInstalled = estimate.Alternative{Label: "clear poplar", Net: 212 * measure.Foot, StickCost: 76020, Consumables: 18900, Labor: 9 * hour}
)

func TestPictureGolden(t *testing.T) {
	s, err := readStored()
	if err != nil {
		t.Fatal(err)
	}
	for suffix, width := range map[string]int{"": 0, "-narrow": 360} {
		o := &estimate.PictureOptions{Locale: s.Locale, Width: width}
		for name, f := range map[string]func(io.Writer) error{
			"costs":    func(w io.Writer) error { return estimate.CostPicture(w, s.Quotes, o) },
			"schedule": func(w io.Writer) error { return estimate.SchedulePicture(w, s.Schedule, s.Calendar, o) },
			"crossover": func(w io.Writer) error {
				return estimate.BreakEvenPicture(w, pineOffer(), vinylOffer(), estimate.Terms{Wage: 4200}, estimate.LengthRange{From: 10 * measure.Foot, To: 200 * measure.Foot}, o)
			},
			"wages": func(w io.Writer) error {
				return estimate.BreakEvenWagePicture(w, pineInstalled, poplarInstalled, estimate.Terms{}, estimate.WageRange{From: 2000, To: 8000}, o)
			},
		} {
			got, _ := drawPicture(t, name+suffix, f)
			file := "testdata/" + name + suffix + ".svg"
			if *update {
				if err := os.WriteFile(file, []byte(got), 0o666); err != nil {
					t.Fatal(err)
				}
				continue
			}
			if want, err := os.ReadFile(file); err != nil || string(want) != got {
				t.Errorf("%s differs from the recorded one; run with -update and look at the difference (%v)", file, err)
			}
		}
	}
}

// amounts returns all amounts in dollars of a text, in cents.
func amounts(text string) (out []int64) {
	for _, f := range strings.FieldsFunc(text, func(r rune) bool { return r != '$' && r != '.' && r != ',' && (r < '0' || r > '9') }) {
		if f, ok := strings.CutPrefix(strings.TrimRight(f, ",."), "$"); ok {
			n, err := strconv.ParseInt(strings.NewReplacer(",", "", ".", "").Replace(f), 10, 64)
			if err == nil {
				out = append(out, n)
			}
		}
	}
	return out
}

// Under random terms the parts of each bar sum to the total, as written to the cent and as drawn.
func TestCostPicture(t *testing.T) {
	rnd := rand.New(rand.NewPCG(6, 6))
	locale := measure.Locale{Currency: measure.Currency{Symbol: "$"}}
	for range 300 {
		var quotes []*estimate.Quote
		ratio := func() measure.Ratio { return measure.Ratio(rnd.Int64N(30)) * measure.Percent }
		terms := estimate.Terms{Wage: rnd.Int64N(9000), Burden: ratio(), Tax: ratio(), TaxRule: estimate.TaxRules()[rnd.IntN(len(estimate.TaxRules()))], Overhead: ratio(),
			Contingency: ratio(), Markup: ratio(), Minimum: rnd.Int64N(2) * 100_000, Rounding: estimate.Rounding{UpTo: rnd.Int64N(2) * 500}}
		for n := range 1 + rnd.IntN(4) {
			a := estimate.Alternative{Label: "way " + strconv.Itoa(n), StickCost: rnd.Int64N(500_000), Consumables: rnd.Int64N(100_000), Labor: measure.Duration(rnd.Int64N(90)) * hour}
			for i := range rnd.IntN(5) {
				a.Costs = append(a.Costs, estimate.Cost{Label: "cost " + strconv.Itoa(i), Kind: []estimate.CostKind{estimate.CostOther, estimate.CostDisposal, estimate.CostDelivery, estimate.CostEquipment, estimate.CostSubcontract}[i], Amount: rnd.Int64N(90_000)})
			}
			q, err := estimate.NewQuote(a, terms)
			if err != nil {
				t.Fatal(err)
			}
			quotes = append(quotes, q)
		}
		_, pic := drawPicture(t, "costs", func(w io.Writer) error {
			return estimate.CostPicture(w, quotes, &estimate.PictureOptions{Locale: locale, Width: 320 + rnd.IntN(700)})
		})
		most := int64(1)
		for _, q := range quotes {
			most = max(most, q.Total)
		}
		// The description has one sentence each, with the total before the colon and the parts behind it.
		for _, q := range quotes {
			_, text, _ := strings.Cut(pic.Desc, q.Label+": ")
			if i := strings.Index(text, "way "); i >= 0 {
				text = text[:i]
			}
			head, parts, _ := strings.Cut(text, ": ")
			sum := int64(0)
			for _, n := range amounts(parts) {
				sum += n
			}
			if total := amounts(head); len(total) == 0 || total[0] != q.Total || sum != q.Total || strings.Contains(parts, "not itemized") {
				t.Fatalf("%q: the parts sum to %d, not %d", text, sum, q.Total)
			}
		}
		// The bars begin at the left and are as long as the totals.
		room := pic.Width - 16
		var ends []float64
		for _, s := range pic.Shapes {
			if s.Name != "rect" || math.Abs(s.Points[3][1]-s.Points[0][1]-24) > 0.01 {
				continue
			}
			if s.Points[0][0] == 8 {
				ends = append(ends, 0)
			}
			ends[len(ends)-1] = s.Points[1][0] - 8
		}
		at := 0
		for _, q := range quotes {
			if q.Total == 0 {
				continue
			}
			if want := room * float64(q.Total) / float64(most); math.Abs(ends[at]-want) > 0.02 {
				t.Fatalf("a bar is %v long, want %v", ends[at], want)
			}
			at++
		}
	}
}

// An event of a day is named once: not that a step is done, and then that it is done in all rooms.
func TestSchedulePictureMoments(t *testing.T) {
	start := time.Date(2027, 6, 7, 8, 0, 0, 0, time.UTC)
	at := func(name, job string) schedule.Slot {
		return schedule.Slot{Name: name, Job: job, Start: start, End: start}
	}
	s := &schedule.Schedule{Done: start.Add(time.Hour), Slots: []schedule.Slot{
		at("ready", ""), at("delivery", "oak base"), at("vacuum", ""), at("ready", ""), at("vacuum done in all rooms", ""), at("brad", "oak base"),
		{Name: "fill", Crew: 1, Start: start, End: start.Add(time.Hour)},
	}}
	got, _ := drawPicture(t, "moments", func(w io.Writer) error { return estimate.SchedulePicture(w, s, schedule.Calendar{Start: start}, nil) })
	if want := ">Mon 7 Jun: ready, delivery of oak base, vacuum done in all rooms, oak base: brad</text>"; !strings.Contains(got, want) {
		t.Errorf("no %q in\n%s", want, got)
	}
}

// A wage at which both cost the same is no span from itself to itself.
func TestBreakEvenWagePictureEven(t *testing.T) {
	got, _ := drawPicture(t, "even", func(w io.Writer) error {
		return estimate.BreakEvenWagePicture(w, pineInstalled, poplarInstalled, estimate.Terms{}, estimate.WageRange{From: 2000, To: 8000}, nil)
	})
	if !strings.Contains(got, ">50.82: both cost the same</text>") {
		t.Errorf("no wage with equal costs in\n%s", got)
	}
}

// Schedules of random work: every activity has its bar, at its time.
func TestSchedulePicture(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 1))
	for range 150 {
		var work []schedule.Activity
		for i := range 1 + rnd.IntN(30) {
			a := schedule.Activity{ID: "a" + strconv.Itoa(i), Name: "work " + string(rune('a'+rnd.IntN(9))), Room: "room " + strconv.Itoa(rnd.IntN(3)), Labor: measure.Duration(rnd.IntN(300)) * minute}
			if rnd.IntN(3) == 0 {
				a.Dry = measure.Duration(rnd.IntN(40)) * hour
			}
			if i > 0 && rnd.IntN(2) == 0 {
				a.After = []schedule.Link{{ID: "a" + strconv.Itoa(rnd.IntN(i)), Lag: measure.Duration(rnd.IntN(30)) * hour}}
			}
			work = append(work, a)
		}
		cal := schedule.Calendar{Start: time.Date(2027, 6, 7, rnd.IntN(24), 0, 0, 0, time.UTC), Crews: []schedule.Crew{{Name: "carpenters"}, {}}[:1+rnd.IntN(2)]}
		s, err := schedule.Build(context.Background(), work, cal, &schedule.Options{Work: 100_000})
		if err != nil {
			t.Fatal(err)
		}
		_, pic := drawPicture(t, "schedule", func(w io.Writer) error {
			return estimate.SchedulePicture(w, s, cal, &estimate.PictureOptions{Width: 320 + rnd.IntN(800)})
		})
		type bar struct{ from, to float64 }
		bars := make(map[string][]bar)
		for _, sh := range pic.Shapes {
			if sh.Group != "" {
				bars[sh.Group] = append(bars[sh.Group], bar{sh.Points[0][0], sh.Points[1][0]})
			}
		}
		n := 0
		for _, all := range bars {
			n += len(all)
		}
		want := 0
		var slots []schedule.Slot
		for _, slot := range s.Slots {
			if slot.Crew > 0 || slot.Dry.After(slot.End) {
				want++
				slots = append(slots, slot)
			}
		}
		if n != want {
			t.Fatalf("%d bars, want %d", n, want)
		}
		// A later start is drawn no farther to the left.
		for i, a := range slots {
			for _, b := range slots[:i] {
				from := func(s schedule.Slot) []bar {
					crew := ", Without a crew"
					if s.Crew > 0 {
						crew = ", Crew " + strconv.FormatInt(s.Crew, 10)
						if s.CrewName != strconv.FormatInt(s.Crew, 10) {
							crew += ": " + s.CrewName
						}
					}
					return bars[s.Name+", "+s.Room+": "+s.HalfDays()+crew]
				}
				x, y := from(a), from(b)
				if len(x) == 0 || len(y) == 0 {
					t.Fatalf("no bar for %+v or %+v in %v", a, b, bars)
				}
				if len(x) == 1 && len(y) == 1 && a.Start.Before(b.Start) && x[0].from > y[0].from+0.02 {
					t.Fatalf("%v is drawn at %v, %v at %v", a.Start, x[0].from, b.Start, y[0].from)
				}
			}
		}
	}
}

// Crossovers of random offers are marked where BreakEven finds them.
func TestBreakEvenPicture(t *testing.T) {
	rnd := rand.New(rand.NewPCG(2, 2))
	crossed := 0
	for range 60 {
		offer := func(label string) estimate.Offer {
			return estimate.Offer{Label: label, Pace: measure.Length(3+rnd.Int64N(20)) * measure.Foot, Setup: measure.Duration(rnd.Int64N(6)) * hour,
				Trim: finish.Product{Label: label, Material: "trim", Packages: []finish.Package{{Size: finish.AmountOf(measure.Length(1+rnd.Int64N(20)) * measure.Foot), Price: 1 + rnd.Int64N(5000)}}}}
		}
		a, b := offer("pine"), offer("slate")
		terms := estimate.Terms{Wage: rnd.Int64N(9000)}
		at := estimate.LengthRange{From: measure.Foot, To: measure.Foot * measure.Length(1+rnd.Int64N(300))}
		spans, err := estimate.BreakEven(a, b, terms, at)
		if err != nil {
			t.Fatal(err)
		}
		_, pic := drawPicture(t, "crossover", func(w io.Writer) error {
			return estimate.BreakEvenPicture(w, a, b, terms, at, &estimate.PictureOptions{Width: 320 + rnd.IntN(600)})
		})
		marks := 0
		for _, s := range pic.Shapes {
			if s.Name == "circle" {
				marks++
			}
		}
		if (len(spans) > 1) != (marks > 0) {
			t.Fatalf("%d marks, %d spans", marks, len(spans))
		}
		if len(spans) > 1 {
			crossed++
			last := (measure.Locale{}).FormatLength(spans[len(spans)-1].From)
			if !strings.Contains(pic.Words(), last) {
				t.Fatalf("%s is not in %s", last, pic.Words())
			}
		}
		x := estimate.Alternative{Label: "x", Net: measure.Length(1 + rnd.Int64N(1<<40)), StickCost: rnd.Int64N(100_000), Labor: measure.Duration(rnd.Int64N(50)) * hour}
		y := estimate.Alternative{Label: "y", Net: x.Net + measure.Length(rnd.Int64N(2)), StickCost: rnd.Int64N(100_000), Labor: measure.Duration(rnd.Int64N(50)) * hour}
		drawPicture(t, "wages", func(w io.Writer) error {
			return estimate.BreakEvenWagePicture(w, x, y, estimate.Terms{}, estimate.WageRange{To: rnd.Int64N(10000)}, &estimate.PictureOptions{Width: 320 + rnd.IntN(600)})
		})
	}
	if crossed < 10 {
		t.Errorf("only %d cross", crossed)
	}
}

// Strange input is drawn or refused.
func TestPictureHostile(t *testing.T) {
	long := strings.Repeat("窓 <script>\u202e&\x00 ", 60)
	huge := &estimate.Quote{Label: long, Total: math.MaxInt64, Lines: []estimate.QuoteLine{{Part: estimate.PartMarkup, Amount: math.MaxInt64}, {Part: 99, Amount: math.MinInt64}},
		Costs: []estimate.CostShare{{Cost: estimate.Cost{Kind: 77}, Direct: math.MaxInt64}, {Direct: math.MinInt64}}}
	many := make([]*estimate.Quote, 1000)
	for i := range many {
		many[i] = &estimate.Quote{Total: int64(i)}
	}
	start := time.Date(2027, 6, 7, 8, 0, 0, 0, time.UTC)
	work := &schedule.Schedule{Done: start.AddDate(9, 0, 0)}
	for i := range 600 {
		at := start.AddDate(0, 0, i)
		work.Slots = append(work.Slots, schedule.Slot{Name: long + strconv.Itoa(i), Job: long, Room: long, Crew: int64(i%7) - 1, CrewName: long, Start: at, End: at.Add(time.Hour), Dry: at.AddDate(0, 1, 0)})
	}
	for _, width := range []int{0, 320, 360, 2000} {
		o := &estimate.PictureOptions{Width: width}
		drawPicture(t, "huge", func(w io.Writer) error { return estimate.CostPicture(w, []*estimate.Quote{huge, {}}, o) })
		drawPicture(t, "many", func(w io.Writer) error { return estimate.CostPicture(w, many, o) })
		drawPicture(t, "none", func(w io.Writer) error { return estimate.CostPicture(w, nil, o) })
		drawPicture(t, "long", func(w io.Writer) error { return estimate.SchedulePicture(w, work, schedule.Calendar{Start: start}, o) })
		drawPicture(t, "no calendar", func(w io.Writer) error { return estimate.SchedulePicture(w, work, schedule.Calendar{}, o) })
		drawPicture(t, "empty", func(w io.Writer) error {
			return estimate.SchedulePicture(w, &schedule.Schedule{}, schedule.Calendar{}, o)
		})
		free := estimate.Offer{Label: long, Trim: finish.Product{Label: "x", Material: "trim", Packages: []finish.Package{{Size: finish.AmountOf(measure.Foot)}}}}
		other := free
		other.Label = "y"
		drawPicture(t, "free", func(w io.Writer) error {
			return estimate.BreakEvenPicture(w, free, other, estimate.Terms{}, estimate.LengthRange{From: 1, To: 1}, o)
		})
	}
	late := &schedule.Schedule{Slots: []schedule.Slot{{Start: start, End: start.AddDate(50, 0, 0)}, {Start: start, End: start.Add(-1)}, {Start: start, End: start, Dry: start.AddDate(50, 0, 0)}}}
	for want, err := range map[string]error{
		"options.width":                  estimate.CostPicture(io.Discard, nil, &estimate.PictureOptions{Width: -1}),
		"quotes[0]":                      estimate.CostPicture(io.Discard, []*estimate.Quote{nil}, nil),
		"schedule":                       estimate.SchedulePicture(io.Discard, nil, schedule.Calendar{}, nil),
		"schedule.slots[0].end":          estimate.SchedulePicture(io.Discard, late, schedule.Calendar{}, nil),
		"offers[0].label":                estimate.BreakEvenPicture(io.Discard, estimate.Offer{}, vinylOffer(), estimate.Terms{}, estimate.LengthRange{From: 1, To: 2}, nil),
		"wages.to":                       estimate.BreakEvenWagePicture(io.Discard, pineInstalled, poplarInstalled, estimate.Terms{}, estimate.WageRange{From: 5}, nil),
		"options.locale.currency.symbol": estimate.CostPicture(io.Discard, nil, &estimate.PictureOptions{Locale: measure.Locale{Currency: measure.Currency{Symbol: "\xff"}}}),
	} {
		var field *measure.FieldError
		if !errors.As(err, &field) || field.Field != want {
			t.Errorf("%v, want one of %s", err, want)
		}
	}
}

// said is the text description of a picture, for people who do not see it.
func said(picture string) string {
	_, text, _ := strings.Cut(picture, "<desc>")
	text, _, _ = strings.Cut(text, "</desc>")
	return strings.ReplaceAll(html.UnescapeString(text), ". ", ".\n")
}

// Two materials as bars, and the length and the wage at which the other becomes cheaper.
func ExampleCostPicture() {
	terms := estimate.Terms{Wage: 4200, Burden: 40 * measure.Percent, Markup: 20 * measure.Percent}
	options := &estimate.PictureOptions{Locale: measure.Locale{Currency: measure.Currency{Symbol: "$"}}}
	quotes, err := estimate.Compare([]estimate.Alternative{pineInstalled, poplarInstalled}, terms)
	if err != nil {
		log.Fatal(err)
	}
	var costs, lengths, wages strings.Builder
	if err := estimate.CostPicture(&costs, []*estimate.Quote{&quotes.Quotes[0], &quotes.Quotes[1]}, options); err != nil {
		log.Fatal(err)
	}
	span := estimate.LengthRange{From: 10 * measure.Foot, To: 200 * measure.Foot}
	if err := estimate.BreakEvenPicture(&lengths, pineOffer(), vinylOffer(), terms, span, options); err != nil {
		log.Fatal(err)
	}
	if err := estimate.BreakEvenWagePicture(&wages, pineInstalled, poplarInstalled, terms, estimate.WageRange{From: 1500, To: 8000}, options); err != nil {
		log.Fatal(err)
	}
	for _, picture := range []string{costs.String(), lengths.String(), wages.String()} {
		fmt.Println(said(picture))
	}
	// Output:
	// painted pine: $1,821.96, $47.88 more than the lowest: a trim $481.60, b consumables $213.50, c labor with burden $823.20, d markup and rounding $303.66.
	// clear poplar: $1,774.08, the lowest: a trim $760.20, b consumables $189.00, c labor with burden $529.20, d markup and rounding $295.68.
	//
	// painted pine and vinyl, by length of trim.
	// 10' to 36': painted pine costs less.
	// 36' 1" to 40': vinyl costs less.
	// 40' 1" to 58' 2": painted pine costs less.
	// 58' 3" to 80': vinyl costs less.
	// 80' 1" to 81' 2": painted pine costs less.
	// 81' 3" to 200': vinyl costs less.
	//
	// painted pine and clear poplar, by wage an hour.
	// $15.00 to $36.29: painted pine costs less.
	// $36.30: both cost the same.
	// $36.31 to $80.00: clear poplar costs less.
}

// A stored schedule as bars.
func ExampleSchedulePicture() {
	s, err := readStored()
	if err != nil {
		log.Fatal(err)
	}
	var picture strings.Builder
	if err := estimate.SchedulePicture(&picture, s.Schedule, s.Calendar, &estimate.PictureOptions{Width: 360}); err != nil {
		log.Fatal(err)
	}
	for _, line := range strings.Split(said(picture.String()), "\n")[:4] {
		fmt.Println(line)
	}
	// Output:
	// Done Fri 2 Jul 2027, 14:34: no schedule is done before Wed 30 Jun 2027, 09:41.
	// contain, classroom: Mon 7 Jun am, Crew 1: carpenters.
	// pry off, classroom: Mon 7 Jun am, Crew 1: carpenters.
	// pry off, entry: Mon 7 Jun am, Crew 1: carpenters.
}
