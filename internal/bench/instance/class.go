package instance

import (
	"bytes"
	"cmp"
	"compress/gzip"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"

	"example.com/longpoint/internal/bench/data"
	"example.com/longpoint/internal/trimjob"
)

// Class is a named set of instances.
type Class struct {
	Name      string
	Instances []*Instance
}

// trimClasses are generated from seeds, without a file.
var trimClasses = []string{trimjob.Room, trimjob.House, trimjob.Tract}

// BuiltIn returns the classes that come with this module: those of package data, then the
// fixed selection of trim jobs, then rooms at retail prices.
func BuiltIn() ([]Class, error) {
	classes, err := Dir(data.Files)
	if err != nil {
		return nil, err
	}
	for _, name := range trimClasses {
		c := Class{Name: name}
		for _, k := range trimjob.OfClass(name) {
			c.Instances = append(c.Instances, FromJob(k.Job()))
		}
		classes = append(classes, c)
	}
	retail, err := retailRooms()
	if err != nil {
		return nil, err
	}
	return append(classes, retail), nil
}

// retailRooms returns rooms with five stick lengths at retail prices.
func retailRooms() (Class, error) {
	c := Class{Name: trimjob.Retail}
	for line := range bytes.Lines(data.Retail) {
		var known struct {
			Optimum int64       `json:"optimum"`
			Habit   string      `json:"habit"`
			Job     trimjob.Job `json:"job"`
		}
		if err := json.Unmarshal(line, &known); err != nil {
			return c, fmt.Errorf("retail.jsonl: %w", err)
		}
		if err := known.Job.Validate(); err != nil {
			return c, err
		}
		in := FromJob(known.Job)
		in.Lower, in.Upper = known.Optimum, known.Optimum
		c.Instances = append(c.Instances, in)
	}
	return c, nil
}

// Dir returns the classes of all files below a directory, by increasing name, with numbers in
// names by value. A .txt or .txt.gz file whose first line other than comments has no
// length*demand is ignored. Trim jobs are grouped by their class.
func Dir(fsys fs.FS) ([]Class, error) {
	byName := map[string]*Class{}
	err := fs.WalkDir(fsys, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !isText(name) && path.Ext(name) != ".json" {
			return err
		}
		b, err := readAll(fsys, name)
		if err != nil {
			return err
		}
		if isText(name) && !looksLikeClass(b) {
			return nil
		}
		c, err := parse(name, b)
		if err != nil {
			return err
		}
		if have := byName[c.Name]; have != nil {
			if isText(name) {
				return fmt.Errorf("%s: a second file for the class %s", name, c.Name)
			}
			have.Instances = append(have.Instances, c.Instances...)
			return nil
		}
		byName[c.Name] = &c
		return nil
	})
	if err != nil {
		return nil, err
	}
	var out []Class
	for _, c := range byName {
		out = append(out, *c)
	}
	slices.SortFunc(out, func(a, b Class) int { return compareNames(a.Name, b.Name) })
	return out, nil
}

// File returns the class in one file: .txt, .txt.gz or .json.
func File(name string) (Class, error) {
	dir, base := path.Split(name)
	if !isText(base) && path.Ext(base) != ".json" {
		return Class{}, fmt.Errorf("%s: want a .txt, .txt.gz or .json file", name)
	}
	if dir == "" {
		dir = "."
	}
	b, err := readAll(os.DirFS(dir), base)
	if err != nil {
		return Class{}, err
	}
	return parse(base, b)
}

// Merge appends extra classes to the others; one with the same name replaces the other in its
// place.
func Merge(classes, extra []Class) []Class {
	out := slices.Clone(classes)
	for _, c := range extra {
		if k := slices.IndexFunc(out, func(o Class) bool { return o.Name == c.Name }); k >= 0 {
			out[k] = c
		} else {
			out = append(out, c)
		}
	}
	return out
}

// Every returns each nth instance of the class, starting with the first.
func (c Class) Every(n int) Class {
	out := Class{Name: c.Name}
	for i := 0; i < len(c.Instances); i += max(n, 1) {
		out.Instances = append(out.Instances, c.Instances[i])
	}
	return out
}

func isText(name string) bool {
	return strings.HasSuffix(name, ".txt") || strings.HasSuffix(name, ".txt.gz")
}

func looksLikeClass(b []byte) bool {
	for line := range bytes.Lines(b) {
		if line = bytes.TrimSpace(line); len(line) > 0 && line[0] != '#' {
			return bytes.ContainsRune(line, '*')
		}
	}
	return false
}

func readAll(fsys fs.FS, name string) ([]byte, error) {
	f, err := fsys.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var r io.Reader = f
	if strings.HasSuffix(name, ".gz") {
		z, err := gzip.NewReader(f)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		r = z
	}
	b, err := io.ReadAll(r)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return b, nil
}

func parse(name string, b []byte) (Class, error) {
	if isText(name) {
		class := strings.TrimSuffix(strings.TrimSuffix(path.Base(name), ".gz"), ".txt")
		list, err := ReadText(class, bytes.NewReader(b))
		return Class{class, list}, err
	}
	j, err := trimjob.Decode(bytes.NewReader(b))
	if err != nil {
		return Class{}, fmt.Errorf("%s: %w", name, err)
	}
	in := FromJob(j)
	if err := in.check(); err != nil {
		return Class{}, fmt.Errorf("%s: %w", name, err)
	}
	return Class{in.Class, []*Instance{in}}, nil
}

// compareNames compares runs of digits by value, so that ai_402 comes before
// ai_1002.
func compareNames(a, b string) int {
	for a != "" && b != "" {
		x, y := digits(a), digits(b)
		if x != "" && y != "" {
			p, q := strings.TrimLeft(x, "0"), strings.TrimLeft(y, "0")
			if c := cmp.Or(cmp.Compare(len(p), len(q)), cmp.Compare(p, q)); c != 0 {
				return c
			}
			a, b = a[len(x):], b[len(y):]
			continue
		}
		if a[0] != b[0] {
			return cmp.Compare(a[0], b[0])
		}
		a, b = a[1:], b[1:]
	}
	return cmp.Compare(len(a), len(b))
}

func digits(s string) string {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return s[:i]
		}
	}
	return s
}
