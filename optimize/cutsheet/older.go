package cutsheet

import (
	"encoding/json"
	"math"

	"example.com/longpoint/optimize"
)

// object is a JSON object with unparsed values.
type object = map[string]json.RawMessage

// newNames renames the fields of a sheet of version 1 or 2 to those of version 3. Invalid JSON
// stays as it is, for the reader to report.
func newNames(data []byte) []byte {
	return within(data, func(sheet object) {
		change(sheet, "problem", func(problem object) {
			change(problem, "rules", func(rules object) {
				rename(rules, "most_pieces", "max_pieces")
				rename(rules, "hold", "min_hold")
				rename(rules, "transport", "max_transport")
				rename(rules, "worth", "offcut_values")
				changeEach(rules, "groups", func(group object) { rename(group, "begun", "started") })
			})
			changeEach(problem, "runs", func(run object) {
				rename(run, "use", "role")
				change(run, "splice", func(splice object) {
					rename(splice, "most", "max_splices")
					delete(splice, "right_over")
					if string(splice["lap"]) == `"right over"` {
						splice["right_over"] = json.RawMessage("true")
					}
				})
			})
		})
		change(sheet, "profile", func(profile object) {
			rename(profile, "use", "role")
			rename(profile, "plain", "butt_spliced")
			rename(profile, "joint", "strip_joint")
			rename(profile, "short", "mill_short")
		})
		change(sheet, "plan", func(plan object) {
			rename(plan, "levels", "goals")
			delete(plan, "by_length")
			if string(plan["objective"]) == `"least length"` {
				plan["by_length"] = json.RawMessage("true")
			}
		})
	})
}

// change replaces an object in another, if there is one, by the result of f.
func change(o object, name string, f func(object)) {
	if raw, ok := o[name]; ok {
		o[name] = within(raw, f)
	}
}

// changeEach replaces the objects of a list in another object, if there is one.
func changeEach(o object, name string, f func(object)) {
	var list []json.RawMessage
	if _, ok := o[name]; !ok || json.Unmarshal(o[name], &list) != nil {
		return
	}
	for i := range list {
		list[i] = within(list[i], f)
	}
	o[name] = encode(list)
}

func within(raw json.RawMessage, f func(object)) json.RawMessage {
	var o object
	if json.Unmarshal(raw, &o) != nil || o == nil {
		return raw
	}
	f(o)
	return encode(o)
}

// encode writes the text that was read, which cannot fail.
func encode(v any) json.RawMessage {
	raw, err := json.Marshal(v)
	if err != nil {
		return nil
	}
	return raw
}

// rename gives a value its new name. If a sheet has both names, the new one is removed: its
// version does not know it, and ignores it.
func rename(o object, old, now string) {
	delete(o, now)
	if raw, ok := o[old]; ok {
		o[now] = raw
		delete(o, old)
	}
}

// bought fills in the purchases of a plan without any: the sticks that it cuts. [New] rejects a
// plan for which they differ.
func bought(p *optimize.Problem, plan *optimize.Plan) {
	if plan.Buy != nil {
		return
	}
	count := make([]int, len(p.Sticks))
	for k := range plan.Patterns {
		pat := &plan.Patterns[k]
		if pat.Stick < 0 || pat.Stick >= len(count) || pat.Count < 0 || pat.Count > math.MaxInt-count[pat.Stick] {
			return
		}
		count[pat.Stick] += pat.Count
	}
	plan.Buy = []optimize.Purchase{}
	for i, n := range count {
		each := p.Sticks[i].Price
		if plan.ByLength {
			each = int64(p.Sticks[i].Length)
		}
		if n > 0 {
			plan.Buy = append(plan.Buy, optimize.Purchase{Stick: i, Count: n, Cost: each * int64(n)})
		}
	}
}
