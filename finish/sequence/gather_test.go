package sequence_test

import (
	"fmt"
	"testing"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/sequence"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// twoProfiles is base and casing in a room, painted alike.
func twoProfiles() []sequence.Work {
	var all []sequence.Work
	for _, t := range []sequence.Trim{{Room: "classroom", Profile: "casing", Role: stock.RoleCasing, Preprimed: true}, {Room: "classroom", Profile: "base", Preprimed: true}} {
		for _, task := range []finish.Task{finish.TaskInstall, finish.TaskFill, finish.TaskSand, finish.TaskCaulk, finish.TaskPaint} {
			all = append(all, sequence.Work{Task: task, Trim: t, Labor: hour, Coats: 2, Dry: finish.Drying{Recoat: hour}})
		}
	}
	return all
}

// Work that the trim of a room has in common is one step of a painter, with the same total
// labor, unless profiles are kept apart; installation is never combined.
func ExampleOptions_together() {
	for _, apart := range []bool{false, true} {
		order, err := sequence.Network(sequence.Job{Work: twoProfiles()}, &sequence.Options{EachProfile: apart})
		if err != nil {
			fmt.Println(err)
			return
		}
		for i, a := range order.Activities {
			if s := order.Steps[i].Stage; s == sequence.StageInstall || s == sequence.StageCaulk {
				fmt.Println(a.ID, a.Labor, "with", len(order.Steps[i].With), "more")
			}
		}
	}
	// Output:
	// classroom: casing: install 1h with 0 more
	// classroom: base: install 1h with 0 more
	// classroom: caulk 2h with 1 more
	// classroom: casing: install 1h with 0 more
	// classroom: casing: caulk 1h with 0 more
	// classroom: base: install 1h with 0 more
	// classroom: base: caulk 1h with 0 more
}

// Together or apart, the same labor is done, every work once for each coat.
func TestTogetherIsTheSameWork(t *testing.T) {
	works := append(schoolhouse(), twoProfiles()...)
	type done struct {
		work int
		coat int64
	}
	var sums []measure.Duration
	var counts []int
	for _, apart := range []bool{false, true} {
		order, err := sequence.Network(sequence.Job{Work: works}, &sequence.Options{EachProfile: apart})
		if err != nil {
			t.Fatal(err)
		}
		seen := map[done]bool{}
		var sum measure.Duration
		for i, a := range order.Activities {
			sum += a.Labor
			step := order.Steps[i]
			for _, w := range append([]int{step.Work}, step.With...) {
				if d := (done{w, step.Coat}); w >= 0 && seen[d] {
					t.Errorf("apart %v: work %d, coat %d, is done twice", apart, w, step.Coat)
				} else {
					seen[d] = true
				}
			}
		}
		sums, counts = append(sums, sum), append(counts, len(order.Activities))
	}
	if sums[0] != sums[1] || counts[0] >= counts[1] {
		t.Errorf("%v in %d activities together, %v in %d apart", sums[0], counts[0], sums[1], counts[1])
	}
}
