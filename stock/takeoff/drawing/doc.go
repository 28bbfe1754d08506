// Package drawing shows rooms, walls, joints and stairs to scale, as SVG: Elevation draws the walls
// of a room with every piece of trim where it goes, Plan the room from above with the joints in
// its corners, Joint and BuiltUp what is cut at an end with its allowances, Skirt the board
// beside a stair.
//
// All numbers are those of package takeoff and the geometry below it; nothing is computed anew.
// What a piece is cut from is passed in as text, so that no package that plans has to be known
// here. A picture reads in black and white, says in a title and a description what it shows, and
// has a width of paper or of a telephone.
package drawing
