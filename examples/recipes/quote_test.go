package recipes_test

import (
	"context"
	"fmt"
	"log"

	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
)

// bookRoom has the measurements, the supplier's prices, and the terms.
const bookRoom = `{
	"rooms": [{"name": "book room", "walls": [
		{"name": "N", "length": "11ft 6-1/4in"}, {"name": "E", "length": "9ft 2in"},
		{"name": "S", "length": "11ft 6-1/4in", "openings": [{"at": "3ft", "width": "32in"}]}, {"name": "W", "length": "9ft 2in"}]}],
	"trim": {"base": {"name": "pine base"}, "casing": {"name": "casing"}},
	"materials": [
		{"profile": {"name": "pine base", "thickness": "9/16in", "width": "5-1/4in"}, "preprimed": true, "system": "nailed",
		 "sticks": [{"length": "12ft", "price": 1908}, {"length": "16ft", "price": 2608}]},
		{"profile": {"name": "casing", "thickness": "11/16in", "width": "3-1/2in"}, "preprimed": true, "system": "nailed",
		 "sticks": [{"length": "7ft 1in", "price": 1015}, {"length": "10ft", "price": 1440}]}],
	"kerf": "1/8in",
	"systems": [{"label": "nailed", "steps": [{"task": "install"}, {"task": "caulk"}, {"task": "paint", "coats": 2}]}],
	"shelf": {"products": [
		{"label": "finish nails", "material": "nails", "packages": [{"size": "1000", "price": 1480}]},
		{"label": "painter's caulk", "material": "caulk", "packages": [{"size": "10 fl oz", "price": 445}]},
		{"label": "enamel", "material": "paint", "packages": [{"size": "1 qt", "price": 2290}]}]},
	"terms": {"wage": 5200, "burden": "30%", "markup": "25%"},
	"locale": {"currency": {"symbol": "$"}}
}`

func Example_quote() {
	var job estimate.Job
	if err := measure.UnmarshalStrict([]byte(bookRoom), &job); err != nil {
		log.Fatal(err)
	}
	e, err := estimate.New(context.Background(), job, nil)
	if err != nil {
		log.Fatal(err)
	}
	money := job.Locale.FormatMoney
	for _, t := range e.Takeoff.Totals {
		fmt.Printf("%s: %d pieces, %s on the wall\n", t.Profile, t.Pieces, t.Net.About())
	}
	for _, o := range e.Orders {
		for _, l := range o.Lines {
			fmt.Printf("buy %d of %s, %s: %s\n", l.Count, l.Profile, l.Length, money(l.Cost))
		}
	}
	for _, p := range e.Finish.Purchases {
		fmt.Printf("buy %d of %s: %s\n", p.Packages, p.Product, money(p.Cost))
	}
	for _, r := range e.Quote.ByKind() {
		fmt.Printf("%-12s %9s, of the price %9s\n", r.Label, money(r.Direct), money(r.Price))
	}
	fmt.Println("price", money(e.Quote.Price), "for", e.Quote.Labor, "of work")
	// Output:
	// pine base: 5 pieces, 38' 1-1/8" on the wall
	// casing: 3 pieces, 17' 2-3/4" on the wall
	// buy 2 of pine base, 12': $38.16
	// buy 1 of pine base, 16': $26.08
	// buy 3 of casing, 7' 1": $30.45
	// buy 1 of finish nails: $14.80
	// buy 1 of painter's caulk: $4.45
	// buy 1 of enamel: $22.90
	// trim            $94.69, of the price   $118.36
	// consumables     $42.15, of the price    $52.69
	// labor          $430.91, of the price   $538.64
	// price $709.69 for 6h22m27s of work
}
