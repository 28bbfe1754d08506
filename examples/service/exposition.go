package main

import (
	"strconv"
	"strings"
)

// exposition is text in the format of monitors, version 0.0.4 of "Exposition formats" in
// Prometheus's documentation. The few lines are written here, so that the server needs only the
// standard library; a program with more metrics uses Prometheus's own client, as examples/fleet
// does.
type exposition struct {
	text []byte
	name string // of the current family
}

// expositionType is its Content-Type.
const expositionType = "text/plain; version=0.0.4; charset=utf-8"

var (
	helpEscaper  = strings.NewReplacer(`\`, `\\`, "\n", `\n`)
	labelEscaper = strings.NewReplacer(`\`, `\\`, "\n", `\n`, `"`, `\"`)
)

// family begins a family of samples. Its lines are contiguous, each family once.
func (x *exposition) family(name, kind, help string) {
	x.name = name
	x.text = append(x.text, "# HELP "+name+" "+helpEscaper.Replace(help)+"\n# TYPE "+name+" "+kind+"\n"...)
}

// sample adds one value of the family, with labels as alternating names and values.
func (x *exposition) sample(suffix string, value int64, labels ...string) {
	x.put(suffix, strconv.FormatInt(value, 10), labels...)
}

func (x *exposition) put(suffix, value string, labels ...string) {
	x.text = append(x.text, x.name+suffix...)
	var pairs []string
	for i := 0; i+1 < len(labels); i += 2 {
		pairs = append(pairs, labels[i]+`="`+labelEscaper.Replace(labels[i+1])+`"`)
	}
	if len(pairs) > 0 {
		x.text = append(x.text, "{"+strings.Join(pairs, ",")+"}"...)
	}
	x.text = append(x.text, " "+value+"\n"...)
}

// histogram adds cumulative buckets.
func (x *exposition) histogram(h *histogram) {
	var n int64
	for i, count := range h.within {
		n += count
		le := "+Inf"
		if i < len(bounds) {
			le = strconv.FormatFloat(bounds[i].Seconds(), 'g', -1, 64)
		}
		x.sample("_bucket", n, "le", le)
	}
	x.put("_sum", strconv.FormatFloat(h.sum.Seconds(), 'g', -1, 64))
	x.sample("_count", n)
}
