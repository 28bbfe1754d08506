// Package longpoint is the front page of a library that plans running trim:
// baseboard, casing, crown, shoe and chair rail in wood, and base in stone or
// tile. It holds nothing itself; this is the way through its packages.
//
//   - [example.com/longpoint/measure] has exact lengths, angles, areas and
//     volumes, and reads and writes them as people do. A tape's sixteenths, a
//     drawing's decimal feet and a supplier's millimeters are whole numbers of
//     one tick, so that nothing is ever rounded by itself.
//   - [example.com/longpoint/stock] has the nouns: sticks, pieces, the ends of a
//     piece, runs, profiles. [example.com/longpoint/stock/joint] has the geometry
//     of an end, [example.com/longpoint/stock/curve] that of trim around a curve,
//     [example.com/longpoint/stock/panel] that of boxes, stiles and rails on a wall,
//     [example.com/longpoint/stock/stair] that of trim up a slope,
//     [example.com/longpoint/stock/scribe] that of trim on what is not level, plumb or flat,
//     and [example.com/longpoint/stock/takeoff] turns measured rooms
//     into pieces and says what is wrong with the measurements;
//     [example.com/longpoint/stock/takeoff/drawing] draws rooms, walls and joints.
//   - [example.com/longpoint/optimize] decides which sticks to buy and how to cut
//     them. A plan comes with a proven bound on what any plan must cost, and
//     Check verifies both without trusting the solver.
//     [example.com/longpoint/optimize/whatif] says what a change would cost,
//     [example.com/longpoint/optimize/replan] goes on when something went wrong, and
//     [example.com/longpoint/optimize/cutsheet] writes a plan down for the saw.
//   - [example.com/longpoint/finish] has what comes after the saw: fasteners,
//     caulk, filler, paint, mortar and grout, in whole packages at the cheapest
//     mix. [example.com/longpoint/finish/tearout] plans what comes off first,
//     [example.com/longpoint/finish/labor] says how long the work takes,
//     [example.com/longpoint/finish/sequence] and [example.com/longpoint/finish/schedule]
//     in what order and when it is done.
//   - [example.com/longpoint/finish/estimate] joins all of this: a whole job in one call, from
//     measured rooms to its price. [example.com/longpoint/finish/paper] writes it down for the
//     client and the crew.
//
// The packages that import each other do so in one direction:
//
//	measure  <-  stock, stock/joint, stock/curve, stock/panel, stock/stair, stock/scribe, stock/takeoff  <-  optimize
//	stock/takeoff  <-  stock/takeoff/drawing
//	optimize  <-  optimize/whatif, optimize/replan, optimize/cutsheet
//	measure  <-  finish, finish/schedule  <-  finish/sequence, finish/tearout, finish/labor, finish/paper
//	all of these  <-  finish/estimate
//
// # Conventions
//
// Lengths are [example.com/longpoint/measure.Length] and money is an int64 in
// the currency's minor unit; neither is ever a floating-point number. Zero
// values work. Bad input is a typed error that names the field and the value;
// nothing panics but the functions whose names begin with Must. The same input
// gives the same output on every machine.
//
// The program in examples/schoolhouse does the whole job, from walls measured
// with a tape to a shopping list, and is the place to start reading.
package longpoint
