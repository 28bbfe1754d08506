package main

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"github.com/prometheus/client_golang/prometheus/testutil"
	"github.com/riverqueue/river"
)

// patience is far more than any step here takes; it only ends a test that hangs.
const patience = 4 * time.Minute

// asProgram names the variable that makes the test's program be the program.
const asProgram = "FLEET_AS_PROGRAM"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		main()
		return
	}
	os.Exit(m.Run())
}

func quiet() *slog.Logger { return slog.New(slog.DiscardHandler) }

// scratch is a SQLite database with its tables, and a client that only adds jobs.
func scratch(t *testing.T) (*database[*sql.Tx], *river.Client[*sql.Tx], string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "fleet.db")
	db, err := openSQLite(path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(db.close)
	if err := db.migrate(t.Context()); err != nil {
		t.Fatal(err)
	}
	return db, adder(t, db), path
}

func adder[TTx any](t *testing.T, db *database[TTx]) *river.Client[TTx] {
	t.Helper()
	queue, err := newQueue(db, settings{name: "test", deadline: time.Second, rescue: time.Minute, steps: 1}, newCounts(), quiet())
	if err != nil {
		t.Fatal(err)
	}
	return queue
}

// audit checks every job and every sheet: each job of the queue is done and has one sheet, each plan
// keeps the rules of its problem, which is the job's, and the totals are the sums of the sheets.
func audit[TTx any](t *testing.T, db *database[TTx], queue *river.Client[TTx], want int64) {
	t.Helper()
	ctx := t.Context()
	jobs, err := db.jobs(ctx)
	if err != nil {
		t.Fatal(err)
	}
	for state, n := range jobs {
		if state == "completed" && n != want || state != "completed" && n != 0 {
			t.Errorf("%d jobs are %s, want %d completed", n, state, want)
		}
	}
	rows, err := db.read.QueryContext(ctx, `select river_job.id, sheet.name, by_length, cost, proven, sticks, document
		from river_job left join sheet on sheet.job = river_job.id`)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	var sum total
	for rows.Next() {
		var id int64
		var name sql.NullString
		var byLength, cost, proven, sticks sql.NullInt64
		var document []byte
		if err := rows.Scan(&id, &name, &byLength, &cost, &proven, &sticks, &document); err != nil {
			t.Fatal(err)
		}
		if document == nil {
			t.Errorf("job %d has no sheet", id)
			continue
		}
		sum = total{sum.Sheets + 1, sum.Proven + proven.Int64, sum.Sticks + sticks.Int64,
			sum.Cost + cost.Int64*(1-byLength.Int64), sum.Length + cost.Int64*byLength.Int64}
		var job cutJob
		row, err := queue.JobGet(ctx, id)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(row.EncodedArgs, &job); err != nil {
			t.Fatal(err)
		}
		var asked optimize.Problem
		if err := json.Unmarshal(job.Problem, &asked); err != nil {
			t.Fatal(err)
		}
		text, err := db.written(ctx, id, false)
		if err != nil {
			t.Fatal(err)
		}
		p, plan, o, err := cutsheet.ReadJSON(bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		if same(p) != same(asked) || o.Title != job.Name || name.String != job.Name {
			t.Errorf("job %d, %s: the sheet is for a different one, %s", id, job.Name, o.Title)
		}
		if err := optimize.Check(ctx, p, plan); err != nil {
			t.Errorf("job %d: %v", id, err)
		}
		if plan.Cost != cost.Int64 || plan.Proven != (proven.Int64 == 1) || plan.ByLength != (byLength.Int64 == 1) || int64(plan.Sticks()) != sticks.Int64 || plan.Proof.Kind() == optimize.ProofOmitted {
			t.Errorf("job %d: the plan costs %d, the row says %d", id, plan.Cost, cost.Int64)
		}
	}
	if err := rows.Err(); err != nil {
		t.Fatal(err)
	}
	now, err := db.total(ctx)
	if err != nil || now != sum || sum.Sheets != want {
		t.Errorf("the totals are %+v, the sheets add up to %+v, want %d; %v", now, sum, want, err)
	}
}

func same(p optimize.Problem) string {
	text, err := json.Marshal(p)
	return fmt.Sprint(string(text), err)
}

// One command does it all: it makes the database, adds jobs, works and ends.
func TestOneCommand(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shop? 100%.db") // no address, however it looks
	for k := range int64(2) {
		var said bytes.Buffer
		if err := run(t.Context(), &said, "-db", path, "-addr", "127.0.0.1:0", "-add", "24", "-until-done"); err != nil {
			t.Fatalf("%v: %s", err, &said)
		}
		if !strings.Contains(said.String(), "page at http://127.0.0.1:") {
			t.Errorf("it says %s", &said)
		}
		if _, err := os.Stat(path); err != nil {
			t.Error(err)
		}
		db, err := openSQLite(path)
		if err != nil {
			t.Fatal(err)
		}
		audit(t, db, adder(t, db), 24*(k+1))
		db.close()
	}
}

// Several processes that start at the same moment on a file that does not exist yet create it together.
func TestStartedTogether(t *testing.T) {
	path := filepath.Join(t.TempDir(), "fleet.db")
	failed := make(chan error)
	const n = 4
	for range n {
		go func() {
			c := exec.Command(os.Args[0], "-db", path, "-addr", "", "-workers", "1", "-add", "3", "-until-done")
			c.Env = append(os.Environ(), asProgram+"=1")
			said, err := c.CombinedOutput()
			if err != nil {
				err = fmt.Errorf("%w: %s", err, said)
			}
			failed <- err
		}()
	}
	for range n {
		if err := <-failed; err != nil {
			t.Error(err)
		}
	}
	db, err := openSQLite(path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.close()
	audit(t, db, adder(t, db), 3*n)
}

// A process that receives a signal stops between jobs; the next one does the rest.
func TestToldToEnd(t *testing.T) {
	db, queue, path := scratch(t)
	if _, err := add(t.Context(), db, queue, "", madeUp(60)); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	done := make(chan error, 1)
	go func() { done <- run(ctx, io.Discard, "-db", path, "-addr", "", "-workers", "1") }()
	for now := (total{}); now.Sheets < 5; now, _ = db.total(t.Context()) {
		time.Sleep(5 * time.Millisecond)
	}
	stop()
	if err := <-done; err != nil {
		t.Error(err)
	}
	if jobs, err := db.jobs(t.Context()); err != nil || jobs["running"] != 0 || jobs["completed"] == 60 {
		t.Errorf("%v, %v", jobs, err)
	}
	if err := run(t.Context(), io.Discard, "-db", path, "-addr", "", "-until-done"); err != nil {
		t.Error(err)
	}
	audit(t, db, queue, 60)
}

// A job that no further attempt can solve is given up at once, and the page gives the reason.
func TestGivenUp(t *testing.T) {
	db, queue, path := scratch(t)
	for _, problem := range []string{
		`{"sticks": [{"length": "8ft"}], "pieces": [{"length": "9ft"}]}`,
		`{"sticks": [{"length": "8ft"}], "pieces": [{"length": "-9ft"}]}`,
		`{"stick": 1}`,
	} {
		if _, err := queue.Insert(t.Context(), cutJob{Name: "<b>bench</b>", Problem: json.RawMessage(problem)}, nil); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := add(t.Context(), db, queue, "", madeUp(3)); err != nil {
		t.Fatal(err)
	}
	if err := run(t.Context(), io.Discard, "-db", path, "-addr", "", "-until-done"); err != nil {
		t.Fatal(err)
	}
	server := httptest.NewServer(site(db, queue, newCounts()))
	defer server.Close()
	status, page := get(t, server.URL+"/")
	for _, want := range []string{"short by 1&#39;", "more than zero", "stick", "&lt;b&gt;bench&lt;/b&gt;", "Done so far: 50%.", "corridor, base"} {
		if status != 200 || !strings.Contains(page, want) {
			t.Errorf("the page lacks %s: %s", want, page)
		}
	}
	if strings.Contains(page, "<script") || strings.Contains(page, "<b>bench") || strings.Contains(page, "JobCancel") {
		t.Errorf("the page is %s", page)
	}
	if jobs, err := db.jobs(t.Context()); err != nil || jobs["cancelled"] != 3 || jobs["completed"] != 3 {
		t.Errorf("%v, %v", jobs, err)
	}
}

func get(t *testing.T, url string) (int, string) {
	t.Helper()
	r, err := http.Get(url)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	text, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return r.StatusCode, string(text)
}

// The page shows waiting jobs before any work, and sheets, plans and counts afterwards.
func TestSite(t *testing.T) {
	db, queue, path := scratch(t)
	if _, err := add(t.Context(), db, queue, "", madeUp(7)); err != nil {
		t.Fatal(err)
	}
	c := newCounts()
	c.registry.MustRegister(shared[*sql.Tx]{db})
	server := httptest.NewServer(site(db, queue, c))
	defer server.Close()
	if status, page := get(t, server.URL+"/"); status != 200 || !strings.Contains(page, "<title>Fleet: 0 done, 7 wait</title>") {
		t.Errorf("%d, %s", status, page)
	}
	if err := run(t.Context(), io.Discard, "-db", path, "-addr", "", "-until-done"); err != nil {
		t.Fatal(err)
	}
	if status, page := get(t, server.URL+"/"); status != 200 || !strings.Contains(page, "<title>Fleet: 7 done, 0 wait</title>") {
		t.Errorf("%d, %s", status, page)
	}
	last, err := db.last(t.Context(), 1)
	if err != nil || len(last) != 1 {
		t.Fatalf("%v, %v", last, err)
	}
	job := fmt.Sprint(last[0].Job)
	if status, page := get(t, server.URL+"/sheet/"+job); status != 200 || !strings.Contains(page, last[0].Name[:11]) || !strings.Contains(page, "</html>") {
		t.Errorf("%d, %s", status, page)
	}
	if status, text := get(t, server.URL+"/plan/"+job); status != 200 || !json.Valid([]byte(text)) {
		t.Errorf("%d, %s", status, text)
	}
	for _, path := range []string{"/sheet/99999", "/plan/99999", "/plan/x", "/plan", "/sheet/1/2"} {
		if status, text := get(t, server.URL+path); status != 404 {
			t.Errorf("%s: %d, %s", path, status, text)
		}
	}
	if status, text := get(t, server.URL+"/healthz"); status != 200 || text != "alive\n" {
		t.Errorf("%d, %s", status, text)
	}
	status, text := get(t, server.URL+"/metrics")
	for _, want := range []string{"\nfleet_sheets 7\n", `fleet_jobs{state="completed"} 7`, `fleet_jobs{state="available"} 0`, "\nfleet_jobs_again_total 0\n"} {
		if status != 200 || !strings.Contains(text, want) {
			t.Errorf("the counts lack %s: %s", want, text)
		}
	}
	if problems, err := testutil.GatherAndLint(c.registry); err != nil || len(problems) > 0 {
		t.Errorf("%v, %v", problems, err)
	}
	db.close()
	for _, path := range []string{"/", "/healthz", "/plan/" + job} {
		if status, text := get(t, server.URL+path); status != 503 {
			t.Errorf("%s of an unreachable database: %d, %s", path, status, text)
		}
	}
}

// Storing a sheet a second time stores and counts nothing.
func TestStoredOnce(t *testing.T) {
	db, queue, path := scratch(t)
	if _, err := add(t.Context(), db, queue, "", madeUp(1)); err != nil {
		t.Fatal(err)
	}
	if err := run(t.Context(), io.Discard, "-db", path, "-addr", "", "-until-done"); err != nil {
		t.Fatal(err)
	}
	before, err := db.total(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	last, err := db.last(t.Context(), 1)
	if err != nil {
		t.Fatal(err)
	}
	row, err := queue.JobGet(t.Context(), last[0].Job)
	if err != nil {
		t.Fatal(err)
	}
	again := &river.Job[cutJob]{JobRow: row}
	err = db.within(t.Context(), func(tx *sql.Tx) error {
		return db.store(t.Context(), tx, again, &sheet{name: "late", plan: &optimize.Plan{Cost: 5}, document: []byte{1}, page: []byte{1}}, "late")
	})
	if now, _ := db.total(t.Context()); err != nil || now != before {
		t.Errorf("the totals are %+v, were %+v; %v", now, before, err)
	}
	c := newCounts()
	w := &worker[*sql.Tx]{db: db, counts: c, log: quiet()}
	if err := w.Work(t.Context(), again); err != nil || testutil.ToFloat64(c.again) != 1 {
		t.Errorf("it was solved again: %v", err)
	}
	audit(t, db, queue, 1)
}

// A sheet survives a database outage, whether before the transaction, during it, or after the commit
// but before its confirmation; a commit is counted once.
func TestStoredThroughFailures(t *testing.T) {
	db, queue, _ := scratch(t)
	if _, err := add(t.Context(), db, queue, "", madeUp(1)); err != nil {
		t.Fatal(err)
	}
	away := errors.New("the server is away")
	fails := map[string]int{"begin": 2, "exec": 1, "commit": 1, "answer": 1}
	failed := func(at string) bool {
		fails[at]--
		return fails[at] >= 0
	}
	begin, exec, commit := db.begin, db.exec, db.commit
	db.begin = func(ctx context.Context) (*sql.Tx, error) {
		if failed("begin") {
			return nil, away
		}
		return begin(ctx)
	}
	db.exec = func(ctx context.Context, tx *sql.Tx, statement string, args ...any) (int64, error) {
		if strings.HasPrefix(statement, "update") && failed("exec") {
			return 0, away
		}
		return exec(ctx, tx, statement, args...)
	}
	db.commit = func(ctx context.Context, tx *sql.Tx) error {
		if failed("commit") {
			tx.Rollback()
			return away
		}
		if err := commit(ctx, tx); err != nil || !failed("answer") {
			return err
		}
		return away
	}
	s := settings{name: "test", workers: 1, deadline: time.Second, rescue: time.Minute, steps: 100_000_000}
	c := newCounts()
	client, err := newQueue(db, s, c, quiet())
	if err != nil {
		t.Fatal(err)
	}
	if err := client.Start(t.Context()); err != nil {
		t.Fatal(err)
	}
	if err := wait(t.Context(), db, true); err != nil {
		t.Error(err)
	}
	if err := client.Stop(t.Context()); err != nil {
		t.Error(err)
	}
	if n := testutil.ToFloat64(c.retries); n != 5 {
		t.Errorf("it was stored at attempt %v, want 6", n+1)
	}
	// The result was kept meanwhile, not computed again.
	if last, err := db.last(t.Context(), 1); err != nil || last[0].Attempt != 1 {
		t.Errorf("%+v, %v", last, err)
	}
	audit(t, db, queue, 1)
}

// Jobs come from a file as well, all of them or, if a line is invalid, none.
func TestFromFile(t *testing.T) {
	db, queue, path := scratch(t)
	file := filepath.Join(t.TempDir(), "jobs")
	write := func(lines ...string) {
		t.Helper()
		if err := os.WriteFile(file, []byte(strings.Join(lines, "\n")), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	one := `{"name": "coat rail, cloakroom", "problem": {"sticks": [{"length": "12ft"}], "pieces": [{"length": "41 1/2in", "quantity": 7}]}}`
	other := strings.Replace(one, "coat rail", `chair rail \\u0000`, 1) // a backslash and letters
	for _, bad := range []string{"{", `{"name": "x"}`, `{"problem": {}}`, strings.Replace(one, "name", "nane", 1), strings.Replace(one, "coat", `co\u0000at`, 1), strings.Repeat("x", longest+1)} {
		write(one, "", bad, other)
		if err := run(t.Context(), io.Discard, "-db", path, "-addr", "", "-workers", "0", "-until-done", "-from", file); err == nil || !strings.Contains(err.Error(), "line 3") {
			t.Errorf("%.40s: %v", bad, err)
		}
	}
	if jobs, err := db.jobs(t.Context()); err != nil || jobs["available"] != 0 {
		t.Errorf("%v, %v", jobs, err)
	}
	write(one, other, "")
	if err := run(t.Context(), io.Discard, "-db", path, "-addr", "", "-until-done", "-from", file); err != nil {
		t.Fatal(err)
	}
	audit(t, db, queue, 2)
	if last, err := db.last(t.Context(), 2); err != nil || last[0].Name == last[1].Name {
		t.Errorf("%v, %v", last, err)
	}
	// Started again with the same file, as after a crash, a process adds nothing.
	var said strings.Builder
	if err := run(t.Context(), &said, "-db", path, "-addr", "", "-until-done", "-from", file); err != nil || !strings.Contains(said.String(), "added before") {
		t.Errorf("%v, it says %s", err, &said)
	}
	audit(t, db, queue, 2)
}

// A plan without prices has a length and no cost, and absurd prices can still be stored and shown.
func TestTotals(t *testing.T) {
	db, queue, path := scratch(t)
	for _, price := range []string{"", `, "price": 5000000000000000000`, `, "price": 5000000000000000000`, `, "price": 1250`} {
		problem := `{"sticks": [{"length": "12ft"` + price + `}], "pieces": [{"length": "41 1/2in", "quantity": 1}]}`
		if _, err := queue.Insert(t.Context(), cutJob{Name: "bench" + price, Problem: json.RawMessage(problem)}, nil); err != nil {
			t.Fatal(err)
		}
	}
	if err := run(t.Context(), io.Discard, "-db", path, "-addr", "", "-until-done"); err != nil {
		t.Fatal(err)
	}
	if now, err := db.total(t.Context()); err != nil || now != (total{4, 4, 4, math.MaxInt64, int64(12 * measure.Foot)}) {
		t.Errorf("the totals are %+v, %v", now, err)
	}
	server := httptest.NewServer(site(db, queue, newCounts()))
	defer server.Close()
	status, page := get(t, server.URL+"/")
	for _, want := range []string{"<dt>length without a price</dt><dd>12&#39;</dd>", `<td class="n">12&#39;</td>`, "12.50", "92,233,720,368,547,758.07"} {
		if status != 200 || !strings.Contains(page, want) {
			t.Errorf("the page lacks %s: %s", want, page)
		}
	}
}

func TestSettings(t *testing.T) {
	for _, args := range [][]string{
		{"-add", "-1"}, {"-workers", "-1"}, {"-work", "0"}, {"-deadline", "0"}, {"-db", ""}, {"more"},
		{"-rescue", "10s", "-deadline", "9s"}, {"-db", "postgres://nobody@127.0.0.1:1/none?connect_timeout=2"},
		{"-db", filepath.Join(t.TempDir(), "no", "folder")},
	} {
		if err := run(t.Context(), io.Discard, args...); err == nil {
			t.Errorf("%q was taken", args)
		}
	}
}

// A made-up job is the same whenever it is made, and can be worked out.
func TestMade(t *testing.T) {
	for k := range 50 {
		a, err := made(k)
		if err != nil {
			t.Fatal(err)
		}
		b, _ := made(k)
		if a.Name != b.Name || !bytes.Equal(a.Problem, b.Problem) {
			t.Errorf("job %d is different", k)
		}
	}
}
