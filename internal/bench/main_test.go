package main

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestBench(t *testing.T) {
	t.Setenv(dataVariable, "")
	dir := t.TempDir()
	file := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	right := file("right.txt", "a 10 2 2 1 7*1 5*2 3*1\n")
	wrong := file("wrong.txt", "a 10 3 3 1 7*1 5*2 3*1\n")
	a, b := filepath.Join(dir, "a.csv"), filepath.Join(dir, "b.csv")
	for _, test := range []struct {
		args string
		code int
		out  []string
	}{
		{"-csv " + a + " " + right, 0, []string{"right"}},
		{"-via optimize -v -csv " + b + " " + right, 0, []string{"right/a cost 2, published 2, proven"}},
		{"-compare " + a + " " + b, 0, []string{"time B/A", "right"}},
		{wrong, 1, []string{"WRONG: wrong/a cost 2, published 3"}},
		{"-list", 0, []string{"falkenauer_u 46\n", "tract 3\n"}},
		{"-list -class hard28,room", 0, []string{"hard28 19\nroom 30\n"}},
		{"-class schwerin_1 -every 40 -work 50000000", 0, []string{"schwerin_1          2       2"}},
		{"-class none", 2, nil},
		{"-via none " + right, 2, nil},
		{"-every 0 " + right, 2, nil},
		{"-compare " + a, 2, nil},
		{"-compare " + a + " " + right, 2, nil},
		{"-nonsense", 2, nil},
		{filepath.Join(dir, "none.txt"), 2, nil},
		{"-list -data " + filepath.Join(dir, "none"), 2, nil},
		{"-list -data " + dir, 0, []string{"hard28 19\n", "right 1\n", "wrong 1\n"}},
	} {
		var out, log strings.Builder
		code, err := bench(context.Background(), strings.Fields(test.args), &out, &log)
		if code != test.code || (err == nil) != (code == 0) {
			t.Errorf("%s: exit %d, want %d: %v\n%s", test.args, code, test.code, err, out.String())
		}
		for _, s := range test.out {
			if !strings.Contains(out.String(), s) {
				t.Errorf("%s: no %q in\n%s", test.args, s, out.String())
			}
		}
	}
}
