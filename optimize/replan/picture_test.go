package replan_test

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
	"strings"
	"testing"

	"example.com/longpoint/internal/svg/svgcheck"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/brute"
	"example.com/longpoint/optimize/replan"
)

var update = flag.Bool("update", false, "rewrite the recorded pictures")

// storedJob is a revision as it was stored, with its job.
type storedJob struct {
	Problem  optimize.Problem `json:"problem"`
	Plan     *optimize.Plan   `json:"plan"`
	Progress replan.Progress  `json:"progress"`
	Revision *replan.Revision `json:"revision"`
}

func stored(t testing.TB) (j storedJob) {
	t.Helper()
	b, err := os.ReadFile("testdata/revision.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := measure.UnmarshalStrict(b, &j); err != nil {
		t.Fatal(err)
	}
	return j
}

// drawPicture checks a picture as a reader would see it.
func drawPicture(t testing.TB, rev *replan.Revision, p optimize.Problem, plan *optimize.Plan, progress replan.Progress, o *replan.PictureOptions) (string, *svgcheck.Picture) {
	t.Helper()
	var b bytes.Buffer
	if err := rev.Picture(&b, p, plan, progress, o); err != nil {
		t.Fatal(err)
	}
	pic, err := svgcheck.Check(b.Bytes())
	if err != nil {
		t.Fatalf("%.2000v\n%s", err, written(&p))
	}
	return b.String(), pic
}

func TestPictureGolden(t *testing.T) {
	j := stored(t)
	for name, width := range map[string]int{"picture": 0, "picture-narrow": 360} {
		got, _ := drawPicture(t, j.Revision, j.Problem, j.Plan, j.Progress, &replan.PictureOptions{Width: width, Locale: measure.Locale{Currency: measure.Currency{Symbol: "$"}}})
		file := "testdata/" + name + ".svg"
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

// A started stick has its remaining usable length, whatever the delivered stick was.
func TestPictureStarted(t *testing.T) {
	j := stored(t)
	j.Progress.Started[0].Left = 62 * measure.Inch
	_, pic := drawPicture(t, j.Revision, j.Problem, j.Plan, j.Progress, nil)
	var longest, got float64
	var below float64
	for _, x := range pic.Texts {
		if strings.HasPrefix(x.S, "started: ") {
			below = x.Y
		}
	}
	for _, s := range pic.Shapes {
		if s.Name != "rect" || s.Attr["stroke-dasharray"] == "" || len(s.Points) < 3 || s.Points[0][1] < 60 {
			continue
		}
		wide := math.Abs(s.Points[2][0] - s.Points[0][0])
		longest = max(longest, wide)
		if got == 0 && s.Points[0][1] > below {
			got = wide
		}
	}
	if want := longest * (31.5 + 0.125 + 62) / 192; math.Abs(got-want) > 0.1 {
		t.Errorf("cut pieces and the rest are %.2f wide, want %.2f of %.2f for 16 ft", got, want, longest)
	}
}

// Random work on random plans: the picture is consistent, shows every remaining piece and every
// purchase, and draws sticks and pieces to scale.
func TestPictureAnywhere(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	n := 0
	for range 120 {
		p := brute.Job(r)
		for i := range p.Pieces {
			p.Pieces[i].Label = "part " + string(rune('a'+i))
		}
		plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 100_000})
		if err != nil {
			continue
		}
		progress := onPlan(r, &p, plan)
		trouble(r, &p, plan, &progress)
		rev, err := replan.Solve(context.Background(), p, plan, progress, &optimize.Options{Work: 100_000})
		if err != nil {
			continue
		}
		n++
		_, pic := drawPicture(t, rev, p, plan, progress, &replan.PictureOptions{Width: 320 + r.IntN(700)})
		words := strings.Join(strings.Fields(pic.Words()), "")
		for i := range rev.Problem.Pieces {
			if l := rev.Problem.Pieces[i].Label; rev.Plan != nil && !strings.Contains(words, strings.ReplaceAll(l, " ", "")) {
				t.Fatalf("%q is not there: %s", l, words)
			}
		}
		if len(rev.Buy) > 0 && !strings.Contains(words, "Buy") && !strings.Contains(words, "rack") {
			t.Fatalf("the purchases are missing: %s", words)
		}
		checkBars(t, &p, rev, pic)
	}
	if n < 50 {
		t.Errorf("only %d revisions", n)
	}
}

// checkBars checks that sticks, and the pieces on them, have one scale.
func checkBars(t *testing.T, p *optimize.Problem, rev *replan.Revision, pic *svgcheck.Picture) {
	t.Helper()
	longest := measure.Length(0)
	for i := range p.Sticks {
		longest = max(longest, p.Sticks[i].Length)
	}
	scale := (pic.Width - 18) / longest.Inches()
	var sticks []float64
	for _, s := range pic.Shapes {
		if s.Name == "rect" && s.Attr["stroke-dasharray"] != "" && math.Abs(s.Points[3][1]-s.Points[0][1]-16) < 0.01 {
			sticks = append(sticks, s.Points[1][0]-s.Points[0][0])
		}
	}
	if rev.Plan == nil {
		return
	}
	last := sticks[len(sticks)-len(rev.Plan.Patterns):]
	for k, pat := range rev.Plan.Patterns {
		if want := scale * rev.Problem.Sticks[pat.Stick].Length.Inches(); math.Abs(last[k]-want) > 0.02 {
			t.Fatalf("stick of %v drawn %v long, want %v", rev.Problem.Sticks[pat.Stick].Length.About(), last[k], want)
		}
	}
}

// Arguments that do not belong together are rejected, and huge and strange input is drawn.
func TestPictureHostile(t *testing.T) {
	j := stored(t)
	for name, f := range map[string]func(*storedJob){
		"plan":                            func(j *storedJob) { j.Plan = nil },
		"plan.patterns[0].stick":          func(j *storedJob) { j.Plan.Patterns[0].Stick = 99 },
		"plan.patterns[0].pieces[0]":      func(j *storedJob) { j.Plan.Patterns[0].Pieces[0] = -1 },
		"revision.plan.patterns[0].stick": func(j *storedJob) { j.Revision.Plan.Patterns[0].Stick = -1 },
		"revision.sticks[0].stick":        func(j *storedJob) { j.Revision.Sticks[0].Stick = 99 },
		"revision.pieces[0]":              func(j *storedJob) { j.Revision.Pieces[0] = 1 << 30 },
		"revision.changes[0].pattern":     func(j *storedJob) { j.Revision.Changes[0].Pattern = 99 },
		"revision.buy[0].stick":           func(j *storedJob) { j.Revision.Buy[0].Stick = -1 },
		"progress.started[0].stick":       func(j *storedJob) { j.Progress.Started[0].Stick = 99 },
		"progress.started[0].pieces[0]":   func(j *storedJob) { j.Progress.Started[0].Pieces[0] = 99 },
		"progress.cut":                    func(j *storedJob) { j.Progress.Cut = make([]int, 99) },
	} {
		bad := stored(t)
		f(&bad)
		err := bad.Revision.Picture(io.Discard, bad.Problem, bad.Plan, bad.Progress, nil)
		var field *measure.FieldError
		if !errors.As(err, &field) || field.Field != name {
			t.Errorf("%v, want one of %s", err, name)
		}
	}
	for _, width := range []int{-1, 1, math.MaxInt} {
		err := j.Revision.Picture(io.Discard, j.Problem, j.Plan, j.Progress, &replan.PictureOptions{Width: width})
		if field := new(measure.FieldError); !errors.As(err, &field) || field.Field != "options.width" {
			t.Errorf("width %d: %v", width, err)
		}
	}
	for i := range j.Problem.Pieces {
		j.Problem.Pieces[i].Label = strings.Repeat("窓 <b>\u202e&", 500)
		j.Problem.Pieces[i].Length = math.MaxInt64
	}
	for i := range j.Problem.Sticks {
		j.Problem.Sticks[i].Label = strings.Repeat("w", 9000)
	}
	j.Plan.Patterns[0].Count = math.MaxInt
	for range 60_000 {
		j.Plan.Patterns[1].Pieces = append(j.Plan.Patterns[1].Pieces, len(j.Plan.Patterns[1].Pieces)%3)
	}
	for range 1200 {
		j.Plan.Patterns = append(j.Plan.Patterns, j.Plan.Patterns[0])
		j.Revision.Recut = append(j.Revision.Recut, replan.Spoiled{})
	}
	for _, width := range []int{0, 320, 360, 2000} {
		drawPicture(t, j.Revision, j.Problem, j.Plan, j.Progress, &replan.PictureOptions{Width: width})
	}
	drawPicture(t, &replan.Revision{}, optimize.Problem{}, &optimize.Plan{}, replan.Progress{}, nil)
}

// A stored revision as a picture, with its text description.
func ExampleRevision_Picture() {
	b, err := os.ReadFile("testdata/revision.json")
	if err != nil {
		log.Fatal(err)
	}
	var j storedJob
	if err := measure.UnmarshalStrict(b, &j); err != nil {
		log.Fatal(err)
	}
	var picture bytes.Buffer
	o := replan.PictureOptions{Locale: measure.Locale{Currency: measure.Currency{Symbol: "$"}}, Width: 360}
	if err := j.Revision.Picture(&picture, j.Problem, j.Plan, j.Progress, &o); err != nil {
		log.Fatal(err)
	}
	_, text, _ := strings.Cut(picture.String(), "<desc>")
	text, _, _ = strings.Cut(text, "</desc>")
	fmt.Println(strings.ReplaceAll(html.UnescapeString(text), ". ", ".\n"))
	// Output:
	// Cut again: 1 of cloakroom, 7' 3".
	// Buy 3 @ 8', poplar base: $35.70.
	// Buy 3 @ 12', poplar base: $53.70.
	// Still to pay: $89.40, $29.80 more than planned; no plan for what is left costs less.
}
