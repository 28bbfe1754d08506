// Package records keeps jobs with their plans, and their racks, in a database: in a file by
// SQLite, or on a PostgreSQL server that several shops share.
//
//	db, err := records.Open(ctx, "schoolhouse.db") // or postgres://...
//	...
//	job, err := db.Plan(ctx, "coat-rail", "shop", solve)
//	err = db.Cut(ctx, "coat-rail", nil)
//
// # What is promised
//
// A saved job reserves the offcuts that its plan takes off the rack: no other job gets them.
// When it is cut, they are removed and the new offcuts are on the rack; when it is dropped,
// they are free again. Each of these is atomic, whatever stops the program or the server, and
// any number of programs may do it concurrently.
//
// Each is identified by the ID of the job or of the change. Repeated under its ID it does
// nothing, so a program that does not know whether a call succeeded calls again. DB itself does
// so while the server is down.
//
// A rack works as in package stock: [stock.Rack.Apply] decides which offcuts a change takes,
// which of the leftovers are worth keeping, and their IDs.
//
// # What is stored how
//
// A job is a document, the JSON of package cutsheet with its exact lengths, and reads back
// equal to what was saved. [optimize.Check] verifies every plan before it is stored and when it
// is read. Columns beside the document are only for queries; nothing is read back from them.
// Offcuts are rows. Their lengths are whole ticks, so SQL can sort and sum them; money is whole
// minor units. A measure.Length passed to database/sql directly would become text, so every
// statement here uses int64(l).
//
// The statements are the same for both databases: only schema/ and the opening of the file
// differ. A change begins with an update of the rack's row, which waits for other changes of
// the same rack, in SQLite for all other changes.
package records
