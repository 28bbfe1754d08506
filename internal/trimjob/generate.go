package trimjob

import (
	"cmp"
	"fmt"
	"slices"
)

// The classes of jobs.
const (
	Room  = "room"  // 10 to 25 pieces
	House = "house" // 150 to 400 pieces of 40 to 120 lengths
	Tract = "tract" // 5,000 to 50,000 pieces of 300 to 1,500 lengths

	// Retail is a room of 10 to 40 lengths with five stick lengths at retail prices: a price
	// per foot, whole dollars less two cents, or odd cents.
	Retail = "retail"
)

// class has the parameters of a class of jobs.
type class struct {
	salt    uint64 // separates equal seeds of two classes
	rack    int64  // greatest number of entries on the rack
	demands func(r *source) map[int64]int64
	sell    func(r *source, j *Job)
}

func classOf(name string) (class, bool) {
	switch name {
	case Room:
		return class{0x524f4f4d, 4, roomDemands, sellAny}, true
	case House:
		return class{0x484f555345, 12, houseDemands, sellAny}, true
	case Tract:
		return class{0x5452414354, 40, tractDemands, sellAny}, true
	case Retail:
		return class{0x52455441494c, 4, retailDemands, sellRetail}, true
	}
	return class{}, false
}

// Generate makes the job of a class and a seed. The name is only recorded. The only error is an
// unknown class.
func Generate(className string, seed uint64, name string) (Job, error) {
	c, ok := classOf(className)
	if !ok {
		return Job{}, fmt.Errorf("trimjob.Generate: class %q, want %s, %s, %s or %s", className, Room, House, Tract, Retail)
	}
	r := &source{state: seed*0x9e3779b97f4a7c15 ^ c.salt}
	j := Job{
		Name: name, Class: className, Seed: seed, Unit: unitText, Currency: currencyText,
		Kerf: inch / 8,
	}
	for l, n := range c.demands(r) {
		j.Pieces = append(j.Pieces, Want{l, n})
	}
	slices.SortFunc(j.Pieces, func(a, b Want) int { return cmp.Compare(b.Length, a.Length) })
	c.sell(r, &j)
	j.Offcuts = r.rack(c.rack)
	return j, nil
}

func roomDemands(r *source) map[int64]int64 {
	n := r.between(10, 25)
	kinds := r.between(n/2, n)
	return r.spread(r.distinct(kinds, map[int64]bool{}), n)
}

func houseDemands(r *source) map[int64]int64 {
	n := r.between(150, 400)
	kinds := r.between(40, min(120, n/2))
	return r.spread(r.distinct(kinds, map[int64]bool{}), n)
}

func retailDemands(r *source) map[int64]int64 {
	kinds := 5 * r.between(2, 8)
	return r.spread(r.distinct(kinds, map[int64]bool{}), kinds+r.between(kinds/3, kinds+15))
}

// sellAny offers some lengths, some possibly in short supply.
func sellAny(r *source, j *Job) {
	j.Stock = r.stock(j.Pieces[0].Length)
	r.runShort(*j)
}

// sellRetail offers all lengths. Those of 8 to 14 ft are sometimes in short supply; 16 ft,
// which holds every piece, is always available.
func sellRetail(r *source, j *Job) {
	perFoot := r.between(70, 480)
	habit := r.between(0, 2)
	for f := int64(8); f <= 16; f += 2 {
		price := perFoot * f
		switch habit {
		case 1: // whole dollars less two cents
			price = max((price*r.between(92, 108)/100+50)/100, 1)*100 - 2
		case 2: // odd cents
			price = price * r.between(930, 1070) / 1000
		}
		supply := int64(Unlimited)
		if f < 16 && r.chance(30) {
			supply = r.between(1, 3)
		}
		j.Stock = append(j.Stock, Source{f * foot, price, supply})
	}
}

// tractDemands draws a few house plans, each built many times; some lengths are common to every
// plan. The number of each scales the total to the target; a draw outside the class's range is
// discarded.
func tractDemands(r *source) map[int64]int64 {
	for {
		plans := r.between(4, 14)
		kinds := r.between(300, 1500)
		target := r.between(5000, 50000)
		seen := map[int64]bool{}
		common := r.distinct(kinds/10, seen)
		demand := map[int64]int64{}
		perPlan := (kinds - int64(len(common))) / plans
		for range plans {
			own := r.distinct(perPlan, seen)
			k := int64(len(own))
			pieces := r.between(k+k/2, 3*k) + int64(len(common))
			plan := r.spread(append(own, common...), pieces)
			houses := max(1, target/plans/pieces)
			houses = max(1, houses+r.between(-houses/3, houses/3))
			for l, n := range plan {
				demand[l] += n * houses
			}
		}
		for k := r.between(0, 200); k > 0; k-- { // single pieces, remeasured on site
			if len(seen) < 1500 {
				demand[r.distinct(1, seen)[0]]++
			}
		}
		var n int64
		for _, k := range demand {
			n += k
		}
		if n >= 5000 && n <= 50000 && len(demand) >= 300 && len(demand) <= 1500 {
			return demand
		}
	}
}

// stock draws two or more stick lengths, one of which holds the longest piece. The price per
// foot rises gently with the length of the stick.
func (r *source) stock(longestPiece int64) []Source {
	var feet []int64
	for len(feet) < 2 || feet[len(feet)-1]*foot < longestPiece {
		feet = feet[:0]
		for _, f := range []int64{8, 10, 12, 14, 16} {
			if r.chance(62) {
				feet = append(feet, f)
			}
		}
	}
	perFoot := r.between(70, 480) // cents, at 8 ft
	rise := r.between(20, 120)    // thousandths, from 8 ft to 16 ft
	var out []Source
	for _, f := range feet {
		p := perFoot * f * (8000 + rise*(f-8))
		out = append(out, Source{f * foot, (p + 4000) / 8000, Unlimited})
	}
	return out
}

// runShort limits the supply of some lengths. The job stays feasible: a length that holds
// everything stays unlimited, or the longest is limited to no less than it alone can hold.
func (r *source) runShort(j Job) {
	if !r.chance(45) {
		return
	}
	last := len(j.Stock) - 1
	var total int64
	for _, p := range j.Pieces {
		total += (p.Length + j.Kerf) * p.Demand
	}
	for i := range j.Stock[:last] {
		if r.chance(50) {
			j.Stock[i].Supply = r.between(0, 2+total/j.Stock[i].Length/3)
		}
	}
	if last > 0 && j.Stock[last-1].Supply == Unlimited && r.chance(40) {
		var need int64
		for _, p := range j.Pieces {
			if p.Length > j.Stock[last-1].Length {
				need += p.Demand
			}
		}
		j.Stock[last].Supply = need + r.between(0, 2+need/4)
	}
}

// rack draws the offcuts of earlier jobs.
func (r *source) rack(most int64) []Source {
	out := []Source{}
	if !r.chance(75) {
		return out
	}
	seen := map[int64]bool{}
	for k := r.between(1, most); k > 0; k-- {
		l := r.snap(r.between(1*foot, 7*foot))
		if seen[l] {
			continue
		}
		seen[l] = true
		out = append(out, Source{l, 0, r.between(1, 3)})
	}
	slices.SortFunc(out, func(a, b Source) int { return cmp.Compare(b.Length, a.Length) })
	return out
}
