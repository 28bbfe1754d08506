package main

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"html"
	"io"
	"regexp"
	"slices"
	"strings"

	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
	"example.com/longpoint/stock/stair"
	"example.com/longpoint/stock/takeoff"
	"example.com/longpoint/stock/takeoff/drawing"
)

// phone is the width of pictures for a telephone.
const phone = 360

// album collects the pictures of a section, each for paper and for a telephone.
type album struct {
	b   strings.Builder
	err error
}

// add draws a picture in both sizes.
func (a *album) add(draw func(w io.Writer, width int) error) {
	if a.err != nil {
		return
	}
	for _, size := range [...]struct {
		class string
		width int
	}{{"wide", 0}, {"narrow", phone}} {
		var b bytes.Buffer
		if a.err = draw(&b, size.width); a.err != nil {
			return
		}
		fmt.Fprintf(&a.b, "<div class=%q>\n%s</div>\n", size.class, b.String())
	}
}

// text adds a line of text, fold begins a folded section, and end ends it.
func (a *album) text(s string) { fmt.Fprintf(&a.b, "<p>%s</p>\n", html.EscapeString(s)) }
func (a *album) fold(s string) {
	fmt.Fprintf(&a.b, "<details>\n<summary>%s</summary>\n", html.EscapeString(s))
}
func (a *album) end() { a.b.WriteString("</details>\n") }

var heading = regexp.MustCompile(`(?m)^\[\d+\] (.*?) =+\n`)

// htmlReport returns the report as one self-contained page without scripts, with pictures
// before the text of their sections.
func htmlReport(v *view) (string, error) {
	text, small := report(v, pageWidth), report(v, phoneWidth)
	at, smallAt := heading.FindAllStringSubmatchIndex(text, -1), heading.FindAllStringSubmatchIndex(small, -1)
	var b strings.Builder
	name := html.EscapeString(v.e.Job.Name)
	fmt.Fprintf(&b, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"+
		"<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n"+
		"<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>%s</title>\n<style>\n%s</style>\n</head>\n<body>\n<main>\n<h1>%s</h1>\n", name, pageStyle, name)
	var titles []string
	for _, m := range at {
		titles = append(titles, text[m[2]:m[3]])
	}
	b.WriteString(overview(v, titles))
	for i := range at {
		body := func(text string, at [][]int) string {
			end := len(text)
			if i+1 < len(at) {
				end = at[i+1][0]
			}
			return strings.Trim(text[at[i][1]:end], "\n")
		}
		var a album
		if draw := pictures[titles[i]]; draw != nil {
			draw(&a, v)
		}
		if a.err != nil {
			return "", a.err
		}
		fmt.Fprintf(&b, "<section id=\"section-%d\">\n<h2>%s</h2>\n", i+1, html.EscapeString(titles[i]))
		words := htmlWords(body(text, at), body(small, smallAt))
		switch titles[i] {
		case doubts, order: // actions are read first
			b.WriteString(words + a.b.String() + "</section>\n")
		default:
			b.WriteString(a.b.String() + words + "</section>\n")
		}
	}
	b.WriteString("</main>\n</body>\n</html>\n")
	return b.String(), nil
}

// overview answers an owner's first questions, with links to the rest.
func overview(v *view, titles []string) string {
	p := &page{country: v.e.Job.Locale}
	facts := []string{"The price is " + p.money(v.e.Quote.Total) + " for " + strings.Replace(v.label, asPlanned, "the job as planned", 1) + ": " + v.why + "."}
	if s := v.e.Schedule; s != nil {
		facts = append(facts, "Done on "+clock(s.Done)+".")
	}
	for _, o := range v.e.Orders {
		if o.OrderBy != (schedule.Date{}) {
			facts = append(facts, "Order from "+cmp.Or(o.Supplier, "the supplier")+" by "+day(o.OrderBy)+" at the latest.")
		}
	}
	var rooms []string
	for _, f := range v.e.Findings {
		if f.Severity == takeoff.SeverityDoubt && !slices.Contains(rooms, f.Room) {
			rooms = append(rooms, f.Room)
		}
	}
	if len(rooms) > 0 {
		facts = append(facts, "Measure again before you buy anything: "+strings.Join(rooms, ", ")+".")
	}
	var b strings.Builder
	b.WriteString("<ul>\n")
	for _, f := range facts {
		b.WriteString("<li>" + html.EscapeString(f) + "</li>\n")
	}
	b.WriteString("</ul>\n<nav aria-label=\"Sections\">\n<ol>\n")
	for i, t := range titles {
		fmt.Fprintf(&b, "<li><a href=\"#section-%d\">%s</a></li>\n", i+1, html.EscapeString(t))
	}
	b.WriteString("</ol>\n<p>Folded sections are not printed: open them first.</p>\n</nav>\n")
	return b.String()
}

// htmlWords converts text of the report to markup: paragraphs and lists, which fit any screen,
// and tables with their columns unchanged, for a telephone from the same text in fewer columns.
func htmlWords(text, phone string) string {
	var b strings.Builder
	blocks, small := strings.Split(text, "\n\n"), strings.Split(phone, "\n\n")
	if len(small) != len(blocks) {
		small = blocks
	}
	for i, block := range blocks {
		lines := strings.Split(block, "\n")
		switch {
		case isList(lines):
			b.WriteString("<ul>\n")
			for _, item := range strings.Split("\n"+block, "\n- ")[1:] {
				b.WriteString("<li>" + html.EscapeString(strings.ReplaceAll(item, "\n  ", " ")) + "</li>\n")
			}
			b.WriteString("</ul>\n")
		case isProse(lines):
			b.WriteString("<p>" + html.EscapeString(strings.Join(lines, " ")) + "</p>\n")
		case small[i] != block:
			fmt.Fprintf(&b, "<pre class=\"wide\" tabindex=\"0\">%s</pre>\n<pre class=\"narrow\" tabindex=\"0\">%s</pre>\n", html.EscapeString(block), html.EscapeString(small[i]))
		default:
			fmt.Fprintf(&b, "<pre tabindex=\"0\">%s</pre>\n", html.EscapeString(block))
		}
	}
	return b.String()
}

// isList reports whether lines are a list that para wrote with dashes.
func isList(lines []string) bool {
	for i, l := range lines {
		inside := strings.HasPrefix(l, "  ") && !strings.HasPrefix(l, "   ") && i > 0
		if !strings.HasPrefix(l, "- ") && !inside {
			return false
		}
	}
	return true
}

// isProse reports whether lines are one paragraph: each ends where the next word would not have
// fit.
func isProse(lines []string) bool {
	for i, l := range lines {
		if l == "" || strings.HasPrefix(l, " ") || strings.Contains(l, "  ") {
			return false
		}
		if i+1 < len(lines) {
			word, _, _ := strings.Cut(lines[i+1], " ")
			if len(l)+1+len(word) <= pageWidth {
				return false
			}
		}
	}
	return true
}

const pageStyle = `body { margin: 0; font: 16px/1.4 system-ui, sans-serif; color: #1c2328; background: #ffffff }
main { max-width: 688px; margin: 0 auto; padding: 8px }
h1 { font-size: 24px }
h2 { font-size: 19px; border-top: 2px solid #1c2328; padding-top: 8px }
pre { font: 12.5px/1.35 ui-monospace, Menlo, Consolas, 'DejaVu Sans Mono', monospace; overflow-x: auto; margin: 8px 0 }
svg { display: block; max-width: 100%; height: auto; margin: 8px 0 }
summary { padding: 6px 0; cursor: pointer; text-decoration: underline }
pre.narrow { font-size: 11.5px; white-space: pre-wrap }
.narrow { display: none }
@media screen and (max-width: 687px) { .wide { display: none } .narrow { display: block } }
@media screen and (prefers-color-scheme: dark) { body { color: #eef1f2; background: #14181b } h2 { border-color: #eef1f2 } }
a { color: inherit }
nav li a { display: inline-block; padding: 2px 0; min-height: 24px }
@media print { pre { white-space: pre-wrap } svg, li { break-inside: avoid } h2, p:has(+ div) { break-after: avoid } nav, details:not([open]) { display: none } }
`

const (
	doubts = "Measurements to check"
	order  = "Orders"
)

// pictures draws the pictures of a section, by its title.
var pictures = map[string]func(*album, *view){
	doubts:                     drawPlans,
	"Alternatives":             drawCosts,
	order:                      drawPurchases,
	"Takeoff":                  drawWalls,
	"Cut list, stick by stick": drawCuts,
	"Schedule":                 drawSchedule,
}

// drawPlans draws each room from above.
func drawPlans(a *album, v *view) {
	for _, r := range v.e.Job.Rooms {
		a.add(func(w io.Writer, width int) error {
			return drawing.Plan(w, r, v.e.Takeoff, &drawing.Options{Locale: v.e.Job.Locale, Width: width, Findings: v.e.Findings})
		})
	}
}

// sticksOf maps the label of a piece to its stick, as the cut list numbers the sticks.
func sticksOf(v *view) map[string]string {
	from := make(map[string]string)
	for _, c := range v.e.Plans {
		n := 0
		for _, pat := range c.Plan.Patterns {
			for _, i := range pat.Pieces {
				if i < len(c.Problem.Pieces) {
					from[c.Problem.Pieces[i].Label] = fmt.Sprintf("stick %d", n+1)
				}
			}
			n += pat.Count
		}
	}
	return from
}

// drawWalls draws the walls of each room with their pieces and sticks, spliced runs over their
// studs, and built-up trim.
func drawWalls(a *album, v *view) {
	from, trim := sticksOf(v), v.e.Scheme()
	for _, r := range v.e.Job.Rooms {
		a.add(func(w io.Writer, width int) error {
			return drawing.Elevation(w, r, trim, v.e.Takeoff, &drawing.Options{Locale: v.e.Job.Locale, Width: width, Sticks: from, Findings: v.e.Findings})
		})
	}
	a.fold("Spliced runs over their studs")
	for i := range v.e.Takeoff.Runs {
		if run := &v.e.Takeoff.Runs[i]; len(run.Splices) > 0 {
			a.add(func(w io.Writer, width int) error {
				return cutsheet.SplicedRunPicture(w, *run, from, &cutsheet.PictureOptions{Locale: v.e.Job.Locale, Width: width})
			})
		}
	}
	a.end()
	var built []string
	for i := range v.e.Takeoff.Runs {
		if a := v.e.Takeoff.Runs[i].Assembly; a != "" && !slices.Contains(built, a) {
			built = append(built, a)
		}
	}
	for _, assembly := range built {
		a.add(func(w io.Writer, width int) error {
			return drawing.BuiltUp(w, trim, v.e.Takeoff, assembly, &drawing.Options{Locale: v.e.Job.Locale, Width: width})
		})
	}
	drawSkirts(a, v)
}

// drawSkirts draws the board beside each flight of steps, on the wall and on the bench.
func drawSkirts(a *album, v *view) {
	trim := v.e.Scheme()
	if trim.Skirt == nil {
		return
	}
	for _, r := range v.e.Job.Rooms {
		for _, wall := range r.Walls {
			if wall.Stair == nil {
				continue
			}
			k := stair.Skirt{Width: trim.Skirt.Width, Head: wall.Stair.Head, Joint: wall.Stair.Joint}
			if trim.Base != nil {
				k.Foot = trim.Base.Width
			}
			a.add(func(w io.Writer, width int) error {
				return drawing.Skirt(w, wall.Stair.Flight, k, &drawing.Options{
					Locale: v.e.Job.Locale, Width: width, Title: r.Name + ", " + wall.Name + ": skirt"})
			})
		}
	}
}

// drawCosts draws the cost of each way to do the job, and the wage at which another becomes
// cheaper.
func drawCosts(a *album, v *view) {
	job := &v.planned.Job
	quotes := []*estimate.Quote{v.planned.Quote}
	for _, o := range v.planned.Variants {
		q := *o.Estimate.Quote
		q.Label = o.Label
		quotes = append(quotes, &q)
	}
	options := func(width int) *estimate.PictureOptions {
		return &estimate.PictureOptions{Locale: job.Locale, Width: width}
	}
	a.add(func(w io.Writer, width int) error { return estimate.CostPicture(w, quotes, options(width)) })
	planned := v.planned.Alternative(asPlanned)
	wages := wagesOf(job.Terms)
	for _, o := range v.planned.Variants {
		other := o.Estimate.Alternative(o.Label)
		if wages.To == 0 {
			continue
		}
		a.fold("From which wage on: " + asPlanned + " or " + o.Label)
		a.add(func(w io.Writer, width int) error {
			return estimate.BreakEvenWagePicture(w, planned, other, job.Terms, wages, options(width))
		})
		a.end()
	}
}

// sheet returns the cut sheet of a profile's plan.
func sheet(v *view, c *estimate.ProfilePlan) (*cutsheet.Sheet, *cutsheet.Options, error) {
	o := &cutsheet.Options{Title: c.Profile, Job: v.e.Job.Name, Locale: v.e.Job.Locale}
	for i := range v.e.Job.Materials {
		if p := &v.e.Job.Materials[i].Profile; p.Name == c.Profile {
			o.Profile = p
		}
	}
	s, err := cutsheet.New(context.Background(), c.Problem, c.Plan, o)
	return s, o, err
}

// drawPurchases draws the use of the sticks of each profile, and the rack before and after.
func drawPurchases(a *album, v *view) {
	rack := v.e.Job.Rack
	for i := range v.e.Plans {
		c := &v.e.Plans[i]
		s, _, err := sheet(v, c)
		if err != nil {
			a.err = err
			return
		}
		if c.Parts > 1 {
			a.text(c.Profile + " is ripped from boards, which are bought whole: see below.")
			continue
		}
		a.text(c.Profile)
		a.add(func(w io.Writer, width int) error {
			return s.PurchasePicture(w, &cutsheet.PictureOptions{Width: width})
		})
		change, err := c.Plan.RackChange(c.Problem, c.Profile)
		if err == nil {
			rack, err = rack.Apply(change)
		}
		if err != nil {
			a.err = err
			return
		}
	}
	a.add(func(w io.Writer, width int) error {
		return cutsheet.RackPicture(w, v.e.Job.Rack, &rack, &cutsheet.PictureOptions{Locale: v.e.Job.Locale, Width: width})
	})
}

// drawCuts draws the cuts of each profile, how good the plan is known to be, each end on the
// saw, and its joint.
func drawCuts(a *album, v *view) {
	for i := range v.e.Plans {
		c := &v.e.Plans[i]
		s, o, err := sheet(v, c)
		if err != nil {
			a.err = err
			return
		}
		a.fold(c.Profile + ": on the saw")
		for _, e := range sawEnds(c) {
			a.add(func(w io.Writer, width int) error {
				return e.Picture(w, &cutsheet.PictureOptions{Locale: o.Locale, Profile: o.Profile, Width: width})
			})
		}
		if c.Parts <= 1 {
			a.add(func(w io.Writer, width int) error { return s.ProofPicture(w, &cutsheet.PictureOptions{Width: width}) })
		}
		a.end()
		if o.Profile == nil {
			continue
		}
		a.fold(c.Profile + ": its joints")
		var drawn []stock.End
		for _, e := range sawEnds(c) {
			if slices.Contains(drawn, e.End) { // as the other end of a piece
				continue
			}
			drawn = append(drawn, e.End)
			a.add(func(w io.Writer, width int) error {
				return drawing.Joint(w, *o.Profile, e.End, &drawing.Options{Locale: v.e.Job.Locale, Width: width})
			})
		}
		a.end()
	}
}

// sawEnds returns the ends of a plan that are not square, each kind of cut once.
func sawEnds(c *estimate.ProfilePlan) []cutsheet.SawEnd {
	var out []cutsheet.SawEnd
	seen := make(map[cutsheet.SawEnd]bool)
	for i := range c.Problem.Pieces {
		p := &c.Problem.Pieces[i]
		for _, e := range [...]cutsheet.SawEnd{{End: p.Left, Side: joint.SideLeft}, {End: p.Right, Side: joint.SideRight}} {
			e.End.Setback = 0
			if e.End.Kind == stock.EndSquare || e.End.Kind == stock.EndScribe || seen[e] {
				continue
			}
			seen[e] = true
			out = append(out, e)
		}
	}
	slices.SortFunc(out, func(a, b cutsheet.SawEnd) int {
		return cmp.Or(cmp.Compare(a.End.Kind, b.End.Kind), cmp.Compare(a.End.Angle, b.End.Angle), cmp.Compare(a.Side, b.Side))
	})
	return out
}

// drawSchedule draws the schedule.
func drawSchedule(a *album, v *view) {
	if v.e.Schedule == nil || v.e.Job.Calendar == nil {
		return
	}
	a.add(func(w io.Writer, width int) error {
		return estimate.SchedulePicture(w, v.e.Schedule, *v.e.Job.Calendar, &estimate.PictureOptions{Locale: v.e.Job.Locale, Width: width})
	})
}
