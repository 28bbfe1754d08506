// Package paper writes the documents that people sign and work from: a [Proposal] for
// the client, and [DaySheets] for the crew.
//
// Both are plain data that the caller fills in: names, dates, prices, work and places. Both
// are written as text of a given width, as one self-contained page of HTML that prints on
// US letter and A4, and as JSON that reads back the same:
//
//	err := proposal.WriteHTML(w)
//	err = days.WriteText(w, 72)
//
// Each of them validates first. If there are faults, it reports all of them as
// [*measure.FieldError]s and writes nothing. The other errors are those of the writer. The
// same data gives the same bytes on every machine.
//
// # Nothing internal
//
// A proposal has no field for the contractor's costs: no rate, wage or hour, no markup
// or margin, no contingency, waste or price of a supplier. The package imports no
// package that has them. The contents of free texts are up to the caller.
//
// # Texts
//
// The package's own words are English. Amounts, lengths and dates are written according to
// the document's Locale and Dates. Text from the caller is never trusted: control
// characters, characters that reorder or hide text and invalid characters are spelled out
// (\x1b, \u202e), and markup is escaped.
//
// # Care
//
// On both papers, cautions precede the work that they concern. They are the usual ones;
// local codes and licensed people take precedence. A proposal becomes a contract when it is
// signed, and many places have rules for contracts: required contents, the client's period
// of withdrawal, limits on advance payment. The package does not know the law.
package paper
