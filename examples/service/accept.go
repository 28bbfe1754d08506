package main

import (
	"strconv"
	"strings"
)

// preference is one element of a header such as Accept: what it names and how much it
// is wanted, in thousandths.
type preference struct {
	name   string
	weight int
}

// preferences reads a header as RFC 9110, section 12.4 and 12.5, has it. Elements that
// cannot be read are left out: a client that says one thing badly may say another well.
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

// weight reads a number from 0 to 1 with three decimals at most, in thousandths.
func weight(text string) (int, bool) {
	whole, decimals, _ := strings.Cut(text, ".")
	if whole != "0" && whole != "1" || len(decimals) > 3 {
		return 0, false
	}
	n, err := strconv.ParseUint(whole+(decimals + "000")[:3], 10, 16)
	return int(n), err == nil && n <= 1000
}

// weightOf is how much a media type is wanted: what names it most exactly counts, and how
// exactly that is: 2 by its name, 1 by its family, 0 as anything.
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

// choose returns the form that a client wants most, of equal ones that which it names more exactly,
// then the first, and nil where it takes none of them. A client that says nothing takes anything.
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

// takesGzip reports whether a client said that it takes a compressed answer, and would not
// rather have a plain one.
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
