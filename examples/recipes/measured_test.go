package recipes_test

import (
	"fmt"
	"log"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock/takeoff"
)

func Example_measured() {
	const in, ft = measure.Inch, measure.Foot
	classroom := takeoff.Room{Name: "classroom", Walls: []takeoff.Wall{
		{Name: "N", Length: 23*ft + 4*in},
		{Name: "E", Length: 18*ft + 6*in},
		{Name: "S", Length: 22*ft + 4*in, Openings: []takeoff.Opening{{At: 16 * ft, Width: 36 * in}}},
		{Name: "W", Length: 18*ft + 6*in},
	}, Diagonals: []takeoff.Diagonal{{From: "N", To: "S", Length: 29*ft + 9*in + 5*in/16}}}
	findings, err := takeoff.Check([]takeoff.Room{classroom}, takeoff.Scheme{}, nil)
	if err != nil {
		log.Fatal(err)
	}
	for _, f := range findings {
		fmt.Printf("%v (%s): %s\n", f.Severity, f.Code, f.Reason)
	}
	// Output:
	// doubt (closure): the walls fail to close by 1', more than careful readings may add up to, about 7/32"; measure S again: 23' 4" instead of 22' 4" would do (a foot mark misread); if they read the same, the room is out of square, which the other diagonal shows
	// doubt (opposite walls): opposite walls N (23' 4") and S (22' 4") differ by 1'
	// doubt (missed foot): a foot mark misread: S would be 23' 4" instead of 22' 4"
}
