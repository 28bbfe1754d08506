// Package tearout plans what comes off before new trim goes on: how long it takes, how the
// dust is held, what goes to the dump and what is worth saving.
//
// # Flow
//
// A [Job] lists the rooms and the old trim in them, a [Part] for each kind: how long, how
// thick and wide, how it comes off. A door's casing has two faces, which lie in two rooms:
// [Door] makes the parts of both. [New] tests the job against the lead rule before it plans
// anything ([finish.LeadRule.Gate]) and returns a [Plan]: the gate's verdict, a [Step] for
// each thing to do in each room with its labor, its cautions and the steps that it waits
// for, what to buy for holding the dust, the debris by volume, weight, bags and boxes, and
// the pieces that go to the rack.
//
// # Figures
//
// Rates of labor, the figures of the containment, densities and yields are data: [Rules]
// holds them, each with its source, date and condition, and a zero stands for the usual
// ones ([DefaultRates], [DefaultContainment], [DefaultWoods], [DefaultDisposal],
// [DefaultSalvage]). Volumes and weights are exact rationals, each rounded up once to a very
// small unit; rooms add up to the total.
//
// # What this is not
//
// The rules of law are rendered as of the date in [finish.LeadRule], many from memory. States
// may be stricter. Who removes old paint, old mastic or old plaster follows the law, a
// certified renovator and a licensed abatement contractor, not this package.
//
// A value that cannot be right is a [*measure.FieldError]; all of a job are joined, at
// most 100. What leaves the range of its type is a [*measure.RangeError].
package tearout
