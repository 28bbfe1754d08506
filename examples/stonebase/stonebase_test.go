package main

import (
	"fmt"
	"os"
	"testing"

	"example.com/longpoint/finish"
	"example.com/longpoint/measure"
)

func Example() {
	if err := run(os.Stdout); err != nil {
		fmt.Println(err)
	}
	// Output:
	// Base in the cloakroom, on the wall and finished
	//
	// painted pine: 39' 1/4" in 8 pieces from 3 sticks (copes 5, outside miters 1, stops 4)
	// honed slate: 39' 1/4" in 16 pieces from 14 sticks (outside miters 1, square joints 13, stops 4)
	//
	//                             painted pine   honed slate
	// sticks                            $71.24       $291.20
	// consumables                       $73.35        $71.70
	// delivery of long sticks           $45.00         $0.00
	// labor                            $290.49       $407.64
	// labor burden 18%                  $52.29        $73.38
	// tax 6.5%                           $9.40        $23.59
	// contingency 10%                   $54.18        $86.75
	// total                            $595.95       $954.26
	// per foot                          $15.27        $24.46
	//
	// Cheaper here: painted pine.
	// honed slate: the sticks cost $291.20; as a gift they would still be dearer on the wall.
	// painted pine: the sticks cost $71.24; at $377.10 it would draw level with honed slate.
	//
	// Which is cheaper in a room of another size, foot by foot
	//
	//     1' to    4'   honed slate
	//     5' to  120'   painted pine
	//
	// Before the work begins
	//
	// - lead paint (painted trim in a house built before 1978): Treat old paint as
	//   leaded until a test says otherwise. Paid work that disturbs more than 6 ft2 of
	//   it in a room within 30 days falls under the renovation rule, and a part taken
	//   off counts with its whole painted surface. Housing with federal assistance has
	//   a 2 ft2 limit; states may be stricter.
	// - lead paint (cloakroom: 28.33 sq ft of painted trim removed, the limit is 6 sq
	//   ft): Over the limit of the renovation rule. Have the paint tested, or hire a
	//   certified renovator and follow lead-safe practice; check what your state adds.
	// - saws (cutting): Keep the guards that a tool was made with in use. Never cross
	//   arms. Let the blade stop before you reach in.
	// - saws (cutting): Wear eye protection, unplug to change a blade, and follow the
	//   saw's own manual where it says more.
	// - small pieces (returns and short pieces): Do not hold a short piece at a power
	//   saw: one table-saw manual forbids crosscutting under 6 in, one school shop
	//   sets 12 in as the least at a miter saw. Cut small parts off the end of a long
	//   piece, clamp it, and let the blade stop.
	// - wood dust (sawing and sanding wood): Extract dust at the tool and wear a
	//   respirator that fits. OSHA's limits are 15 mg/m3 total and 5 mg/m3 respirable;
	//   NIOSH recommends 1 mg/m3.
	// - silica (cutting, grinding or mixing stone, tile, mortar or grout): Respirable
	//   silica: the limit is 50 ug/m3, the action level 25 ug/m3, as an 8-hour
	//   average. Cut wet, or with extraction made for it; indoors a hand-held wet saw
	//   also calls for a respirator. Clean up slurry before it dries; never sweep dry.
	// - silica (masonry saw): A masonry saw has a semicircular guard that holds back
	//   fragments of the blade.
	// - solvents (paint, adhesive, sealant and cleaner): Ventilate, keep flames and
	//   pilot lights away, wear the gloves that the product's sheet names, and lay
	//   oily rags flat to dry outdoors.
	// - noise (saws, nailers and grinders): Protect your hearing: 90 dBA is allowed
	//   for 8 hours a day, 100 dBA for 2, 110 dBA for half an hour.
	// - hidden services (nailing and opening walls): Look for wiring and pipes in the
	//   path of the nails, and leave old black mastic alone: it may hold asbestos.
	//   Stop and call the licensed trade.
	// - general (all of the above): Local codes, the product's own sheet and licensed
	//   practice go before anything printed here.
}

func bids(t *testing.T) (j job, painted, stone bid) {
	t.Helper()
	if err := finish.Decode(data, &j); err != nil {
		t.Fatal(err)
	}
	var both [2]bid
	for i := range both {
		var err error
		if both[i], err = j.bid(&j.Bases[i]); err != nil {
			t.Fatal(err)
		}
	}
	return j, both[0], both[1]
}

func total(t *testing.T, c finish.Candidate, terms finish.Terms) int64 {
	t.Helper()
	q, err := finish.Price(c, terms)
	if err != nil {
		t.Fatal(err)
	}
	return q.Total
}

// Every foot that is printed as cheaper is cheaper when it is priced by itself.
func TestSpans(t *testing.T) {
	j, painted, stone := bids(t)
	a, err := painted.offer()
	if err != nil {
		t.Fatal(err)
	}
	b, err := stone.offer()
	if err != nil {
		t.Fatal(err)
	}
	spans, err := finish.BreakEven(a, b, j.Terms, finish.Lengths{From: measure.Foot, To: 120 * measure.Foot, Step: measure.Foot})
	if err != nil {
		t.Fatal(err)
	}
	if len(spans) < 2 {
		t.Errorf("there is one span only, and nothing to see: %v", spans)
	}
	next := measure.Foot
	for _, s := range spans {
		if s.From != next {
			t.Errorf("a span begins at %s, want %s", s.From, next)
		}
		for l := s.From; l <= s.To; l += measure.Foot {
			x, err := a.At(l)
			if err != nil {
				t.Fatal(err)
			}
			y, err := b.At(l)
			if err != nil {
				t.Fatal(err)
			}
			want := ""
			switch p, q := total(t, x, j.Terms), total(t, y, j.Terms); {
			case p < q:
				want = a.Label
			case q < p:
				want = b.Label
			}
			if s.Cheaper != want {
				t.Errorf("at %s it says %q, want %q", l, s.Cheaper, want)
			}
		}
		next = s.To + measure.Foot
	}
}

// In the room itself the offer takes what the job takes, but for whole sticks
// and labor that is rounded once.
func TestOfferAgreesWithTheRoom(t *testing.T) {
	_, painted, stone := bids(t)
	for _, b := range []bid{painted, stone} {
		o, err := b.offer()
		if err != nil {
			t.Fatal(err)
		}
		c, err := o.At(b.candidate.Net)
		if err != nil {
			t.Fatal(err)
		}
		if c.Consumables != b.candidate.Consumables {
			t.Errorf("%s: supplies cost %d, want %d", c.Label, c.Consumables, b.candidate.Consumables)
		}
		if d := c.Labor - b.candidate.Labor; d < 0 || d > finish.Minute {
			t.Errorf("%s: labor is off by %s", c.Label, d)
		}
	}
}

// The price at which the painted base draws level, and a cent more.
func TestLevel(t *testing.T) {
	j, painted, stone := bids(t)
	most, ok, err := finish.BreakEvenPrice(painted.candidate, stone.candidate, j.Terms)
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	c := painted.candidate
	c.Sticks = most
	if total(t, c, j.Terms) > total(t, stone.candidate, j.Terms) {
		t.Errorf("at %d it is dearer", most)
	}
	c.Sticks++
	if total(t, c, j.Terms) <= total(t, stone.candidate, j.Terms) {
		t.Errorf("at %d it is not dearer", c.Sticks)
	}
}
