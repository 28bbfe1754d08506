package labor_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/finish/labor"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock/takeoff"
)

// Every part of every line is in the text with its rate, and every rate that was used is in the table below, once.
func TestTextTracesEveryHour(t *testing.T) {
	number := regexp.MustCompile(`\[(\d+)\]`)
	rapid.Check(t, func(t *rapid.T) {
		list, rooms, steps, o := anyJob(t)
		r := labor.DefaultRates()
		lines := mustLines(t, list, rooms, steps, r, o)
		var b strings.Builder
		if err := labor.WriteText(&b, lines, r, measure.Locale{Metric: rapid.Bool().Draw(t, "metric")}); err != nil {
			t.Fatal(err)
		}
		work, table, ok := strings.Cut(b.String(), "\nrates\n")
		if !ok && len(lines) > 0 {
			t.Fatal(b.String())
		}
		var want, got []int
		used, listed := map[int]bool{}, map[int]bool{}
		for _, l := range lines {
			for _, p := range l.Parts {
				want = append(want, p.Rate)
				used[p.Rate] = true
				if !strings.Contains(work, " = "+p.Time.String()+" ["+strconv.Itoa(p.Rate)+"]\n") {
					t.Fatalf("no %v of rate %d in\n%s", p.Time, p.Rate, work)
				}
			}
		}
		for _, m := range number.FindAllStringSubmatch(work, -1) {
			n, _ := strconv.Atoi(m[1])
			got = append(got, n)
		}
		for _, m := range number.FindAllStringSubmatch(table, -1) {
			n, _ := strconv.Atoi(m[1])
			if listed[n] {
				t.Fatalf("rate %d is listed twice", n)
			}
			listed[n] = true
		}
		total, err := labor.Total(lines)
		if err != nil || !reflect.DeepEqual(got, want) || !reflect.DeepEqual(used, listed) || !strings.Contains(work, "labor: "+total.String()) {
			t.Fatalf("%v, used %v, listed %v, %v", err, used, listed, b.String())
		}
	})
}

// Foreign text stays on its line, and foreign numbers are not trusted.
func TestTextOfHostileLines(t *testing.T) {
	lines := []labor.Line{{Room: "class\nroom", Profile: "b\u202ease", Step: "in\x1bstall", Skill: "a\u2028b", Factors: []labor.FactorUse{{Factor: 1, Name: "x\ty"}}}, {}}
	var b strings.Builder
	if err := labor.WriteText(&b, lines, labor.Rates{}, measure.Locale{}); err != nil {
		t.Fatal(err)
	}
	if strings.Count(b.String(), "\n") != 8 || strings.ContainsAny(b.String(), "\x1b\u202e\u2028\t") {
		t.Errorf("%q", b.String())
	}
	for _, n := range []int{-1, 1000} {
		var bad *measure.FieldError
		err := labor.WriteText(&b, []labor.Line{{Parts: []labor.Part{{}, {Rate: n}}}}, labor.Rates{}, measure.Locale{})
		if !errors.As(err, &bad) || bad.Field != "lines[0].parts[1].rate" {
			t.Errorf("%v", err)
		}
	}
	for _, n := range []int{-1, 99} {
		var bad *measure.FieldError
		err := labor.WriteText(&b, []labor.Line{{Factors: []labor.FactorUse{{}, {Factor: n}}}}, labor.Rates{}, measure.Locale{})
		if !errors.As(err, &bad) || bad.Field != "lines[0].factors[1].factor" {
			t.Errorf("%v", err)
		}
	}
	if err := labor.WriteText(full{}, lines, labor.Rates{}, measure.Locale{}); !errors.Is(err, errFull) {
		t.Error(err)
	}
	huge := []labor.Line{{Labor: 1 << 62}, {Labor: 1 << 62}}
	var over *measure.RangeError
	if err := labor.WriteText(&b, huge, labor.Rates{}, measure.Locale{}); !errors.As(err, &over) {
		t.Error(err)
	}
}

var errFull = errors.New("no space left")

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errFull }

// All inputs and outputs of labor survive JSON.
func TestJSON(t *testing.T) {
	read := func(v, back any) {
		t.Helper()
		text, err := json.Marshal(v)
		if err == nil {
			err = measure.UnmarshalStrict(text, back)
		}
		if err != nil {
			t.Fatalf("%v: %.300s", err, text)
		}
		if got := reflect.ValueOf(back).Elem().Interface(); !reflect.DeepEqual(got, v) {
			t.Errorf("got %+v\nwant %+v", got, v)
		}
	}
	room := classroom(10 * ft)
	s := trim()
	list := take(t, s, room)
	o := labor.Options{Conditions: []labor.Condition{{Factor: "old plaster", Room: "classroom", Profile: "crown"}}, MiteredSkirts: []string{"corridor"}}
	read(labor.DefaultRates(), new(labor.Rates))
	read(o, new(labor.Options))
	read(mustLines(t, list, []takeoff.Room{room}, stepsOf(t, list.RoomTotals, profilesOf(s)), labor.Rates{}, &o), new([]labor.Line))
	read(labor.Crew{People: 2, Delay: 110 * measure.Percent, Availability: 75 * measure.Percent, Productive: 90 * measure.Percent}, new(labor.Crew))
	for e := labor.Event(0); ; e++ {
		text, err := e.MarshalText()
		if err != nil {
			if e <= labor.EventCleanUp || e.String() != fmt.Sprintf("Event(%d)", e) {
				t.Errorf("%v: %v", e, err)
			}
			break
		}
		var back labor.Event
		if err := back.UnmarshalText(text); err != nil || back != e {
			t.Errorf("%s reads as %v, %v", text, back, err)
		}
	}
	var e labor.Event
	var k labor.Kind
	if e.UnmarshalText([]byte("jump")) == nil || k.UnmarshalText([]byte("play")) == nil {
		t.Error("no error for an unknown rate")
	}
	if _, err := labor.Kind(9).MarshalText(); err == nil {
		t.Error("no error for an unknown kind")
	}
}

// DefaultRates are fresh each time, and name the source of each rate.
func TestDefaultRates(t *testing.T) {
	a := labor.DefaultRates()
	if err := a.Validate(); err != nil {
		t.Fatal(err)
	}
	for i, r := range a.Table {
		if r.Source == "" || r.Date == "" || r.Condition == "" || r.Time <= 0 {
			t.Errorf("rate %d: %+v", i, r)
		}
	}
	for _, f := range a.Factors {
		if f.Source == "" || f.Date == "" || f.Condition == "" {
			t.Errorf("%+v", f)
		}
	}
	for i := range a.Table {
		for k := range a.Table[i].Roles {
			a.Table[i].Roles[k] = 99
		}
		a.Table[i] = labor.Rate{}
	}
	a.Factors[0].Name, a.Skills[0].Name = "", ""
	if b := labor.DefaultRates(); b.Validate() != nil || !reflect.DeepEqual(b, labor.DefaultRates()) || reflect.DeepEqual(a, b) {
		t.Error("a change of the default rates affects later calls")
	}
}
