package sequence

import "example.com/longpoint/finish"

// Stage is the place of a work in a job. It is a code: safe to branch on, open to new ones.
type Stage string

// The stages, in the usual order of a job.
const (
	StageDecision   Stage = "decision"    // on old paint and asbestos, by test or by rule: made by local codes and licensed people, not by this library
	StageTearOut    Stage = "tear-out"    // of old trim
	StageWalls      Stage = "walls"       // plaster or drywall repaired, all wet work; dry after Work.Dry
	StageClimate    Stage = "climate"     // heat, cooling and dehumidifying run as in use
	StageDelivery   Stage = "delivery"    // made by Network of Deliveries
	StageSetUp      Stage = "set-up"      // of tools and protection in a room
	StageBackPrime  Stage = "back-prime"  // of bare wood, before it is installed
	StageJambs      Stage = "jambs"       // doors and jambs are hung
	StageInstall    Stage = "install"     // trim is installed: nailed, glued or set in mortar
	StageFloor      Stage = "floor"       // finish floor is laid
	StageFill       Stage = "fill"        // nail holes
	StageSand       Stage = "sand"        // and vacuum
	StageDust       Stage = "dust"        // vacuum and wipe the room before it is painted
	StagePrime      Stage = "prime"       // a coat of primer
	StageGrout      Stage = "grout"       // joints of stone or tile
	StageCaulk      Stage = "caulk"       // also backer rod and sealant
	StageWallPaint  Stage = "wall paint"  // last coats on walls and ceiling
	StageMask       Stage = "mask"        // tape and paper
	StageCoat       Stage = "coat"        // of paint, varnish, enamel
	StageSeal       Stage = "seal"        // sealer on stone or grout
	StageWipe       Stage = "wipe"        // the trim wiped down, after its last coat
	StageFloorCoat  Stage = "floor coat"  // last coat on the floor
	StagePunch      Stage = "punch"       // the list of remaining defects
	StageFinalClean Stage = "final clean" // of the room or the house
	StageSignOff    Stage = "sign-off"    // the client accepts the work
)

// place holds the properties of a stage for Network.
type place struct {
	stage      Stage
	skill      string // usual
	dusty, wet bool
	room       bool // part of the work in a room, between its being ready and the punch list
	before     int  // place among the work before all trim; 0 for all other work
	after      int  // place among the work after all other work; 0 for all other work
}

const (
	carpenter = "carpenter"
	painter   = "painter"
)

var places = [...]place{
	{stage: StageDecision, before: 1},
	{stage: StageTearOut, before: 2, skill: carpenter, dusty: true},
	{stage: StageWalls, before: 3, skill: "plasterer", dusty: true},
	{stage: StageClimate, before: 4},
	{stage: StageDelivery},
	{stage: StageSetUp, before: 5},
	{stage: StageBackPrime, skill: painter, wet: true, room: true},
	{stage: StageJambs, skill: carpenter, dusty: true, room: true},
	{stage: StageInstall, skill: carpenter, dusty: true, room: true},
	{stage: StageFloor, skill: "floor layer", dusty: true, room: true},
	{stage: StageFill, skill: painter, room: true},
	{stage: StageSand, skill: painter, dusty: true, room: true},
	{stage: StageDust, room: true},
	{stage: StagePrime, skill: painter, wet: true, room: true},
	{stage: StageGrout, skill: "tile setter", room: true},
	{stage: StageCaulk, skill: painter, room: true},
	{stage: StageWallPaint, skill: painter, wet: true, room: true},
	{stage: StageMask, skill: painter, room: true},
	{stage: StageCoat, skill: painter, wet: true, room: true},
	{stage: StageSeal, skill: "tile setter", wet: true, room: true},
	{stage: StageWipe, room: true},
	{stage: StageFloorCoat, skill: "floor layer", wet: true, room: true},
	{stage: StagePunch, after: 1},
	{stage: StageFinalClean, after: 2},
	{stage: StageSignOff, after: 3},
}

// placeOf returns the properties of a stage.
func placeOf(s Stage) (place, bool) {
	for _, p := range places {
		if p.stage == s {
			return p, true
		}
	}
	return place{stage: s}, false
}

// stageOf returns the stage of a task. Glue has the stage of its trim.
func stageOf(t finish.Task) (Stage, bool) {
	switch t {
	case finish.TaskInstall, finish.TaskGlue, finish.TaskGlueJoints, finish.TaskBrad, finish.TaskSet:
		return StageInstall, true
	case finish.TaskFill:
		return StageFill, true
	case finish.TaskSand:
		return StageSand, true
	case finish.TaskCaulk, finish.TaskBackerRod:
		return StageCaulk, true
	case finish.TaskMask:
		return StageMask, true
	case finish.TaskPrime:
		return StagePrime, true
	case finish.TaskPaint:
		return StageCoat, true
	case finish.TaskGrout:
		return StageGrout, true
	case finish.TaskSeal:
		return StageSeal, true
	case finish.TaskClean:
		return StageWipe, true
	}
	return "", false
}

// StageSkill is the skill that the works of a stage need.
type StageSkill struct {
	Stage Stage  `json:"stage"`           // which
	Skill string `json:"skill,omitempty"` // "" = any crew does it
}

// DefaultSkills returns the usual skills of the stages, as a fresh slice: common practice,
// no source. Any crew can do a stage that is not listed.
func DefaultSkills() []StageSkill {
	var all []StageSkill
	for _, p := range places {
		if p.skill != "" {
			all = append(all, StageSkill{p.stage, p.skill})
		}
	}
	return all
}
