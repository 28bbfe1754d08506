// Package cutsheet writes a plan for people and programs: as text for a terminal, a drawing, a
// page to print, a table for a spreadsheet, and JSON.
//
// [New] takes a problem, a plan for it, and optional options:
//
//	s, err := cutsheet.New(ctx, problem, plan, nil)
//	...
//	err = s.WriteHTML(w)
//
// New checks the plan first, so a sheet never lacks a piece and never claims more than the plan
// proves. All outputs come from the same numbers, and the same input gives the same bytes on every
// machine.
//
// # Conventions
//
// A plan is exact; a sheet is rounded for people. Lengths are rounded as [Options].Locale says, to
// 1/16 in by default. A length that is not exactly on its mark is followed by + if it is over the
// mark and by - if it is under, as strong and light readings are noted. Patterns are called A, B, C
// in the order of the plan, and the cuts of a pattern 1, 2, 3; equal consecutive pieces are one cut
// of several. A piece without a label is named by its position in the problem, from 1.
//
// If pieces have ends, the sheet lists the settings of the saw, which package joint computes from
// the corner angles and, for crown, from [Options].Profile.
//
// Other work on a piece, its Notes, is on its tag, and on the sheet below it after "only this
// piece", so that it is not confused with another of the same length. Pieces with different notes
// are never one cut, and sticks with such pieces never one pattern.
//
// Text from outside is never trusted: control characters, characters that reorder or hide text and
// invalid characters are escaped (\x1b, \u202e), markup is escaped, and a table cell never begins a
// formula.
//
// A pattern that is used a billion times takes no more room than one that is used twice: if there
// are few pieces, each has a box to tick; otherwise there is a place to write a number.
//
// # The page
//
// [Sheet.WriteHTML] is made to be printed and taken to the saw. A stick takes a few lines: its
// letter and its offcut, its bar over the whole width with the lengths in it, and for each cut a
// line with a box, the length in letters that can be read from two steps away, the piece, and for
// both ends the readings of the saw, the direction of the miter and the side to keep. Sticks that
// are cut alike, whatever the labels of their pieces, form one block, with a box for each piece up
// to ten and a place for a number beyond. Columns align on all pages, and no block is split. Title,
// job, date, revision, fingerprint and page number are at the edges of each page; browsers without
// CSS margin boxes omit those, but the head of the sheet has them too. On a telephone a stick fills
// the screen, with the count of ticked boxes at its foot. Screens set to dark get dark colors; paper
// never does.
//
// # Identification
//
// A sheet and all its tags show the job, its date and its revision from [Options], and the
// fingerprint of problem and plan: see [Sheet.Fingerprint]. An index lists for each room and wall
// the stick and cut of each piece. Sticks with pieces for rooms that wait ([Options].Hold) come
// after the others in a separate block; a splice over an assumed stud is marked. [Sheet.WriteTags]
// writes tags on label paper, [Sheet.WriteTagsCSV] the same as a table.
//
// The last line says how good the plan is known to be; [Options].ProofDetails adds the evidence.
//
// # Runs and rules
//
// The sheet also shows the job's runs and rules. Runs are listed with their splices, from the left
// long point, and the labels of their parts. The list of sticks is the purchase of the plan, with
// bundles, price breaks and sticks that stay whole; splices, yard cuts and charges follow, and all
// lines add up to the cost of the plan. Turned pieces are drawn as they lie and marked; neighbors
// that share a cut overlap; unusable stretches of a stick are cross-hatched; the yard's cut is
// drawn. Each goal of the job is listed with its result, and whether that is proven.
//
// # Pictures
//
// Besides the drawing of all sticks, [Sheet.WriteSVG], there are pictures of single things, to scale,
// as wide as a sheet of paper or a telephone: [SawEnd.Picture] of an end on the saw,
// [Sheet.RunPicture] and [SplicedRunPicture] of a spliced run over its studs, [Sheet.PurchasePicture]
// of the use of the sticks, [Sheet.ProofPicture] of how good the plan is known to be, and
// [RackPicture] of the rack before and after.
//
// # JSON, version 3
//
// The document is an object with these fields; those with an asterisk are required:
//
//	format*   "longpoint cut sheet"
//	version*  3
//	title     text: the heading of the sheet
//	job, date, revision
//	          text: identification of the job, its date and its revision
//	hold      [{"room": text, "reason": text}]: the rooms whose pieces wait
//	money     {"symbol": text, "after": bool, "minor": whole number}: see measure.Currency
//	profile   as stock.Profile: the molding, for the saw settings
//	care      [{"pattern": index, "place": index in its pieces, "remnant": length}]:
//	          the pieces that are cut from remnants shorter than min_remnant; only
//	          for readers, since it follows from problem and plan
//	problem*  as optimize.Problem
//	plan*     as optimize.Plan
//
// The fields of problem and plan, with their JSON names, are those of [optimize.Problem] and
// [optimize.Plan]. Lengths and angles are text with units that reads back exactly ("12ft 1-3/8in",
// "22.5deg"), money is whole minor units, enumerations (kinds of ends, reasons, kinds of proof,
// goals, turns, kinds of groups) are names, and indices count from 0. A missing field has its zero
// value.
//
// The proof of the plan may be omitted: its kind is then "omitted" (see
// [optimize.Plan.WithoutProof]).
//
// ReadJSON also reads versions 1 and 2, without their proofs, which had a different form: the kind
// is "omitted" here too, and the plan is not proven until it is solved again. Some fields had other
// names: of the rules "most_pieces", "hold", "transport" and "worth" are now "max_pieces",
// "min_hold", "max_transport" and "offcut_values", of a group "begun" is "started", and of the plan
// "levels" is "goals". Version 1 has no runs and rules.
//
// A version may gain fields that an older reader can ignore, and readers ignore unknown fields. Any
// other change gets a new version number; [ReadJSON] returns a [*VersionError] for an unknown one.
// Numbers go up to 2^63-1, beyond the exact range of float64.
//
// # Errors
//
// New returns the errors of [optimize.Audit] for the plan or the problem, and a
// [*measure.FieldError] for anything else that a sheet cannot show. The methods that write return the
// errors of their writer and nothing else. ReadJSON returns a [*FormatError] or a [*VersionError].
//
// # Safety
//
// A sheet has the usual cautions about saws. A program that shows only parts of a sheet should show
// them too.
package cutsheet
