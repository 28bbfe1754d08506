package recipes_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"io"
	"log"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

func Example_tags() {
	job := optimize.Problem{
		Sticks: []stock.Stick{{Length: 12 * measure.Foot}},
		Pieces: []stock.Piece{
			{Label: "base", Room: "cloakroom", Wall: "N", Length: measure.MustParse(`9' 2-1/2"`), Left: stock.End{Kind: stock.EndCope}},
			{Label: "stop", Room: "corridor", Wall: "E", Length: 14 * measure.Inch, Quantity: 2},
		},
		Kerf: measure.Inch / 8,
	}
	plan, err := optimize.Solve(context.Background(), job, nil)
	if err != nil {
		log.Fatal(err)
	}
	sheet, err := cutsheet.New(context.Background(), job, plan, &cutsheet.Options{
		Job:  "Schoolhouse",
		Tags: cutsheet.TagGrid{Columns: 2, Rows: 5, Top: measure.Inch / 2, Bottom: measure.Inch / 2, ByRoom: true},
	})
	if err != nil {
		log.Fatal(err)
	}
	if err := sheet.WriteTags(io.Discard); err != nil { // in place of io.Discard the file of a page to print on label paper
		log.Fatal(err)
	}
	var table bytes.Buffer
	if err := sheet.WriteTagsCSV(&table); err != nil { // the same tags for a printer of labels
		log.Fatal(err)
	}
	rows, err := csv.NewReader(&table).ReadAll()
	if err != nil {
		log.Fatal(err)
	}
	for _, row := range rows[1:] {
		fmt.Printf("%-10s %-2s %-5s %-10s %-9s stick %s\n", row[0], row[1], row[2], row[3], row[4], row[8])
	}
	// Output:
	// cloakroom  N  base  9' 2-1/2"  cope 45°  stick 1
	// corridor   E  stop  1' 2"      square    stick 1
	// corridor   E  stop  1' 2"      square    stick 1
}
