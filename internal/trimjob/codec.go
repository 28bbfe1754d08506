package trimjob

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
)

const (
	unitText     = "1/16 in"
	currencyText = "cents"

	// Small enough that no sum or product over a job overflows int64.
	maxValue = 1 << 31
	maxList  = 1 << 16
)

// Encode writes the job as JSON, one source or piece per line, so that jobs can be compared by
// line.
func (j Job) Encode() []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "{\n \"name\": %q,\n \"class\": %q,\n \"seed\": %d,\n \"unit\": %q,\n \"currency\": %q,\n \"kerf\": %d,\n",
		j.Name, j.Class, j.Seed, j.Unit, j.Currency, j.Kerf)
	sources := func(key string, list []Source) {
		fmt.Fprintf(&b, " %q: [", key)
		for i, s := range list {
			fmt.Fprintf(&b, "%s\n  {\"length\":%d,\"price\":%d,\"supply\":%d}", comma(i), s.Length, s.Price, s.Supply)
		}
		b.WriteString("\n ],\n")
	}
	sources("stock", j.Stock)
	sources("offcuts", j.Offcuts)
	b.WriteString(" \"pieces\": [")
	for i, p := range j.Pieces {
		fmt.Fprintf(&b, "%s\n  {\"length\":%d,\"demand\":%d}", comma(i), p.Length, p.Demand)
	}
	b.WriteString("\n ]\n}\n")
	return b.Bytes()
}

func comma(i int) string {
	if i == 0 {
		return ""
	}
	return ","
}

// Decode reads one job and validates it: unknown fields, data after the job and invalid values
// are errors.
func Decode(r io.Reader) (Job, error) {
	var j Job
	d := json.NewDecoder(r)
	d.DisallowUnknownFields()
	if err := d.Decode(&j); err != nil {
		return Job{}, fmt.Errorf("trimjob.Decode: %w", err)
	}
	if _, err := d.Token(); err != io.EOF {
		return Job{}, fmt.Errorf("trimjob.Decode: more follows the job %q", j.Name)
	}
	if err := j.Validate(); err != nil {
		return Job{}, err
	}
	return j, nil
}

// Validate reports the first invalid value. A valid job may still be infeasible.
func (j Job) Validate() error {
	fail := func(field string, value any, want string) error {
		return fmt.Errorf("trimjob: job %q: %s is %v, want %s", j.Name, field, value, want)
	}
	if j.Unit != unitText {
		return fail("unit", j.Unit, unitText)
	}
	if j.Currency != currencyText {
		return fail("currency", j.Currency, currencyText)
	}
	if j.Kerf < 0 || j.Kerf > maxValue {
		return fail("kerf", j.Kerf, "0 to 2^31")
	}
	if len(j.Stock) > maxList || len(j.Offcuts) > maxList || len(j.Pieces) > maxList {
		return fail("number of entries", len(j.Stock)+len(j.Offcuts)+len(j.Pieces), "at most 65,536 a list")
	}
	sources := func(key string, list []Source) error {
		for i, s := range list {
			at := fmt.Sprintf("%s[%d]", key, i)
			switch {
			case s.Length <= 0 || s.Length > maxValue:
				return fail(at+".length", s.Length, "1 to 2^31")
			case s.Price < 0 || s.Price > maxValue:
				return fail(at+".price", s.Price, "0 to 2^31")
			case s.Supply < Unlimited || s.Supply > maxValue/2:
				return fail(at+".supply", s.Supply, "-1 (no limit) to 2^30")
			}
		}
		return nil
	}
	if err := sources("stock", j.Stock); err != nil {
		return err
	}
	if err := sources("offcuts", j.Offcuts); err != nil {
		return err
	}
	for i, p := range j.Pieces {
		at := fmt.Sprintf("pieces[%d]", i)
		switch {
		case p.Length <= 0 || p.Length > maxValue:
			return fail(at+".length", p.Length, "1 to 2^31")
		case p.Demand <= 0 || p.Demand > maxValue/2:
			return fail(at+".demand", p.Demand, "1 to 2^30")
		}
	}
	return nil
}
