package cutsheet_test

import (
	"bytes"
	"context"
	"fmt"
	"strings"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// The contents of the tags as a table, room by room, for a program that prints its own labels.
func ExampleSheet_WriteTagsCSV() {
	problem := optimize.Problem{
		Sticks: []stock.Stick{{Length: 12 * measure.Foot}},
		Pieces: []stock.Piece{
			{Label: "base", Room: "cloakroom", Wall: "N", Length: measure.MustParse("9ft 2-1/2in"), Left: stock.End{Kind: stock.EndCope}},
			{Label: "stop", Room: "corridor", Wall: "E", Length: measure.MustParse("14in"), Quantity: 2},
		},
	}
	plan, err := optimize.Solve(context.Background(), problem, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	sheet, err := cutsheet.New(context.Background(), problem, plan, &cutsheet.Options{Job: "Schoolhouse", Tags: cutsheet.TagGrid{ByRoom: true}})
	if err != nil {
		fmt.Println(err)
		return
	}
	var table bytes.Buffer
	if err := sheet.WriteTagsCSV(&table); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(strings.ReplaceAll(strings.TrimPrefix(table.String(), "\ufeff"), "\r\n", "\n"))
	// Output:
	// Room,Wall,Piece,Length,Left end,Right end,Pattern,Cut,Stick,Pieces,Work,On hold,Job,Date,Revision,Fingerprint
	// "cloakroom","N","base","9' 2-1/2""","cope 45°","square","A",2,1,1,,,"Schoolhouse",,,"PND-3K2-4PM"
	// "corridor","E","stop","1' 2""","square","square","A",1,1,1,,,"Schoolhouse",,,"PND-3K2-4PM"
	// "corridor","E","stop","1' 2""","square","square","A",1,1,1,,,"Schoolhouse",,,"PND-3K2-4PM"
}
