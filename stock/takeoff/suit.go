package takeoff

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// suitability looks at the profiles together.
func suitability(s Scheme) []Finding {
	if s.Casing == nil {
		return nil
	}
	var fs []Finding
	for _, f := range []struct {
		p    *stock.Profile
		back measure.Length
	}{{s.Base, 0}, {s.ChairRail, 0}} {
		if f.p == nil || f.p.Thickness <= s.Casing.Thickness {
			continue
		}
		over := f.p.Thickness - s.Casing.Thickness
		fs = append(fs, Finding{
			Kind: ThickBase, Severity: Advice, Length: over,
			Reason: fmt.Sprintf("%s is %v thicker than the casing %s that it dies into; its end will show", f.p.Name, over, s.Casing.Name),
		})
	}
	return fs
}
