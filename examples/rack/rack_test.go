package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

func Example() {
	if err := run(os.Stdout); err != nil {
		fmt.Println(err)
	}
	// Output:
	// cloakroom-coat-rail: the rack held 5 offcuts, 23' 5" and now holds 4 offcuts, 12' 1".
	//
	// cloakroom-coat-rail
	// fingerprint WDV-QNK-JWY
	// 1 stick to buy; 3 sticks off the rack; 5 pieces to cut; cost $21.75.
	// The pieces use 82.4% of the stock. Offcuts to keep total 4' 5"; the longest is
	// 2' 10-5/8".
	// Kerf 1/8". Lengths are from long point to long point, to the nearest 1/16".
	//
	// To buy -------------------------------------------------------------------------
	//   [ ] 1 @ 12'  at $21.75 = $21.75
	//   Cost $21.75
	//
	// Off the rack -------------------------------------------------------------------
	//   [ ] 1 @     7' 2"
	//   [ ] 2 @ 4' 3-1/2"
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
	//   1  []   9' 1-1/4"  north wall
	//          2' 10-5/8"  offcut
	//
	// B: 1 stick of 7' 2", off the rack ----------------------------------------------
	//   |----------------1-----------------|.........
	//   1  []  5' 7-1/2"  bench
	//          1' 6-3/8"  offcut
	//
	// C: 1 stick of 4' 3-1/2", off the rack ------------------------------------------
	//   |------------1------------|
	//   1  []  4' 2-3/8"  by the door
	//                 1"  waste
	//
	// D: 1 stick of 4' 3-1/2", off the rack ------------------------------------------
	//   |-----1-----||----1-----|..
	//   1  [][]  2 @ 1' 11-3/4"  closet
	//                    3-3/4"  waste
	//
	// Left over ----------------------------------------------------------------------
	//   [ ] 1 @ 2' 10-5/8"  from A
	//   [ ] 1 @  1' 6-3/8"  from B
	//   Waste, shorter than 1' 4": 2 pieces, 4-3/4" in all.
	//
	// How good the plan is -----------------------------------------------------------
	// Proven: no plan costs less than $21.75; a separate check confirms it.
	//
	// The rack's file:
	//
	// {
	//   "keep": "1ft 4in",
	//   "offcuts": [
	//     {
	//       "profile": "fir rail",
	//       "length": "2ft 1in"
	//     },
	//     {
	//       "profile": "fir base",
	//       "length": "5ft 7in"
	//     },
	//     {
	//       "id": "cloakroom-coat-rail/1",
	//       "profile": "fir rail",
	//       "length": "2ft 10-5/8in",
	//       "count": 1
	//     },
	//     {
	//       "id": "cloakroom-coat-rail/2",
	//       "profile": "fir rail",
	//       "length": "1ft 6-3/8in",
	//       "count": 1
	//     }
	//   ],
	//   "applied": [
	//     {
	//       "id": "cloakroom-coat-rail",
	//       "sum": "76775b339b3844c90c7ccbc1"
	//     }
	//   ]
	// }
	//
	// Once more, as after a power cut:
	//
	// cloakroom-coat-rail is among the changes that the rack has had: it stays as it is.
}

// shop is a directory with a rack and a job in it.
func shop(t *testing.T) (rack, job, plan string) {
	t.Helper()
	dir := t.TempDir()
	rack, job = filepath.Join(dir, "rack.json"), filepath.Join(dir, "job.json")
	put(t, rack, string(builtInRack))
	put(t, job, string(builtInJob))
	return rack, job, filepath.Join(dir, "cloakroom-coat-rail.plan.json")
}

func put(t *testing.T, file, text string) {
	t.Helper()
	if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}

func get(t *testing.T, file string) string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// files fails unless the directory holds exactly the named files.
func files(t *testing.T, dir string, want ...string) {
	t.Helper()
	list, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, f := range list {
		got = append(got, f.Name())
	}
	if strings.Join(got, " ") != strings.Join(want, " ") {
		t.Errorf("the directory holds %q, want %q", got, want)
	}
}

func TestTwiceIsOnce(t *testing.T) {
	rack, job, _ := shop(t)
	var first, second strings.Builder
	if err := run(&first, rack, job); err != nil {
		t.Fatal(err)
	}
	once := get(t, rack)
	if once == string(builtInRack) {
		t.Fatal("the rack was not changed")
	}
	if err := run(&second, rack, job); err != nil {
		t.Fatal(err)
	}
	if get(t, rack) != once {
		t.Errorf("the second run changed the rack:\n%s", get(t, rack))
	}
	_, a, _ := strings.Cut(first.String(), "\n")
	_, b, _ := strings.Cut(second.String(), "\n")
	if a != b {
		t.Errorf("the second run printed a different sheet:\n%s", b)
	}
	files(t, filepath.Dir(rack), "cloakroom-coat-rail.plan.json", "job.json", "rack.json")
}

// Two offcuts that are cut alike are one pattern: both leave the rack, and the rest of both comes back.
func TestAlike(t *testing.T) {
	rack, job, _ := shop(t)
	put(t, job, `{"id": "alike", "profile": "fir rail", "kerf": "1/8in", "sticks": [{"length": "12ft", "price": 2175}],
		"pieces": [{"label": "shelf", "length": "30in", "quantity": 2}]}`)
	put(t, rack, `{"keep": "16in", "offcuts": [{"profile": "fir rail", "length": "4ft 3-1/2in", "count": 3}]}`)
	if _, _, err := work(rack, job); err != nil {
		t.Fatal(err)
	}
	var after stock.Rack
	if err := read(rack, &after); err != nil {
		t.Fatal(err)
	}
	want := []stock.Offcut{
		{Profile: "fir rail", Length: measure.MustParse("4ft 3-1/2in"), Count: 1},
		{ID: "alike/1", Profile: "fir rail", Length: measure.MustParse("21-3/8in"), Count: 2},
	}
	if !slices.Equal(after.Offcuts, want) {
		t.Errorf("the rack holds %v, want %v", after.Offcuts, want)
	}
}

// Offcuts of another material stay on the rack, and leftovers keep their own.
func TestMaterial(t *testing.T) {
	rack, job, _ := shop(t)
	put(t, job, `{"id": "oak", "profile": "rail", "material": "oak", "kerf": "1/8in", "sticks": [{"length": "8ft", "price": 2175}],
		"pieces": [{"label": "shelf", "length": "30in"}, {"label": "long shelf", "length": "70in"}]}`)
	put(t, rack, `{"offcuts": [{"profile": "rail", "material": "fir", "length": "3ft"}, {"profile": "rail", "material": "oak", "length": "4ft"}]}`)
	if _, _, err := work(rack, job); err != nil {
		t.Fatal(err)
	}
	var after stock.Rack
	if err := read(rack, &after); err != nil {
		t.Fatal(err)
	}
	want := []stock.Offcut{
		{Profile: "rail", Material: "fir", Length: measure.MustParse("3ft")},
		{ID: "oak/1", Profile: "rail", Material: "oak", Length: measure.MustParse("25-7/8in"), Count: 1},
		{ID: "oak/2", Profile: "rail", Material: "oak", Length: measure.MustParse("17-7/8in"), Count: 1},
	}
	if !slices.Equal(after.Offcuts, want) {
		t.Errorf("the rack holds %v, want %v", after.Offcuts, want)
	}
}

// Three jobs in a row work on one file, whatever people have written on its offcuts: the second and the
// third cut the leftovers of those before.
func TestThreeJobs(t *testing.T) {
	rack, job, _ := shop(t)
	put(t, rack, `{"keep": "10in", "offcuts": [{"label": "behind the stove", "profile": "rail", "length": "7ft"},
		{"profile": "rail", "length": "7ft"}, {"label": "behind the stove", "profile": "rail", "length": "6ft", "count": 2}]}`)
	for k, pieces := range []string{`{"label": "a", "length": "50in"}`, `{"label": "", "length": "33-7/8in"}, {"label": "a", "length": "71in"}`, `{"label": "a", "length": "60in"}, {"label": "a", "length": "49in"}, {"length": "33in"}`} {
		put(t, job, fmt.Sprintf(`{"id": "job-%d", "profile": "rail", "kerf": "1/8in", "sticks": [{"length": "8ft", "label": "of the mill", "price": 2175}], "pieces": [%s]}`, k+1, pieces))
		if _, _, err := work(rack, job); err != nil {
			t.Fatalf("job %d: %v", k+1, err)
		}
	}
	var after stock.Rack
	if err := read(rack, &after); err != nil {
		t.Fatal(err)
	}
	for k, id := range []string{"job-1", "job-2", "job-3"} {
		if len(after.Applied) != 3 || after.Applied[k].ID != id {
			t.Errorf("done: %+v", after.Applied)
		}
	}
	// The first leaves 33-7/8 in of 7 ft, the second 50 in of the other and less than the minimum kept
	// of 6 ft, the third takes all three and the other 6 ft.
	want := []stock.Offcut{{ID: "job-3/1", Profile: "rail", Length: measure.MustParse("11-7/8in"), Count: 1}}
	if !slices.Equal(after.Offcuts, want) {
		t.Errorf("the rack holds %v, want %v", after.Offcuts, want)
	}
}

// The power fails after the plan was saved, or in the middle of a write: the next run ends like an
// undisturbed one.
func TestPowerCut(t *testing.T) {
	rack, job, plan := shop(t)
	if _, _, err := work(rack, job); err != nil {
		t.Fatal(err)
	}
	want, saved := get(t, rack), get(t, plan)

	rack, job, plan = shop(t)
	put(t, plan, saved)
	put(t, rack+".new-17", want[:40]) // left behind by a killed program
	if _, _, err := work(rack, job); err != nil {
		t.Fatal(err)
	}
	if get(t, rack) != want {
		t.Errorf("the rack is\n%s\nwant\n%s", get(t, rack), want)
	}
}

func TestSaveIsAllOrNothing(t *testing.T) {
	file := filepath.Join(t.TempDir(), "rack.json")
	put(t, file, "old")
	full := errors.New("no space left")
	err := save(file, func(w io.Writer) error {
		io.WriteString(w, "ne")
		return full
	})
	if !errors.Is(err, full) || get(t, file) != "old" {
		t.Errorf("the file has %q, the error is %v", get(t, file), err)
	}
	files(t, filepath.Dir(file), "rack.json")
	if err := save(file, func(w io.Writer) error { _, err := io.WriteString(w, "new"); return err }); err != nil || get(t, file) != "new" {
		t.Errorf("the file has %q, the error is %v", get(t, file), err)
	}
	files(t, filepath.Dir(file), "rack.json")
}

// A rack that was cut off anywhere is refused and stays as it is.
func TestCutOff(t *testing.T) {
	rack, job, _ := shop(t)
	whole := strings.TrimSpace(string(builtInRack))
	for n := range whole {
		put(t, rack, whole[:n])
		_, _, err := work(rack, job)
		if err == nil || !strings.Contains(err.Error(), "rack.json was left as it is: ") {
			t.Fatalf("truncated after %d bytes: %v", n, err)
		}
		if get(t, rack) != whole[:n] {
			t.Fatalf("truncated after %d bytes, it was overwritten", n)
		}
	}
	files(t, filepath.Dir(rack), "job.json", "rack.json")
}

func TestRefused(t *testing.T) {
	for _, c := range []struct{ name, file, old, now, want string }{
		{"misspelled", "rack.json", `"count"`, `"cuont"`, "rack.json was left as it is: offcuts[1].cuont"},
		{"no unit", "rack.json", `"2ft 1in"`, `"25"`, `offcuts[2].length is 25`},
		{"no length", "rack.json", `"2ft 1in"`, `"0in"`, `offcuts[2].length is "0\"", want more than zero`},
		{"negative count", "rack.json", `"count": 2`, `"count": -2`, `offcuts[1].count is -2, want zero (for one) or more`},
		{"no profile", "rack.json", `"fir base"`, `""`, `offcuts[3].profile is "", want a name`},
		{"an id that is a path", "job.json", `"cloakroom-coat-rail"`, `"../../rack"`, `id is "../../rack"`},
		{"too long", "job.json", `"9ft 1-1/4in"`, `"19ft"`, "pieces[0]"},
		{"no job", "job.json", string(builtInJob), ``, "job.json was left as it is"},
	} {
		t.Run(c.name, func(t *testing.T) {
			rack, job, _ := shop(t)
			file := filepath.Join(filepath.Dir(rack), c.file)
			text := strings.Replace(get(t, file), c.old, c.now, 1)
			put(t, file, text)
			before := get(t, rack)
			_, _, err := work(rack, job)
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want text with %q", err, c.want)
			}
			if get(t, rack) != before {
				t.Error("the rack was overwritten")
			}
			files(t, filepath.Dir(rack), "job.json", "rack.json")
		})
	}
	if err := run(io.Discard, "rack.json"); err == nil {
		t.Error("one argument was accepted")
	}
	if err := run(io.Discard, filepath.Join(t.TempDir(), "none"), "job.json"); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("no rack: %v", err)
	}
}

// A plan that is not applied yet, with a rack from which an offcut was taken, or with a changed
// job.
func TestPlanIsOvertaken(t *testing.T) {
	rack, job, plan := shop(t)
	if _, _, err := work(rack, job); err != nil {
		t.Fatal(err)
	}
	put(t, rack, strings.Replace(string(builtInRack), `, "count": 2`, ``, 1))
	before := get(t, rack)
	_, _, err := work(rack, job)
	if short := (*stock.RackError)(nil); !errors.As(err, &short) || get(t, rack) != before {
		t.Errorf("an offcut is gone: %v", err)
	}
	put(t, rack, string(builtInRack))
	put(t, job, strings.Replace(string(builtInJob), `"5ft 7-1/2in"`, `"5ft 7in"`, 1))
	if _, _, err := work(rack, job); err == nil || !strings.Contains(err.Error(), "it is for other pieces") || get(t, rack) != string(builtInRack) {
		t.Errorf("a different job: %v", err)
	}
	put(t, plan, get(t, plan)[:100])
	if _, _, err := work(rack, job); err == nil || !strings.HasPrefix(err.Error(), filepath.Base(plan)) {
		t.Errorf("a truncated plan: %v", err)
	}
}

// Without its plan, a finished job cannot be distinguished from another.
func TestPlanIsGone(t *testing.T) {
	rack, job, plan := shop(t)
	if _, _, err := work(rack, job); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(plan); err != nil {
		t.Fatal(err)
	}
	once := get(t, rack)
	if _, _, err := work(rack, job); !errors.Is(err, os.ErrNotExist) || get(t, rack) != once {
		t.Errorf("got %v and\n%s", err, get(t, rack))
	}
	files(t, filepath.Dir(rack), "job.json", "rack.json")
}
