package finish_test

import (
	"encoding/json"
	"testing"

	"example.com/longpoint/finish"
)

// shelfText is the products of a job file, in cents. The prices are the tests' own.
const shelfText = `{"products": [
	{"label": "finish nails 8d", "material": "nails", "yield": "189 ct per lb",
	 "packages": [{"size": "1 lb", "price": 649}, {"size": "5 lb", "price": 2399}]},
	{"label": "18 gauge brads", "material": "brads", "packages": [{"size": "1000 ct", "price": 899}]},
	{"label": "white glue", "material": "wood glue", "packages": [{"size": "8 fl oz", "price": 549}]},
	{"label": "wood filler", "material": "filler",
	 "packages": [{"size": "8 fl oz", "price": 799}, {"size": "1 qt", "price": 1899}]},
	{"label": "220 paper", "material": "sandpaper",
	 "packages": [{"size": "5 ct", "price": 599}, {"size": "20 ct", "price": 1799}]},
	{"label": "painter's caulk", "material": "caulk", "hazards": ["solvents"],
	 "packages": [{"size": "10.1 fl oz", "price": 429}, {"label": "case of 12", "size": "121.2 fl oz", "price": 4499}]},
	{"label": "masking tape", "material": "tape",
	 "packages": [{"label": "roll", "size": "60 yd", "price": 699}, {"label": "six rolls", "size": "360 yd", "price": 3499}]},
	{"label": "wood primer", "material": "primer", "yield": "300 sq ft per gal", "on_hand": "1 pt",
	 "packages": [{"size": "1 qt", "price": 1499}, {"size": "1 gal", "price": 3299}]},
	{"label": "semigloss", "material": "paint", "yield": "350 sq ft per gal",
	 "packages": [{"size": "1 qt", "price": 1999}, {"size": "1 gal", "price": 4599}, {"size": "5 gal", "price": 18999}]},
	{"label": "white thinset", "material": "thinset", "yield": "80 sq ft per 50 lb",
	 "packages": [{"size": "25 lb", "price": 1599}, {"size": "50 lb", "price": 2499}]},
	{"label": "unsanded grout", "material": "grout",
	 "packages": [{"size": "1 lb", "price": 399}, {"size": "10 lb", "price": 1699}]},
	{"label": "silicone", "material": "sealant",
	 "packages": [{"size": "10.1 fl oz", "price": 899}]},
	{"label": "stone sealer", "material": "sealer", "yield": "600 sq ft per gal",
	 "packages": [{"size": "1 pt", "price": 1299}, {"size": "1 qt", "price": 2199}]}
]}`

func shelf(t testing.TB) finish.Shelf {
	t.Helper()
	var s finish.Shelf
	if err := json.Unmarshal([]byte(shelfText), &s); err != nil {
		t.Fatal(err)
	}
	return s
}

// paintedJobs are the trim of a one-room school: base, casing and crown.
func paintedJobs() []finish.Work {
	return []finish.Work{
		{System: finish.PaintedTrim(), Job: finish.Job{Label: "base", Length: 212 * ft, Height: 29 * in / 4, Face: 8 * in, Runs: 23, Splices: 6, Corners: 26, Glued: 10}},
		{System: finish.PaintedCasing(), Job: finish.Job{Label: "casing", Length: 196 * ft, Height: 9 * in / 2, Face: 23 * in / 4, Runs: 36, Edges: 2, Corners: 24}},
		{System: finish.PaintedTrim(), Job: finish.Job{Label: "crown", Length: 190 * ft, Height: 21 * in / 4, Face: 6 * in, Runs: 18, Edges: 2, Splices: 9, Corners: 20, Glued: 13, Hazards: []finish.Hazard{finish.HazardLadders}}},
	}
}

func tileJob() []finish.Work {
	return []finish.Work{{System: finish.TileBase(), Job: finish.Job{
		Label: "base", Length: 212 * ft, Height: 6 * in, Face: 8 * in, Runs: 23, Corners: 26, Outside: 8,
		Tile: finish.Tile{Length: 12 * in, Thickness: 3 * in / 8, Joint: in / 8}}}}
}
