// Package cutsheet writes a plan the way people use it: as text for a terminal, a
// drawing, a page to print, a table for a spreadsheet, and JSON for programs.
//
// [New] takes a problem, a plan for it, and options, of which none is needed:
//
//	s, err := cutsheet.New(ctx, problem, plan, nil)
//	...
//	err = s.HTML(w)
//
// It checks the plan first, so that no sheet lacks a piece or says of its proof
// more than was shown again. All renderings come from the same numbers, and
// the same input gives the same bytes on every machine.
//
// # What is written how
//
// A plan is exact; a sheet is for hands and eyes. Lengths are rounded as
// [Options].Locale says, to 1/16 in where it says nothing, and one that is not
// exactly on the mark that is written has + behind it where it is over the mark
// and - where it is under, as strong and light readings are noted. Patterns
// are called A, B, C in the order of the plan, and the cuts of a pattern 1, 2, 3;
// equal pieces in a row are one cut of several. A piece without a label is called
// by its place in the problem, from 1.
//
// Where pieces carry ends, the sheet lists the settings of the saw, worked out by
// package joint from the corner angles and, for crown, from [Options].Profile.
//
// What else is done to a piece, its Notes, stands on its tag, and on the sheet below it after
// "only this piece": nobody then takes it for another of the same length. Pieces that differ in notes are
// never one cut, nor sticks with such pieces one pattern.
//
// Text that comes from outside is never trusted: control characters, characters
// that reorder or hide text and what is no character at all are spelled out
// (\x1b, \u202e), markup is escaped, and a table cell never begins a formula.
//
// A pattern that is used a billion times takes no more room than one that is
// used twice: there is a box to tick for each piece where there are few, else
// a place to write a number in.
//
// # The page
//
// [Sheet.WriteHTML] is made to be printed and cut from. A stick is a few lines: its letter and what is
// left of it, its bar over the whole width with the lengths in it, and for each cut a line with
// a box, the length in letters that are read from two steps away, the piece, and for both ends
// what the saw reads, to which side it is swung and which side of the blade is kept. Sticks that
// are cut alike, whatever their pieces are called, are one block, with a box for each piece up
// to ten and a place for a number beyond. The columns stand at the same place on all pages, no
// block is torn apart, and title, job, date, revision, fingerprint and number of the page are at
// the edges of each: browsers without margin boxes of CSS leave those out, and the head of the
// sheet has them all the same. On a telephone a stick fills the screen; what is ticked is
// counted at its foot. Screens that are set to be dark get dark colors, paper never.
//
// # Which paper is which
//
// A sheet and all its tags say what [Options] has of the job, its date and its revision, and carry
// the fingerprint of problem and plan: see [Sheet.Fingerprint]. An index says for each room and
// wall which piece comes from which cut of which stick. Sticks with pieces for rooms that wait
// ([Options].Hold) stand behind the others in a block of their own; a splice over a stud that
// was assumed says so. [Sheet.WriteTags] writes tags on label paper, [Sheet.WriteTagsCSV] the same as a table.
//
// What is known of the cost stands last, in one line; [Options].ProofDetails adds how it is
// known.
//
// # Runs and rules
//
// What a job asks beyond lengths and prices is on the sheet too. Runs are listed
// with the places where they are spliced, from the left long point, and the labels
// of their parts. Where the plan says what to buy, the list is that: with bundles,
// prices for greater numbers, and sticks that stay whole; splices, yard cuts and
// charges follow, and all lines together are the cost of the plan. Pieces that lie
// turned are drawn as they lie and say so; neighbors that share a cut reach into each
// other; what cannot be used of a stick is hatched both ways; the cut that the
// yard makes has its place. The goals of the job are told with what is reached of
// each, and whether that is proven.
//
// # Pictures
//
// Beside the drawing of all sticks, [Sheet.WriteSVG], there are pictures of one thing each, to scale, in the width
// of paper or of a telephone: [SawEnd.Picture] of an end as it lies on the saw, [Sheet.RunPicture] and
// [SplicedRunPicture] of a spliced run over its studs, [Sheet.PurchasePicture] of what becomes of the sticks, [Sheet.ProofPicture] of how
// good the plan is known to be, and [RackPicture] of the rack before and after.
//
// # JSON, version 3
//
// The document is an object. The fields, of which those with an asterisk are always
// there:
//
//	format*   "longpoint cut sheet"
//	version*  3
//	title     text: what heads the sheet
//	job, date, revision
//	          text: which job it is, of which day, and how often it was changed
//	hold      [{"room": text, "reason": text}]: the rooms whose pieces wait
//	money     {"symbol": text, "after": bool, "minor": whole number}: see measure.Currency
//	profile   as stock.Profile: the molding, for the saw settings
//	care      [{"pattern": index, "place": index in its pieces, "remnant": length}]:
//	          the pieces that are cut from remnants shorter than min_remnant; only
//	          for readers, since it follows from problem and plan
//	problem*  as optimize.Problem
//	plan*     as optimize.Plan
//
// The fields of problem and plan, with their JSON names, are those of
// [optimize.Problem] and [optimize.Plan]. Lengths and angles are text with units
// that reads back exactly ("12ft 1-3/8in", "22.5deg"), money is whole minor units,
// kinds of ends, reasons, kinds of proof, goals, turns and kinds of groups are their
// names, and indices count from 0. A field that is not there has its zero value.
//
// The proof of the plan may be left out: its kind is "omitted" then (see
// [optimize.Plan.WithoutProof]).
//
// ReadJSON also reads versions 1 and 2. They come without their proofs, which had another
// form: the kind is "omitted" as well, and nothing of the plan is called proven until it is
// solved again. Some fields had other names: of the
// rules "most_pieces", "hold", "transport" and "worth" are now "max_pieces", "min_hold",
// "max_transport" and "offcut_values", of a group "begun" is "started", and of the plan
// "levels" are "goals". Version 1 has no runs and rules.
//
// A version may gain fields that an older reader can pass over, and readers pass
// over fields that they do not know. Any other change gets a new number, and
// [ReadJSON] answers a number that it does not know with a [VersionError]. Numbers
// go up to 2^63-1, beyond what a reader that keeps them as float64 can hold.
//
// # Errors
//
// New returns what [optimize.Audit] finds wrong with the plan or the problem, and an
// [*measure.FieldError] for what only a sheet minds. The methods that write return
// the errors of their writer and nothing else. ReadJSON has a [FormatError] and
// a VersionError.
//
// # Care
//
// A sheet carries the usual cautions about saws. A program that shows parts of a
// sheet only should show them too.
package cutsheet
