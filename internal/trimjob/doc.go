// Package trimjob generates stock jobs that resemble running trim: lengths in sixteenths of an
// inch, several stick lengths with prices, a saw kerf, some lengths in short supply and offcuts
// on the rack. Only tests and benchmarks use it.
//
// The same class, seed and name give the same job, byte for byte, on every machine: it uses
// neither datasets nor a library's random numbers. [Set] lists a fixed selection of jobs with
// the cheapest plans and the best bounds that general solvers found for them.
package trimjob
