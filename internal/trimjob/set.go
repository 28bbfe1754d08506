package trimjob

import (
	_ "embed"
	"fmt"
	"strings"
)

// Known is a job of the fixed selection and its known results, in cents.
//
// Best and Bound were found by general mixed-integer solvers (arc-flow and column models)
// within a minute per job; 0 means unknown. Those solvers compute in floating point: a Bound is
// a mark to beat, not a proof.
type Known struct {
	Class string
	Seed  uint64
	Name  string
	Best  int64 // cost of the best known plan
	Bound int64 // best known bound
}

// Closed reports whether the best known plan is known to be optimal.
func (k Known) Closed() bool { return k.Best > 0 && k.Best == k.Bound }

// Job generates the job.
func (k Known) Job() Job {
	j, err := Generate(k.Class, k.Seed, k.Name)
	if err != nil {
		panic("trimjob: a wrong line in the table of known costs: " + err.Error())
	}
	return j
}

//go:embed known.txt
var knownText string

// Set returns the fixed selection: 30 rooms, 20 houses and 3 tracts. The seeds of each class
// start at 1000 and its names at 01.
func Set() []Known {
	var out []Known
	for line := range strings.Lines(knownText) {
		if strings.HasPrefix(line, "#") {
			continue
		}
		var k Known
		if _, err := fmt.Sscan(line, &k.Class, &k.Seed, &k.Name, &k.Best, &k.Bound); err != nil {
			panic("trimjob: a wrong line in the table of known costs: " + line)
		}
		out = append(out, k)
	}
	return out
}

// OfClass returns the jobs of the selection in one class.
func OfClass(class string) []Known {
	var out []Known
	for _, k := range Set() {
		if k.Class == class {
			out = append(out, k)
		}
	}
	return out
}
