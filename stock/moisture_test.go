package stock_test

import (
	"fmt"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// The classroom at 70 °F and half the humidity that the air can hold.
func ExampleEquilibriumMoisture() {
	m, err := stock.EquilibriumMoisture(70*measure.DegreeF, 50*measure.Percent)
	fmt.Println("trim settles at", m, err)
	_, err = stock.EquilibriumMoisture(20*measure.DegreeF, 50*measure.Percent)
	fmt.Println(err)
	// Output:
	// trim settles at 9.25% <nil>
	// temperature is "20°F", want 30°F to 270°F
}

// Values of the Wood Handbook's formula at 70 °F.
func TestEquilibriumMoistureOfTheHandbook(t *testing.T) {
	for _, c := range []struct{ humidity, want int64 }{
		{25, 536}, {30, 617}, {40, 770}, {50, 925}, {55, 1007}, {65, 1196}, {80, 1600},
	} {
		got, err := stock.EquilibriumMoisture(70*measure.DegreeF, measure.Ratio(c.humidity)*measure.Percent)
		if want := measure.Ratio(c.want) * measure.Percent / 100; err != nil || got != want {
			t.Errorf("%d%%: %v, %v, want %v", c.humidity, got, err, want)
		}
	}
	// The table prints 9.2 at 50 %, the form in °C gives 9.24.
}

// Damper air makes damper wood, warmer air drier wood, in the range in which trim is put up.
func TestEquilibriumMoistureIsMonotone(t *testing.T) {
	for f := measure.Temperature(40); f <= 120; f++ {
		for h := measure.Ratio(5); h <= 90; h++ {
			at, err := stock.EquilibriumMoisture(f*measure.DegreeF, h*measure.Percent)
			damper, err2 := stock.EquilibriumMoisture(f*measure.DegreeF, (h+1)*measure.Percent)
			warmer, err3 := stock.EquilibriumMoisture((f+10)*measure.DegreeF, h*measure.Percent)
			if err != nil || err2 != nil || err3 != nil || damper <= at || warmer > at {
				t.Fatalf("%d°F %d%%: %v, damper %v, warmer %v, %v %v %v", f, h, at, damper, warmer, err, err2, err3)
			}
		}
	}
}

// Values outside the table are rejected, both faults at once.
func TestEquilibriumMoistureRefuses(t *testing.T) {
	_, err := stock.EquilibriumMoisture(-1<<62, 1<<62)
	n := 0
	for range measure.FieldErrors(err) {
		n++
	}
	if n != 2 {
		t.Errorf("%v", err)
	}
	for _, h := range []measure.Ratio{0, 95 * measure.Percent} {
		for _, f := range []measure.Temperature{30, 270} {
			if m, err := stock.EquilibriumMoisture(f*measure.DegreeF, h); err != nil || m < 0 || m > 30*measure.Percent {
				t.Errorf("%v %v: %v, %v", f, h, m, err)
			}
		}
	}
}
