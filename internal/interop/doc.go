// Package interop tests the library with programs that importers do not need, such as a
// database. It is a separate module, so importers do not download them.
package interop
