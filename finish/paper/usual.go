package paper

// Default texts of a proposal: common practice, no source, unless one is named.
const (
	usualTitle     = "Proposal"
	usualDayTitle  = "Day sheets"
	usualScope     = "Work not named in this proposal is not included."
	usualChange    = "A change is agreed in a written change order before it is done: what is added or left out, the change in price, and the change in days. Both parties sign it. The price is then the price in this proposal together with all signed change orders."
	usualPayment   = "Payment is due in full when the work is complete."
	usualAllowance = "An allowance is part of the price, for an item to be chosen later. When it is chosen, the price changes by the difference."
	usualAlternate = "Check the boxes that you choose. Work that is not checked is not included."
	usualDates     = "These dates are expected, not promised. They depend on deliveries, drying times, conditions found behind old trim, and changes to the work."
	usualAccept    = "By signing, both parties agree to the work, the price and the terms of this proposal."
)

// usualLead is the default notice on lead: the federal renovation rule is based on the
// presumption that paint of buildings from before 1978 may contain it (40 CFR 745.80 and
// following).
var usualLead = []Caution{{
	About: "Lead paint", Source: "40 CFR 745.80 to 745.92",
	Text: "Paint in buildings from before 1978 may contain lead, and its dust harms children most. Do not sand, scrape or break painted trim yourself. If the building may be that old, tell us before the work begins: painted trim is then tested, or removed under the federal renovation rule.",
}}

// usualCautions are for people who live or work at the site.
var usualCautions = []Caution{
	{About: "Dust", Text: "Cutting and sanding raise dust, and dust travels. Remove or cover what must stay clean, close the doors to other rooms, and turn off fans and forced air while we work."},
	{About: "Work area", Text: "Stay out of rooms while we work in them. Saws, nailers, nails on the floor and cords injure people who are not used to them. Ask us first, even when nobody is working."},
	{About: "Children and pets", Text: "Keep children and pets out of the rooms, and away from tools, paint and dust, until we say that a room is finished and clean."},
	{About: "Fumes", Text: "Paint, varnish and glue give off fumes. Ventilate the rooms, keep flames away, and ask for the safety data sheets if anyone in the house has asthma or is pregnant."},
	{About: "Wet paint", Text: "Do not touch, lean on, close or wash painted trim until the day that we name. Dry to the touch is not cured."},
	{About: "Wires and pipes", Text: "Tell us about wires, pipes and heating in walls and floors before we nail. Work on them is for licensed trades."},
}

// usualCrewCaution ends the cautions of a day, and is the only one if there are no others.
const usualCrewCaution = "Follow the tool manuals, keep guards on, and protect eyes, ears and lungs. Local codes, product data sheets and licensed professionals take precedence over this sheet."
