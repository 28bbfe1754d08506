package finish_test

import (
	"fmt"

	"example.com/longpoint/finish"
	"example.com/longpoint/measure"
)

// Before anything is scheduled: does the renovation rule cover the work?
func ExampleLeadRule_Gate() {
	school := finish.Building{Year: 1924, Occupancy: finish.OccupancyChildren}
	gate, err := finish.USLeadRule().Gate(school, []finish.RemovedTrim{
		{Room: "classroom", Label: "base, pried off whole", Length: 40 * measure.Foot, Girth: 21 * measure.Inch / 4},
		{Room: "cloakroom", Label: "base, pried off whole", Length: 12 * measure.Foot, Girth: 21 * measure.Inch / 4},
		{Room: "corridor", Label: "a foot of base, broken off", Length: measure.Foot, Girth: 21 * measure.Inch / 4, Demolished: true},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(gate.Verdict)
	for _, r := range gate.Rooms {
		fmt.Println(r.Room, r.Removed, "covered:", gate.Covers(r.Room))
	}
	// Output:
	// covered
	// classroom 17.5 sq ft covered: true
	// cloakroom 5.25 sq ft covered: false
	// corridor 63 sq in covered: true
}

// The reason why a job is not covered determines the other duties.
func ExampleLeadVerdict() {
	base := finish.RemovedTrim{Room: "classroom", Length: 40 * measure.Foot, Girth: 6 * measure.Inch}
	free := base
	free.Test = finish.LeadFree
	found := base
	found.Test = finish.LeadFound
	for _, job := range []struct {
		b    finish.Building
		part finish.RemovedTrim
	}{
		{finish.Building{Year: 1985}, base},
		{finish.Building{Year: 1924, Occupancy: finish.OccupancyOther}, base},
		{finish.Building{Year: 1924, Unpaid: true}, base},
		{finish.Building{Year: 1924}, free},
		{finish.Building{Year: 1924}, found},
	} {
		gate, err := finish.USLeadRule().Gate(job.b, []finish.RemovedTrim{job.part})
		if err != nil {
			fmt.Println(err)
			return
		}
		switch gate.Verdict {
		case finish.VerdictLater, finish.VerdictOtherUse, finish.VerdictUnpaid, finish.VerdictNothing:
			fmt.Println("outside the federal rule:", gate.Verdict)
		case finish.VerdictTestedFree:
			fmt.Println("keep the report:", gate.Verdict)
		case finish.VerdictMinorRepair:
			fmt.Println("work clean:", gate.Verdict)
		case finish.VerdictCovered:
			fmt.Println("certified renovator:", gate.Verdict)
		}
	}
	// Output:
	// outside the federal rule: built later than the rule covers
	// outside the federal rule: neither target housing nor child-occupied
	// outside the federal rule: unpaid work
	// keep the report: tested free of lead
	// certified renovator: covered
}

func ExamplePractice_Forbidden() {
	for _, p := range []finish.Practice{
		finish.PracticeHand, finish.PracticeShrouded, finish.PracticeHeat,
		finish.PracticeHotGun, finish.PracticeUnshrouded, finish.PracticeFlame,
	} {
		fmt.Println(p, p.Forbidden())
	}
	untested := finish.RemovedTrim{Room: "corridor", Test: finish.LeadUntested}
	fmt.Println(untested.Test, "counts as leaded")
	// Output:
	// by hand false
	// shrouded power tool false
	// heat gun false
	// heat gun at 1,100 F or more true
	// unshrouded power tool true
	// open flame true
	// untested counts as leaded
}
