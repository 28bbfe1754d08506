// Package postgres starts a PostgreSQL server of its own for a test, and stops it whatever
// becomes of the test. It is a nested module without requirements, for other nested modules:
//
//	require example.com/longpoint/internal/postgres v0.0.0
//	replace example.com/longpoint/internal/postgres => ../../internal/postgres
//
// A test asks for a [Cluster] by [Start] and for a database in it by [Cluster.Database]. The
// server listens on a socket in a folder of its own and on no network, and writes to disk
// before it says that a transaction is committed, as a server in a shop does.
//
// The programs come from Debian's package postgresql. Where they are not on the machine
// the test skips itself; where the variable LONGPOINT_POSTGRES names their directory it
// must not.
package postgres
