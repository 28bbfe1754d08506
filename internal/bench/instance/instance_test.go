package instance_test

import (
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"example.com/longpoint/internal/bench/instance"
	"example.com/longpoint/internal/trimjob"
)

// Counts of data/README.md, and of the fixed selection of trim jobs.
var builtIn = map[string]int{
	"falkenauer_u": 46, "falkenauer_t": 54, "scholl_1": 499, "scholl_2": 324, "scholl_3": 7,
	"schwerin_1": 72, "schwerin_2": 69, "waescher": 11, "hard28": 19,
	"room": 30, "house": 20, "tract": 3, "retail": 40,
}

func TestBuiltIn(t *testing.T) {
	classes, err := instance.BuiltIn()
	if err != nil {
		t.Fatal(err)
	}
	if len(classes) != len(builtIn) {
		t.Errorf("%d classes, want %d", len(classes), len(builtIn))
	}
	for _, c := range classes {
		if len(c.Instances) != builtIn[c.Name] {
			t.Errorf("%s: %d instances, want %d", c.Name, len(c.Instances), builtIn[c.Name])
		}
		for _, in := range c.Instances {
			if in.Class != c.Name || in.Count() <= 0 {
				t.Errorf("%s: class %s, %d pieces", in.Name, in.Class, in.Count())
			}
			if strings.HasPrefix(in.Name, "Falkenauer_u120") {
				t.Errorf("%s is not free to publish", in.Name)
			}
			p, unit := in.Model()
			if len(p.Items) != len(in.Pieces) || p.Pieces() != in.Count() || unit < 1 {
				t.Errorf("%s: the model has %d items and %d pieces, the instance %d and %d",
					in.Name, len(p.Items), p.Pieces(), len(in.Pieces), in.Count())
			}
		}
	}
}

// The number of items is part of a published name or of the class.
func TestItemCounts(t *testing.T) {
	want := map[string]int64{
		"Falkenauer_t60_": 60, "Falkenauer_t120_": 120, "Falkenauer_t249_": 249, "Falkenauer_t501_": 501,
		"Falkenauer_u250_": 250, "Falkenauer_u500_": 500, "Falkenauer_u1000_": 1000,
		"N1C": 50, "N2C": 100, "N3C": 200, "N4C": 500, // Scholl set 1
		"N1W": 50, "N2W": 100, "N3W": 200, "N4W": 500, // Scholl set 2
		"HARD": 200, "Schwerin1_": 100, "Schwerin2_": 120,
	}
	seen := map[string]int{}
	classes, err := instance.BuiltIn()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range classes {
		for _, in := range c.Instances {
			for prefix, n := range want {
				if strings.HasPrefix(in.Name, prefix) {
					seen[prefix]++
					if in.Count() != n {
						t.Errorf("%s has %d items, want %d", in.Name, in.Count(), n)
					}
				}
			}
		}
	}
	for prefix := range want {
		if seen[prefix] == 0 {
			t.Errorf("no instance named %s...", prefix)
		}
	}
}

func TestReadText(t *testing.T) {
	list, err := instance.ReadText("c", strings.NewReader("# comment\n\na 10 2 3 0 7*1 3*2\nb 5 1 1 1 5*1\n"))
	if err != nil || len(list) != 2 {
		t.Fatal(list, err)
	}
	a := list[0]
	if a.Class != "c" || a.Name != "a" || a.Lower != 2 || a.Upper != 3 || a.Count() != 3 || a.Longest() != 10 {
		t.Errorf("got %+v", a)
	}
	for _, bad := range []string{
		"",
		"# only a comment",
		"a 10 2 3 0",                           // no length
		"a 10 2 3 1 7*1",                       // not closed
		"a 10 2 2 0 7*1",                       // closed
		"a 10 2 2 2 7*1",                       // neither
		"a 10 3 2 0 7*1",                       // bounds the wrong way round
		"a x 2 2 1 7*1",                        // no capacity
		"a 0 2 2 1 7*1",                        // no room
		"a 10 2 2 1 7",                         // no demand
		"a 10 2 2 1 7*x",                       // no number
		"a 10 2 2 1 7*0",                       // none wanted
		"a 10 2 2 1 0*1",                       // no length
		"a 10 2 2 1 11*1",                      // too long
		"a 10 2 2 1 3*1 7*1",                   // increasing
		"a 10 2 2 1 7*1 7*1",                   // equal
		"a 10 1 1 1 7*1\na 9 1 1 1 7*1",        // a name twice
		"a 1152921504606846976 1 1 1 7*1",      // capacity 1<<60
		"a 10 1 1 1 7*9223372036854775807 3*1", // overflow
		"a 1000000000 1 1 1 1000000000*2000000000", // total over 1<<60
	} {
		if _, err := instance.ReadText("c", strings.NewReader(bad)); err == nil {
			t.Errorf("%q: no error", bad)
		}
	}
}

func TestDirAndMerge(t *testing.T) {
	job, err := trimjob.Generate(trimjob.Room, 1000, "room-01")
	if err != nil {
		t.Fatal(err)
	}
	fsys := fstest.MapFS{
		"x/ai_402.txt":   {Data: []byte("a 10 1 1 1 7*1\n")},
		"x/ai_1002.txt":  {Data: []byte("a 10 1 1 1 7*1\n")},
		"trim/r.json":    {Data: job.Encode()},
		"trim/index.txt": {Data: []byte("# name cost\nroom-01 5\n")},
		"README.md":      {Data: []byte("a")},
	}
	classes, err := instance.Dir(fsys)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, c := range classes {
		names = append(names, c.Name)
	}
	if got := strings.Join(names, " "); got != "ai_402 ai_1002 room" {
		t.Errorf("classes %s", got)
	}
	if room := classes[2].Instances[0]; room.Lower != 16362 || room.Upper != 16362 {
		t.Errorf("room-01: bounds %d and %d", room.Lower, room.Upper)
	}
	merged := instance.Merge(classes[:2], []instance.Class{{Name: "ai_402"}, {Name: "new"}})
	if len(merged) != 3 || len(merged[0].Instances) != 0 || merged[2].Name != "new" {
		t.Errorf("merged %+v", merged)
	}

	fsys["y/ai_402.txt"] = fsys["x/ai_402.txt"]
	if _, err := instance.Dir(fsys); err == nil {
		t.Error("two files for a class: no error")
	}
}

func TestFile(t *testing.T) {
	job, err := trimjob.Generate(trimjob.House, 7, "mine")
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	for name, b := range map[string][]byte{"a.json": job.Encode(), "b.txt": []byte("a 10 1 1 1 7*1\n"), "c.csv": nil} {
		if err := os.WriteFile(dir+"/"+name, b, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	c, err := instance.File(dir + "/a.json")
	if err != nil || c.Name != "house" || c.Instances[0].Upper != instance.Unknown || c.Instances[0].Kerf != 2 {
		t.Errorf("%+v, %v", c, err)
	}
	if c, err := instance.File(dir + "/b.txt"); err != nil || c.Name != "b" {
		t.Errorf("%+v, %v", c, err)
	}
	if _, err := instance.File(dir + "/c.csv"); err == nil {
		t.Error("c.csv: no error")
	}
}
