// Package interop tests the library against programs that an importer does not
// need, such as a database. It is a module of its own, so that nobody downloads
// them with the library.
package interop
