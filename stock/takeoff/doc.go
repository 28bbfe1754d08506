// Package takeoff turns measured rooms into runs and pieces of trim: baseboard,
// shoe, chair rail, picture rail, crown, casing, and trim that is built up of several
// members. It also checks the measurements against each other.
//
// [Take] does the first, [Check] the second, and [CheckTrim] reports trim that does not suit
// the rooms. None of them knows prices or stock on the shelf; the pieces go to
// package optimize. If its Problem takes the [List]'s runs in their place, splices are
// decided with the cuts. Before the store, [List.PickFrom] gives a quick answer from what a shelf
// holds, and [List.Compare] sets a
// [RoughRule] beside the exact takeoff. [List].Totals says what each profile comes to, for
// those who fasten, caulk and paint it, and RoomTotals what it comes to in each room.
//
// # A room
//
// Walls are listed in order from left to right, as someone turning to the right in
// the middle of the room sees them (clockwise in plan). Each wall has its measured
// length and the corner at its right-hand end; the last wall meets the first.
// Everything reads from JSON as people write it:
//
//	{
//	  "name": "classroom",
//	  "walls": [
//	    {"name": "N", "length": "24ft 3-1/2in"},
//	    {"name": "E", "length": "18ft", "corner": "outside 135"},
//	    ...
//	    {"name": "S", "length": "24ft 3-1/2in",
//	     "openings": [{"kind": "door", "at": "4ft", "width": "36in", "height": "80in"}],
//	     "fixtures": [{"name": "sink cabinet", "at": "15ft", "width": "60in", "ends": "butt"}]}
//	  ]
//	}
//
// Positions are counted from the left end of the wall; heights from the finished
// floor. What is measured twice is given twice: a wall at floor and ceiling and its height at
// both ends, an opening at sill and head and at both jambs.
//
// # What is taken off
//
// Inside corners get one square end and one cope, outside corners two miters whose
// long points follow from thickness and angle, open ends a return. A run stops at the
// outer edge of a casing, which is opening + 2·(reveal + casing width) over all if that is
// mitered. A [CasingStyle] is another way to case an opening - butted heads, entablatures, corner
// blocks - and what runs along the wall then stops at what is at its own height. A run longer than
// the longest usable stick is spliced with a scarf in the middle of a stud, off the
// outlets and, if asked, out of the line of sight. Lengths are exact and explained by
// allowances that sum to them; nothing is rounded, and what a [stock.Fit] adds or takes is
// one of them.
//
// If the joints leave nothing of a piece, it is left out: on a wall that is too narrow for
// the trim of its neighbors, and on the sides of such an alcove. An inside corner beside
// a jog no deeper than the trim is thick is mitered, since a cope would leave the jog's
// piece no back. A [FindingSliver] reports each piece left out and, as a doubt, trim that
// in plan runs into other walls.
//
// Stone and tile with a joint are laid out in strips without slivers, see [Tiling], with
// sealant where the plane changes: they are butted, and never coped, scarfed or bowed.
//
// Around a [Curve] trim goes in segments, each a run of its own, in one piece of flexible molding,
// or as a kerfed board; around a bullnose corner with a short piece. List.Curves says which
// runs belong together.
//
// On a [Stretch] other trim runs, or old trim stays; List.Transitions says how runs end at it, and
// at a casing that is thinner.
//
// # Built-up trim
//
// An [Assembly] is built up of members, in front of each other and one above the other; base with
// shoe, a rail and crown of the [Scheme] are the simplest ones. A member that stands off the wall by d
// is longer by d·cot(A/2) around an outside corner of the angle A, shorter by as much in an inside
// corner, and its face by as much again for what it is thick; at an open end it is returned to what
// is behind it or to the wall. Runs come in the order in which the members are put up, with the
// strips or blocks that crown is nailed to before it, and each says what it stands off.
// [FindingLooseEdge] tells of crown whose edges lie on nothing, [FindingThickBase] of members whose
// ends will show at a casing.
// # Stairs and slopes
//
// A [Stair] against a wall gets skirts; base ends at it or is joined to the skirt, a chair
// rail goes up with it. Where the ceiling slopes along a wall on purpose (Wall.Pitch,
// Wall.Raked) crown runs up the rake. One profile does not turn a corner from level to rake:
// a wedge is taken off that does, and a [FindingRake] has the numbers of the other ways, or says
// that there is none. Package stair has the geometry.
//
// # What is not level, plumb or flat
//
// Walls take readings from a level line, down to the floor and up to the ceiling (Wall.Floor,
// Wall.Ceiling), and a level's of how they lean (Wall.Lean). Base then has one level top around
// the room, and Run.Scribe says what is taken off its foot and where; or it follows the floor, or
// shoe covers the gap ([Options].Floor). An end that dies into a leaning wall is longer at its top or
// its foot. A [Finding] says what the floor would let pass and whether the base is sold high
// enough. What is done to a piece besides its two cuts - an edge ripped, tapered or scribed, notches,
// kerfs, an end out of square - its Notes say, each part of a spliced run what lies on it. Openings take the depth of the wall beyond their jambs (Opening.Depths): an
// [ExtensionStock] is ripped to it, and List.Strips says how many strips a board gives. Package
// scribe has the geometry and the rules.
//
// # Paneling
//
// A [Wainscot] is divided wall by wall, see package panel, between corners, casings and what
// else stands in its way; what is below and above a window is a stretch of its own. It keeps
// plates of outlets clear if it can, and says so; [FindingDevice] tells where it cannot. The
// cap is run like any rail. Panels and sheets are listed as [List].Panels.
//
// # Order of coping
//
// The first piece goes opposite the door, square at both ends; from there both
// ways round, each piece meets the one before with a cope, so that copes face away
// from the line of sight and no piece is coped at both ends. If the trim runs
// around the whole room without a break, a spliced run takes the last cope at both
// ends (one for each part); without one, every piece is coped at its left end.
//
// # Errors
//
// Input that cannot be is a [*measure.FieldError] for each field, all of them joined, at
// most 100: lengths that are not positive, labels that are empty or used twice, openings
// that overlap or reach beyond the wall, angles out of range. It names the wall or the
// opening if its trim cannot be cut as it was measured, and its Err says why: a joint has no
// size (around a corner of next to nothing), or a run takes more strips than anybody lays or
// cannot be spliced, a [*SpliceError]. Measurements that are possible but
// doubtful are [Finding] values.
//
// One call takes up to 1,000 walls, segments of curves, openings, fixtures, devices, readings and stretches in a
// room and 10,000 in all, five miles of wall, 10,000 studs listed on a wall and 100,000 on
// all, and names of 1,000 bytes: more is refused, so that an answer never takes long.
package takeoff
