package optimize

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
	bp "example.com/longpoint/internal/solver/branchprice"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/wide"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// freeCount is what the number of pieces stays below with rules: as many sticks are an int
// on every machine.
const freeCount = min(1<<40, math.MaxInt)

// free is a problem with rules in the engine's integers, with the way back.
//
// A kerf is added to every piece at its right end and one to every usable length,
// as for a plain problem. Where ends may nest everything is doubled, so that half a
// setback is whole.
type free struct {
	problem  *Problem
	byLength bool
	model    rules.Problem
	goals    []bp.Goal
	unit     int64 // ticks to one unit of size
	double   int64 // 2 where ends nest, else 1
	costUnit int64

	items   []freeItem
	classes []freeClass
	ends    []endClass
	parts   [][]measure.Length // per run of Problem.Runs: the position of each node
	runs    int                // engine's runs before those of lots
	lots    []lotRun
	longest measure.Length // of all pieces: what a spare must replace

	ctx      context.Context
	mt       *meter.Meter
	endAt    map[endClass]int
	itemAt   map[itemKey][]int
	lotAt    map[string]int
	grades   []int // per item: the least that will do
	kindOf   []kindKey
	lotNames []string
	total    int64 // pieces
	useful   int64 // sticks: no plan needs more
	spare    int   // the item of the spare sticks, -1 without
}

// kindKey is what of a stick decides which pieces it may yield.
type kindKey struct {
	grade int
	lot   string
}

// freeItem is what an engine's item stands for.
type freeItem struct {
	length measure.Length // of a part
	pieces []int          // of Problem.Pieces, each by itself
	group  []int          // pieces that stay together, in order; then one group to an item
	begun  []int          // those of pieces that come from the lot whatever way its runs take
	part   bool           // parts of runs are among them
	lot    int            // the lot that it must come from, -1 any
	turns  []Turn
}

// freeClass is a set of sticks that differ for nobody but the person who picks them.
type freeClass struct {
	sticks  []int
	usable  measure.Length
	clear   []stock.Defect // clear stretches, more than one only with defects
	yard    bool
	special bool // sold in a way of its own
}

// endClass is one shape of cut: ends of a class are parallel.
type endClass struct {
	setback measure.Length
	twice   measure.Angle // the angle from square, which a corner's half may make a fraction, doubled
	plane   int           // 0: back to face, 1: edge to edge
	lean    int           // which way
}

// begunLot adds what is left of a group that is begun: items that only its lot's sticks yield.
func (f *free) begunLot(gr *Group) {
	l, known := f.lotAt[gr.Lot]
	if !known {
		l = len(f.lotNames)
		f.lotAt[gr.Lot] = l
		f.lotNames = append(f.lotNames, gr.Lot) // of which there is no stick
	}
	for _, i := range gr.Pieces {
		pc := &f.problem.Pieces[i]
		ways, turns := f.ways(pc)
		k := f.item(ways, turns, pc.Grade, f.grip(pc), l)
		f.items[k].pieces = append(f.items[k].pieces, i)
		f.items[k].begun = append(f.items[k].begun, i)
		f.model.Items[k].Demand += quantity(pc)
	}
}

// lotRun is a group that comes from one lot: the engine's run whose ways are the lots.
type lotRun struct {
	group int
	lots  []int
}

// itemKey is what items that are alike have in common, and most that are not do not.
type itemKey struct {
	way   rules.Orientation // the first
	grade int
	grip  grip
	lot   int
}

// What a problem with rules may come to, so that time and memory stay bounded. Jobs of a
// thousand houses stay below.
const (
	maxItems  = 10_000  // kinds of pieces and parts: by length, ends, grade and lot
	maxKinds  = 10_000  // kinds of sticks, each clear stretch by itself
	maxCells  = 1 << 22 // kinds of pieces times kinds of sticks
	maxShapes = 1_000   // shapes of ends that nest
	maxLayers = 1 << 20 // positions of a run times the splices that it may have
)

// maxArcs bounds the parts that the runs of a problem can have between their
// positions.
const maxArcs = 60_000

// compileFree turns a problem that passed validate into integers.
// It is an error, too, that the context ends.
func compileFree(ctx context.Context, p *Problem) (*free, error) {
	f := &free{problem: p, double: 1, ctx: ctx, mt: meter.New(ctx, 0).First(compileSteps), endAt: map[endClass]int{}, itemAt: map[itemKey][]int{}, lotAt: map[string]int{}}
	if p.Rules.Nest {
		f.double = 2
	}
	for i := range p.Pieces {
		f.longest = max(f.longest, p.Pieces[i].Length)
	}
	if err := f.addItems(); err != nil {
		return nil, err
	}
	if err := f.addRuns(); err != nil {
		return nil, err
	}
	if err := f.addSticks(); err != nil {
		return nil, err
	}
	if err := f.addLots(); err != nil {
		return nil, err
	}
	f.addSpares()
	if err := cmp.Or(f.crowding(), f.small(), f.took(len(f.items)*len(f.model.Bins)/8)); err != nil {
		return nil, err
	}
	f.bar()
	if err := f.divide(); err != nil {
		return nil, err
	}
	f.goals = append(f.goals, bp.LeastPrice)
	if len(p.Rules.Goals) == 0 {
		f.goals = append(f.goals, bp.FewestSticks, bp.FewestSplices, bp.LongestOffcut)
	}
	for _, g := range p.Rules.Goals[min(1, len(p.Rules.Goals)):] {
		f.goals = append(f.goals, engineGoals[g])
	}
	return f, nil
}

// engineGoals are the goals as the engine knows them.
var engineGoals = [...]bp.Goal{GoalCost: bp.LeastPrice, GoalSticks: bp.FewestSticks, GoalOffcutValue: bp.MostSalvage,
	GoalLongestOffcut: bp.LongestOffcut, GoalPatterns: bp.FewestPatterns, GoalCuts: bp.FewestCuts, GoalSplices: bp.FewestSplices}

// end returns the class of an end as it lies: at the left or at the right, rolled
// or not, with its edges the other way up or not.
func (f *free) end(e stock.End, left, flipFace, flipEdge bool) int {
	if !f.problem.Rules.Nest || e.Setback <= 0 {
		return rules.Square
	}
	c := endClass{setback: e.Setback, twice: 2*rightAngle - e.Corner()}
	lean := false
	// What the blade takes along the stick does not tell angles apart: nothing at
	// any angle where the kerf is zero.
	switch {
	case e.Kind.Spliced():
		c.twice = 2 * e.Corner()
	case e.Kind == stock.EndButt:
		c.twice = 2 * max(e.Corner()-rightAngle, rightAngle-e.Corner())
	case e.Kind.Raked():
		c.twice = 2 * max(e.Angle, -e.Angle)
	}
	switch longPoint(e) {
	case longBack:
		c.plane, lean = 0, flipFace
	case longFace:
		c.plane, lean = 0, !flipFace
	case longOuter:
		c.plane, lean = 1, flipEdge
	case longInner:
		c.plane, lean = 1, !flipEdge
	default:
		return rules.Square
	}
	// A right end that is long at the back is parallel to a left end that is long
	// at the face.
	if lean != left {
		c.lean = 1
	}
	k, known := f.endAt[c]
	if !known {
		k = len(f.ends)
		f.endAt[c] = k
		f.ends = append(f.ends, c)
	}
	return k
}

// ways returns the ways in which a piece may lie, with the turn of each; sizes in
// ticks.
func (f *free) ways(pc *stock.Piece) ([]rules.Orientation, []Turn) {
	turns := []Turn{{}}
	if f.problem.Rules.Nest && pc.Symmetry.MayTurn() {
		turns = append(turns, Turn{EndForEnd: true})
	}
	if f.problem.Rules.Nest && pc.Symmetry.MayRoll() {
		turns = append(turns, Turn{Rolled: true}, Turn{EndForEnd: true, Rolled: true})
	}
	var ways []rules.Orientation
	var kept []Turn
	for _, t := range turns {
		w := f.lying(pc.Left, pc.Right, t)
		w.Size += int64(pc.Length) * f.double
		if !slices.Contains(ways, w) {
			ways, kept = append(ways, w), append(kept, t)
		}
	}
	return ways, kept
}

// lying returns the ends of a piece that lies by a turn, and the kerf at its right.
func (f *free) lying(l, r stock.End, t Turn) rules.Orientation {
	swap, face, edge := t.EndForEnd, t.Rolled, t.EndForEnd != t.Rolled
	if swap {
		l, r = r, l
	}
	kerf := f.problem.Kerf
	if f.problem.Rules.Nest {
		kerf = r.KerfAlong(kerf)
	}
	return rules.Orientation{Size: int64(kerf) * f.double, Left: f.end(l, true, face, edge), Right: f.end(r, false, face, edge)}
}

// item finds the item of pieces that are alike, or makes it.
func (f *free) item(ways []rules.Orientation, turns []Turn, grade int, g grip, lot int) int {
	key := itemKey{ways[0], grade, g, lot}
	for _, i := range f.itemAt[key] {
		if slices.Equal(f.model.Items[i].Orientations, ways) && slices.Equal(f.items[i].turns, turns) {
			return i
		}
	}
	f.itemAt[key] = append(f.itemAt[key], len(f.items))
	f.items = append(f.items, freeItem{lot: lot, turns: turns})
	f.model.Items = append(f.model.Items, rules.Item{Orientations: ways, Pieces: 1, Long: g.long, Uncut: g.uncut})
	f.grades = append(f.grades, grade)
	return len(f.items) - 1
}

// compileSteps is what compiling may still take once the context has ended: some
// milliseconds, so that all but the largest problems get a first plan.
const compileSteps = 1 << 20

// took counts steps of compiling and returns an error once the context has ended and
// there are too many.
func (f *free) took(n int) error {
	if f.mt.Watch(int64(n)) {
		return nil
	}
	return noPlan(f.ctx, interrupted(f.ctx), 0)
}

// small reports what there are too many kinds of.
func (f *free) small() error {
	few := func(n, most int, what string) string {
		return fmt.Sprintf("at most %d %s in a problem with rules", min(n, most), what)
	}
	items, bins := len(f.items), len(f.model.Bins)
	switch {
	case items > maxItems:
		return fieldError("pieces", items, few(items, maxItems, "kinds of pieces and parts"))
	case bins > maxKinds:
		return fieldError("sticks", bins, few(bins, maxKinds, "kinds of sticks and clear stretches"))
	case items*bins > maxCells:
		return fieldError("pieces", items,
			fmt.Sprintf("at most %d kinds of pieces and parts in a problem with rules and %d kinds of sticks", maxCells/bins, bins))
	case len(f.ends) > maxShapes:
		return fieldError("rules.nest", len(f.ends), few(len(f.ends), maxShapes, "shapes of ends"))
	}
	return nil
}

// crowding reports pieces so small that a plan would have to list too many on one stick.
func (f *free) crowding() error {
	if most := f.problem.Rules.MaxPieces; most > 0 && most <= maxPieces {
		return nil
	}
	room := int64(0)
	for b := range f.model.Bins {
		room = max(room, f.model.Bins[b].Cap)
	}
	parts := make([]int64, len(f.items)) // of runs, one to a run at most
	for r := range f.model.Runs {
		for _, a := range f.model.Runs[r].Arcs {
			parts[a.Item] += a.N
		}
	}
	type small struct {
		item        int
		size, count int64
	}
	var all []small
	for i := range f.items {
		it := &f.model.Items[i]
		if it.Alone {
			continue
		}
		least := it.Orientations[0].Size
		for _, w := range it.Orientations {
			save := int64(0)
			for _, e := range [2]int{w.Left, w.Right} {
				if e >= 0 {
					save += int64(f.ends[e].setback) * f.double / 2
				}
			}
			least = min(least, w.Size-save)
		}
		all = append(all, small{i, max(1, least), max(0, it.Demand) + parts[i]})
	}
	slices.SortStableFunc(all, func(a, b small) int {
		return compareProducts(a.size, f.model.Items[b.item].Pieces, b.size, f.model.Items[a.item].Pieces)
	})
	n := int64(0)
	for _, s := range all {
		k := min(s.count, room/s.size)
		room -= k * s.size
		if n += k * f.model.Items[s.item].Pieces; n > maxPieces {
			field, l := "pieces", measure.Length(s.size/f.double)
			if ids := slices.Concat(f.items[s.item].pieces, f.items[s.item].group); len(ids) > 0 {
				field, l = fmt.Sprintf("pieces[%d].length", ids[0]), f.problem.Pieces[ids[0]].Length
			}
			return fieldError(field, l.About(), fmt.Sprintf("pieces of which no stick holds more than %d", maxPieces))
		}
	}
	return nil
}

func (f *free) long(l measure.Length) bool { return l >= f.problem.Rules.MinHold }

// grip is what the saw needs to know of a piece, where Rules.MinHold asks.
type grip struct {
	long  bool // it can be held
	uncut bool // it is square at both ends: a whole stick may be it
}

func (f *free) grip(pc *stock.Piece) grip {
	if f.problem.Rules.MinHold == 0 {
		return grip{long: true}
	}
	return grip{f.long(pc.Length), pc.Left.LongPoint() == longNowhere && pc.Right.LongPoint() == longNowhere}
}

// addItems makes items of the pieces: alike ones together, groups that stay on one
// stick as one. Pieces of a lot are left to addLots.
func (f *free) addItems() error {
	p := f.problem
	in := make([]int, len(p.Pieces)) // group+1
	for g := range p.Rules.Groups {
		for _, i := range p.Rules.Groups[g].Pieces {
			in[i] = g + 1
		}
	}
	var total int64
	for i := range p.Pieces {
		q := quantity(&p.Pieces[i])
		if q >= freeCount-total {
			return fieldError(fmt.Sprintf("pieces[%d].quantity", i), q, fmt.Sprintf("a total quantity below %d", int64(freeCount)))
		}
		total += q
		if in[i] > 0 {
			continue
		}
		if len(f.ends) > maxShapes || len(f.items) > maxItems {
			return f.small()
		}
		if err := f.took(64); err != nil {
			return err
		}
		ways, turns := f.ways(&p.Pieces[i])
		k := f.item(ways, turns, p.Pieces[i].Grade, f.grip(&p.Pieces[i]), -1)
		f.items[k].pieces = append(f.items[k].pieces, i)
		f.model.Items[k].Demand += q
	}
	f.total = total
	for g := range p.Rules.Groups {
		gr := &p.Rules.Groups[g]
		if gr.Kind == GroupOneLot {
			continue
		}
		if len(f.items) > maxItems {
			return f.small()
		}
		it := freeItem{group: gr.Pieces, lot: -1, turns: []Turn{{}}}
		way := rules.Orientation{Right: rules.Square}
		grade, long := math.MinInt, false
		for k, i := range gr.Pieces {
			pc := &p.Pieces[i]
			w := f.lying(pc.Left, pc.Right, Turn{})
			if way.Size += w.Size + int64(pc.Length)*f.double; way.Size > 1<<61 {
				return fieldError("pieces", "too long in total", fmt.Sprintf("pieces of rules.groups[%d] of a total length, kerfs included, of at most %v",
					g, measure.Length(1<<61/f.double).About()))
			}
			if k == 0 {
				way.Left = w.Left
			} else if way.Right >= 0 && way.Right == w.Left {
				way.Size -= int64(f.ends[w.Left].setback) * f.double
			}
			way.Right = w.Right
			grade = max(grade, pc.Grade)
			long = long || f.long(pc.Length)
			f.longest = max(f.longest, pc.Length)
		}
		f.items = append(f.items, it)
		f.grades = append(f.grades, grade)
		f.model.Items = append(f.model.Items, rules.Item{Demand: quantity(&p.Pieces[gr.Pieces[0]]), Orientations: []rules.Orientation{way},
			Pieces: int64(len(gr.Pieces)), Long: long})
	}
	return nil
}

// addRuns makes a run of the engine of each run: its nodes are the ends and the
// positions, its arcs the parts between them that some stick can hold.
func (f *free) addRuns() error {
	p := f.problem
	longest := measure.Length(0)
	for s := range p.Sticks {
		if p.Sticks[s].Limit != stock.SoldOut {
			longest = max(longest, usable(&p.Sticks[s]))
		}
	}
	arcs := 0
	for r := range p.Runs {
		run := &p.Runs[r]
		rule := &run.Splice
		at := append(append([]measure.Length{0}, rule.At...), run.Length)
		tooMany := func() error {
			return fieldError(fmt.Sprintf("runs[%d].splice.at", r), len(rule.At),
				"fewer positions: a coarser grid, or studs only")
		}
		out := rules.Run{Nodes: len(at)}
		if rule.MaxSplices > 0 && rule.MaxSplices < len(rule.At) {
			out.Most = rule.MaxSplices + 1
		}
		if (out.Most+1)*len(at) > maxLayers {
			return tooMany()
		}
		lap := max(rule.Overlap, -rule.Overlap)
		for i := range at {
			// From the first that is not too short on.
			first, _ := slices.BinarySearch(at[i+1:], at[i]+rule.MinPart-lap)
			for j := i + 1 + first; j < len(at); j++ {
				if at[j]-at[i]-lap > longest {
					break
				}
				if err := f.took(8); err != nil {
					return err
				}
				pc, ok := f.part(run, at, i, j)
				if !ok || pc.Length > longest {
					continue
				}
				if arcs++; arcs > maxArcs {
					return tooMany()
				}
				ways, turns := f.ways(&pc)
				k := f.item(ways, turns, 0, f.grip(&pc), -1)
				f.items[k].part, f.items[k].length = true, pc.Length
				a := rules.Arc{From: i, To: j, Item: k, N: 1}
				if j < len(at)-1 {
					a.Cost, a.Splices = rule.Price, 1
				}
				out.Arcs = append(out.Arcs, a)
			}
		}
		f.parts = append(f.parts, at)
		f.model.Runs = append(f.model.Runs, out)
	}
	f.runs = len(f.model.Runs)
	return nil
}

// part returns the piece of a run between two of its nodes, and whether the rule
// allows it.
func (f *free) part(run *stock.Run, at []measure.Length, i, j int) (stock.Piece, bool) {
	rule := &run.Splice
	pc := stock.Piece{Left: run.Left, Right: run.Right, Length: at[j] - at[i]}
	over := stock.End{Kind: stock.EndScarfOver, Angle: rule.Bevel, Setback: rule.Overlap}
	under := stock.End{Kind: stock.EndScarfUnder, Angle: rule.Bevel, Setback: rule.Overlap}
	if rule.Bevel == 0 {
		over, under = stock.End{}, stock.End{}
	}
	if rule.RightOver {
		over, under = under, over
	}
	early := rule.Overlap / 2
	if i > 0 {
		pc.Left = under
		pc.Length += rule.Overlap - early
	}
	if j < len(at)-1 {
		pc.Right = over
		pc.Length += early
	}
	if i == 0 && j == len(at)-1 {
		return pc, true
	}
	return pc, pc.Length >= max(1, rule.MinPart) && (!f.problem.Rules.Nest || cuttable(pc.Left, pc.Right, pc.Length))
}

// addSticks makes classes and their bins.
func (f *free) addSticks() error {
	p := f.problem
	f.byLength = true
	money := p.Rules.YardCut != 0
	for i := range p.Sticks {
		money = money || p.Sticks[i].Price != 0
		for _, b := range p.Sticks[i].Breaks {
			money = money || b.Price != 0
		}
	}
	for _, c := range p.Rules.Charges {
		money = money || c.Amount != 0
	}
	for r := range p.Runs {
		money = money || p.Runs[r].Splice.Price != 0
	}
	if money {
		f.byLength = false
	}
	// No plan needs more sticks than pieces, parts and spares.
	useful := f.total + int64(p.Rules.Spare)
	for r := range p.Runs {
		n := int64(len(p.Runs[r].Splice.At) + 1)
		if m := p.Runs[r].Splice.MaxSplices; m > 0 {
			n = min(n, int64(m)+1)
		}
		useful += n
	}
	f.useful = useful
	type key struct {
		length, start, end measure.Length
		price              int64
		supplier, lot      string
		grade              int
		rack               bool
	}
	known := map[key]int{}
	for i := range p.Sticks {
		s := &p.Sticks[i]
		if s.Limit == stock.SoldOut {
			continue
		}
		yard := p.Rules.MaxTransport > 0 && !s.Rack && s.Length > p.Rules.MaxTransport
		if yard && s.Length-p.Kerf-p.Rules.MaxTransport > p.Rules.MaxTransport {
			continue // no one cut makes it short enough
		}
		special := s.Bundle > 1 || s.Minimum > 1 || len(s.Breaks) > 0 || len(s.Defects) > 0
		k := key{s.Length, s.TrimStart, s.TrimEnd, s.Price, s.Supplier, s.Lot, s.Grade, s.Rack}
		price := s.Price
		if f.byLength {
			price = int64(s.Length)
		}
		c, ok := known[k]
		if special || !ok {
			c = len(f.classes)
			if !special {
				known[k] = c
			}
			if f.addClass(i, price, yard, special); len(f.model.Bins) > maxKinds {
				return f.small()
			}
		} else {
			f.classes[c].sticks = append(f.classes[c].sticks, i)
		}
		cl := &f.model.Classes[c]
		if n := int64(s.Limit); n == 0 {
			cl.Limit = math.MaxInt64 / 8
		} else {
			cl.Limit += min(n, math.MaxInt64/8-cl.Limit)
		}
	}
	if len(f.classes) == 0 {
		return infeasible(ReasonSupplyDoesNotFit)
	}
	for c := range f.model.Classes {
		cl := &f.model.Classes[c]
		cl.Most = useful
		top := useful + cl.Bundle + cl.Minimum
		for _, t := range cl.Tiers {
			top = max(top, t.From+cl.Bundle)
		}
		cl.Limit = min(cl.Limit, top)
	}
	// Sellers, in the order of the charges.
	seller := make(map[string]int, len(p.Rules.Charges))
	for g, ch := range p.Rules.Charges {
		seller[ch.Supplier] = g
		f.model.Suppliers = append(f.model.Suppliers, rules.Supplier{Charge: ch.Amount})
	}
	for c := range f.classes {
		if g, ok := seller[p.Sticks[f.classes[c].sticks[0]].Supplier]; ok {
			f.model.Suppliers[g].Classes = append(f.model.Suppliers[g].Classes, c)
		}
	}
	return nil
}

func (f *free) addClass(i int, price int64, yard, special bool) {
	p := f.problem
	s := &p.Sticks[i]
	c := freeClass{sticks: []int{i}, usable: usable(s), clear: clearStretches(s), yard: yard, special: special}
	cl := rules.StockClass{Tiers: []rules.Tier{{From: 1, Price: price}}, Bundle: int64(max(1, s.Bundle)), Minimum: int64(max(1, s.Minimum))}
	for _, b := range s.Breaks {
		v := b.Price
		if f.byLength {
			v = price
		}
		cl.Tiers = append(cl.Tiers, rules.Tier{From: int64(b.From), Price: v})
	}
	k := rules.PatternRules{Kerf: int64(p.Kerf) * f.double, Most: int64(p.Rules.MaxPieces), Hold: int64(p.Rules.MinHold) * f.double}
	if yard {
		if k.Hold > 0 {
			k.Trim = [2]bool{s.TrimStart > 0, s.TrimEnd > 0}
		}
		k.Part = [2]int64{int64(p.Rules.MaxTransport-s.TrimStart+p.Kerf) * f.double, int64(p.Rules.MaxTransport-s.TrimEnd+p.Kerf) * f.double}
	}
	if slices.Contains(p.Rules.Goals, GoalOffcutValue) {
		for _, w := range p.Rules.OffcutValues {
			k.Salvage = append(k.Salvage, rules.SalvageStep{Length: int64(w.Length) * f.double, Value: w.Value})
		}
	}
	k.Spare = p.Rules.Spare > 0 && len(s.Defects) == 0 && usable(s) >= f.longest && !yard
	worth := slices.Contains(p.Rules.Goals, GoalOffcutValue)
	if whole := len(c.clear) == 1 && c.usable == s.Length && len(s.Defects) == 0; k.Hold > 0 && !yard && !whole {
		k.Trim = [2]bool{true, true}
	}
	for _, stretch := range c.clear {
		b := rules.Bin{Cap: int64(stretch.To-stretch.From+p.Kerf) * f.double, Kind: len(f.model.Kinds)}
		if len(c.clear) == 1 {
			b.Own[rules.Sticks] = 1
		}
		if yard {
			b.Own[rules.Price] = p.Rules.YardCut
		}
		if width := worthOf(p.Rules.OffcutValues, stretch.To-stretch.From); worth && len(c.clear) > 1 {
			// A stretch from which nothing is cut is an offcut, too; on the rack it was one before.
			b.Own[rules.Salvage] = width
			if !s.Rack {
				cl.Idle -= width
			}
		} else if worth && s.Rack {
			b.Own[rules.Salvage] = width
			if len(s.Defects) == 0 {
				b.Own[rules.Salvage] = worthOf(p.Rules.OffcutValues, s.Length)
			}
		}
		cl.Bins = append(cl.Bins, len(f.model.Bins))
		f.model.Bins = append(f.model.Bins, b)
	}
	if len(c.clear) > 1 {
		cl.Count = 1
	}
	f.kindOf = append(f.kindOf, kindKey{s.Grade, s.Lot})
	f.model.Kinds = append(f.model.Kinds, k)
	f.classes = append(f.classes, c)
	f.model.Classes = append(f.model.Classes, cl)
}

// worthOf returns what an offcut of the length is worth.
func worthOf(steps []OffcutValue, l measure.Length) int64 {
	v := int64(0)
	for _, s := range steps {
		if l >= s.Length {
			v = s.Value
		}
	}
	return v
}

// clearStretches returns what the ends and the defects leave of a stick, from its
// start.
func clearStretches(s *stock.Stick) []stock.Defect {
	defects := slices.Clone(s.Defects)
	slices.SortFunc(defects, func(a, b stock.Defect) int { return cmp.Compare(a.From, b.From) })
	at, end := s.TrimStart, s.Length-s.TrimEnd
	var out []stock.Defect
	for _, d := range defects {
		if min(d.From, end) > at {
			out = append(out, stock.Defect{From: at, To: min(d.From, end)})
		}
		at = max(at, d.To)
	}
	if at < end {
		out = append(out, stock.Defect{From: at, To: end})
	}
	return out
}

// addLots makes a run of each group that comes from one lot: a way for each lot, on
// which its pieces are items that only that lot's sticks yield.
func (f *free) addLots() error {
	p := f.problem
	var names []string
	for c := range f.kindOf {
		if _, known := f.lotAt[f.kindOf[c].lot]; !known {
			f.lotAt[f.kindOf[c].lot] = len(names)
			names = append(names, f.kindOf[c].lot)
		}
	}
	arcs := 0
	f.lotNames = slices.Clone(names)
	for g := range p.Rules.Groups {
		gr := &p.Rules.Groups[g]
		if gr.Kind != GroupOneLot {
			continue
		}
		if gr.Started {
			f.begunLot(gr)
			continue
		}
		if arcs += len(names) * len(gr.Pieces); arcs > maxArcs {
			return fieldError(fmt.Sprintf("rules.groups[%d].pieces", g), len(gr.Pieces),
				fmt.Sprintf("fewer pieces, since there are %d lots: at most %d pieces of lots in all groups", len(names), maxArcs))
		}
		run := rules.Run{Nodes: 2 + len(names)*(len(gr.Pieces)-1)}
		last := run.Nodes - 1
		lr := lotRun{group: g}
		for l := range names {
			at := 0
			for k, i := range gr.Pieces {
				pc := &p.Pieces[i]
				ways, turns := f.ways(pc)
				it := f.item(ways, turns, pc.Grade, f.grip(pc), l)
				to := 1 + l*(len(gr.Pieces)-1) + k
				if k == len(gr.Pieces)-1 {
					to = last
				}
				f.items[it].pieces = append(f.items[it].pieces, i)
				run.Arcs = append(run.Arcs, rules.Arc{From: at, To: to, Item: it, N: quantity(pc)})
				at = to
			}
			lr.lots = append(lr.lots, l)
		}
		slices.SortStableFunc(run.Arcs, func(a, b rules.Arc) int { return cmp.Compare(a.From, b.From) })
		f.model.Runs = append(f.model.Runs, run)
		f.lots = append(f.lots, lr)
	}
	return nil
}

// addSpares makes the item of the spare sticks.
func (f *free) addSpares() {
	n := int64(f.problem.Rules.Spare)
	f.spare = -1
	if n == 0 {
		return
	}
	f.spare = len(f.items)
	f.items = append(f.items, freeItem{lot: -1, turns: []Turn{{}}})
	f.grades = append(f.grades, math.MinInt)
	f.model.Items = append(f.model.Items, rules.Item{Demand: n, Alone: true, Orientations: []rules.Orientation{{Size: f.double, Left: rules.Square, Right: rules.Square}}})
}

// bar works out which items each kind of stick cannot yield, and how many of each a
// plan can use.
func (f *free) bar() {
	for i := range f.model.Items {
		f.model.Items[i].Most = f.model.Items[i].Demand
	}
	for r := range f.model.Runs {
		for _, u := range f.model.Runs[r].Upper() {
			f.model.Items[u.Item].Most += u.N
		}
	}
	for k := range f.model.Kinds {
		var bars []bool
		any := false
		for i := range f.model.Items {
			bad := f.grades[i] > f.kindOf[k].grade || f.items[i].lot >= 0 && f.lotNames[f.items[i].lot] != f.kindOf[k].lot
			if part := f.model.Kinds[k].Part; part[0] > 0 && f.model.Items[i].Orientations[0].Size > max(part[0], part[1]) {
				bad = true // longer than either part that the yard's cut leaves
			}
			bars = append(bars, bad)
			any = any || bad
		}
		if any {
			f.model.Kinds[k].Barred = bars
		}
	}
	f.joinKinds()
	r := &f.problem.Rules
	f.model.Exact = r.MinHold > 0
	for i := range f.model.Items {
		for _, w := range f.model.Items[i].Orientations {
			// Where an end reaches behind the other a neighbor may count on it.
			s := int64(0)
			for _, c := range [2]int{w.Left, w.Right} {
				if c >= 0 {
					s += int64(f.ends[c].setback) * f.double
				}
			}
			if w.Left >= 0 && w.Left == w.Right {
				s /= 2
			}
			if s > w.Size {
				f.model.Exact = true
			}
		}
	}
	for _, e := range f.ends {
		f.model.Setbacks = append(f.model.Setbacks, int64(e.setback)*f.double)
	}
}

// joinKinds makes one kind of those that ask for the same.
func (f *free) joinKinds() {
	// Those that can be alike by what a key holds; the rest is compared.
	type key struct {
		bars             string
		most, hold, kerf int64
		part             [2]int64
		trim             [2]bool
		spare            bool
	}
	var kinds []rules.PatternRules
	at := map[key][]int{}
	to := make([]int, len(f.model.Kinds))
next:
	for k := range f.model.Kinds {
		a := &f.model.Kinds[k]
		bars := make([]byte, len(a.Barred))
		for i, bad := range a.Barred {
			if bad {
				bars[i] = 1
			}
		}
		x := key{string(bars), a.Most, a.Hold, a.Kerf, a.Part, a.Trim, a.Spare}
		for _, j := range at[x] {
			if slices.Equal(a.Salvage, kinds[j].Salvage) {
				to[k] = j
				continue next
			}
		}
		to[k] = len(kinds)
		at[x] = append(at[x], len(kinds))
		kinds = append(kinds, *a)
	}
	f.model.Kinds = kinds
	for b := range f.model.Bins {
		f.model.Bins[b].Kind = to[f.model.Bins[b].Kind]
	}
}

// divide divides sizes and costs by what they have in common, and makes sure that sums
// stay in range.
func (f *free) divide() error {
	m := &f.model
	var g, c int64
	size := func(see func(*int64)) {
		for i := range m.Items {
			if m.Items[i].Alone {
				continue
			}
			for w := range m.Items[i].Orientations {
				see(&m.Items[i].Orientations[w].Size)
			}
		}
		for b := range m.Bins {
			see(&m.Bins[b].Cap)
		}
		for k := range m.Kinds {
			kd := &m.Kinds[k]
			see(&kd.Hold)
			see(&kd.Kerf)
			see(&kd.Part[0])
			see(&kd.Part[1])
			for s := range kd.Salvage {
				see(&kd.Salvage[s].Length)
			}
		}
	}
	size(func(v *int64) { g = gcd(g, max(*v, -*v)) })
	for _, s := range m.Setbacks {
		g = gcd(g, s/2)
	}
	size(func(v *int64) { *v /= g })
	for s := range m.Setbacks {
		m.Setbacks[s] /= g
	}
	f.unit = g
	cost := func(see func(*int64)) {
		for i := range m.Classes {
			for t := range m.Classes[i].Tiers {
				see(&m.Classes[i].Tiers[t].Price)
			}
		}
		for b := range m.Bins {
			see(&m.Bins[b].Own[rules.Price])
		}
		for s := range m.Suppliers {
			see(&m.Suppliers[s].Charge)
		}
		for r := range m.Runs {
			for a := range m.Runs[r].Arcs {
				see(&m.Runs[r].Arcs[a].Cost)
			}
		}
	}
	cost(func(v *int64) { c = gcd(c, *v) })
	c = max(c, 1)
	cost(func(v *int64) { *v /= c })
	f.costUnit = c

	// No plan costs more than every class bought out as far as it can be of use.
	var sum wide.Int
	for i := range m.Classes {
		top := int64(0)
		for _, t := range m.Classes[i].Tiers {
			top = max(top, t.Price)
		}
		sum.AddMul(top, min(m.Classes[i].Limit, f.useful+m.Classes[i].Bundle+m.Classes[i].Minimum))
		for _, b := range m.Classes[i].Bins {
			sum.AddMul(m.Bins[b].Own[rules.Price], f.useful)
		}
	}
	for s := range m.Suppliers {
		sum.AddMul(m.Suppliers[s].Charge, 1)
	}
	for r := range m.Runs {
		for _, a := range m.Runs[r].Arcs {
			sum.AddMul(a.Cost, 1)
		}
	}
	if v, ok := sum.Int64(); !ok || v > 1<<50 || v > math.MaxInt64/c {
		return fieldError("sticks", "too dear in total", "prices and numbers of sticks whose total stays in range")
	}
	var all wide.Int
	for i := range m.Items {
		for _, w := range m.Items[i].Orientations {
			all.AddMul(w.Size, m.Items[i].Most+1)
		}
	}
	for b := range m.Bins {
		all.AddMul(m.Bins[b].Cap, 1)
	}
	if v, ok := all.Int64(); !ok || v > 1<<56 {
		return fieldError("pieces", "too long in total", fmt.Sprintf("a total length, kerfs included, below %v", measure.Length(min((1<<56)/f.double, math.MaxInt64/g)*g/f.double).About()))
	}
	return nil
}
