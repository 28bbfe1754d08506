package finish

import (
	"slices"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

var usualMaterial = [...]string{
	TaskInstall: "nails", TaskGlue: "adhesive", TaskFill: "filler", TaskSand: "sandpaper",
	TaskCaulk: "caulk", TaskMask: "tape", TaskPrime: "primer", TaskPaint: "paint",
	TaskSet: "thinset", TaskGrout: "grout", TaskSeal: "sealer", TaskClean: "", TaskBackerRod: "backer rod",
	TaskGlueJoints: "wood glue", TaskBrad: "brads",
}

var usualHazards = [...][]Hazard{
	TaskInstall: {HazardSaws, HazardSmallPieces, HazardNailers, HazardAir, HazardPower, HazardWoodDust, HazardNoise, HazardHiddenServices},
	TaskGlue:    {HazardSolvents}, TaskSand: {HazardWoodDust, HazardRespirators}, TaskCaulk: {HazardSolvents},
	TaskPrime: {HazardSolvents, HazardOilyRags}, TaskPaint: {HazardSolvents, HazardOilyRags},
	TaskSet:   {HazardSaws, HazardSmallPieces, HazardSilica, HazardRespirators, HazardPower, HazardNoise},
	TaskGrout: {HazardSilica, HazardRespirators}, TaskSeal: {HazardSolvents, HazardOilyRags}, TaskClean: nil, TaskBackerRod: nil,
	TaskGlueJoints: nil, TaskBrad: {HazardNailers, HazardAir, HazardNoise, HazardHiddenServices},
}

// usualYield returns the coverage of a task's material if neither the step nor the
// product states one. Primer 300 and paint 350 ft2 per gal lie within the
// published ranges (Griffith, Painting, 1916: 250-300 old work, 350 new); mortar
// is the conservative end of the 1/4 in square notch; wood glue 250 ft2 per gal is
// a film of about 6 mils (common practice, no source).
func usualYield(t Task) Yield {
	per := func(ft2 int64, of Amount) Yield {
		return Yield{Covers: AmountOf(measure.Area(ft2) * measure.SquareFoot), Of: of}
	}
	switch t {
	case TaskPrime:
		return per(300, AmountOf(measure.Gallon))
	case TaskPaint, TaskSeal:
		return per(350, AmountOf(measure.Gallon))
	case TaskGlueJoints:
		return per(250, AmountOf(measure.Gallon))
	case TaskSet:
		return Notches()[0].Low
	}
	return Yield{}
}

// NewList applies each system to its job and pools the needs: one purchase for
// each product, with whole packages for the project and not for each room. If
// several products supply a material and the step names none, NewList takes the
// one whose purchase costs least, the first of equals. A job of zero length
// needs nothing, whatever its corners and joints. Job labels must be unique.
//
// The error joins a [*measure.FieldError] for each invalid field and each material that
// no product supplies, or is a [*measure.RangeError].
func NewList(work []Work, shelf Shelf) (*List, error) {
	var f fault.List
	f.Under("", shelf.Validate())
	for i, w := range work {
		at := "work[" + strconv.Itoa(i) + "].job"
		f.Under(at, w.Job.Validate())
		if w.Job.Label != "" && slices.ContainsFunc(work[:i], func(o Work) bool { return o.Job.Label == w.Job.Label }) {
			f.Add(at+".label", w.Job.Label, "a label that no other has")
		}
	}
	if err := f.Err(); err != nil {
		return nil, err
	}
	if shelf.Drying == nil {
		shelf.Drying = DefaultDrying()
	}
	p := planner{shelf: shelf, list: &List{}}
	steps := 0
	for _, w := range work {
		steps += len(w.System.Steps)
	}
	if steps > 0 {
		p.list.Steps, p.from = make([]StepResult, 0, steps), make([]int, 0, steps)
	}
	for i, w := range work {
		at := "work[" + strconv.Itoa(i) + "]"
		for k, s := range w.System.Steps {
			by := w.System.filledBefore(k)
			counts := s.Task == TaskGrout || s.Task == TaskCaulk && by.grout == nil && w.Job.CourseJoints == 0 && w.Job.Tile != Tile{}
			if counts && w.Job.Length > 0 {
				if err := w.Job.course().check(); err != nil {
					return nil, fault.Under(at+".job.tile", err)
				}
			}
			if err := p.step(w.Job, s, by); err != nil {
				return nil, fault.Under(at+".system.steps["+strconv.Itoa(k)+"]", err)
			}
		}
	}
	if err := p.buy(); err != nil {
		return nil, err
	}
	p.dry()
	var err error
	p.list.Cautions, err = Cautions(p.shelf.Locale, p.warn()...)
	if err != nil {
		return nil, err
	}
	return p.list, nil
}

// pool is the total need of all steps for one material, or for one product.
type pool struct {
	material, product string
	usual             Yield
	needs             []Amount // one for each kind
	pick              int      // index of the product bought for it
}

type planner struct {
	shelf Shelf
	list  *List
	pools []pool
	from  []int // index of the pool of each step, or -1
}

// step adds one step of one job.
func (p *planner) step(j Job, s Step, by filledBy) error {
	if int(s.Task) >= len(taskNames) {
		return fault.Field("task", uint8(s.Task), "a known task")
	}
	if err := s.Dry.check(); err != nil {
		return fault.Under("dry", err)
	}
	if err := checkHazards(s.Hazards); err != nil {
		return err
	}
	if j.Length == 0 {
		j.Corners, j.Outside, j.Splices, j.CourseJoints, j.Glued, j.Holes = 0, 0, 0, 0, 0, 0
	}
	if (s.Task == TaskFill || s.Task == TaskPrime && j.Preprimed) && j.Holes == 0 {
		for _, done := range p.list.Steps { // earlier steps of the same job drove the nails
			if n, ok := done.Need.Net.Pieces(); ok && (done.Task == TaskInstall || done.Task == TaskBrad) && done.Job == j.Label {
				if j.Holes, ok = natural.Add(j.Holes, n); !ok {
					return tooLarge("the number of holes")
				}
			}
		}
	}
	got, work, err := s.take(words{p.shelf.Locale}, j, by)
	if err != nil {
		return err
	}
	name := s.Task.String()
	if s.Task == TaskPrime && j.Preprimed {
		name = "spot prime"
	}
	r := StepResult{Job: j.Label, Step: or(s.Label, name), Task: s.Task, Need: got, Coats: 1, Dry: s.Dry,
		Length: work.length, Area: work.area, Count: work.count, Joints: work.joints}
	if s.Task.coats() && s.Coats > 0 {
		r.Coats = s.Coats
	}
	p.list.Steps = append(p.list.Steps, r)
	p.from = append(p.from, -1)
	if j.Length > 0 {
		all := &p.list.Steps[len(p.list.Steps)-1].Hazards
		addHazards(all, usualHazards[s.Task]...)
		if s.Task == TaskClean && got.Material != "" {
			addHazards(all, HazardSolvents)
		}
		addHazards(all, s.Hazards...)
		addHazards(all, j.Hazards...)
	}
	if got.Gross.IsZero() {
		return nil
	}
	return p.pool(s, got)
}

// addHazards adds the hazards that are not yet in the list.
func addHazards(to *[]Hazard, hazards ...Hazard) {
	for _, h := range hazards {
		if !slices.Contains(*to, h) {
			*to = append(*to, h)
		}
	}
}

// warn adds the hazards of the products bought for each step, and returns those of all
// steps.
func (p *planner) warn() []Hazard {
	var all []Hazard
	for i := range p.list.Steps {
		s := &p.list.Steps[i]
		if k := p.from[i]; k >= 0 {
			addHazards(&s.Hazards, p.shelf.Products[p.pools[k].pick].Hazards...)
		}
		addHazards(&all, s.Hazards...)
	}
	return all
}

// pool adds a need to the project's need of its material.
func (p *planner) pool(s Step, n Need) error {
	k := slices.IndexFunc(p.pools, func(q pool) bool {
		return q.material == n.Material && q.product == s.Product
	})
	if k < 0 {
		k = len(p.pools)
		p.pools = append(p.pools, pool{material: n.Material, product: s.Product, usual: usualYield(s.Task)})
	}
	p.from[len(p.from)-1] = k
	q := &p.pools[k]
	for i, a := range q.needs {
		if a.dim == n.Gross.dim {
			sum, err := a.Add(n.Gross)
			q.needs[i] = sum
			return err
		}
	}
	q.needs = append(q.needs, n.Gross)
	return nil
}

// buy picks a product for each pool, merges pools that picked the same one,
// and buys.
func (p *planner) buy() error {
	picks := make([]*Purchase, len(p.shelf.Products))
	var order []int
	var missing fault.List
	for k, q := range p.pools {
		i, b, err := p.pick(q)
		if err != nil {
			return err
		}
		if b == nil {
			missing.Under("", q.missing())
			continue
		}
		p.pools[k].pick = i
		if picks[i] == nil {
			order = append(order, i)
		} else {
			sum, err := picks[i].Need.Add(b.Need)
			if err == nil {
				b, err = p.shelf.Products[i].buy(words{p.shelf.Locale}, sum)
			}
			if err != nil {
				return fault.Under("products["+strconv.Itoa(i)+"]", err)
			}
		}
		picks[i] = b
	}
	if len(missing) > 0 {
		return missing.Err()
	}
	for _, i := range order {
		cost, ok := natural.Add(p.list.Cost, picks[i].Cost)
		if !ok {
			return tooLarge("the cost of the purchases")
		}
		p.list.Cost = cost
		p.list.Purchases = append(p.list.Purchases, *picks[i])
	}
	return nil
}

// dry looks up the drying time of the coats of each step: from the step, or the
// product bought for it, or the shelf.
func (p *planner) dry() {
	for i := range p.list.Steps {
		s := &p.list.Steps[i]
		if s.Dry != (Drying{}) || s.idle() {
			continue
		}
		if k := p.from[i]; k >= 0 {
			s.Dry, s.DryDoubt = p.shelf.Products[p.pools[k].pick].dryIn(words{p.shelf.Locale}, p.shelf.Climate)
		}
		for _, d := range p.shelf.Drying {
			if d.Task == s.Task && s.Dry == (Drying{}) {
				s.Dry = d.Dry
			}
		}
	}
}

// missing reports a material that no product supplies.
func (q pool) missing() error {
	if q.product != "" {
		return fault.Field("products", q.product, "a product of that label with material "+strconv.Quote(q.material))
	}
	return fault.Field("products", q.material, "a product of that material")
}

// pick returns the product whose purchase for the pool costs least, or no purchase
// if no product is suitable.
func (p *planner) pick(q pool) (at int, least *Purchase, err error) {
	for i := range p.shelf.Products {
		product := &p.shelf.Products[i]
		if product.Material != q.material || q.product != "" && product.Label != q.product {
			continue
		}
		a, err := q.amount(*product)
		if err == nil {
			var b *Purchase
			if b, err = product.buy(words{p.shelf.Locale}, a); err == nil && (least == nil || b.Cost < least.Cost) {
				at, least = i, b
			}
		}
		if err != nil {
			return 0, nil, fault.Under("products["+strconv.Itoa(i)+"]", err)
		}
	}
	return at, least, nil
}

// amount returns the pool's need of a product, in the kind of its packages.
func (q pool) amount(p Product) (Amount, error) {
	if p.Yield.IsZero() {
		p.Yield = q.usual
	}
	sum := Amount{dim: p.Packages[0].Size.dim}
	for _, n := range q.needs {
		a, err := p.convert(n)
		if err == nil {
			sum, err = sum.Add(a)
		}
		if err != nil {
			return Amount{}, err
		}
	}
	return sum, nil
}
