package trimjob

// MaterialBound is a cost in cents that no plan can beat: all length that the rack cannot hold,
// at the lowest price per unit of stick length, with kerfs included, rounded up to a whole
// cent.
func (j Job) MaterialBound() int64 {
	var need int64
	for _, p := range j.Pieces {
		need += (p.Length + j.Kerf) * p.Demand
	}
	for _, o := range j.Offcuts {
		need -= (o.Length + j.Kerf) * o.Supply
	}
	if need <= 0 {
		return 0
	}
	var best int64
	for i, s := range j.Stock {
		size := s.Length + j.Kerf
		if c := (need*s.Price + size - 1) / size; i == 0 || c < best {
			best = c
		}
	}
	return best
}

// FirstFit is the cost in cents of first fit decreasing: pieces by decreasing length, each into
// the first stick with room, offcuts (shortest first) before opened sticks. A new stick has one
// preferred length if the piece fits and the supply lasts, else the shortest that fits; the
// cheapest of all preferences counts. It returns false if none succeeds.
func (j Job) FirstFit() (cents int64, ok bool) {
	for preferred := range j.Stock {
		if c, done := j.firstFit(preferred); done && (!ok || c < cents) {
			cents, ok = c, true
		}
	}
	return cents, ok
}

func (j Job) firstFit(preferred int) (cents int64, ok bool) {
	left := make([]int64, len(j.Stock))
	for i, s := range j.Stock {
		left[i] = s.Supply
	}
	var room []int64
	for i := len(j.Offcuts) - 1; i >= 0; i-- {
		for range j.Offcuts[i].Supply {
			room = append(room, j.Offcuts[i].Length+j.Kerf)
		}
	}
	fits := func(i int, p Want) bool { return j.Stock[i].Length >= p.Length && left[i] != 0 }
	for _, p := range j.Pieces {
		size := p.Length + j.Kerf
		from := 0 // sticks before this one cannot take this length
		for range p.Demand {
			for from < len(room) && room[from] < size {
				from++
			}
			if from == len(room) {
				pick := preferred
				if !fits(pick, p) {
					for pick = 0; pick < len(j.Stock) && !fits(pick, p); pick++ {
					}
				}
				if pick == len(j.Stock) {
					return 0, false
				}
				if left[pick] > 0 {
					left[pick]--
				}
				cents += j.Stock[pick].Price
				room = append(room, j.Stock[pick].Length+j.Kerf)
			}
			room[from] -= size
		}
	}
	return cents, true
}
