package main

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock/takeoff"
)

func Example() {
	if err := run(os.Stdout); err != nil {
		fmt.Println(err)
	}
	// Output:
	// Before the work begins
	//
	// - lead paint (painted trim in a building from before 1978): Treat old paint as
	//   leaded until a test says otherwise. No flame, no heat gun at 1,100 F or more,
	//   no power sanding, grinding or planing without a shroud and a HEPA vacuum. Keep
	//   the dust in and children out.
	// - lead paint (paid work in target housing and child-occupied facilities from
	//   before 1978): The federal renovation rule covers work that disturbs more than
	//   6 sq ft of painted surface in a room within 30 days, or 20 sq ft outside; a
	//   removed part counts with its entire painted surface. Demolition of painted
	//   surfaces, window replacement and any practice forbidden above are never minor
	//   repair, however small. In housing with federal assistance the limit is 2 sq ft
	//   in a room, or a tenth of the surface of a small type of component such as
	//   baseboard and other trim. What an owner says about the paint is not a test.
	//   States may be stricter and cover other buildings.
	// - lead paint (workers at painted surfaces with lead, in any building): There is
	//   no minimum area: an employer protects workers from the first cut. Until the
	//   air has been measured, demolition, scraping and sanding by hand and heat guns
	//   count as above the limit of 50 ug/m3 (action level 30 ug/m3, both as an 8-hour
	//   average): respirators, protective clothing, washing, training and blood tests.
	//   States may be stricter, as California is.
	// - lead paint (cloakroom: 28.33 sq ft of painted trim removed, the limit is 6 sq
	//   ft): Over the limit of the renovation rule. Have the paint tested by a person
	//   certified for it, or hire a certified renovator and follow lead-safe practice;
	//   check what your state adds.
	// - saws (cutting): Keep the guards that came with a tool on it. Never cross arms.
	//   Let the blade stop before you reach in.
	// - saws (cutting): Keep your hands 6 in from the blade, wear eye protection,
	//   unplug to change a blade, and follow the saw's own manual where it says more.
	// - small pieces (returns and short pieces): Do not hold a short piece at a power
	//   saw: one table-saw manual forbids crosscutting under 6 in, one school shop
	//   sets 12 in as the minimum at a miter saw. Cut small parts off the end of a
	//   long piece, clamp it, and let the blade stop.
	// - nailers (driving nails and brads with a nailer): Use a full sequential
	//   trigger: a contact trigger doubles the risk of injury. Two of five apprentices
	//   were hurt within four years, most of all where one hand holds the piece: keep
	//   that hand 12 in away and out of the line of fire, since a nail can curl out of
	//   fiberboard or off a metal plate. Wear eye protection, and disconnect the air
	//   or the battery before you clear a jam.
	// - nailers (a pneumatic nailer with automatic feed): Above 100 psi its muzzle has
	//   a device that keeps it from firing unless it touches the work. Never exceed
	//   the rated pressure of the tool.
	// - compressed air (compressor and hoses): Secure the couplings, do not lift or
	//   lower tools by their hoses, and fit a shutoff at the source of a hose of more
	//   than 1/2 in inside diameter. Clean with air below 30 psi only, with eye
	//   protection and chip guarding.
	// - electric power (cords and plugged-in tools): Plug into circuits with
	//   ground-fault protection, or follow an assured equipment grounding program. Use
	//   undamaged three-wire cords, out of water, where no door pinches them and
	//   nobody trips over them.
	// - wood dust (sawing and sanding wood): Collect dust at the tool and wear a
	//   respirator that fits. OSHA's limits are 15 mg/m3 total and 5 mg/m3 respirable;
	//   NIOSH recommends 1 mg/m3.
	// - silica (cutting, grinding or mixing stone, tile, mortar or grout): Respirable
	//   silica: the limit is 50 ug/m3, the action level 25 ug/m3, as an 8-hour
	//   average. Cut wet, or with extraction made for it; indoors at any time, and
	//   outdoors beyond four hours a day, a hand-held wet saw also calls for a
	//   respirator. Clean up slurry before it dries; never sweep dry.
	// - silica (grinding edges): A grinder needs a shroud and a dust collector that
	//   draws 25 cu ft a minute for each inch of its wheel through a filter for 99 %
	//   of the dust; indoors beyond four hours a day it also calls for a respirator.
	// - silica (stone by its kind): Engineered quartz is about 93 % silica, quartzite
	//   up to 98 %, granite 25 to 30 %; marble is mostly carbonate.
	// - silica (wet saw): Water and power: plug a wet saw into a circuit with
	//   ground-fault protection, and keep the cord out of the water.
	// - silica (masonry saw): A masonry saw has a semicircular guard that holds back
	//   fragments of the blade.
	// - respirators (wearing a respirator): It protects only a person who is medically
	//   cleared for it, fit-tested and trained; a beard breaks the seal. An employer
	//   has a written program for it.
	// - solvents (paint, adhesive, sealant and cleaner): Ventilate, keep flames and
	//   pilot lights away, bring in no more than one day takes, read the label and the
	//   safety data sheet, and wear the gloves that the sheet names.
	// - oily rags (rags with linseed oil, stain or alkyd paint): They heat up and
	//   catch fire by themselves. Keep them in a fire-resistant covered container
	//   until they leave the site.
	// - noise (saws, nailers and grinders): Protect your hearing: 90 dBA is allowed
	//   for 8 hours a day, 100 dBA for 2, 110 dBA for half an hour. Every 5 dBA more
	//   cut the time in half.
	// - hidden services (nailing and opening walls): Look for wiring and pipes in the
	//   path of the nails, find out which circuits are live before you cut or pry, and
	//   leave old black mastic alone: it may hold asbestos. Stop and call the licensed
	//   trade.
	// - general (all of the above): Local codes, the product's own sheet and licensed
	//   practice take precedence over anything printed here; states may be stricter.
	//
	// Base in the cloakroom, installed and finished
	//
	// painted pine: 39' 1/4" in 8 pieces from 3 sticks (copes 5, outside miters 1, stops 4)
	// honed slate: 39' 1/4" in 16 pieces from 14 sticks (outside miters 1, square joints 13, stops 4)
	//
	//                             painted pine   honed slate
	// sticks                            $71.24       $291.20
	// consumables                      $112.45        $71.70
	// delivery of stone                  $0.00        $25.00
	// labor                            $420.93       $366.09
	// labor burden 18%                  $75.77        $65.90
	// tax 6.5%                          $11.94        $23.59
	// contingency 10%                   $69.23        $84.35
	// total                            $761.56       $927.83
	// per foot                          $19.52        $23.78
	//
	// Cheaper here: painted pine.
	// honed slate: the sticks cost $291.20; at $149.28 it would cost the same as painted pine.
	// painted pine: the sticks cost $71.24; at $213.16 it would cost the same as honed slate.
	//
	// Which is cheaper in a room of another size, foot by foot
	//
	//     1' to    5'   honed slate
	//     6' to  120'   painted pine
}

func bids(t *testing.T) (j job, painted, stone bid) {
	t.Helper()
	if err := measure.UnmarshalStrict(data, &j); err != nil {
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

func total(t *testing.T, c estimate.Alternative, terms estimate.Terms) int64 {
	t.Helper()
	q, err := estimate.NewQuote(c, terms)
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
	spans, err := estimate.BreakEven(a, b, j.Terms, estimate.LengthRange{From: measure.Foot, To: 120 * measure.Foot, Step: measure.Foot})
	if err != nil {
		t.Fatal(err)
	}
	if len(spans) < 2 {
		t.Errorf("there is only one span: %v", spans)
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

// In the room itself the offer equals the job, except for whole sticks and for labor that is rounded
// once.
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
		if d := c.Labor - b.candidate.Labor; d < 0 || d > measure.Duration(time.Minute) {
			t.Errorf("%s: labor is off by %s", c.Label, d)
		}
	}
}

// The price at which the painted base draws level, and a cent more.
func TestLevel(t *testing.T) {
	j, painted, stone := bids(t)
	most, ok, err := estimate.BreakEvenPrice(painted.candidate, stone.candidate, j.Terms)
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	c := painted.candidate
	c.StickCost = most
	if total(t, c, j.Terms) > total(t, stone.candidate, j.Terms) {
		t.Errorf("at %d it is more expensive", most)
	}
	c.StickCost++
	if total(t, c, j.Terms) <= total(t, stone.candidate, j.Terms) {
		t.Errorf("at %d it is not more expensive", c.StickCost)
	}
}

// Cautions come before the work that they concern.
func TestCautionsComeFirst(t *testing.T) {
	var out strings.Builder
	if err := run(&out); err != nil {
		t.Fatal(err)
	}
	all, err := finish.Cautions(measure.Locale{}, finish.HazardLeadPaint, finish.HazardSaws, finish.HazardNailers, finish.HazardSilica, finish.HazardSolvents)
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Join(strings.Fields(out.String()), " ")
	work := strings.Index(text, "Base in the cloakroom")
	for _, c := range all {
		if at := strings.Index(text, c.Text); at < 0 || at > work {
			t.Errorf("at %d, the work at %d: %s", at, work, c.Text)
		}
	}
}

// Only stone has to be delivered; sticks of pine go on the roof of the car.
func TestDeliveryIsOfStone(t *testing.T) {
	_, painted, stone := bids(t)
	if len(painted.candidate.Costs) != 0 || len(stone.candidate.Costs) != 1 {
		t.Errorf("additional costs of the painted base %v, of the stone %v", painted.candidate.Costs, stone.candidate.Costs)
	}
}

// The sealant of the stone base, from the walls: floor and top of all but the
// doors, and up every inside corner of the room.
func TestSealantFromTheWalls(t *testing.T) {
	j, _, stone := bids(t)
	var along measure.Length
	inside := 0
	for _, w := range j.Room.Walls {
		along += w.Length
		for _, o := range w.Openings {
			along -= o.Width + 2*(3*measure.Inch/16) + 2*j.Casing // the usual reveal and the casing that stays
		}
		if w.Corner.Kind == takeoff.CornerInside {
			inside++
		}
	}
	height := stone.base.Profile.Width
	want := (2*along + measure.Length(inside)*height).Feet() * 12 / 64
	for _, s := range stone.done.Steps {
		if s.Task == finish.TaskCaulk {
			v, _ := s.Need.Net.Volume()
			if got := v.CubicInches(); got < want*0.99 || got > want*1.01 { // corners take the thickness of the strips
				t.Errorf("sealant %v cubic inches, from the walls %v", got, want)
			}
			return
		}
	}
	t.Error("nothing is sealed")
}
