// Package trimjob makes stock jobs that look like running trim: lengths in
// sixteenths of an inch, several stick lengths with a price each, a saw kerf,
// some lengths in short supply and offcuts on the rack. Tests and benchmarks
// feed on it; nothing that ships imports it.
//
// The same class, seed and name give the same job, byte for byte, on every
// machine: no dataset stands behind it and no library's random numbers go into
// it. [Set] lists a fixed selection of jobs together with the cheapest plans
// and the best bounds that general solvers found for them.
package trimjob
