package estimate

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/labor"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/finish/sequence"
	"example.com/longpoint/finish/tearout"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

const (
	maxLead  = 3650 // days
	maxSpare = 1_000_000
)

// Validate returns nil if the job is valid, or every fault as joined *[measure.FieldError]
// values, at most 100, in the order of the fields. Paths are by JSON names, such as
// materials[2].sticks[0].price. Faults that only computing shows, such as a wall for which no
// stick is long enough, are reported by [New].
func (j Job) Validate() error {
	var bad fault.List
	if len(j.Rooms) == 0 {
		bad.Add("rooms", "empty", "one room at least")
	}
	named := j.checkMaterials(&bad)
	j.checkTrim(&bad, named)
	j.checkSuppliers(&bad)
	if j.Kerf < 0 {
		bad.Add("kerf", j.Kerf.About(), "zero or more")
	}
	j.checkRules(&bad)
	bad.Under("rack", j.Rack.Validate())
	j.checkSystems(&bad)
	bad.Under("shelf", j.shelf().Validate())
	if _, err := finish.USLeadRule().Cautions(j.Building, nil, j.Locale); err != nil {
		bad.Under("building", err)
	}
	if j.TearOut != nil {
		_, err := tearout.New(j.tearOut())
		bad.Under("tear_out", without(err, "building.", "rack.", "locale.")) // those of the job
	}
	if j.Disposal.Bag < 0 {
		bad.Add("disposal.bag", j.Disposal.Bag, wantCents)
	}
	if j.Disposal.Box < 0 {
		bad.Add("disposal.box", j.Disposal.Box, wantCents)
	}
	if j.Rates != nil {
		bad.Under("rates", j.Rates.Validate())
	}
	habit := labor.Options{Conditions: j.Labor.Conditions, MiteredSkirts: j.Labor.MiteredSkirts}
	_, err := labor.Lines(nil, nil, nil, j.rates(), &habit)
	bad.Under("", without(moved(err, map[string]string{"options": "labor"}), "rates."))
	if j.Calendar != nil {
		_, err := schedule.Build(context.Background(), nil, *j.Calendar, nil)
		bad.Under("", err)
	}
	if j.OrderOn != (schedule.Date{}) {
		_, err := j.OrderOn.MarshalText()
		bad.Under("order_on", err)
	}
	_, err = sequence.Network(sequence.Job{}, &j.Sequence)
	bad.Under("", moved(err, map[string]string{"options": "sequence"}))
	j.checkOthers(&bad)
	for i, c := range j.Costs {
		bad.Under(fault.At("costs", i), c.check())
	}
	if j.SecondTrip != nil {
		_, err := j.SecondTrip.Cost()
		bad.Under("second_trip", err)
	}
	bad.Under("payments", j.Payments.check())
	bad.Under("terms", j.terms().check())
	j.checkVariants(&bad, named)
	bad.Under("locale", j.Locale.Validate())
	j.checkOne(&bad)
	return bad.Err()
}

// checkTrim checks the rooms, the trim and the conditions as the takeoff does.
func (j Job) checkTrim(bad *fault.List, named map[string]stock.Profile) {
	scheme := j.looked(bad, named)
	habits := j.habits()
	if _, err := takeoff.Check(j.rooms(named), scheme, &habits); err != nil {
		var given []string // faults that belong to materials
		for p := range places(&scheme) {
			if m, ok := named[p.profile().Name]; ok && m.Width == p.profile().Width {
				given = append(given, "trim."+p.path+".")
			}
		}
		bad.Under("", without(fieldsOfTake(err), given...))
	}
	if _, err := takeoff.CheckTrim(nil, takeoff.Scheme{}, j.conditions()); err != nil {
		bad.Under("conditions", err)
	}
}

// checkSystems checks that the labels of the finishing systems are unique; each system is checked
// with the shelf.
func (j Job) checkSystems(bad *fault.List) {
	for i, s := range j.Systems {
		switch {
		case s.Label == "":
			bad.Add(fault.At("systems", i)+".label", s.Label, "a name")
		case slices.ContainsFunc(j.Systems[:i], func(o finish.System) bool { return o.Label == s.Label }):
			bad.Add(fault.At("systems", i)+".label", s.Label, "a label that no other system has")
		}
	}
}

// checkOthers checks each of the others alone with package schedule; the activities that it may
// name are known only later.
func (j Job) checkOthers(bad *fault.List) {
	cal := schedule.Calendar{Start: time.Date(2000, 1, 3, 8, 0, 0, 0, time.UTC), Crews: []schedule.Crew{{People: 1000}}}
	for i, o := range j.Others {
		alone := []schedule.Activity{o.Activity}
		for _, l := range o.Activity.After {
			if !slices.ContainsFunc(alone, func(a schedule.Activity) bool { return a.ID == l.ID }) {
				alone = append(alone, schedule.Activity{ID: l.ID})
			}
		}
		_, network := schedule.CriticalPath(alone) // a schedule checks this first, and alone
		plain := o.Activity
		plain.ID, plain.Labor, plain.After = "other", 0, nil
		_, people := schedule.Build(context.Background(), []schedule.Activity{plain}, cal, nil)
		var rest error
		if people != nil { // it is the same fault
			plain.People = 0
			_, rest = schedule.Build(context.Background(), []schedule.Activity{plain}, cal, nil)
		}
		for f := range measure.FieldErrors(once(slices.DeleteFunc(fault.List{network, people, rest}, func(err error) bool { return err == nil }))) {
			if rest, ok := strings.CutPrefix(f.Field, "activities[0]."); ok {
				b := *f
				b.Field = fault.At("others", i) + ".activity." + rest
				bad.Under("", &b)
			}
		}
	}
}

// checkOne rejects fields that are given twice with different values: the job has one locale,
// one building and one rack.
func (j Job) checkOne(bad *fault.List) {
	type place struct {
		field string
		c     measure.Locale
	}
	places := []place{{"habits", j.Habits.Locale}, {"conditions", j.Conditions.Locale}, {"shelf", j.Shelf.Locale}, {"terms", j.Terms.Locale}, {"payments", j.Payments.Locale}}
	if t := j.TearOut; t != nil {
		places = append(places, place{"tear_out", t.Locale})
		if t.Building != (finish.Building{}) && t.Building != j.Building {
			bad.Add("tear_out.building", "given", "nothing: the building of the job counts")
		}
		if len(t.Rack.Offcuts) > 0 || len(t.Rack.Rules) > 0 || len(t.Rack.Applied) > 0 || t.Rack.Keep != 0 {
			bad.Add("tear_out.rack", "given", "nothing: the rack of the job counts")
		}
	}
	for _, p := range places {
		if p.c != (measure.Locale{}) && p.c != j.Locale {
			bad.Add(p.field+".locale", "another one", "nothing, or the locale of the job")
		}
	}
	if n := len(j.Labor.Profiles); n > 0 {
		bad.Add("labor.profiles", n, "none: they are those of the materials")
	}
	for i, m := range j.Materials {
		for k, c := range m.Costs {
			if c.Profile != "" && c.Profile != m.Profile.Name {
				bad.Add(fault.At("materials", i)+"."+fault.At("costs", k)+".profile", c.Profile, "nothing, or the name of the material's profile")
			}
		}
	}
}

// without removes the field errors below some paths.
func without(err error, paths ...string) error {
	var out fault.List
	n := 0
	for bad := range measure.FieldErrors(err) {
		n++
		if !slices.ContainsFunc(paths, func(p string) bool { return strings.HasPrefix(bad.Field, p) }) {
			out.Under("", bad)
		}
	}
	if n == 0 {
		return err
	}
	return out.Err()
}

// fieldsOfTake translates the paths of faults that Take reports to those of the job.
func fieldsOfTake(err error) error {
	var out []error
	for bad := range measure.FieldErrors(err) {
		first, _, _ := strings.Cut(bad.Field, ".")
		first, _, _ = strings.Cut(first, "[")
		switch {
		case errors.As(bad.Err, new(*takeoff.SpliceError)): // the data is valid, but other sticks may do
			out = append(out, bad)
		case first == "rooms":
			out = append(out, bad)
		case slices.Contains(schemeFields, first):
			out = append(out, bad.Under("trim"))
		default:
			out = append(out, bad.Under("habits"))
		}
	}
	if out == nil {
		return err
	}
	return errors.Join(out...)
}

// schemeFields are the JSON names of a takeoff.Scheme.
var schemeFields = []string{
	"base", "shoe", "chair_rail", "picture_rail", "casing", "crown", "skirt", "extension", "stool", "apron", "plinth", "backband",
	"backband_lap", "thick_end", "block", "flexible", "plinth_height", "casing_styles", "wainscot", "chair_rail_at", "picture_rail_at", "assemblies",
}

// checkMaterials returns the profiles by name, completed.
func (j Job) checkMaterials(bad *fault.List) map[string]stock.Profile {
	if len(j.Materials) == 0 {
		bad.Add("materials", "empty", "one material at least")
	}
	named := make(map[string]stock.Profile)
	for i, m := range j.Materials {
		here := fault.At("materials", i)
		name := m.Profile.Name
		if _, twice := named[name]; twice {
			bad.Add(here+".profile.name", name, "a name that no other material has")
		}
		p := m.profile()
		bad.Under(here+".profile", p.Validate())
		named[name] = p
		if len(m.Sticks) == 0 {
			bad.Add(here+".sticks", "empty", "one stick at least")
		}
		for k, s := range m.Sticks {
			checkStick(bad, here+"."+fault.At("sticks", k), s, &m.Profile)
		}
		if m.System != "" && !slices.ContainsFunc(j.Systems, func(s finish.System) bool { return s.Label == m.System }) {
			bad.Add(here+".system", m.System, "the label of one of the systems")
		}
		j.checkProblem(bad, i)
		if _, err := finish.Cautions(j.Locale, m.Hazards...); err != nil {
			bad.Under(here+".hazards", err)
		}
		m.Spare.check(bad, here+".spare")
		for k, c := range m.Costs {
			bad.Under(here+"."+fault.At("costs", k), c.check())
		}
	}
	return named
}

// checkProblem checks the sticks of a material with the solver's validation, whatever is cut
// from them.
func (j Job) checkProblem(bad *fault.List, i int) {
	m := j.Materials[i]
	if len(m.Sticks) == 0 {
		return
	}
	p := optimize.Problem{Sticks: m.sticks(j.Locale), Pieces: []stock.Piece{{Length: measure.Inch}}}
	for f := range measure.FieldErrors(p.Validate()) {
		var k int
		var field string
		if _, err := fmt.Sscanf(f.Field, "sticks[%d].%s", &k, &field); err == nil && field != "length" && field != "price" && field != "profile" {
			bad.Under(fault.At("materials", i), f)
		}
	}
}

func checkStick(bad *fault.List, here string, s stock.Stick, p *stock.Profile) {
	switch {
	case s.Length > 0 && s.Nominal == 0 && s.Length <= p.MillShort:
		bad.Add(here+".length", s.Length.About(), "more than the profile's short ("+p.MillShort.About()+")")
	case s.Length <= 0:
		bad.Add(here+".length", s.Length.About(), "more than zero")
	}
	if s.Price <= 0 {
		bad.Add(here+".price", s.Price, "the price of a stick, in cents; a free stick belongs on the rack")
	}
	if s.Profile != "" && s.Profile != p.Name {
		bad.Add(here+".profile", s.Profile, "nothing, or the name of the material's profile")
	}
	if s.Rack {
		bad.Add(here+".rack", s.Rack, "an offcut of the rack in its place")
	}
}

func (s Spare) check(bad *fault.List, here string) {
	if s.Sticks < 0 || s.Sticks > maxSpare {
		bad.Add(here+".sticks", s.Sticks, "0 to "+strconv.Itoa(maxSpare))
	}
	if s.Share < 0 || s.Share > whole {
		bad.Add(here+".share", s.Share, "0 to 100%")
	}
}

func (j Job) checkSuppliers(bad *fault.List) {
	for i, s := range j.Suppliers {
		here := fault.At("suppliers", i)
		switch {
		case s.Name == "":
			bad.Add(here+".name", s.Name, "a name")
		case slices.ContainsFunc(j.Suppliers[:i], func(o Supplier) bool { return o.Name == s.Name }):
			bad.Add(here+".name", s.Name, "a name that no other supplier has")
		}
		if s.Delivery < 0 {
			bad.Add(here+".delivery", s.Delivery, wantCents)
		}
		if s.MinOrder < 0 {
			bad.Add(here+".min_order", s.MinOrder, wantCents)
		}
		if s.LeadDays < 0 || s.LeadDays > maxLead {
			bad.Add(here+".lead_days", s.LeadDays, "0 to "+strconv.Itoa(maxLead))
		}
	}
}

// checkRules rejects rules that belong to one profile, or follow from other fields.
func (j Job) checkRules(bad *fault.List) {
	rules := j.Rules
	rules.Groups, rules.Charges, rules.Spare = nil, nil, 0
	p := optimize.Problem{Sticks: []stock.Stick{{Length: measure.Foot, Price: 1}}, Pieces: []stock.Piece{{Length: measure.Inch}}, Rules: rules}
	for f := range measure.FieldErrors(p.Validate()) {
		if strings.HasPrefix(f.Field, "rules.") {
			bad.Under("", f)
		}
	}
	if n := len(j.Rules.Groups); n > 0 {
		bad.Add("rules.groups", n, "none; groups name pieces, which a takeoff makes")
	}
	if n := len(j.Rules.Charges); n > 0 {
		bad.Add("rules.charges", n, "none; give the delivery of suppliers")
	}
	if j.Rules.Spare != 0 {
		bad.Add("rules.spare", j.Rules.Spare, "none; give the spare of materials")
	}
}

func (j Job) checkVariants(bad *fault.List, known map[string]stock.Profile) {
	scheme := copied(j.Trim)
	for i, v := range j.Variants {
		here := fault.At("variants", i)
		switch {
		case v.Label == "":
			bad.Add(here+".label", v.Label, "a name")
		case slices.ContainsFunc(j.Variants[:i], func(o Variant) bool { return o.Label == v.Label }):
			bad.Add(here+".label", v.Label, "a label that no other variant has")
		}
		if len(v.Swap) == 0 {
			bad.Add(here+".swap", "empty", "one swap at least")
		}
		for k, s := range v.Swap {
			found := false
			for p := range places(&scheme) {
				found = found || p.profile().Name == s.From
			}
			if !found {
				bad.Add(here+"."+fault.At("swap", k)+".from", s.From, "the name of a profile of the trim")
			}
			if _, ok := known[s.To]; !ok {
				bad.Add(here+"."+fault.At("swap", k)+".to", s.To, "the name of the profile of one of the materials")
			}
		}
	}
}

// looked returns the trim with its named profiles filled in, with a fault for those that no
// material has.
func (j Job) looked(bad *fault.List, known map[string]stock.Profile) takeoff.Scheme {
	s := copied(j.Trim)
	for p := range places(&s) {
		q := p.profile()
		m, ok := known[q.Name]
		switch {
		case ok && named(q):
			p.set(m)
		case !ok && named(q):
			bad.Add("trim."+p.path+".name", q.Name, "the name of the profile of one of the materials")
			p.set(stock.Profile{Name: q.Name, Thickness: measure.Inch / 2, Width: measure.Inch}) // no further faults for missing fields
		}
	}
	return s
}

// profile returns the profile completed from its sticks.
func (m Material) profile() stock.Profile {
	p := m.Profile
	if len(p.Lengths) == 0 {
		for _, s := range m.Sticks {
			p.Lengths = append(p.Lengths, s.Length)
		}
	}
	return p
}

// sticks returns the sticks for sale, completed from the profile.
func (m Material) sticks(c measure.Locale) []stock.Stick {
	out := slices.Clone(m.Sticks)
	for i := range out {
		s := &out[i]
		s.Label = cmp.Or(s.Label, c.About(s.Length))
		s.Profile = m.Profile.Name
		if short := m.Profile.MillShort; short > 0 && s.Nominal == 0 { // it may be shorter than it is sold
			s.Nominal, s.Length = s.Length, s.Length-short
		}
		if s.TrimStart == 0 && s.TrimEnd == 0 {
			s.TrimStart, s.TrimEnd = m.Profile.EndTrim, m.Profile.EndTrim
		}
	}
	return out
}

// rooms returns the rooms with the named profiles of their stretches filled in.
func (j Job) rooms(known map[string]stock.Profile) []takeoff.Room {
	rooms := slices.Clone(j.Rooms)
	for i := range rooms {
		walls := slices.Clone(rooms[i].Walls)
		for k := range walls {
			stretches := slices.Clone(walls[k].Stretches)
			for n := range stretches {
				s := &stretches[n]
				if p, ok := known[s.Profile.Name]; ok && !s.Existing && named(&s.Profile) {
					s.Profile = p
				}
			}
			walls[k].Stretches = stretches
		}
		rooms[i].Walls = walls
	}
	return rooms
}

// habits, conditions, shelf and terms return those of the job, in its locale.
func (j Job) habits() takeoff.Options {
	o := j.Habits
	o.Locale = j.Locale
	return o
}

func (j Job) tearOut() tearout.Job {
	t := *j.TearOut
	t.Building, t.Rack, t.Locale = j.Building, j.Rack, j.Locale
	return t
}

func (j Job) conditions() takeoff.Conditions {
	c := j.Conditions
	c.Locale = j.Locale
	return c
}

func (j Job) shelf() finish.Shelf {
	s := j.Shelf
	s.Locale = j.Locale
	if s.Climate == (finish.Climate{}) { // trim acclimates in the air in which paint dries
		s.Climate = j.Sequence.Site
	}
	return s
}

func (j Job) terms() Terms {
	t := j.Terms
	t.Locale = j.Locale
	return t
}
