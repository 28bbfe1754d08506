package finish

// Hazard is a thing that can hurt. A [Product] or a [Step] names its hazards,
// and [Cautions] says what to print for them.
type Hazard uint8

const (
	HazardSaws        Hazard = iota // any powered cut
	HazardSmallPieces               // returns and other short parts
	HazardNailers                   // pneumatic and battery nailers
	HazardWoodDust
	HazardFiberboard // MDF and the like: formaldehyde besides dust
	HazardSilica     // stone, tile, mortar, engineered quartz
	HazardSolvents   // paint, adhesive, cleaner
	HazardHotPlastic // PVC and polystyrene trim under the saw
	HazardNoise
	HazardLeadPaint      // painted trim of a house before 1978
	HazardHiddenServices // wiring, plumbing, old mastic behind the wall
	HazardLadders
	HazardGeneral // what holds for every other caution; never has to be asked for
)

var hazardNames = [...]string{
	"saws", "small pieces", "nailers", "wood dust", "fiberboard", "silica", "solvents",
	"hot plastic", "noise", "lead paint", "hidden services", "ladders", "general",
}

// String returns the hazard in words.
func (h Hazard) String() string {
	if int(h) < len(hazardNames) {
		return hazardNames[h]
	}
	return "unknown hazard"
}

// MarshalText writes the hazard's name, such as "silica".
func (h Hazard) MarshalText() ([]byte, error) { return marshalName("hazard", h, hazardNames[:]) }

// UnmarshalText reads a hazard's name.
func (h *Hazard) UnmarshalText(b []byte) error {
	return unmarshalName("hazard", string(b), hazardNames[:], h)
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
var cautions = [...][]Caution{
	HazardSaws: {
		{HazardSaws, "cutting", "Keep the guards that a tool was made with in use. Never cross arms. Let the blade stop before you reach in.",
			"29 CFR 1926.300(b)(1); Popular Woodworking, April 2008, p. 53"},
		{HazardSaws, "cutting", "Wear eye protection, unplug to change a blade, and follow the saw's own manual where it says more.", commonPractice},
	},
	HazardSmallPieces: {
		{HazardSmallPieces, "returns and short pieces", "Do not hold a short piece at a power saw: one table-saw manual forbids crosscutting under 6 in, one school shop sets 12 in as the least at a miter saw. Cut small parts off the end of a long piece, clamp it, and let the blade stop.",
			"table-saw manual; school shop sheet; Wood magazine"},
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
	HazardLeadPaint: {
		{HazardLeadPaint, "painted trim in a building from before 1978", "Treat old paint as leaded until a test says otherwise. No flame, no heat gun at 1,100 F or more, no power sanding, grinding or planing without a shroud and a HEPA vacuum. Keep the dust in and children out.",
			"40 CFR 745.85(a)(3)"},
		{HazardLeadPaint, "paid work in target housing and child-occupied facilities from before 1978", "The federal renovation rule covers work that disturbs more than 6 ft2 of painted surface in a room within 30 days, or 20 ft2 outside; a part taken off counts with its whole painted surface. Demolition of painted surfaces, window replacement and any practice forbidden above are never minor repair, however small. In housing with federal assistance the limit is 2 ft2 in a room, or a tenth of the surface of a small kind of part such as baseboard and other trim. What an owner says of the paint is no test. States may be stricter and cover other buildings.",
			"40 CFR 745.83; EPA frequent questions 23002-18379; EPA trainer notes; 24 CFR 35.1350(d)"},
		{HazardLeadPaint, "workers at painted surfaces with lead, in any building", "There is no least area: whoever employs people protects them from the first cut. Until the air has been measured, demolition, scraping and sanding by hand and heat guns count as above the limit of 50 ug/m3 (action level 30 ug/m3, both as an 8-hour average): respirators, protective clothing, washing, training and blood tests.",
			"29 CFR 1926.62"},
	},
	HazardHiddenServices: {
		{HazardHiddenServices, "nailing and opening walls", "Look for wiring and pipes in the path of the nails, and leave old black mastic alone: it may hold asbestos. Stop and call the licensed trade.", commonPractice},
	},
	HazardLadders: {
		{HazardLadders, "crown and other high work", "Set the ladder on firm level ground, keep three points of contact and move it rather than reach.", commonPractice},
	},
	HazardGeneral: {
		{HazardGeneral, "all of the above", "Local codes, the product's own sheet and licensed practice go before anything printed here.", commonPractice},
	},
}

// Cautions returns what to print for the given hazards as a fresh slice: each
// hazard once, in the order in which the constants are listed, and last the one
// that defers to local codes, the product's own sheet and licensed practice.
// No hazard has no caution. An unknown hazard is a [*measure.FieldError].
func Cautions(hazards ...Hazard) ([]Caution, error) {
	var asked [len(hazardNames)]bool
	for _, h := range hazards {
		if int(h) >= len(asked) {
			return nil, bad("hazards", uint8(h), "a known hazard")
		}
		asked[h] = true
		asked[HazardGeneral] = true
	}
	var out []Caution
	for h, on := range asked {
		if on {
			out = append(out, cautions[h]...)
		}
	}
	return out, nil
}
