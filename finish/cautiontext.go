package finish

// cautionText is a [Caution] for both kinds of units; see inUnits. A limit in metric units
// is rounded to the safe side.
type cautionText struct{ trigger, text, source string }

// The texts of 40 CFR 745.82 to 745.103, of 24 CFR 35.1350 and of all parts of 29 CFR but
// 1926.52, 1926.300(b)(1), 1926.702(i) and 1926.1153 are rendered from memory. The lead
// rule has its own texts, in LeadRule.general.
var cautions = map[Hazard][]cautionText{
	HazardSaws: {
		{"cutting", "Keep the guards that came with a tool on it. Never cross arms. Let the blade stop before you reach in.",
			"29 CFR 1926.300(b)(1); Popular Woodworking, April 2008, p. 53"},
		{"cutting", "Keep your hands {6 in|153 mm} from the blade, wear eye protection, unplug to change a blade, and follow the saw's own manual where it says more.",
			"a miter-saw manual, at second hand; the rest common practice, no source"},
	},
	HazardTableSaw: {
		{"ripping at a table saw", "Keep the guard and the riving knife on, guide the work along the fence or a jig, never freehand, and push narrow stock with a stick. Stand beside the line of the blade.",
			"29 CFR 1926.304, with 1910.213(c) as a model; where to stand common practice, no source"},
	},
	HazardSmallPieces: {
		{"returns and short pieces", "Do not hold a short piece at a power saw: one table-saw manual forbids crosscutting under {6 in|153 mm}, one school shop sets {12 in|305 mm} as the minimum at a miter saw. Cut small parts off the end of a long piece, clamp it, and let the blade stop.",
			"table-saw manual; school shop sheet; Wood magazine"},
	},
	HazardNailers: {
		{"driving nails and brads with a nailer", "Use a full sequential trigger: a contact trigger doubles the risk of injury. Two of five apprentices were hurt within four years, most of all where one hand holds the piece: keep that hand {12 in|305 mm} away and out of the line of fire, since a nail can curl out of fiberboard or off a metal plate. Wear eye protection, and disconnect the air or the battery before you clear a jam.",
			"OSHA/NIOSH, Nail Gun Safety (2011); 29 CFR 1926.102 and 1926.302(b); the distance common practice, no source"},
		{"a pneumatic nailer with automatic feed", "Above {100 psi|689 kPa} its muzzle has a device that keeps it from firing unless it touches the work. Never exceed the rated pressure of the tool.",
			"29 CFR 1926.302(b)(3) and (5)"},
	},
	HazardAir: {
		{"compressor and hoses", "Secure the couplings, do not lift or lower tools by their hoses, and fit a shutoff at the source of a hose of more than {1/2 in|12 mm} inside diameter. Clean with air below {30 psi|206 kPa} only, with eye protection and chip guarding.",
			"29 CFR 1926.302(b)(1), (4), (6) and (7)"},
	},
	HazardPower: {
		{"cords and plugged-in tools", "Plug into circuits with ground-fault protection, or follow an assured equipment grounding program. Use undamaged three-wire cords, out of water, where no door pinches them and nobody trips over them.",
			"29 CFR 1926.404(b)(1) and 1926.405"},
	},
	HazardWoodDust: {
		{"sawing and sanding wood", "Collect dust at the tool and wear a respirator that fits. OSHA's limits are 15 mg/m3 total and 5 mg/m3 respirable; NIOSH recommends 1 mg/m3.",
			"OSHA wood dust page"},
	},
	HazardFiberboard: {
		{"sawing and sanding fiberboard", "Fiberboard bound with urea-formaldehyde can give off formaldehyde for months to years. Collect dust at the tool and ventilate.",
			"eLCOSH, MDF (2010)"},
	},
	HazardSilica: {
		{"cutting, grinding or mixing stone, tile, mortar or grout", "Respirable silica: the limit is 50 ug/m3, the action level 25 ug/m3, as an 8-hour average. Cut wet, or with extraction made for it; indoors at any time, and outdoors beyond four hours a day, a hand-held wet saw also calls for a respirator. Clean up slurry before it dries; never sweep dry.",
			"29 CFR 1926.1153 and its Table 1"},
		{"grinding edges", "A grinder needs a shroud and a dust collector that draws {25 cu ft a minute for each inch|0.028 m3 a minute for each millimeter} of its wheel through a filter for 99 % of the dust; indoors beyond four hours a day it also calls for a respirator.",
			"29 CFR 1926.1153, Table 1"},
		{"stone by its kind", "Engineered quartz is about 93 % silica, quartzite up to 98 %, granite 25 to 30 %; marble is mostly carbonate.", "stone trade guide"},
		{"wet saw", "Water and power: plug a wet saw into a circuit with ground-fault protection, and keep the cord out of the water.", "29 CFR 1926.404(b)(1)"},
		{"masonry saw", "A masonry saw has a semicircular guard that holds back fragments of the blade.", "29 CFR 1926.702(i)"},
	},
	HazardRespirators: {
		{"wearing a respirator", "It protects only a person who is medically cleared for it, fit-tested and trained; a beard breaks the seal. An employer has a written program for it.",
			"29 CFR 1926.103 and 1910.134"},
	},
	HazardSolvents: {
		{"paint, adhesive, sealant and cleaner", "Ventilate, keep flames and pilot lights away, bring in no more than one day takes, read the label and the safety data sheet, and wear the gloves that the sheet names.",
			"29 CFR 1910.1200, 1926.57 and 1926.152; gloves common practice, no source"},
	},
	HazardOilyRags: {
		{"rags with linseed oil, stain or alkyd paint", "They heat up and catch fire by themselves. Keep them in a fire-resistant covered container until they leave the site.",
			"29 CFR 1926.252(e)"},
	},
	HazardHotPlastic: {
		{"cutting plastic trim", "Plastic melts and grabs the blade. Use a blade made for it and a slow feed; rip narrow stock with a push stick, featherboards and a riving knife.",
			"California Code of Regulations, Title 8, section 4296"},
	},
	HazardNoise: {
		{"saws, nailers and grinders", "Protect your hearing: 90 dBA is allowed for 8 hours a day, 100 dBA for 2, 110 dBA for half an hour. Every 5 dBA more cut the time in half.",
			"29 CFR 1926.52, Table D-2"},
	},
	HazardHiddenServices: {
		{"nailing and opening walls", "Look for wiring and pipes in the path of the nails, find out which circuits are live before you cut or pry, and leave old black mastic alone: it may hold asbestos. Stop and call the licensed trade.",
			"29 CFR 1926.416; the rest common practice, no source"},
	},
	HazardAsbestos: {
		{"old mastic, {9 in|230 mm} floor tile, plaster and pipe insulation", "Stop before you disturb them and have them tested by an accredited laboratory: old black or tan mastic, floor tile, plaster and pipe wrap may hold asbestos, and flooring and insulation from before 1981 are presumed to. Do not scrape, sand, drill or sweep them. Material that contains asbestos is for a licensed abatement contractor; states may be stricter.",
			"29 CFR 1926.1101(k)"},
	},
	HazardScrap: {
		{"trim that comes off and its nails", "Wear eye protection, gloves and sturdy soles. Pull nails or bend them over before a piece is put down, keep walkways clear of scrap, and carry it out as you go.",
			"29 CFR 1926.25 and 1926.102"},
	},
	HazardLadders: {
		{"crown and other high work", "Inspect the ladder, set it on firm level ground, set its base out a quarter of its working length and let it reach {3 ft|92 cm} above a landing. Do not stand on the top or the top step of a stepladder. Keep three points of contact and move it rather than reach.",
			"29 CFR 1926.1053(b); three points of contact common practice, no source"},
	},
	HazardScaffold: {
		{"work from a scaffold", "Above {10 ft|3 m} it needs fall protection, above {2 ft|60 cm} safe access, and a platform at least {18 in|46 cm} wide. A competent person inspects it before each shift. Lock the casters of a mobile one before anyone climbs it.",
			"29 CFR 1926.451 and 1926.452(w)"},
	},
	HazardFalls: {
		{"open stairs, landings and edges", "Guard or cover every open side {6 ft|180 cm} or more above the level below before you work beside it, and put back the same day any guard that you remove for the trim.",
			"29 CFR 1926.501(b); the same day common practice, no source"},
	},
	HazardGeneral: {
		{"all of the above", "Local codes, the product's own sheet and licensed practice take precedence over anything printed here; states may be stricter.", commonPractice},
	},
}
