package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/longpoint/internal/postgres"
)

func Example() {
	run(context.Background(), nil, os.Stdout, os.Stdout)
	// Output:
	// $ store keep 16in
	// The rack shop keeps what is 1' 4" or longer.
	// $ store put "fir rail" "7ft 2in" -as "left over from the porch"
	// left over from the porch: 1 @ 7' 2" of fir rail, on the rack shop.
	// $ store put "fir rail" "4ft 3-1/2in" 2 -as delivery
	// delivery: 2 @ 4' 3-1/2" of fir rail, on the rack shop.
	// $ store plan coat-rail.json
	// coat-rail: 1 stick to buy for $21.75; 3 held on the rack shop. Next: store show coat-rail
	// $ store plan chalk-ledge.json
	// chalk-ledge: 1 stick to buy for $21.75; 0 held on the rack shop. Next: store show chalk-ledge
	// $ store rack
	// On the rack shop, which keeps what is 1' 4" or longer:
	//   1 @  7' 2"      fir rail  left over from the porch/1  held for coat-rail
	//   2 @  4' 3-1/2"  fir rail  delivery/1                  held for coat-rail
	// $ store plan coat-rail.json
	// coat-rail is planned already: it stays as it is.
	// $ store cut coat-rail
	// coat-rail is cut; what is left of it lies on the rack.
	// $ store cut coat-rail
	// coat-rail is cut; what is left of it lies on the rack.
	// $ store drop chalk-ledge
	// chalk-ledge is dropped; nothing is held for it.
	// $ store list
	// coat-rail    cut      fir rail  5 pieces  4 sticks  $21.75, the least  Coat rail of the cloakroom
	// chalk-ledge  dropped  fir rail  3 pieces  1 stick   $21.75, the least  Ledge below the blackboard, now the tool wall
	// $ store rack
	// On the rack shop, which keeps what is 1' 4" or longer:
	//   1 @  2' 10-5/8"  fir rail  coat-rail/1  free
	//   1 @  1' 6-3/8"   fir rail  coat-rail/2  free
	// $ store check
	// 2 jobs: every plan passes Check. 3 changes: 5 offcuts of 20' 2" came, 3 offcuts of 15' 9" went, 2 offcuts of 4' 5" on the racks. It adds up.
}

// program runs the program and returns its output.
func program(args ...string) (stdout, stderr string, code int) {
	var out, errs bytes.Buffer
	code = run(context.Background(), args, &out, &errs)
	return out.String(), errs.String(), code
}

// on returns a function that runs commands on one database, which must succeed.
func on(t *testing.T, address string) func(args ...string) string {
	return func(args ...string) string {
		t.Helper()
		out, errs, code := program(append([]string{"-db", address}, args...)...)
		if code != 0 || errs != "" {
			t.Fatalf("%q: %s", args, errs)
		}
		return out
	}
}

// The commands of README.md work as they are, in order.
func TestReadme(t *testing.T) {
	text, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	do, n := on(t, filepath.Join(t.TempDir(), "store.db")), 0
	for line := range strings.Lines(string(text)) {
		command, ok := strings.CutPrefix(line, "    ./store ")
		if !ok || strings.HasPrefix(command, "-db postgres:") {
			continue
		}
		command, _, _ = strings.Cut(command, ">")
		do(words(command)...)
		n++
	}
	if n < 8 {
		t.Errorf("%d commands", n)
	}
}

// Two shops have one server: what one holds the other cannot take, and both see the same.
func TestTwoShops(t *testing.T) {
	address := postgres.Shared(t).Database(t, "")
	one, other := on(t, address), on(t, address)
	one("put", "fir rail", "7ft 2in", "-as", "porch")
	one("put", "fir rail", "7ft 2in", "-as", "porch")
	one("plan", "jobs/coat-rail.json")
	if out := other("rack"); !strings.Contains(out, `1 @  7' 2"  fir rail  porch/1  held for coat-rail`) || strings.Contains(out, "free") {
		t.Errorf("%s", out)
	}
	if _, errs, code := program("-db", address, "take", "fir rail", "7ft 2in"); code != 1 || !strings.Contains(errs, "the rack holds 0 of 1") {
		t.Errorf("%d %s", code, errs)
	}
	if out := other("plan", "jobs/coat-rail.json"); !strings.Contains(out, "planned already") {
		t.Errorf("%s", out)
	}
	other("cut", "coat-rail")
	one("cut", "coat-rail")
	if out := one("list", "-state", "cut", "-when", "-all"); !strings.Contains(out, "coat-rail") || !strings.Contains(out, "shop") {
		t.Errorf("%s", out)
	}
	other("check")
}

// A job that did not go as planned: one of the sticks that were held is free again.
func TestUsed(t *testing.T) {
	dir := t.TempDir()
	do := on(t, filepath.Join(dir, "store.db"))
	do("put", "fir rail", "7ft 2in", "-as", "porch")
	do("put", "fir rail", "4ft 3-1/2in", "2", "-as", "delivery")
	do("plan", "jobs/coat-rail.json")
	used := filepath.Join(dir, "used.json")
	asTold := `{"uses": [{"profile": "fir rail", "length": "4ft 3-1/2in", "count": 2}], "leaves": [{"profile": "fir rail", "length": "2ft 1in"}]}`
	for _, c := range []struct {
		text string
		code int
		want string
	}{
		{`{"uses": [{"profile": "fir rail", "length": "4ft 3-1/2in", "count": 3}]}`, 1, "holds 2 of 3"},
		{`{"used": []}`, 2, "used"},
		{asTold, 0, ""},
		{asTold, 0, ""},
		{`{"uses": [{"profile": "fir rail", "length": "7ft 2in"}]}`, 1, "is cut already"},
	} {
		if err := os.WriteFile(used, []byte(c.text), 0o666); err != nil {
			t.Fatal(err)
		}
		if _, errs, code := program("-db", filepath.Join(dir, "store.db"), "cut", "coat-rail", "-used", used); code != c.code || !strings.Contains(errs, c.want) {
			t.Errorf("%s: exit code %d, %s", c.text, code, errs)
		}
	}
	if out := do("rack"); !strings.Contains(out, "porch/1") || !strings.Contains(out, "2' 1\"") || strings.Contains(out, "delivery") || strings.Contains(out, "held") {
		t.Errorf("%s", out)
	}
	do("check")
}

// Every form of the sheet comes from the database as from the plan.
func TestShow(t *testing.T) {
	do := on(t, filepath.Join(t.TempDir(), "store.db"))
	do("plan", "jobs/chalk-ledge.json")
	for form, want := range map[string]string{"": "Ledge below the blackboard", "text": "right board", "html": "<html", "svg": "<svg", "csv": "offcut", "json": `"format":"longpoint cut sheet"`} {
		args := []string{"show", "chalk-ledge", form}
		if form == "" {
			args = args[:2]
		}
		if out := do(args...); !strings.Contains(out, want) {
			t.Errorf("%s: %q is not in\n%s", form, want, out)
		}
	}
}

// Names that people and programs give go in and come out, and do nothing on the way.
func TestNames(t *testing.T) {
	do := on(t, filepath.Join(t.TempDir(), "a folder", "..", "Küche ?#%.db"))
	for _, name := range []string{"Leiste, Kiefer", "'; DROP TABLE rack; --", "стена 壁", "\u202eflow", "-", strings.Repeat("x", 200)} {
		do("-rack", name, "put", "-label", name, "--", name, "3ft")
		out := do("-rack", name, "rack")
		if !strings.Contains(out, shown(name)) || strings.ContainsRune(out, '\u202e') {
			t.Errorf("%q: %s", name, out)
		}
		do("-rack", name, "take", "--", name, "3ft")
		if out := do("-rack", name, "rack"); !strings.Contains(out, "nothing") {
			t.Errorf("%q: %s", name, out)
		}
	}
	do("check")
}

func TestErrors(t *testing.T) {
	dir := t.TempDir()
	file := func(name, text string) string {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		return filepath.Join(dir, name)
	}
	db := filepath.Join(dir, "store.db")
	on(t, db)("plan", "jobs/coat-rail.json")
	text, err := os.ReadFile("jobs/coat-rail.json")
	if err != nil {
		t.Fatal(err)
	}
	changed := func(name, old, now string) string { return file(name, strings.Replace(string(text), old, now, 1)) }
	for _, c := range []struct {
		args []string
		code int
		want string
	}{
		{[]string{"-nonsense"}, 2, "flag provided but not defined"},
		{[]string{"dance"}, 2, "dance is no command"},
		{[]string{"no-such-file.json"}, 2, "no command"},
		{[]string{"-db", db}, 2, "there is no command"},
		{[]string{"put", "rail"}, 2, "want put PROFILE LENGTH [COUNT]"},
		{[]string{"put", "rail", "seven"}, 2, "seven"},
		{[]string{"put", "rail", "7"}, 2, "no unit"},
		{[]string{"put", "rail", "7ft", "0"}, 2, "whole number from 1"},
		{[]string{"put", "rail", "7ft", "-as", "a\nb"}, 2, "id is"},
		{[]string{"put", "rail", "0ft"}, 2, "more than zero"},
		{[]string{"put", "-nonsense", "rail", "7ft"}, 2, "flag provided"},
		{[]string{"rack", "one"}, 2, "rack takes other arguments than the 1 given: want rack"},
		{[]string{"-rack", "attic", "rack"}, 1, `there is no rack "attic"`},
		{[]string{"list", "-state", "done"}, 2, "want open, cut or dropped"},
		{[]string{"show", "coat-rail", "pdf"}, 2, "want text, html"},
		{[]string{"show", "none"}, 1, `there is no job "none"`},
		{[]string{"cut", "none"}, 1, `there is no job "none"`},
		{[]string{"drop", "none"}, 1, `there is no job "none"`},
		{[]string{"plan", filepath.Join(dir, "none.json")}, 2, "none.json"},
		{[]string{"plan", file("empty.json", "")}, 2, "empty.json"},
		{[]string{"plan", changed("misspelled.json", "pieces", "peices")}, 2, "peices"},
		{[]string{"plan", changed("noid.json", "coat-rail", "")}, 2, "id is"},
		{[]string{"plan", file("long.json", strings.NewReplacer("9ft 1-1/4in", "19ft", "coat-rail", "long").Replace(string(text)))}, 1, "pieces[0]"},
		{[]string{"plan", changed("other.json", "9ft 1-1/4in", "9ft")}, 1, "an id of its own"},
		{[]string{"-db", filepath.Join(dir, "mistyped.db"), "check"}, 1, "there is no database"},
		{[]string{"-db", dir, "rack"}, 1, "cannot be opened"},
		{[]string{"-db", file("text.db", strings.Repeat("no database ", 100)), "rack"}, 1, "the file is no database"},
		{[]string{"-db", "postgres://localhost:1/x", "rack"}, 1, "connect"},
	} {
		args := c.args
		if args[0] != "-db" && len(args) > 1 {
			args = append([]string{"-db", db}, args...)
		}
		out, errs, code := program(args...)
		if code != c.code || !strings.Contains(errs, c.want) || out != "" {
			t.Errorf("%q: exit code %d, want %d\n%s%s, want %q", c.args, code, c.code, out, errs, c.want)
		}
	}
	on(t, db)("keep", "3ft")
	if _, errs, code := program("-db", db, "put", "rail", "2ft"); code != 1 || !strings.Contains(errs, "too short to keep") {
		t.Errorf("%d %s", code, errs)
	}
	for _, help := range [][]string{{"-h"}, {"-help"}, {"put", "-h"}, {"list", "-help"}} {
		if out, errs, code := program(help...); code != 0 || !strings.HasPrefix(out+errs, "usage") {
			t.Errorf("%q: %d %s", help, code, out+errs)
		}
	}
}
