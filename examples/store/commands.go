package main

import (
	"context"
	"crypto/rand"
	"flag"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"
	"text/tabwriter"

	"example.com/longpoint/examples/store/records"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// shop is the environment of a command.
type shop struct {
	db        *records.DB
	rack      string
	out, errs io.Writer
}

// do runs a command once the database is open.
type do func(context.Context) error

// commands read their arguments before the database is opened.
var commands = map[string]func(s *shop, args []string) (do, error){
	"put":   func(s *shop, args []string) (do, error) { return byHand(s, "put", args) },
	"take":  func(s *shop, args []string) (do, error) { return byHand(s, "take", args) },
	"keep":  keep,
	"rack":  rack,
	"plan":  plan,
	"list":  list,
	"show":  show,
	"cut":   cut,
	"drop":  drop,
	"check": check,
}

// makes lists the commands that create a database if there is none.
var makes = map[string]bool{"put": true, "keep": true, "plan": true}

// arguments parses the flags of a command and returns its other arguments. Flags may come
// before, between and after them.
func arguments(s *shop, f *flag.FlagSet, args []string, names ...string) ([]string, error) {
	f.Usage = func() {
		fmt.Fprintf(f.Output(), "usage: store %s %s\n", f.Name(), strings.Join(names, " "))
		f.PrintDefaults()
	}
	var plain []string
	for {
		if err := parse(f, args, s.errs); err != nil {
			return nil, err
		}
		if f.NArg() == 0 {
			break
		}
		plain, args = append(plain, f.Arg(0)), f.Args()[1:]
	}
	least := 0
	for _, n := range names {
		if n[0] != '[' {
			least++
		}
	}
	if len(plain) < least || len(plain) > len(names) {
		return nil, &usageError{what: fmt.Sprintf("%s takes other arguments than the %d given: want %s", f.Name(), len(plain), strings.Join(append([]string{f.Name()}, names...), " "))}
	}
	return plain, nil
}

// byHand adds offcuts to the rack or removes them.
func byHand(s *shop, name string, args []string) (do, error) {
	f := flag.NewFlagSet(name, flag.ContinueOnError)
	material := f.String("material", "", "the `MATERIAL`, such as fir")
	label := f.String("label", "", "what is written on it, as `TEXT`")
	id := f.String("as", "", "`ID` of this change: run again with the same ID it does nothing")
	args, err := arguments(s, f, args, "PROFILE", "LENGTH", "[COUNT]")
	if err != nil {
		return nil, err
	}
	if args[0] == "" {
		return nil, &usageError{what: "the profile has no name"}
	}
	o := stock.Offcut{Profile: args[0], Material: *material, Label: *label, Count: 1}
	if o.Length, err = measure.Parse(args[1]); err != nil {
		return nil, &usageError{what: err.Error()}
	}
	if len(args) > 2 {
		if o.Count, err = strconv.Atoi(args[2]); err != nil || o.Count < 1 {
			return nil, &usageError{what: fmt.Sprintf("the number is %s: want a whole number from 1 on", shown(args[2]))}
		}
	}
	c := stock.RackChange{ID: *id}
	if c.ID == "" {
		c.ID = "by hand " + rand.Text()[:8]
	}
	if name == "put" {
		c.Leaves = []stock.Offcut{o}
	} else {
		c.Uses = []stock.Offcut{o}
	}
	return func(ctx context.Context) error {
		if name == "put" {
			if err := s.db.AddRack(ctx, s.rack); err != nil {
				return err
			}
			free, _, err := s.db.Rack(ctx, s.rack)
			if err != nil {
				return err
			}
			if !free.Keeps(o) && o.Length > 0 {
				return fmt.Errorf("%s is too short to keep on the rack %s, where %s is the least", o.Length.About(), shown(s.rack), free.Keep.About(o.Length))
			}
		}
		_, err := s.db.Change(ctx, s.rack, c)
		if err == nil {
			_, err = fmt.Fprintf(s.out, "%s: %d @ %s of %s, %s the rack %s.\n", shown(c.ID), o.Count, o.Length.About(), shown(o.Profile), map[string]string{"put": "on", "take": "off"}[name], shown(s.rack))
		}
		return err
	}, nil
}

func keep(s *shop, args []string) (do, error) {
	args, err := arguments(s, flag.NewFlagSet("keep", flag.ContinueOnError), args, "LENGTH")
	if err != nil {
		return nil, err
	}
	l, err := measure.Parse(args[0])
	if err != nil {
		return nil, &usageError{what: err.Error()}
	}
	return func(ctx context.Context) error {
		if err := s.db.SetRack(ctx, s.rack, l, nil); err != nil {
			return err
		}
		_, err := fmt.Fprintf(s.out, "The rack %s keeps what is %s or longer.\n", shown(s.rack), l.About())
		return err
	}, nil
}

func rack(s *shop, args []string) (do, error) {
	if _, err := arguments(s, flag.NewFlagSet("rack", flag.ContinueOnError), args); err != nil {
		return nil, err
	}
	return func(ctx context.Context) error {
		free, held, err := s.db.Rack(ctx, s.rack)
		if err != nil {
			return err
		}
		w := tabwriter.NewWriter(s.out, 0, 0, 2, ' ', 0)
		fmt.Fprintf(w, "On the rack %s", shown(s.rack))
		if free.Keep > 0 {
			fmt.Fprintf(w, ", which keeps what is %s or longer", free.Keep.About())
		}
		fmt.Fprint(w, ":\n")
		for _, o := range free.Offcuts {
			offcut(w, o, "free")
		}
		for _, h := range held {
			for _, o := range h.Offcuts {
				offcut(w, o, "held for "+shown(h.Job))
			}
		}
		if len(free.Offcuts)+len(held) == 0 {
			fmt.Fprint(w, "  nothing\n")
		}
		return w.Flush()
	}, nil
}

func offcut(w io.Writer, o stock.Offcut, what string) {
	name := shown(o.Profile)
	for _, more := range []string{o.Material, o.Label} {
		if more != "" {
			name += ", " + shown(more)
		}
	}
	fmt.Fprintf(w, "  %d @\t%s\t%s\t%s\t%s\n", o.Count, o.Length.About(), name, shown(o.ID), what)
}

func list(s *shop, args []string) (do, error) {
	f := flag.NewFlagSet("list", flag.ContinueOnError)
	profile := f.String("profile", "", "only jobs of this `PROFILE`")
	state := f.String("state", "", "only jobs in this `STATE`: open, cut or dropped")
	all := f.Bool("all", false, "of every rack, not only of -rack")
	when := f.Bool("when", false, "with the day on which they were saved")
	if _, err := arguments(s, f, args); err != nil {
		return nil, err
	}
	switch records.State(*state) {
	case "", records.StateOpen, records.StateCut, records.StateDropped:
	default:
		return nil, &usageError{what: fmt.Sprintf("-state is %s: want open, cut or dropped", shown(*state))}
	}
	return func(ctx context.Context) error {
		filter := records.Filter{Rack: s.rack, Profile: *profile, State: records.State(*state)}
		if *all {
			filter.Rack = ""
		}
		jobs, err := s.db.Jobs(ctx, filter)
		if err != nil {
			return err
		}
		w := tabwriter.NewWriter(s.out, 0, 0, 2, ' ', 0)
		for _, e := range jobs {
			fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\t%s\t%s", shown(e.ID), e.State, shown(e.Profile), number(e.Pieces, "piece"), number(e.Sticks, "stick"), cost(e), shown(e.Title))
			if *all {
				fmt.Fprintf(w, "\t%s", shown(e.Rack))
			}
			if *when {
				fmt.Fprintf(w, "\t%s", e.Saved.Local().Format("2006-01-02"))
			}
			fmt.Fprintln(w)
		}
		if len(jobs) == 0 {
			fmt.Fprintln(w, "no jobs")
		}
		return w.Flush()
	}, nil
}

// cost describes the cost of a job, and whether it is proven.
func cost(e records.Entry) string {
	text := measure.Locale{Currency: e.Currency}.FormatMoney(e.Cost)
	if e.ByLength {
		text = measure.Length(e.Cost).About()
	}
	if e.Proven {
		return text + ", the least"
	}
	return text
}

func show(s *shop, args []string) (do, error) {
	args, err := arguments(s, flag.NewFlagSet("show", flag.ContinueOnError), args, "ID", "[FORM]")
	if err != nil {
		return nil, err
	}
	forms := map[string]func(*cutsheet.Sheet, io.Writer) error{
		"text": (*cutsheet.Sheet).WriteText, "html": (*cutsheet.Sheet).WriteHTML, "svg": (*cutsheet.Sheet).WriteSVG,
		"csv": (*cutsheet.Sheet).WriteCSV, "json": (*cutsheet.Sheet).WriteJSON,
	}
	form := append(args, "text")[1]
	write := forms[form]
	if write == nil {
		return nil, &usageError{what: fmt.Sprintf("the form is %s: want text, html, svg, csv or json", shown(form))}
	}
	return func(ctx context.Context) error {
		j, _, err := s.db.Job(ctx, args[0])
		if err != nil {
			return err
		}
		free, _, err := s.db.Rack(ctx, j.Rack)
		if err != nil {
			return err
		}
		j.Options.Keep = free.Keep
		sheet, err := cutsheet.New(ctx, j.Problem, j.Plan, j.Options)
		if err != nil {
			return err
		}
		return write(sheet, s.out)
	}, nil
}

func cut(s *shop, args []string) (do, error) {
	f := flag.NewFlagSet("cut", flag.ContinueOnError)
	file := f.String("used", "", "`FILE` with what was really used and left, where that is not what was planned: a stock.RackChange as JSON")
	args, err := arguments(s, f, args, "ID")
	if err != nil {
		return nil, err
	}
	var actual *stock.RackChange
	if *file != "" {
		text, err := os.ReadFile(*file)
		if err != nil {
			return nil, &usageError{what: err.Error()}
		}
		actual = &stock.RackChange{}
		if err := measure.UnmarshalStrict(text, actual); err != nil {
			return nil, fmt.Errorf("%s: %w", shown(*file), err)
		}
	}
	return func(ctx context.Context) error {
		if err := s.db.Cut(ctx, args[0], actual); err != nil {
			return err
		}
		_, err := fmt.Fprintf(s.out, "%s is cut; what is left of it lies on the rack.\n", shown(args[0]))
		return err
	}, nil
}

func drop(s *shop, args []string) (do, error) {
	args, err := arguments(s, flag.NewFlagSet("drop", flag.ContinueOnError), args, "ID")
	if err != nil {
		return nil, err
	}
	return func(ctx context.Context) error {
		if err := s.db.Drop(ctx, args[0]); err != nil {
			return err
		}
		_, err := fmt.Fprintf(s.out, "%s is dropped; nothing is held for it.\n", shown(args[0]))
		return err
	}, nil
}

func check(s *shop, args []string) (do, error) {
	if _, err := arguments(s, flag.NewFlagSet("check", flag.ContinueOnError), args); err != nil {
		return nil, err
	}
	return func(ctx context.Context) error {
		c, err := s.db.Verify(ctx)
		if err != nil {
			return err
		}
		_, err = fmt.Fprintf(s.out, "%s: every plan passes Check. %s: %s came, %s went, %s on the racks. It adds up.\n",
			number(int64(c.Jobs), "job"), number(int64(c.Changes), "change"), sum(&c.Came), sum(&c.Went), sum(&c.There))
		return err
	}, nil
}

func sum(s *records.Sum) string {
	if !s.Offcuts.IsInt64() {
		return s.Offcuts.String() + " offcuts"
	}
	n := number(s.Offcuts.Int64(), "offcut")
	if s.Ticks.Sign() == 0 || !s.Ticks.IsInt64() {
		return n
	}
	return n + " of " + measure.Length(s.Ticks.Int64()).About()
}

// shown makes foreign text fit for a terminal: invisible and control characters are escaped.
func shown(text string) string {
	if text == "" {
		return "-"
	}
	if q := strconv.Quote(text); q != `"`+text+`"` || strings.TrimSpace(text) != text {
		return q
	}
	return text
}

// number writes a number of things.
func number(n int64, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return strconv.FormatInt(n, 10) + " " + thing + "s"
}
