// Package takeoff converts measured rooms to runs and pieces of trim: baseboard, shoe, chair
// rail, picture rail, crown, casing, and trim built up of several members. It also checks the
// measurements against each other.
//
//	room := takeoff.Room{Name: "cloakroom", Walls: []takeoff.Wall{
//		{Name: "N", Length: measure.MustParse("10ft 3-1/2in")},
//		{Name: "E", Length: measure.MustParse("6ft 8in")},
//		{Name: "S", Length: measure.MustParse("10ft 3-1/2in"), Openings: []takeoff.Opening{
//			{Kind: takeoff.OpeningDoor, At: 5 * measure.Foot, Width: 32 * measure.Inch},
//		}},
//		{Name: "W", Length: measure.MustParse("6ft 8in")},
//	}}
//	base := &stock.Profile{Name: "oak base", Thickness: 9 * measure.Inch / 16, Width: 5 * measure.Inch}
//	list, err := takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{Base: base}, nil)
//	if err != nil {
//		log.Fatal(err)
//	}
//	for _, p := range list.Pieces {
//		fmt.Println(p.Label, p.Length)
//	}
//
// [Take] takes off the trim, [Check] checks the measurements, and [CheckTrim] reports trim that
// does not suit the rooms. They know neither prices nor available sticks; the pieces go to
// package optimize. If its Problem takes the runs of the [List] instead of their pieces, splices
// are optimized with the cuts. Before the trip to the store, [List.PickFrom] gives a quick answer
// from the lengths on a shelf, and [List.Compare] compares a [RoughRule] with the exact takeoff.
// [List].Totals has the totals of each profile for fastening, caulking and painting, and
// RoomTotals those of each room.
//
// # A room
//
// Walls are listed in order from left to right, as seen by someone who turns to the right in the
// middle of the room (clockwise in plan). Each wall has its measured length and the corner at its
// right-hand end; the last wall meets the first. Rooms read from JSON with lengths as people
// write them:
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
// Positions are measured from the left end of the wall, heights from the finished floor. Some
// dimensions can be given twice, to check them: a wall at floor and ceiling and its height at both
// ends, an opening at sill and head and at both jambs.
//
// # Joints and lengths
//
// An inside corner gets one square end and one cope, an outside corner two miters whose long
// points follow from thickness and angle, an open end a return. A run stops at the outer edge of a
// casing, whose overall width is opening + 2·(reveal + casing width) if it is mitered. A
// [CasingStyle] is another way to case an opening, with butted heads, entablatures or corner
// blocks; a run along the wall then stops at the part of the casing that is at its own height. A
// run longer than the longest usable stick is spliced with a scarf in the middle of a stud, clear
// of the outlets and, if asked, out of the line of sight. Lengths are exact and are explained by
// allowances that sum to them; nothing is rounded, and the length that a [stock.Fit] adds or
// subtracts is one of the allowances.
//
// If the joints leave nothing of a piece, it is omitted: on a wall too narrow for the trim of its
// neighbors, and on the sides of such an alcove. An inside corner beside a jog no deeper than the
// trim is thick is mitered, since a cope would leave the jog's piece no back. A [FindingSliver]
// reports each omitted piece and, as a doubt, trim that in plan runs into other walls.
//
// Stone and tile with a joint are laid out in strips without slivers, see [Tiling], with sealant
// where the plane changes: they are butted, and never coped, scarfed or bowed.
//
// Around a [Curve], trim is made of segments, each a separate run, of one piece of flexible
// molding, or of a kerfed board; around a bullnose corner it has a short piece. List.Curves lists
// the runs that belong together.
//
// On a [Stretch] the trim differs, or old trim stays; List.Transitions describes the ends of runs
// there, and at a thinner casing.
//
// # Built-up trim
//
// An [Assembly] is built up of members in front of and above each other; base with shoe, a rail and
// the crown of the [Scheme] are the simplest ones. A member that stands off the wall by d is longer
// by d·cot(A/2) around an outside corner of the angle A and shorter by as much in an inside corner;
// its face differs by as much again for its thickness. At an open end it returns to the member
// behind it or to the wall. Runs come in the order of installation, with the nailing strips or
// blocks before the crown, and each has its distance from the wall. [FindingLooseEdge] reports
// crown whose edges have no support, [FindingThickBase] members whose ends will show at a casing.
//
// # Stairs and slopes
//
// A [Stair] against a wall gets skirts; base ends at a skirt or is joined to it, and a chair rail
// follows the slope. If the ceiling slopes along a wall by design (Wall.Pitch, Wall.Raked), crown
// follows the rake. A single profile cannot turn a corner from level to rake: the takeoff includes
// a wedge that makes the turn, and a [FindingRake] gives the numbers of the other methods, or says
// that there is none. Package stair has the geometry.
//
// # Surfaces that are not level, plumb or flat
//
// Walls take readings from a level line, down to the floor and up to the ceiling (Wall.Floor,
// Wall.Ceiling), and readings of their lean (Wall.Lean). Base then has one level top around the
// room, and Run.Scribe lists the amounts to remove from its foot; or base follows the floor, or
// shoe covers the gap ([Options].Floor). An end that dies into a leaning wall is longer at its top
// or its foot. A [Finding] reports the gaps that the floor would leave and whether the base is sold
// high enough. The Notes of a piece describe all work besides its two cuts: an edge ripped, tapered
// or scribed, notches, kerfs, an end out of square; each part of a spliced run has the notes that
// lie on it. Openings take the depth of the wall beyond their jambs (Opening.Depths): an
// [ExtensionStock] is ripped to it, and List.Strips has the number of strips from a board. Package
// scribe has the geometry and the rules.
//
// # Paneling
//
// A [Wainscot] is divided wall by wall, see package panel, between corners, casings and other
// obstacles; the areas below and above a window are separate stretches. It keeps the plates of
// outlets clear if it can; [FindingDevice] reports where it cannot. The cap is run like any rail.
// Panels and sheets are listed in [List].Panels.
//
// # Order of coping
//
// The first piece goes opposite the door, square at both ends. From there, in both directions, each
// piece is coped to the one before, so that copes face away from the line of sight and no piece is
// coped at both ends. If the trim runs around the whole room without a break, a spliced run takes
// the last cope at both ends (one for each part); without one, every piece is coped at its left
// end.
//
// # Errors
//
// Invalid input is a [*measure.FieldError] for each field, joined, at most 100: lengths that are
// not positive, labels that are empty or used twice, openings that overlap or extend beyond the
// wall, angles out of range. If trim cannot be cut as measured, the error names the wall or the
// opening, and its Err gives the reason: a joint has no size (around a corner of almost 0 degrees),
// or a run takes too many strips or cannot be spliced, a [*SpliceError]. Measurements that are
// possible but doubtful are [Finding] values.
//
// One call takes up to 1,000 walls, segments of curves, openings, fixtures, devices, readings and
// stretches in a room and 10,000 in total, five miles of wall, 10,000 studs listed on a wall and
// 100,000 in total, and names of 1,000 bytes. The limits keep calls quick.
package takeoff
