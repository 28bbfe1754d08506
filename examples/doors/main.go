// Doors cases every door of a schoolhouse, both sides of each: from the clear
// openings to a cut sheet for each profile.
//
//	go run ./examples/doors
//	go run ./examples/doors FILE
//
// The first command does the built-in doors; FILE has the format of doors.json beside this
// program.
package main

import (
	"bytes"
	"context"
	_ "embed"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

//go:embed doors.json
var builtIn []byte

// job is the contents of doors.json.
type job struct {
	Title        string         `json:"title"`
	Kerf         measure.Length `json:"kerf"`
	Casing       trim           `json:"casing"`
	Plinth       *trim          `json:"plinth"` // nil: the casing goes down to the floor
	PlinthHeight measure.Length `json:"plinth_height"`
	Rooms        []takeoff.Room `json:"rooms"`
}

// trim is a profile with the prices of its lengths. Each profile is a cutting problem of its
// own.
type trim struct {
	Profile stock.Profile `json:"profile"`
	Sticks  []stock.Stick `json:"sticks"`
}

func main() {
	flag.Usage = func() {
		fmt.Fprintln(flag.CommandLine.Output(), "usage: doors [FILE]\n\nFILE has the format of doors.json beside the program, the default.")
	}
	flag.Parse()
	if err := run(os.Stdout, flag.Args()...); err != nil {
		fmt.Fprintln(os.Stderr, "doors:", err)
		os.Exit(1)
	}
}

func run(w io.Writer, args ...string) error {
	data := builtIn
	switch {
	case len(args) > 1:
		return fmt.Errorf("argument is %q: want one file at most", args[1])
	case len(args) == 1:
		var err error
		if data, err = os.ReadFile(args[0]); err != nil {
			return err
		}
	}
	var j job
	if err := measure.UnmarshalStrict(data, &j); err != nil {
		return err
	}
	scheme := takeoff.Scheme{Casing: &j.Casing.Profile, PlinthHeight: j.PlinthHeight}
	trims := []trim{j.Casing}
	if j.Plinth != nil {
		scheme.Plinth = &j.Plinth.Profile
		trims = append(trims, *j.Plinth)
	}
	list, err := takeoff.Take(j.Rooms, scheme, nil)
	if err != nil {
		return err
	}
	doubts, err := takeoff.Check(j.Rooms, scheme, nil)
	if err != nil {
		return err
	}
	// All or nothing: half a shopping list is worse than none.
	var out bytes.Buffer
	look(&out, j.Rooms, append(doubts, list.Findings...))
	for _, t := range trims {
		out.WriteString("\n" + strings.Repeat("_", 80) + "\n\n")
		if err := t.sheet(&out, &j, list); err != nil {
			return fmt.Errorf("%s: %w", t.Profile.Name, err)
		}
	}
	_, err = w.Write(out.Bytes())
	return err
}

// look lists what to measure again before spending money.
func look(out *bytes.Buffer, rooms []takeoff.Room, findings []takeoff.Finding) {
	fmt.Fprintf(out, "Openings to case, each side counted: %d. To check first: %d.\n", openings(rooms), len(findings))
	for _, f := range findings {
		where := f.Room
		if f.Wall != "" {
			where += ", wall " + f.Wall
		}
		fmt.Fprintf(out, "  %s: %s: %s\n", f.Severity, where, f.Reason)
	}
}

func openings(rooms []takeoff.Room) (n int) {
	for _, r := range rooms {
		for _, w := range r.Walls {
			n += len(w.Openings)
		}
	}
	return n
}

// sheet plans one profile and writes the purchase and the cuts.
func (t trim) sheet(w io.Writer, j *job, list *takeoff.List) error {
	p := optimize.Problem{Pieces: list.PiecesOf(t.Profile.Name), Kerf: j.Kerf}
	for _, s := range t.Sticks {
		s.TrimStart, s.TrimEnd = t.Profile.EndTrim, t.Profile.EndTrim
		p.Sticks = append(p.Sticks, s)
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		return err
	}
	sheet, err := cutsheet.New(context.Background(), p, plan, &cutsheet.Options{
		Title: j.Title + ": " + t.Profile.Name, Locale: measure.Locale{Currency: measure.Currency{Symbol: "$"}}, Profile: &t.Profile,
	})
	if err != nil {
		return err
	}
	return sheet.WriteText(w)
}
