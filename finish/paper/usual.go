package paper

// Default texts of a proposal: common practice, no source, unless one is named.
const (
	usualTitle     = "Proposal"
	usualDayTitle  = "Day sheets"
	usualScope     = "What is not named in this paper is not part of the work."
	usualChange    = "A change of the work is agreed in writing before it is done: what is added or left out, what it adds to or takes from the price, and how many days it adds or takes. Both sides sign it. The price is then the one in this paper together with all changes that were signed."
	usualPayment   = "All is due when the work is done."
	usualAllowance = "Allowances are part of the price, for what is chosen later. When it is chosen, the price changes by the difference."
	usualAlternate = "Tick what you choose. What is not ticked is not part of the work."
	usualDates     = "These days are what we expect, not a promise. They move with deliveries, with how fast coats dry, with what is found behind old trim, and with changes of the work."
	usualAccept    = "By signing, both sides agree to the work, the price and the terms in this paper."
)

// usualLead is the default notice on lead: the federal renovation rule is based on the
// presumption that paint of buildings from before 1978 may contain it (40 CFR 745.80 and
// following).
var usualLead = []Caution{{
	About: "Lead paint", Source: "40 CFR 745.80 to 745.92",
	Text: "Paint in buildings from before 1978 may hold lead, and its dust harms children most. Do not sand, scrape or break painted trim yourself. If the building may be that old, tell us before the work begins: painted trim is then tested, or removed by the federal renovation rule.",
}}

// usualCautions are for people who live or work at the site.
var usualCautions = []Caution{
	{About: "Dust", Text: "Cutting and sanding raise dust, and dust travels. Take out or cover what must stay clean, close the doors to other rooms, and turn off fans and forced air while we work."},
	{About: "Rooms at work", Text: "Do not enter a room while work goes on in it. Saws, nailers, nails on the floor and cords injure people who are not used to them. Ask us first, also when nobody is at work."},
	{About: "Children and pets", Text: "Keep children and pets out of the rooms, and away from tools, paint and dust, until we say that a room is finished and clean."},
	{About: "Fumes", Text: "Paint, varnish and glue give off fumes. Air the rooms, keep flames away, and ask for the sheets of the products if somebody in the house has asthma or is pregnant."},
	{About: "Wet coats", Text: "Do not touch, lean on, close or wash what was painted until the day that we name. Dry to the touch is not hard."},
	{About: "Wires and pipes", Text: "Tell us of wires, pipes and heating in walls and floors before we nail. Work on them is for people who are licensed for it."},
}

// usualCrewCaution ends the cautions of a day, and is the only one if there are no others.
const usualCrewCaution = "Follow the manuals of the tools, keep guards on, and protect eyes, ears and lungs. Local codes, the sheets of the products and licensed people go before anything on this sheet."
