package master

import (
	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/pricing"
)

// SeedByLength adds columns before there are duals: patterns that fill the bins well. It finds them by
// pricing with duals proportional to size, perturbed a little more in each round. A relaxation that begins
// with good patterns has reasonable duals from the start.
func (m *Master) SeedByLength(rounds int, mt *meter.Meter) {
	rate := 0.0 // cost of a unit of size, of the cheapest bin
	for b, bin := range m.Plain.Bins {
		if m.Box.Hi[b] > 0 && bin.Cap > 0 && bin.Cost > 0 {
			if r := float64(bin.Cost) / float64(bin.Cap); rate == 0 || r < rate {
				rate = r
			}
		}
	}
	if rate == 0 {
		return
	}
	state := uint32(1)
	for round := range rounds {
		spread := 0.01 * float64(round)
		for i, it := range m.Plain.Items {
			state = state*1664525 + 1013904223
			u := float64(float64(state>>8) / (1 << 24))
			m.floatDual[i] = float64(rate*float64(it.Size)) * (1 + float64(spread*(u-1)))
		}
		clear(m.floatDual[m.place.bin:])
		scale := m.roundDuals(false, m.scale)
		// Accept patterns that fill half a percent less than the bin, and more slack in later rounds.
		for b, bin := range m.Plain.Bins {
			if m.prices.Need[b] != pricing.Closed {
				m.prices.Need[b] -= bin.Cost * scale / 200 * int64(1+2*round)
			}
		}
		if !m.price(mt) {
			return
		}
		m.generate(mt)
	}
}
