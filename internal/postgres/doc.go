// Package postgres starts a private PostgreSQL server for a test, and stops it whatever happens
// to the test. It is a nested module without requirements, for other nested modules:
//
//	require example.com/longpoint/internal/postgres v0.0.0
//	replace example.com/longpoint/internal/postgres => ../../internal/postgres
//
// A test gets a [Cluster] from [Start] and a database in it from [Cluster.Database]. The server
// listens on a socket in a private directory and on no network, and writes to disk before it
// reports a commit, as a server in production does.
//
// The programs come from Debian's package postgresql. If they are missing the test is skipped,
// or fails if the variable LONGPOINT_POSTGRES names their directory.
package postgres
