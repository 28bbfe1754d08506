package sequence

import "slices"

// RuleCode names a rule of the order of work. It is a code: safe to branch on, open to new ones.
type RuleCode string

// The rules.
const (
	// Firm: they follow from the nature of the work.
	RuleHazards   RuleCode = "hazards"    // old paint and asbestos
	RuleTearOut   RuleCode = "tear-out"   // old trim
	RuleWallsDry  RuleCode = "walls-dry"  // wet work
	RuleClimate   RuleCode = "climate"    // heat and dehumidifying
	RuleOnSite    RuleCode = "on-site"    // material
	RuleSettled   RuleCode = "settled"    // acclimation
	RuleBackPrime RuleCode = "back-prime" // and other coats applied before trim is up
	RuleGlue      RuleCode = "glue"       // with its trim
	RuleJamb      RuleCode = "jamb"       // before casing
	RuleStool     RuleCode = "stool"      // before apron and casing
	RulePlinth    RuleCode = "plinth"     // before casing and base
	RuleCasing    RuleCode = "casing"     // before trim that dies into it
	RuleBacking   RuleCode = "backing"    // before trim that is nailed to it
	RuleMember    RuleCode = "member"     // built-up trim in its order
	RuleShoe      RuleCode = "shoe"       // after base and floor
	RuleNailed    RuleCode = "nailed"     // before it is filled and caulked
	RuleSanded    RuleCode = "sanded"     // after it was filled, before it is coated
	RulePrimed    RuleCode = "primed"     // before caulk on bare wood
	RulePutty     RuleCode = "putty"      // after primer
	RuleCaulked   RuleCode = "caulked"    // before it is coated
	RuleDry       RuleCode = "dry"        // before work goes on over it
	RuleCured     RuleCode = "cured"      // before it is sealed
	RuleDust      RuleCode = "dust"       // dusty work, then vacuum, then wet work
	RuleAir       RuleCode = "air"        // no dust where a coat is wet
	RuleLastCoat  RuleCode = "last-coat"  // then no trades
	RulePunch     RuleCode = "punch"      // after all work
	RuleClean     RuleCode = "clean"      // after the punch list
	RuleSignOff   RuleCode = "sign-off"   // at the end

	// Choices, and orders given by a caller or a system.
	RuleUsual      RuleCode = "usual"       // order of a house
	RuleSetUp      RuleCode = "set-up"      // of tools and protection
	RuleSystem     RuleCode = "system"      // in the order of its steps
	RuleCrown      RuleCode = "crown"       // before base, or after
	RuleFloor      RuleCode = "floor"       // before base, after it, or after paint
	RuleWalls      RuleCode = "walls"       // before the coats of the trim, or after
	RuleCaulkWalls RuleCode = "caulk-walls" // caulk before the last coat on the walls, or after
	RuleTopDown    RuleCode = "top-down"    // crown, casing, base
	RulePace       RuleCode = "pace"        // all rooms at once, or one by one
	RuleOther      RuleCode = "other"       // set by the caller
)

// Rule is a rule of the trade's order of work.
type Rule struct {
	Code   RuleCode `json:"code"`
	Firm   bool     `json:"firm,omitempty"` // follows from the nature of the work; else a choice
	Text   string   `json:"text"`           // the reason for the order, in one sentence
	Source string   `json:"source"`         // publication, "common practice, no source" or "derived"
}

const (
	commonPractice = "common practice, no source"
	awi            = "AWI 200, as an installer cites it: no installation until wet work is done and climate control runs"
	millwork       = "Wood Handbook, chapter 13: the plant is in before trim"
	windowOrder    = "NAVEDTRA 14044, chapter 6; Griffith, Carpentry, 1916: stool, apron, side casing, head"
	plinthOrder    = "NAVEDTRA 14044, chapter 6; Griffith, Carpentry, 1916: plinth block first, then casings, then base"
	doorsFirst     = "NAVEDTRA 14044, chapter 6; Griffith, Carpentry, 1916: doors hung, casing first, then base to it"
)

var rules = [...]Rule{
	{RuleHazards, true, "old paint and asbestos are dealt with, by test or by rule, before anything is torn out", commonPractice},
	{RuleTearOut, true, "old trim comes off before the walls are repaired and new trim goes up", commonPractice},
	{RuleWallsDry, true, "wet work on the walls is done and dry before trim comes into the house", awi},
	{RuleClimate, true, "heat and dehumidifying run before trim comes into the house", awi + "; " + millwork},
	{RuleOnSite, true, "the material is on site before it is used", commonPractice},
	{RuleSettled, true, "trim settles in the air of the house before it is primed, coated or put up", "Woodweb, 2008"},
	{RuleBackPrime, true, "trim that is primed or coated before installation is dry when it goes up", commonPractice},
	{RuleGlue, true, "a joint is glued as its trim goes up, before the nails", commonPractice},
	{RuleJamb, true, "jambs are hung and their extensions are on before casing is nailed to them", doorsFirst},
	{RuleStool, true, "the stool is in before the apron under it and the casing that stands on it", windowOrder},
	{RulePlinth, true, "plinth and corner blocks are set before the trim that dies into them", plinthOrder},
	{RuleCasing, true, "base, rails and paneling die into casing, which is up first", doorsFirst},
	{RuleBacking, true, "backing is in before the trim that is nailed to it", commonPractice},
	{RuleMember, true, "a member goes up before the members that are fixed to it or cover it", "derived"},
	{RuleShoe, true, "shoe lies on the finish floor against the base", commonPractice},
	{RuleNailed, true, "trim is fastened before its nail holes are filled, its edges caulked or its joints grouted", commonPractice},
	{RuleSanded, true, "filler is sanded before it is coated", commonPractice},
	{RulePrimed, true, "bare wood is primed before it is caulked: it draws the water out of latex caulk", "Fine Homebuilding forum; common practice"},
	{RulePutty, true, "oil putty goes on primed wood: bare wood draws its oil", commonPractice},
	{RuleCaulked, true, "caulk goes under the first coat in place", commonPractice},
	{RuleDry, true, "each coat is dry before the work that goes over it", "the product's sheet; else common practice, no source"},
	{RuleCured, true, "the material under a sealer has cured", commonPractice},
	{RuleDust, true, "dusty work is done and the room vacuumed before it is painted", commonPractice},
	{RuleAir, true, "nobody saws or sands in air in which a coat is wet", commonPractice},
	{RuleLastCoat, true, "after the last coat in a room no trade works in it", commonPractice},
	{RulePunch, true, "the punch list comes after all work, dry", commonPractice},
	{RuleClean, true, "the final cleaning comes after the punch list", commonPractice},
	{RuleSignOff, true, "the job is accepted after the final cleaning", commonPractice},
	{RuleUsual, false, "this is the usual order of work in a house", commonPractice},
	{RuleSetUp, false, "tools and protection are set up before the work in the room", commonPractice},
	{RuleSystem, false, "the steps of the finishing system follow in the order given", "the system"},
	{RuleCrown, false, "crown and base: which goes up first is a choice", commonPractice},
	{RuleFloor, false, "finish floor and base: which comes first is a choice", commonPractice},
	{RuleWalls, false, "walls and trim: which gets its last coat first is a choice", commonPractice},
	{RuleCaulkWalls, false, "caulk and the last coat on the walls: which comes first is a choice", commonPractice},
	{RuleTopDown, false, "a room is painted from the top down: crown, casing, base", commonPractice},
	{RulePace, false, "how the work goes through the rooms is a choice", commonPractice},
	{RuleOther, false, "the caller says so", "the caller"},
}

// Rules returns all rules, as a fresh slice, firm ones first.
func Rules() []Rule { return slices.Clone(rules[:]) }

// ruleOf returns the rule of a code.
func ruleOf(c RuleCode) Rule {
	i := slices.IndexFunc(rules[:], func(r Rule) bool { return r.Code == c })
	if i < 0 {
		return Rule{Code: c}
	}
	return rules[i]
}
