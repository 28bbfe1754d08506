package joint_test

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock/joint"
)

// The strip behind crown of 4 5/8 in that springs at 38°, and the spring of that crown if a dip
// in the ceiling leaves only 3 1/2 in of drop.
func ExampleBacking() {
	wall, ceiling, err := joint.Backing(37*measure.Inch/8, 38*measure.Degree, measure.Inch/4)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(wall.About(measure.Inch/32), "on the wall,", ceiling.About(measure.Inch/32), "on the ceiling")
	spring, out, err := joint.SpringAt(37*measure.Inch/8, 7*measure.Inch/2)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("at a drop of 3-1/2\" it springs at %.2f° and reaches %v into the room\n", spring.Degrees(), out.About(measure.Inch/32))
	// Output:
	// about 3-1/4" on the wall, about 2-17/32" on the ceiling
	// at a drop of 3-1/2" it springs at 40.82° and reaches about 3-1/32" into the room
}
