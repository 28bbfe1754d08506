// Package records keeps jobs with their plans, and the racks that they cut from, in a
// database: in a file by SQLite, or on a PostgreSQL server that several shops share.
//
//	db, err := records.Open(ctx, "schoolhouse.db") // or postgres://...
//	...
//	job, err := db.Plan(ctx, "coat-rail", "shop", solve)
//	err = db.Cut(ctx, "coat-rail", nil)
//
// # What is promised
//
// A job that is saved holds the offcuts that its plan takes off the rack: nobody else gets
// them. When it is cut, they are gone and what is left lies on the rack; when it is
// dropped, they are free again. Each of these happens as a whole or not at all, whatever
// stops the program or the server, and any number of programs may do it at once.
//
// Each is named, by the ID of the job or of the change. Done again under its name it does
// nothing, so a program that does not know whether a call went through makes the call
// again. DB itself does so while the server is away.
//
// A rack means here what it means in package stock: [stock.Rack.Apply] decides which
// offcuts a change takes, which of the leftovers are worth keeping and how they are called.
//
// # What is stored how
//
// A job is a document, the JSON of package cutsheet with its exact lengths, and is read back equal to
// what was saved. [optimize.Check] passes every plan before it is stored and when it is
// read. Columns beside the document serve to search, and nothing is read back from them. Offcuts are rows.
// Their lengths are whole numbers of ticks, so that SQL sorts and sums them; money is whole
// minor units. A measure.Length that is given to database/sql as it is would become text,
// so every statement here says int64(l).
//
// The statements are the same for both databases: schema/ and this package hold no other
// dialect but the opening of the file. A change begins with an update of the rack's row,
// which waits for whoever changes the same rack, in SQLite for whoever changes anything.
package records
