package main

import (
	"bytes"
	"context"
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

//go:embed job.json
var goodJob string

// patience is far more than any step here takes; it only ends a test that hangs.
const patience = 20 * time.Second

var client = http.Client{Timeout: patience}

func quiet() *slog.Logger { return slog.New(slog.DiscardHandler) }

func serve(t *testing.T, s *service) *httptest.Server {
	t.Helper()
	server := httptest.NewServer(s)
	t.Cleanup(server.Close)
	return server
}

// post sends a job and returns the answer, with the proof of the plan.
func post(t *testing.T, url, body string) (*http.Response, string) {
	t.Helper()
	return send(t, url+"/plan?proof=full", body)
}

func send(t *testing.T, url, body string) (*http.Response, string) {
	t.Helper()
	r, err := client.Post(url, "application/json; charset=utf-8", strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	text, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return r, string(text)
}

func Example() {
	server := httptest.NewServer(newService(usual, quiet()))
	defer server.Close()
	for _, job := range []string{goodJob, strings.Replace(goodJob, "9ft 2-1/2in", "19ft 2-1/2in", 1)} {
		r, err := http.Post(server.URL+"/plan?proof=full", "application/json", strings.NewReader(job))
		if err != nil {
			fmt.Println(err)
			return
		}
		text, err := io.ReadAll(r.Body)
		r.Body.Close()
		fmt.Println(r.Status, err)
		if r.StatusCode != http.StatusOK {
			fmt.Printf("%s", text)
			continue
		}
		// The answer is a cut sheet, to be shown in any of its forms.
		p, plan, o, err := cutsheet.ReadJSON(bytes.NewReader(text))
		if err != nil {
			fmt.Println(err)
			return
		}
		sheet, err := cutsheet.New(context.Background(), p, plan, o)
		if err != nil {
			fmt.Println(err)
			return
		}
		if err := sheet.WriteText(os.Stdout); err != nil {
			fmt.Println(err)
		}
	}
	// Output:
	// 200 OK <nil>
	// Cut sheet
	// fingerprint 2TP-HJV-Y34
	// 2 sticks to buy; 5 pieces to cut; cost 33.60.
	// The pieces use 87.8% of the stock. The offcut to keep is 2' 9-3/8".
	// Kerf 1/8". Lengths are from long point to long point, to the nearest 1/16".
	//
	// To buy -------------------------------------------------------------------------
	//   [ ] 2 @ 12'  at 16.80 = 33.60
	//   Cost 33.60
	//
	// Before you cut -----------------------------------------------------------------
	// Saws cause serious injuries. Follow the saw's manual, keep the guards on and
	// your hands out of the path of the blade, wear eye and hearing protection, and do
	// not breathe the dust. Cut a piece too short to hold against the fence off the
	// end of a longer one, and let the blade stop before you take it away. Local codes
	// and licensed professionals take precedence over this sheet.
	// Cut in numbered order from the start of the stick, and measure each piece from
	// the last cut.
	//
	// A: 1 stick of 12' --------------------------------------------------------------
	//   |---------------------------1----------------------------|..................
	//   1  []  9' 2-1/2"  north wall
	//          2' 9-3/8"  offcut
	//
	// B: 1 stick of 12' --------------------------------------------------------------
	//   |--1--||--1---||-----------2------------||---------------3----------------|.
	//   1  [][]   2 @ 1' 2"  by the door
	//   2  []    4' 1-1/16"  closet
	//   3  []    5' 5-5/16"  east wall
	//                1-1/8"  waste
	//
	// Left over ----------------------------------------------------------------------
	//   [ ] 1 @ 2' 9-3/8"  from A
	//   Waste, shorter than 1': 1 piece, 1-1/8" in all.
	//
	// How good the plan is -----------------------------------------------------------
	// Proven: no plan costs less than 33.60; a separate check confirms it.
	// 422 Unprocessable Entity <nil>
	// {"error":{"kind":"infeasible","field":"pieces[0].length","value":"19' 2-1/2\"","want":"12' at most","detail":"optimize: pieces[0] (\"north wall\") is 19' 2-1/2\" long, the longest usable length is 12' (sticks[1]), short by 7' 2-1/2\""}}
}

// The returned sheet is for the job that was sent, and is valid.
func TestGoodJob(t *testing.T) {
	server := serve(t, newService(usual, quiet()))
	r, text := post(t, server.URL, goodJob)
	if r.StatusCode != http.StatusOK || r.Header.Get("Content-Type") != "application/json" {
		t.Fatalf("%s, %s: %s", r.Status, r.Header.Get("Content-Type"), text)
	}
	p, plan, _, err := cutsheet.ReadJSON(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	if err := optimize.Check(context.Background(), p, plan); err != nil {
		t.Error(err)
	}
	if plan.Cost != 3360 || !plan.Proven || plan.Sticks() != 2 {
		t.Errorf("cost %d, proven %t, %d sticks", plan.Cost, plan.Proven, plan.Sticks())
	}
}

// answerOf reads a failure.
func answerOf(t *testing.T, text string) failure {
	t.Helper()
	var a struct{ Error *failure }
	d := json.NewDecoder(strings.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(&a); err != nil || a.Error == nil {
		t.Fatalf("no failure has kind %q: %v", text, err)
	}
	return *a.Error
}

func TestFailures(t *testing.T) {
	tight := usual
	tight.body, tight.sticks, tight.pieces = 4<<10, 3, 1000
	server := serve(t, newService(tight, quiet()))
	swap := func(old, now string) string {
		text := strings.Replace(goodJob, old, now, 1)
		if text == goodJob {
			t.Fatalf("the job has no %s", old)
		}
		return text
	}
	for _, c := range []struct {
		name, body  string
		status      int
		kind, field string
		value, want string // parts of the message
	}{
		{"nothing", "", 400, "json", "", "", "JSON value"},
		{"no JSON", "lengths please", 400, "json", "", "lengths please", "JSON on line 1"},
		{"cut off", goodJob[:200], 400, "json", "", "east wal", "line 8 breaks off"},
		{"two jobs", goodJob + goodJob, 400, "json", "", "", ""},
		{"unknown field", swap(`"kerf"`, `"curf"`), 400, "json", "curf", "1/8in", "sticks, pieces, kerf"},
		{"a field twice", swap(`"kerf"`, `"kerf": "0in", "kerf"`), 400, "json", "kerf", "", ""},
		{"no unit", swap(`"14in"`, `"14"`), 400, "json", "pieces[3].length", "14", "unit"},
		{"a number", swap(`"14in"`, `14`), 400, "json", "pieces[3].length", "14", "quotes"},
		{"negative", swap(`"14in"`, `"-14in"`), 422, "problem", "pieces[3].length", `-1' 2"`, "more than zero"},
		{"negative end", swap(`"price": 1120`, `"price": 1120, "trim_end": "-1in"`), 422, "problem", "sticks[0].trim_end", `-1"`, "zero or more"},
		{"deep", `{"sticks": [{"length": "8ft"}], "pieces": [{"label": "a", "length": "1ft"}], "rules": {"charges": [{"supplier": "mill", "amount": -1}]}}`,
			422, "problem", "rules.charges[0].amount", "-1", "zero or more"},
		{"no sticks", `{"pieces": [{"label": "a", "length": "1ft"}]}`, 422, "problem", "sticks", "empty", "at least one"},
		{"nothing at all", `null`, 422, "problem", "sticks", "empty", "at least one"},
		{"too long", swap(`"9ft 2-1/2in"`, `"19ft"`), 422, "infeasible", "pieces[0].length", "19'", "12' at most"},
		{"too few", `{"sticks": [{"length": "8ft", "limit": 1}], "pieces": [{"label": "a", "length": "5ft", "quantity": 2}]}`, 422, "infeasible", "pieces[0]", "", "more sticks"},
		{"too many kinds", `{"sticks": [{"length": "1ft"}, {"length": "2ft"}, {"length": "3ft"}, {"length": "4ft"}], "pieces": [{"label": "a", "length": "1ft"}]}`, 422, "limit", "sticks", "4", "3 at most"},
		{"too many pieces", swap(`"quantity": 2`, `"quantity": 998`), 422, "limit", "pieces[3].quantity", "998", "1000 pieces at most"},
		{"too many parts", `{"sticks": [{"length": "8ft"}], "pieces": [{"label": "a", "length": "1ft", "quantity": 999}],
			"runs": [{"label": "b", "net": "9ft", "length": "9ft", "splice": {"at": ["3ft"]}}]}`,
			422, "limit", "runs[0].splice.at", "2", "1000 pieces at most"},
		{"too large", goodJob + strings.Repeat(" ", 4<<10), 413, "size", "body", "more", "4096 bytes at most"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, text := post(t, server.URL, c.body)
			if r.StatusCode != c.status || r.Header.Get("Content-Type") != "application/json" {
				t.Errorf("%s, %s, want %d", r.Status, r.Header.Get("Content-Type"), c.status)
			}
			f := answerOf(t, text)
			if f.Kind != c.kind || c.field != "" && f.Field != c.field || !strings.Contains(f.Value, c.value) || !strings.Contains(f.Want+"; "+f.Detail, c.want) {
				t.Errorf("got %s", text)
			}
		})
	}
}

// A form with several fields at fault hears of all of them in one answer, in the order of
// the job, whether they cannot be read or make no sense.
func TestAllFaultsAtOnce(t *testing.T) {
	server := serve(t, newService(usual, quiet()))
	for _, c := range []struct {
		body, kind string
		fields     []string
	}{
		{`{"kerf": "wide", "sticks": [{"length": "8ft", "price": "dear"}], "pieces": [{"length": 3}]}`, "json", []string{"kerf", "sticks[0].price", "pieces[0].length"}},
		{`{"kerf": "-1in", "sticks": [{"length": "0ft"}], "pieces": [{"length": "-3ft"}, {"length": "1ft"}]}`, "problem", []string{"kerf", "sticks[0].length", "pieces[0].length"}},
	} {
		r, text := post(t, server.URL, c.body)
		f := answerOf(t, text)
		got := []string{f.Field}
		for _, o := range f.Others {
			got = append(got, o.Field)
			if o.Want == "" && o.Detail == "" {
				t.Errorf("%s: %s does not say what is valid", c.body, o.Field)
			}
		}
		slices.Sort(got)
		slices.Sort(c.fields)
		if f.Kind != c.kind || !slices.Equal(got, c.fields) {
			t.Errorf("%s: %s, %v, want %v of kind %s", c.body, r.Status, got, c.fields, c.kind)
		}
	}
}

func TestOtherRequests(t *testing.T) {
	server := serve(t, newService(usual, quiet()))
	for _, c := range []struct {
		method, path, mime string
		status             int
		kind               string
	}{
		{"GET", "/plan", "", 405, "method"},
		{"PUT", "/plan", "application/json", 405, "method"},
		{"POST", "/", "application/json", 404, "path"},
		{"POST", "/plan/x", "application/json", 404, "path"},
		{"POST", "/plan", "text/plain", 415, "type"},
		{"POST", "/plan", "", 415, "type"},
		{"POST", "/plan?proof", "application/json", 400, "query"},
		{"POST", "/plan?proof=yes", "application/json", 400, "query"},
		{"POST", "/plan?proof=full&proof=none", "application/json", 400, "query"},
		{"POST", "/plan?prof=full", "application/json", 400, "query"},
		{"POST", "/plan?proof=%", "application/json", 400, "query"},
	} {
		r, err := http.NewRequest(c.method, server.URL+c.path, strings.NewReader(goodJob))
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Content-Type", c.mime)
		answer, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(answer.Body)
		answer.Body.Close()
		if err != nil {
			t.Fatal(err)
		}
		if f := answerOf(t, string(text)); answer.StatusCode != c.status || f.Kind != c.kind {
			t.Errorf("%s %s as %q: %s %s, want %d", c.method, c.path, c.mime, answer.Status, text, c.status)
		}
		if allow := answer.Header.Get("Allow"); (allow == "POST") != (c.status == 405) {
			t.Errorf("%s %s: Allow is %q", c.method, c.path, allow)
		}
	}
}

// largeJob is a house of trim from a rack of fifteen kinds of stick, whose prices follow no rule.
// A first plan takes less than a million steps; a proof takes more than 20 billion (measured), so
// no deadline or limit of these tests waits for one.
func largeJob(t *testing.T) string {
	t.Helper()
	const lengths, kinds = 900, 15
	chance := rand.New(rand.NewPCG(5, 2))
	p := optimize.Problem{Kerf: measure.Inch / 8}
	for range kinds - 1 {
		l := measure.Length(96+chance.IntN(96))*measure.Inch + measure.Length(chance.IntN(64))*measure.Inch/64
		p.Sticks = append(p.Sticks, stock.Stick{
			Length: l,
			Price:  int64(l) * int64(1150+chance.IntN(100)) / int64(8*measure.Foot),
			Limit:  1 + chance.IntN(9),
		})
	}
	p.Sticks = append(p.Sticks, stock.Stick{Length: 16 * measure.Foot, Price: 2311})
	for i := range lengths {
		p.Pieces = append(p.Pieces, stock.Piece{
			Label:    fmt.Sprint(i),
			Length:   measure.Length(10+chance.IntN(150))*measure.Inch + measure.Length(chance.IntN(64))*measure.Inch/64,
			Quantity: 1 + chance.IntN(9),
		})
	}
	text, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// A deadline that passes is no failure while there is a plan.
func TestDeadlineWithAPlan(t *testing.T) {
	l := usual
	l.deadline, l.work, l.first = 500*time.Millisecond, -1, 1_000_000
	server := serve(t, newService(l, quiet()))
	r, text := post(t, server.URL, largeJob(t))
	if r.StatusCode != http.StatusOK {
		t.Fatalf("%s: %s", r.Status, text)
	}
	p, plan, _, err := cutsheet.ReadJSON(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	if err := optimize.Check(context.Background(), p, plan); err != nil {
		t.Error(err)
	}
	// Where the deadline passes before the second turn comes as far as the first, the plan
	// is that of the first.
	if plan.Stop != optimize.StopDeadline && plan.Stop != optimize.StopWork || plan.Proven || plan.Bound >= plan.Cost {
		t.Errorf("stop %v, proven %t, cost %d, bound %d", plan.Stop, plan.Proven, plan.Cost, plan.Bound)
	}
}

func TestDeadlineWithoutAPlan(t *testing.T) {
	l := usual
	l.deadline = 1
	server := serve(t, newService(l, quiet()))
	r, text := post(t, server.URL, goodJob)
	if f := answerOf(t, text); r.StatusCode != http.StatusServiceUnavailable || f.Kind != "time" && f.Kind != "busy" || r.Header.Get("Retry-After") == "" {
		t.Errorf("%s: %s", r.Status, text)
	}
}

// However a solve says that it had no time.
func TestNoTime(t *testing.T) {
	done, cancel := context.WithCancel(t.Context())
	cancel()
	p := optimize.Problem{Sticks: []stock.Stick{{Length: measure.Foot}}, Pieces: []stock.Piece{{Length: measure.Inch}}}
	_, early := optimize.Solve(done, p, nil)
	for _, err := range []error{early, context.DeadlineExceeded, &optimize.LimitError{Stop: optimize.StopWork}} {
		if f := newService(usual, quiet()).noPlan(err); f.status != http.StatusServiceUnavailable || f.Kind != "time" {
			t.Errorf("%v: %d %s", err, f.status, f.json())
		}
	}
}

// The limit on work is the same on every machine.
func TestWorkLimit(t *testing.T) {
	l := usual
	l.work = 1_000_000
	server := serve(t, newService(l, quiet()))
	job := largeJob(t)
	r, text := post(t, server.URL, job)
	_, again := post(t, server.URL, job)
	if r.StatusCode != http.StatusOK || text != again {
		t.Errorf("%s; the same twice: %t", r.Status, text == again)
	}
	_, plan, _, err := cutsheet.ReadJSON(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	if plan.Stop != optimize.StopWork {
		t.Errorf("stop is %v", plan.Stop)
	}
}

// What the server has done wrong goes to its log and not to the client.
func TestOwnFault(t *testing.T) {
	var log bytes.Buffer
	s := newService(usual, slog.New(slog.NewTextHandler(&log, nil)))
	s.solve = func(context.Context, optimize.Problem, *optimize.Options) (*optimize.Plan, error) {
		return nil, &optimize.InternalError{Err: errors.New("secret")}
	}
	server := serve(t, s)
	r, text := post(t, server.URL, goodJob)
	if f := answerOf(t, text); r.StatusCode != http.StatusInternalServerError || f.Kind != "internal" || strings.Contains(text, "secret") {
		t.Errorf("%s: %s", r.Status, text)
	}
	server.Close()
	if !strings.Contains(log.String(), "secret") {
		t.Errorf("the log holds %q", log.String())
	}
}
