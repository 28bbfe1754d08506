package finish

import (
	"slices"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// A Hazard names a danger, such as silica dust. A [Product], a [Job] or a [Step] names its
// hazards, and [Cautions] says what to print for them. Later versions may know more.
type Hazard string

const (
	HazardSaws           Hazard = "saws"         // any powered cut
	HazardSmallPieces    Hazard = "small pieces" // returns and other short parts
	HazardNailers        Hazard = "nailers"      // pneumatic and battery nailers
	HazardWoodDust       Hazard = "wood dust"
	HazardFiberboard     Hazard = "fiberboard"  // MDF and the like: formaldehyde besides dust
	HazardSilica         Hazard = "silica"      // stone, tile, mortar, engineered quartz
	HazardSolvents       Hazard = "solvents"    // paint, adhesive, cleaner
	HazardHotPlastic     Hazard = "hot plastic" // PVC and polystyrene trim under the saw
	HazardNoise          Hazard = "noise"
	HazardLeadPaint      Hazard = "lead paint"      // painted trim of a house before 1978
	HazardHiddenServices Hazard = "hidden services" // wiring, plumbing, old mastic behind the wall
	HazardAsbestos       Hazard = "asbestos"        // old mastic, floor tile, plaster, insulation
	HazardScrap          Hazard = "scrap"           // trim that comes off: nails, splinters, pry bars
	HazardLadders        Hazard = "ladders"
	HazardGeneral        Hazard = "general" // what holds for every other caution; never has to be asked for
)

// hazards lists them in the order in which their cautions are printed.
var hazards = [...]Hazard{
	HazardSaws, HazardSmallPieces, HazardNailers, HazardWoodDust, HazardFiberboard, HazardSilica, HazardSolvents, HazardHotPlastic, HazardNoise, HazardLeadPaint, HazardHiddenServices, HazardAsbestos, HazardScrap, HazardLadders, HazardGeneral,
}

// checkHazards reports the first of the hazards that has no caution.
func checkHazards(all []Hazard) error {
	for i, h := range all {
		if !slices.Contains(hazards[:], h) {
			return fault.Field("hazards["+strconv.Itoa(i)+"]", string(h), "a known hazard, such as saws or silica")
		}
	}
	return nil
}

// Caution is one thing to print before the work starts.
type Caution struct {
	Topic   Hazard `json:"topic"`   // what may hurt
	Trigger string `json:"trigger"` // what in the job calls for it
	Text    string `json:"text"`    // what to do about it
	Source  string `json:"source"`  // publication, or "common practice, no source"
}

const commonPractice = "common practice, no source"

// The texts of 40 CFR 745.82 to 745.103, of 24 CFR 35.1350, of 29 CFR 1926.62, 1926.252,
// 1926.302 and 1926.404 are rendered from memory.
var cautions = map[Hazard][]Caution{
	HazardSaws: {
		{HazardSaws, "cutting", "Keep the guards that a tool was made with in use. Never cross arms. Let the blade stop before you reach in.",
			"29 CFR 1926.300(b)(1); Popular Woodworking, April 2008, p. 53"},
		{HazardSaws, "cutting", "Wear eye protection, unplug to change a blade, and follow the saw's own manual where it says more.", commonPractice},
	},
	HazardSmallPieces: {
		{HazardSmallPieces, "returns and short pieces", smallPieces("6 in", "12 in"), smallPiecesSource},
	},
	HazardNailers: {
		{HazardNailers, "driving nails and brads with a nailer", "Use a full sequential trigger: a contact trigger doubles the risk of injury. Keep the hand that holds the trim out of the line of fire, since a nail can curl out of fiberboard or off a metal plate. Wear eye protection, and take off the air or the battery before you clear a jam.",
			"OSHA/NIOSH, Nail Gun Safety (2011); 29 CFR 1926.102 and 1926.302(b)"},
	},
	HazardWoodDust: {
		{HazardWoodDust, "sawing and sanding wood", "Extract dust at the tool and wear a respirator that fits. OSHA's limits are 15 mg/m3 total and 5 mg/m3 respirable; NIOSH recommends 1 mg/m3.",
			"OSHA wood dust page"},
	},
	HazardFiberboard: {
		{HazardFiberboard, "sawing and sanding fiberboard", "Fiberboard bound with urea-formaldehyde can give off formaldehyde for months to years. Extract at the tool and ventilate.",
			"eLCOSH, MDF (2010)"},
	},
	HazardSilica: {
		{HazardSilica, "cutting, grinding or mixing stone, tile, mortar or grout", "Respirable silica: the limit is 50 ug/m3, the action level 25 ug/m3, as an 8-hour average. Cut wet, or with extraction made for it; indoors at any time, and outdoors beyond four hours a day, a hand-held wet saw also calls for a respirator. Clean up slurry before it dries; never sweep dry.",
			"29 CFR 1926.1153 and its Table 1"},
		{HazardSilica, "wet saw", "Water and power: plug a wet saw into a circuit with ground-fault protection, and keep the cord out of the water.", "29 CFR 1926.404(b)(1)"},
		{HazardSilica, "masonry saw", "A masonry saw has a semicircular guard that holds back fragments of the blade.", "29 CFR 1926.702(i)"},
	},
	HazardSolvents: {
		{HazardSolvents, "paint, adhesive, sealant and cleaner", "Ventilate, keep flames and pilot lights away, wear the gloves that the product's sheet names, and keep oily rags, which can catch fire by themselves, in a fire-resistant covered container until they leave the site.",
			"29 CFR 1926.252(e); the rest common practice, no source"},
	},
	HazardHotPlastic: {
		{HazardHotPlastic, "cutting plastic trim", "Plastic melts and grabs the blade. Use a blade made for it and a slow feed; rip narrow stock with a push stick, featherboards and a riving knife.",
			"California Code of Regulations, Title 8, section 4296"},
	},
	HazardNoise: {
		{HazardNoise, "saws, nailers and grinders", "Protect your hearing: 90 dBA is allowed for 8 hours a day, 100 dBA for 2, 110 dBA for half an hour.",
			"29 CFR 1926.52, Table D-2"},
	},
	HazardHiddenServices: {
		{HazardHiddenServices, "nailing and opening walls", "Look for wiring and pipes in the path of the nails, and leave old black mastic alone: it may hold asbestos. Stop and call the licensed trade.", commonPractice},
	},
	HazardAsbestos: {
		asbestos("9 in"),
	},
	HazardScrap: {
		{HazardScrap, "trim that comes off and its nails", "Wear eye protection, gloves and sturdy soles. Pull nails or bend them over before a piece is put down, keep walkways clear of scrap, and carry it out as you go.",
			"29 CFR 1926.25 and 1926.102"},
	},
	HazardLadders: {
		{HazardLadders, "crown and other high work", "Set the ladder on firm level ground, keep three points of contact and move it rather than reach.", commonPractice},
	},
	HazardGeneral: {
		{HazardGeneral, "all of the above", "Local codes, the product's own sheet and licensed practice go before anything printed here.", commonPractice},
	},
}

// metricCautions takes the place of cautions whose texts have measures in inches or °F.
var metricCautions = map[Hazard][]Caution{
	HazardAsbestos: {
		asbestos("230 mm"),
	},
	HazardSmallPieces: {
		{HazardSmallPieces, "returns and short pieces", smallPieces("153 mm", "305 mm"), smallPiecesSource},
	},
}

// asbestos is the caution for old materials, with the size of the usual tile.
func asbestos(tile string) Caution {
	return Caution{HazardAsbestos, "old mastic, " + tile + " floor tile, plaster and insulation on pipes",
		"Stop before you disturb them and have them tested by an accredited laboratory: old black or tan mastic, floor tile, plaster and pipe wrap may hold asbestos, and flooring and insulation from before 1981 are presumed to. Do not scrape, sand, drill or sweep them. What holds asbestos is for a licensed abatement contractor; states may be stricter.",
		"29 CFR 1926.1101(k)"}
}

// smallPieces is the caution for short pieces with the two lengths of its sources.
func smallPieces(manual, school string) string {
	return "Do not hold a short piece at a power saw: one table-saw manual forbids crosscutting under " + manual + ", one school shop sets " + school + " as the least at a miter saw. Cut small parts off the end of a long piece, clamp it, and let the blade stop."
}

const smallPiecesSource = "table-saw manual; school shop sheet; Wood magazine"

// Cautions returns what to print for the given hazards as a fresh slice, in the units of
// the country: each hazard once, in the order in which the constants are listed, and last the one
// that defers to local codes, the product's own sheet and licensed practice.
// No hazard has no caution. An unknown hazard is a [*measure.FieldError].
func Cautions(c measure.Locale, asked ...Hazard) ([]Caution, error) {
	if err := checkHazards(asked); err != nil {
		return nil, err
	}
	var out []Caution
	for _, h := range hazards {
		if slices.Contains(asked, h) || h == HazardGeneral && len(asked) > 0 {
			all := cautions[h]
			if h == HazardLeadPaint {
				all = USLeadRule().general(c)
			} else if m, ok := metricCautions[h]; ok && c.Metric {
				all = m
			}
			out = append(out, all...)
		}
	}
	return out, nil
}
