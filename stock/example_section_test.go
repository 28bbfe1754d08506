package stock_test

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// Where to hook the tape on a piece that lies on its back.
func ExampleSectionPoint() {
	for _, e := range []stock.End{
		{Kind: stock.EndSquare}, {Kind: stock.EndCope}, {Kind: stock.EndOutsideMiter}, {Kind: stock.EndFlatMiter},
		{Kind: stock.EndPlumb, Angle: 36 * measure.Degree}, {Kind: stock.EndPlumb, Angle: -36 * measure.Degree},
	} {
		hook := ""
		switch e.LongPoint() {
		case stock.SectionAll:
			hook = "anywhere"
		case stock.SectionBack:
			hook = "on the bench side"
		case stock.SectionFace:
			hook = "on top"
		case stock.SectionOuterEdge, stock.SectionUpperEdge:
			hook = "at the far edge"
		case stock.SectionInnerEdge, stock.SectionLowerEdge:
			hook = "at the near edge"
		}
		fmt.Printf("%v: %s\n", e.Kind, hook)
	}
	// Output:
	// square: anywhere
	// cope: on the bench side
	// outside miter: on top
	// flat miter: at the far edge
	// plumb cut: at the far edge
	// plumb cut: at the near edge
}
