package stock_test

import (
	"encoding/json"
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

func ExamplePiece() {
	p := stock.Piece{
		Label: "classroom chimney base", Length: 5*measure.Foot + 9*measure.Inch/16,
		Left: stock.End{Kind: stock.Cope}, Right: stock.End{Kind: stock.OutsideMiter},
		Allowances: []stock.Allowance{
			{Name: "wall", Length: 5 * measure.Foot},
			{Name: "outside miter at right", Length: 9 * measure.Inch / 16},
		},
	}
	text, err := json.MarshalIndent(p, "", "  ")
	fmt.Println(string(text), err)
	// Output:
	// {
	//   "label": "classroom chimney base",
	//   "length": "5ft 9/16in",
	//   "left": {
	//     "kind": "cope"
	//   },
	//   "right": {
	//     "kind": "outside miter"
	//   },
	//   "allowances": [
	//     {
	//       "name": "wall",
	//       "length": "5ft"
	//     },
	//     {
	//       "name": "outside miter at right",
	//       "length": "9/16in"
	//     }
	//   ]
	// } <nil>
}

func ExampleProfile() {
	var p stock.Profile
	err := json.Unmarshal([]byte(`{
		"name": "fir crown", "use": "crown", "thickness": "11/16in", "width": "4in", "spring": "30°",
		"lengths": ["8ft", "16ft"], "end_trim": "1/4in"}`), &p)
	fmt.Println(p.Projection(), p.Longest(), err)
	// Output: 2" 15' 11-1/2" <nil>
}

func ExampleRack() {
	rack := stock.Rack{Offcuts: []stock.Offcut{
		{Profile: "fir base", Length: 31 * measure.Inch},
		{Profile: "fir base", Length: 74 * measure.Inch, Count: 2},
	}}
	for _, s := range rack.Sticks("fir base") {
		fmt.Println(s.Length, s.Limit)
	}
	// Output:
	// 6' 2" 2
	// 2' 7" 1
}

func ExampleEnd_LongPoint() {
	fmt.Println(stock.End{Kind: stock.OutsideMiter}.LongPoint(), stock.End{Kind: stock.Cope}.LongPoint(), stock.End{}.LongPoint())
	// Output: face back even
}
