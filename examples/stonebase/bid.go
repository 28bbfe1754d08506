package main

import (
	"context"
	"fmt"
	"strings"
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/finish/labor"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// job is the contents of job.json.
type job struct {
	Room    takeoff.Room         `json:"room"`
	Casing  measure.Length       `json:"casing"` // width of the existing casing
	Kerf    measure.Length       `json:"kerf"`
	Bases   []base               `json:"bases"` // the painted one, then the stone
	Shelf   finish.Shelf         `json:"shelf"`
	Terms   estimate.Terms       `json:"terms"`
	Year    int                  `json:"year"`
	Removed []finish.RemovedTrim `json:"removed"`
}

// base is a profile, the prices of its lengths, and its accessories.
type base struct {
	Profile stock.Profile   `json:"profile"`
	Prices  []int64         `json:"prices"` // of Profile.Lengths
	Hazards []finish.Hazard `json:"hazards"`
	Costs   []estimate.Cost `json:"costs"`
}

// bid is a base computed for the room.
type bid struct {
	base      *base
	list      *takeoff.List
	problem   optimize.Problem
	plan      *optimize.Plan
	done      *finish.List
	work      measure.Duration // in proportion to the length
	around    measure.Duration // set-up and clean-up
	candidate estimate.Alternative
}

func (j *job) bid(b *base) (bid, error) {
	out := bid{base: b}
	// The casing stays: base stops at it, and none is bought.
	room := j.Room
	room.Walls = append([]takeoff.Wall(nil), room.Walls...)
	for i := range room.Walls {
		w := &room.Walls[i]
		w.Openings = append([]takeoff.Opening(nil), w.Openings...)
		for k := range w.Openings {
			w.Openings[k].ExistingWidth = j.Casing
		}
	}
	var err error
	if out.list, err = takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{Base: &b.Profile}, nil); err != nil {
		return bid{}, err
	}
	if len(b.Prices) != len(b.Profile.Lengths) {
		return bid{}, fmt.Errorf("prices has %d: want one for each of the %d lengths", len(b.Prices), len(b.Profile.Lengths))
	}
	out.problem = optimize.Problem{Pieces: out.list.PiecesOf(b.Profile.Name), Kerf: j.Kerf}
	for i, l := range b.Profile.Lengths {
		out.problem.Sticks = append(out.problem.Sticks, stock.Stick{
			Length: l, Price: b.Prices[i], TrimStart: b.Profile.EndTrim, TrimEnd: b.Profile.EndTrim,
		})
	}
	if out.plan, err = optimize.Solve(context.Background(), out.problem, nil); err != nil {
		return bid{}, err
	}
	if out.done, err = finish.NewList([]finish.Work{out.toDo()}, j.Shelf); err != nil {
		return bid{}, err
	}
	if err := out.time(room); err != nil {
		return bid{}, err
	}
	out.candidate = estimate.Alternative{
		Label: b.Profile.Name, Net: out.list.TotalsOf(b.Profile.Name).Net, StickCost: out.plan.Cost,
		Consumables: out.done.Cost, Labor: out.work + out.around, Costs: b.Costs,
	}
	return out, nil
}

// time computes the hours of the base.
func (b *bid) time(room takeoff.Room) error {
	lines, err := labor.Lines(b.list, []takeoff.Room{room}, b.done.Steps, labor.Rates{}, &labor.Options{Profiles: []stock.Profile{b.base.Profile}})
	if err != nil {
		return err
	}
	total, err := labor.Total(lines)
	for _, l := range lines {
		if l.Kind == labor.KindWork {
			b.work += l.Labor
		}
	}
	b.around = total - b.work
	return err
}

// toDo returns the finishing work on the base.
func (b *bid) toDo() finish.Work {
	job := estimate.FinishJob(b.list.TotalsOf(b.base.Profile.Name), b.base.Profile)
	job.Hazards = b.base.Hazards
	if b.base.Profile.ButtSpliced {
		return finish.Work{System: finish.TileBase(), Job: job}
	}
	return finish.Work{System: finish.PaintedTrim(), Job: job}
}

// offer returns the same base at any length, from its figures in this room: supplies and labor
// in proportion, material with the same waste.
func (b *bid) offer() (estimate.Offer, error) {
	net := b.candidate.Net
	o := estimate.Offer{Label: b.candidate.Label, Costs: b.base.Costs, Setup: b.around, Trim: finish.Product{Label: "sticks", Material: "trim"}}
	for i, s := range b.problem.Sticks {
		o.Trim.Packages = append(o.Trim.Packages, finish.Package{Size: finish.AmountOf(s.Length), Price: b.base.Prices[i]})
	}
	var bought measure.Length
	for _, p := range b.plan.Patterns {
		all, err := b.problem.Sticks[p.Stick].Length.Mul(int64(p.Count))
		if err != nil {
			return o, err
		}
		if bought, err = bought.Add(all); err != nil {
			return o, err
		}
	}
	lost, _, err := (bought - net).MulDiv(100*int64(measure.Percent), int64(bought), measure.RoundHalfEven)
	if err != nil {
		return o, err
	}
	o.Waste = finish.Waste{Share: max(0, measure.Ratio(lost)), OfPurchase: true}
	for _, p := range b.done.Purchases {
		product := finish.Product{Label: p.Product, Material: p.Material, Yield: finish.Yield{Covers: finish.AmountOf(net), Of: p.Need}}
		for _, l := range p.Lines {
			product.Packages = append(product.Packages, finish.Package{Label: l.Package, Size: l.Size, Price: l.Price})
		}
		o.Supplies = append(o.Supplies, product)
	}
	o.Pace, _, err = net.MulDiv(int64(time.Hour), int64(b.work), measure.RoundDown)
	return o, err
}

// joints names the joints to fit.
func (b *bid) joints() string {
	n := b.list.Joints
	var words []string
	for _, k := range []struct {
		count int
		name  string
	}{{n.Copes, "copes"}, {n.OutsideMiters, "outside miters"}, {n.Scarfs, "scarfs"}, {n.Butts, "square joints"}, {n.Stops, "stops"}} {
		if k.count > 0 {
			words = append(words, fmt.Sprintf("%s %d", k.name, k.count))
		}
	}
	return strings.Join(words, ", ")
}
