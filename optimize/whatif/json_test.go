package whatif_test

import (
	"context"
	"encoding/json"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/whatif"
	"example.com/longpoint/stock"
)

// The results of the package read back from JSON, and their names have underscores.
func TestAnswersJSON(t *testing.T) {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 8 * measure.Foot, Price: 800}, {Length: 12 * measure.Foot, Price: 1300}},
		Pieces: []stock.Piece{{Length: 4 * measure.Foot, Quantity: 4}},
	}
	plan := mustSolve(t, p)
	ctx := context.Background()
	diff, err := whatif.Solve(ctx, p, plan, nil, whatif.MorePieces(0, 1))
	if err != nil {
		t.Fatal(err)
	}
	cands, err := whatif.Candidates(ctx, p, plan, []stock.Stick{{Length: 10 * measure.Foot, Price: 900}, {Length: 16 * measure.Foot, Price: 90_000}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	buy, err := whatif.PriceToBuy(ctx, p, 1, 5000, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, answer := range []any{*diff, cands, *buy} {
		text, err := json.Marshal(answer)
		if err != nil {
			t.Fatal(err)
		}
		back := reflect.New(reflect.TypeOf(answer))
		if err := json.Unmarshal(text, back.Interface()); err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		if d := cmp.Diff(answer, back.Elem().Interface()); d != "" {
			t.Errorf("(-want +got):\n%s", d)
		}
		var tree any
		if err := json.Unmarshal(text, &tree); err != nil {
			t.Fatal(err)
		}
		var walk func(any)
		walk = func(v any) {
			switch v := v.(type) {
			case map[string]any:
				for name, x := range v {
					if name == "" || name != strings.ToLower(name) {
						t.Errorf("%T: name %q in JSON", answer, name)
					}
					walk(x)
				}
			case []any:
				for _, x := range v {
					walk(x)
				}
			}
		}
		walk(tree)
	}
	want := fmt.Sprintf(`{"low":%d,"high":%d}`, diff.Low, diff.High)
	if text, err := json.Marshal(diff.Range); err != nil || string(text) != want {
		t.Errorf("%s, %v, want %s", text, err, want)
	}
}
