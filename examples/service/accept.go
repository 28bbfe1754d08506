package main

import (
	"strconv"
	"strings"
)

// preference is one element of a header such as Accept: its name and its weight, in
// thousandths.
type preference struct {
	name   string
	weight int
}

// preferences parses a header as in RFC 9110, section 12.4 and 12.5. Invalid elements are
// ignored: the others may be valid.
func preferences(header []string) (all []preference) {
	for element := range strings.SplitSeq(strings.Join(header, ","), ",") {
		name, parameters, _ := strings.Cut(element, ";")
		p := preference{strings.ToLower(strings.TrimSpace(name)), 1000}
		good := p.name != ""
		for parameter := range strings.SplitSeq(parameters, ";") {
			key, value, _ := strings.Cut(parameter, "=")
			if strings.EqualFold(strings.TrimSpace(key), "q") {
				var ok bool
				p.weight, ok = weight(strings.TrimSpace(value))
				good = good && ok
			}
		}
		if good {
			all = append(all, p)
		}
	}
	return all
}

// weight parses a number from 0 to 1 with at most three decimals, in thousandths.
func weight(text string) (int, bool) {
	whole, decimals, _ := strings.Cut(text, ".")
	if whole != "0" && whole != "1" || len(decimals) > 3 {
		return 0, false
	}
	n, err := strconv.ParseUint(whole+(decimals + "000")[:3], 10, 16)
	return int(n), err == nil && n <= 1000
}

// weightOf returns the weight of a media type: the most specific element counts. It also
// returns how specific that is: 2 by its name, 1 by its family, 0 as anything.
func weightOf(media string, all []preference) (weight, exact int) {
	exact = -1
	for _, p := range all {
		family, isRange := strings.CutSuffix(p.name, "/*")
		rank := -1
		switch {
		case p.name == media:
			rank = 2
		case p.name == "*/*":
			rank = 0
		case isRange && strings.HasPrefix(media, family+"/"):
			rank = 1
		}
		if rank > exact || rank == exact && rank >= 0 && p.weight > weight {
			weight, exact = p.weight, rank
		}
	}
	return weight, exact
}

// choose returns the client's preferred form; among equals the more specific, then the first;
// nil if it accepts none. A client without a preference accepts anything.
func choose(accept []string, forms []form) *form {
	if len(accept) == 0 {
		return &forms[0]
	}
	all := preferences(accept)
	var best *form
	most, closest := 0, 0
	for i := range forms {
		w, exact := weightOf(forms[i].media, all)
		if w > most || w == most && w > 0 && exact > closest {
			best, most, closest = &forms[i], w, exact
		}
	}
	return best
}

// takesGzip reports whether a client accepts a compressed response, and does not prefer a plain
// one.
func takesGzip(encodings []string) bool {
	gzip, any, plain := -1, -1, -1
	for _, p := range preferences(encodings) {
		switch p.name {
		case "gzip", "x-gzip":
			gzip = max(gzip, p.weight)
		case "*":
			any = max(any, p.weight)
		case "identity":
			plain = max(plain, p.weight)
		}
	}
	if gzip < 0 {
		gzip = any
	}
	return gzip > 0 && gzip >= plain
}
