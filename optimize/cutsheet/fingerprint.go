package cutsheet

import (
	"crypto/sha256"
	"encoding/binary"
	"hash"
	"reflect"
	"strings"

	"example.com/longpoint/optimize"
)

// Fingerprint returns a short identifier of the cuts, such as "K7M-3QF-9TX": nine characters in
// three groups, without vowels and without characters that are easily confused, such as 0, 1, 5
// and 8. It is the same for the same problem and the same cuts, on every machine, whatever the
// options and with or without the proof. A different length, label or pattern gives a different
// fingerprint, except in one case in a million million. Two papers with different fingerprints
// show different plans.
func (s *Sheet) Fingerprint() string {
	if s == nil {
		return ""
	}
	return s.fingerprint
}

// fingerprintSigns omits digits and letters that are easily confused, and vowels, so that no
// word results.
const fingerprintSigns = "234679CDFGHJKMNPQRTVWXY"

// fingerprint is a hash of a problem and of the cuts in its plan. Fields with zero values do
// not count, so a field added in a later version changes no fingerprint.
func fingerprint(p *optimize.Problem, plan *optimize.Plan) string {
	h := sha256.New()
	done := struct {
		Problem  *optimize.Problem     `json:"problem"`
		Buy      []optimize.Purchase   `json:"buy"`
		Patterns []optimize.Pattern    `json:"patterns"`
		Spliced  []optimize.SplicedRun `json:"spliced"`
	}{p, plan.Buy, plan.Patterns, plan.Spliced}
	feed(h, reflect.ValueOf(&done))
	n := binary.BigEndian.Uint64(h.Sum(nil))
	var text []byte
	for i := range 9 {
		if i == 3 || i == 6 {
			text = append(text, '-')
		}
		text = append(text, fingerprintSigns[n%uint64(len(fingerprintSigns))])
		n /= uint64(len(fingerprintSigns))
	}
	return string(text)
}

// feed writes a value into a hash so that different values have different encodings: numbers in
// eight bytes, texts and lists preceded by their lengths, and the nonzero fields of a struct
// preceded by their JSON names, which do not change.
func feed(h hash.Hash, v reflect.Value) {
	var word [8]byte
	number := func(n uint64) {
		binary.BigEndian.PutUint64(word[:], n)
		h.Write(word[:])
	}
	text := func(s string) {
		number(uint64(len(s)))
		h.Write([]byte(s))
	}
	switch {
	case v.CanInt():
		number(uint64(v.Int()))
	case v.CanUint():
		number(v.Uint())
	case v.Kind() == reflect.Bool && v.Bool():
		number(1)
	case v.Kind() == reflect.Bool:
		number(0)
	case v.Kind() == reflect.String:
		text(v.String())
	case v.Kind() == reflect.Slice:
		number(uint64(v.Len()))
		for i := range v.Len() {
			feed(h, v.Index(i))
		}
	case v.Kind() == reflect.Struct:
		for i := range v.NumField() {
			if f := v.Field(i); !f.IsZero() && !(f.Kind() == reflect.Slice && f.Len() == 0) {
				name, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
				if name == "" { // a type with its own JSON form
					name = v.Type().Field(i).Name
				}
				text(name)
				feed(h, f)
			}
		}
		text("")
	case v.Kind() == reflect.Pointer && !v.IsNil():
		feed(h, v.Elem())
	}
}
