package recipes_test

import (
	"context"
	"fmt"
	"log"

	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
)

// corridorBase is one job in two materials: the trim names the first, the variant swaps it.
const corridorBase = `{
	"rooms": [{"name": "corridor", "walls": [
		{"name": "N", "length": "26ft 10in"}, {"name": "E", "length": "5ft 1-1/4in"},
		{"name": "S", "length": "26ft 10in"}, {"name": "W", "length": "5ft 1-1/4in"}]}],
	"trim": {"base": {"name": "pine base"}},
	"materials": [
		{"profile": {"name": "pine base", "thickness": "9/16in", "width": "5-1/4in"}, "preprimed": true, "system": "painted",
		 "sticks": [{"length": "12ft", "price": 1908}, {"length": "16ft", "price": 2608}]},
		{"profile": {"name": "oak base", "thickness": "9/16in", "width": "5-1/4in"}, "system": "sealed",
		 "sticks": [{"length": "12ft", "price": 4260}, {"length": "16ft", "price": 5840}]}],
	"kerf": "1/8in",
	"systems": [
		{"label": "painted", "steps": [{"task": "install"}, {"task": "fill"}, {"task": "sand"}, {"task": "caulk"}, {"task": "paint", "coats": 2}]},
		{"label": "sealed", "steps": [{"task": "install"}, {"task": "seal"}]}],
	"shelf": {"products": [
		{"label": "nails", "material": "nails", "packages": [{"size": "1000", "price": 1480}]},
		{"label": "filler", "material": "filler", "packages": [{"size": "8 fl oz", "price": 760}]},
		{"label": "sandpaper", "material": "sandpaper", "packages": [{"size": "15", "price": 1090}]},
		{"label": "caulk", "material": "caulk", "packages": [{"size": "10 fl oz", "price": 445}]},
		{"label": "enamel", "material": "paint", "packages": [{"size": "1 qt", "price": 2290}]},
		{"label": "hard oil", "material": "sealer", "packages": [{"size": "1 qt", "price": 3150}]}]},
	"terms": {"wage": 5200, "burden": "30%", "markup": "25%"},
	"variants": [{"label": "oak", "swap": [{"from": "pine base", "to": "oak base"}]}],
	"locale": {"currency": {"symbol": "$"}}
}`

func Example_materials() {
	var job estimate.Job
	if err := measure.UnmarshalStrict([]byte(corridorBase), &job); err != nil {
		log.Fatal(err)
	}
	e, err := estimate.New(context.Background(), job, nil)
	if err != nil {
		log.Fatal(err)
	}
	oak := e.Variants[0].Estimate
	money := job.Locale.FormatMoney
	pineRows, oakRows := e.Quote.ByKind(), oak.Quote.ByKind()
	for i, r := range pineRows {
		fmt.Printf("%-12s %10s %10s\n", r.Label, money(r.Direct), money(oakRows[i].Direct))
	}
	fmt.Printf("%-12s %10s %10s\n", "price", money(e.Quote.Price), money(oak.Quote.Price))

	// The wage at which they change places.
	spans, err := estimate.BreakEvenWage(e.Alternative("pine"), oak.Alternative("oak"), job.Terms, estimate.WageRange{To: 15000, Step: 100})
	if err != nil {
		log.Fatal(err)
	}
	for _, s := range spans {
		fmt.Println("from", money(s.From), "to", money(s.To), "an hour:", s.Cheaper)
	}
	// Output:
	// trim            $123.40    $276.20
	// consumables      $60.65     $46.30
	// labor           $575.54    $313.13
	// price           $949.49    $794.54
	// from $0.00 to $27.00 an hour: pine
	// from $28.00 to $150.00 an hour: oak
}
