// Package tearout plans the removal of old trim before new trim is installed: the labor,
// the containment of dust, the debris and the pieces worth saving.
//
// # Flow
//
// A [Job] lists the rooms and the old trim in them, with a [Part] for each kind: its
// length, thickness, width and method of removal. A door's casing has two faces, in two
// rooms: [DoorCasing] returns the parts of both. [New] tests the job against the lead rule before
// it plans anything ([finish.LeadRule.Gate]) and returns a [Plan]: the verdict of the gate,
// a [Step] for each task in each room with its labor, its cautions and the steps for which
// it waits, the materials for containment, the debris by volume, weight, bags and boxes,
// and the pieces for the rack.
//
// # Figures
//
// Labor rates, containment figures, densities and yields are data: [Rules] holds them, each
// with its source, date and condition, and a zero means the defaults ([DefaultRates],
// [DefaultContainment], [DefaultWoods], [DefaultDisposal], [DefaultSalvage]). Volumes and
// weights are exact rationals, each rounded up once to a very small unit; the rooms sum to
// the total.
//
// # Limits
//
// The rules of law are those of the date in [finish.LeadRule], many from memory. States may
// be stricter. For the removal of old paint, old mastic or old plaster, follow the law, a
// certified renovator and a licensed abatement contractor, not this package.
//
// An invalid value is a [*measure.FieldError]; all those of a job are joined, at most
// 100. A result out of the range of its type is a [*measure.RangeError].
package tearout
