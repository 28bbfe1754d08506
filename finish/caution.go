package finish

import (
	"slices"
	"strconv"
	"strings"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// A Hazard names a danger, such as silica dust. A [Product], a [Job] or a [Step] names its
// hazards, and [Cautions] returns the texts to print for them. Later versions may add
// hazards.
type Hazard string

const (
	HazardSaws           Hazard = "saws"         // any powered cut
	HazardTableSaw       Hazard = "table saw"    // trim that is ripped
	HazardSmallPieces    Hazard = "small pieces" // returns and other short parts
	HazardNailers        Hazard = "nailers"      // pneumatic and battery nailers
	HazardAir            Hazard = "compressed air"
	HazardPower          Hazard = "electric power" // cords and plugged-in tools on a site
	HazardWoodDust       Hazard = "wood dust"
	HazardFiberboard     Hazard = "fiberboard"  // MDF and the like: formaldehyde besides dust
	HazardSilica         Hazard = "silica"      // stone, tile, mortar, engineered quartz
	HazardRespirators    Hazard = "respirators" // if one is worn
	HazardSolvents       Hazard = "solvents"    // paint, adhesive, cleaner
	HazardOilyRags       Hazard = "oily rags"   // linseed oil and alkyd paint
	HazardHotPlastic     Hazard = "hot plastic" // PVC and polystyrene trim under the saw
	HazardNoise          Hazard = "noise"
	HazardLeadPaint      Hazard = "lead paint"      // painted trim of a house before 1978
	HazardHiddenServices Hazard = "hidden services" // wiring, plumbing, old mastic behind the wall
	HazardAsbestos       Hazard = "asbestos"        // old mastic, floor tile, plaster, insulation
	HazardScrap          Hazard = "scrap"           // removed trim: nails, splinters, pry bars
	HazardLadders        Hazard = "ladders"
	HazardScaffold       Hazard = "scaffold"
	HazardFalls          Hazard = "falls"   // open stairs, landings and edges
	HazardGeneral        Hazard = "general" // applies with every other caution; need not be requested
)

// hazards lists all hazards in the order in which their cautions are printed.
var hazards = [...]Hazard{
	HazardSaws, HazardTableSaw, HazardSmallPieces, HazardNailers, HazardAir, HazardPower, HazardWoodDust, HazardFiberboard, HazardSilica, HazardRespirators,
	HazardSolvents, HazardOilyRags, HazardHotPlastic, HazardNoise, HazardLeadPaint, HazardHiddenServices, HazardAsbestos, HazardScrap,
	HazardLadders, HazardScaffold, HazardFalls, HazardGeneral,
}

// checkHazards reports the first of the hazards that has no caution.
func checkHazards(all []Hazard) error {
	for i, h := range all {
		if !slices.Contains(hazards[:], h) {
			return fault.Field("hazards["+strconv.Itoa(i)+"]", string(h), "a known hazard, such as saws or silica")
		}
	}
	return nil
}

// Caution is one caution to print before the work starts.
type Caution struct {
	Topic   Hazard `json:"topic"`   // the hazard
	Trigger string `json:"trigger"` // the part of the job that calls for it
	Text    string `json:"text"`    // what to do about it
	Source  string `json:"source"`  // publication, or "common practice, no source"
}

const commonPractice = "common practice, no source"

// Cautions returns the cautions for the given hazards as a fresh slice, in the units of the
// locale: each hazard once, in the order of the constants, and last the caution that
// defers to local codes, the product's own sheet and licensed practice. Without hazards the
// result is empty. An unknown hazard is a [*measure.FieldError].
func Cautions(locale measure.Locale, asked ...Hazard) ([]Caution, error) {
	if err := checkHazards(asked); err != nil {
		return nil, err
	}
	var out []Caution
	for _, h := range hazards {
		if slices.Contains(asked, h) || h == HazardGeneral && len(asked) > 0 {
			if h == HazardLeadPaint {
				out = append(out, USLeadRule().general(locale)...)
				continue
			}
			for _, k := range cautions[h] {
				out = append(out, Caution{h, inUnits(k.trigger, locale.Metric), inUnits(k.text, locale.Metric), k.source})
			}
		}
	}
	return out, nil
}

// Cautions returns the cautions to read before the step starts: [Cautions] of its
// hazards.
func (r StepResult) Cautions(locale measure.Locale) ([]Caution, error) {
	return Cautions(locale, r.Hazards...)
}

// CautionsBefore returns, for each step of a list in the order of work, the cautions to
// read before it starts: each caution once, before the first step that it concerns. Call it
// separately for separate lists, such as the steps of one day and crew. A result for a step
// is either empty or ends with the caution that defers to local codes, the product's own
// sheet and licensed practice. An unknown hazard is a [*measure.FieldError].
func CautionsBefore(locale measure.Locale, steps []StepResult) ([][]Caution, error) {
	all := make([][]Caution, len(steps))
	said := map[Hazard]bool{HazardGeneral: true}
	for i, s := range steps {
		if err := checkHazards(s.Hazards); err != nil {
			return nil, fault.Under("steps["+strconv.Itoa(i)+"]", err)
		}
		var asked []Hazard
		for _, h := range s.Hazards {
			if !said[h] {
				said[h] = true
				asked = append(asked, h)
			}
		}
		var err error
		if all[i], err = Cautions(locale, asked...); err != nil {
			return nil, err
		}
	}
	return all, nil
}

// inUnits returns a text with each measure of the form {6 in|153 mm} replaced by the
// one that fits the country.
func inUnits(s string, metric bool) string {
	for {
		before, rest, ok := strings.Cut(s, "{")
		if !ok {
			return s
		}
		measures, after, _ := strings.Cut(rest, "}")
		us, si, _ := strings.Cut(measures, "|")
		if metric {
			us = si
		}
		s = before + us + after
	}
}
