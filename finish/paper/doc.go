// Package paper writes the documents that people sign and work from: a [Proposal] for
// the client, and [DaySheets] for the crew.
//
// Both are plain data that the caller fills in: names, dates, prices, what is done where.
// Both are written as text of a given width, as one page of HTML that needs nothing else and
// prints on US letter and on A4, and as JSON that reads back the same:
//
//	err := proposal.WriteHTML(w)
//	err = days.WriteText(w, 72)
//
// Each of them validates first and reports everything that is wrong at once, in
// [*measure.FieldError]s; then nothing is written. The other errors are those of the writer.
// The same data gives the same bytes on every machine.
//
// # Nothing internal
//
// A proposal has no place for what the work costs the contractor: no rate, wage or
// hour, no markup or margin, no contingency, waste or price of a supplier. The package
// imports nothing that knows them. What a caller writes into a text is the caller's.
//
// # Whose words
//
// What the package says by itself is in English. Amounts, lengths and dates are written as
// the document's Locale and Dates say. Text that comes from outside is never trusted:
// control characters, characters that reorder or hide text and what is no character at all
// are spelled out (\x1b, \u202e), and markup is escaped.
//
// # Care
//
// Cautions stand before the work that they are about, on both papers. They are the usual
// ones; local codes and licensed people go before them. A proposal becomes a contract when
// it is signed, and many places have rules for those: what they must say, how long the client
// may withdraw, how much may be asked for in advance. The package knows no law.
package paper
