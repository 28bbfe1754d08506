// Package drawing draws rooms, walls, joints and stairs to scale, as SVG. Elevation draws the
// walls of a room with every piece of trim in its place, Plan the room from above with the
// joints in its corners, Joint and BuiltUp the cuts at an end with their allowances, and Skirt
// the board beside a stair.
//
// All numbers come from package takeoff and the geometry packages; nothing is computed again.
// The stick of each piece is passed in as text, so this package does not depend on those that
// plan. A picture is readable in black and white, has a title and a text description, and is as
// wide as a sheet of paper or a telephone.
package drawing
