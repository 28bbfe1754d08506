package records_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"example.com/longpoint/examples/store/records"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// The bench of the cloakroom, from the rack to the rack.
func Example() {
	dir, err := os.MkdirTemp("", "records")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	if err := bench(filepath.Join(dir, "schoolhouse.db")); err != nil {
		fmt.Println(err)
	}
	// Output:
	// held for bench: 1 @ 7' 2"
	// free: 1 @ 1' 3-7/8"
	// 1 jobs, 2 offcuts came, 1 went
}

func bench(file string) error {
	ctx := context.Background()
	db, err := records.Open(ctx, file) // or postgres://carpenter@server/workshop
	if err != nil {
		return err
	}
	defer db.Close()
	if err := db.SetRack(ctx, "shop", measure.Foot, nil); err != nil {
		return err
	}
	if _, err := db.Change(ctx, "shop", stock.RackChange{ID: "left over from the porch", Leaves: []stock.Offcut{{Profile: "fir rail", Length: 86 * measure.Inch}}}); err != nil {
		return err
	}
	// Solve is called again if another job takes an offcut in the meantime.
	solve := func(ctx context.Context, rack stock.Rack) (optimize.Problem, *optimize.Plan, *cutsheet.Options, error) {
		p := optimize.Problem{
			Sticks: append(rack.Sticks("fir rail"), stock.Stick{Length: 12 * measure.Foot, Price: 2175, Profile: "fir rail"}),
			Pieces: []stock.Piece{{Label: "bench", Length: 70 * measure.Inch}},
			Kerf:   measure.Inch / 8,
		}
		plan, err := optimize.Solve(ctx, p, nil)
		return p, plan, nil, err
	}
	if _, err := db.Plan(ctx, "bench", "shop", solve); err != nil {
		return err
	}
	_, held, err := db.Rack(ctx, "shop")
	if err != nil {
		return err
	}
	for _, h := range held {
		fmt.Printf("held for %s: %d @ %v\n", h.Job, h.Offcuts[0].Count, h.Offcuts[0].Length)
	}
	for range 2 { // the second time it does nothing
		if err := db.Cut(ctx, "bench", nil); err != nil {
			return err
		}
	}
	free, _, err := db.Rack(ctx, "shop")
	if err != nil {
		return err
	}
	for _, o := range free.Offcuts {
		fmt.Printf("free: %d @ %v\n", o.Count, o.Length)
	}
	counted, err := db.Verify(ctx)
	if err != nil {
		return err
	}
	fmt.Printf("%d jobs, %d offcuts came, %d went\n", counted.Jobs, counted.Came.Offcuts.Int64(), counted.Went.Offcuts.Int64())
	return nil
}
