package measure

import (
	"slices"
	"strconv"
	"strings"
)

// readings collects the possible meanings of an ambiguous text. It rewrites the
// text in a form that has one reading and parses that, so that every choice
// offered is accepted. The work is done only for errors.
type readings struct {
	in   Parser
	q    quantity
	pre  string // plain text before the offending part, the part, and the rest
	part string
	post string
	out  []string
}

// choices returns the readings of a text that t rejected as ambiguous.
func (t *text) choices(q quantity, in Parser) []string {
	at, end := min(t.f.at, t.n), min(max(t.f.end, t.f.at), t.n)
	r := &readings{in: in, q: q, pre: plain(t.b[:at]), part: plain(t.b[at:end]), post: plain(t.b[end:t.n])}
	switch t.f.code {
	case faultZero:
		num, _, _ := strings.Cut(r.part, "/")
		r.post = ""
		r.swap(num + "'") // a width as doors and windows are called: 5/0 is 5'-0"
	case faultImproper:
		r.improper()
	case faultRunTogether:
		r.runTogether()
	case faultTwoNumbers:
		r.twoNumbers()
	case faultHyphenated:
		a, b, _ := strings.Cut(r.part, "-")
		r.swap(a + "' " + b)
		r.swap(a + " " + strings.TrimRight(b, `"`) + "/16")
		r.swap(strings.Replace(r.part, "-", " ", 1))
	case faultMinus:
		r.minus()
	case faultPoint:
		a, b, _ := strings.Cut(r.part, ".")
		r.swap(strings.TrimRight(a, "'adefghimnorty ") + "." + strings.TrimRight(b, `"in `) + "'")
		r.swap(a + " 0." + b)
	case faultComma:
		r.swap(strings.Replace(r.part, ",", ".", 1))
		r.swap(strings.ReplaceAll(r.part, ",", ""))
		r.swap(strings.Replace(r.part, ",", " ", 1))
	case faultMixed:
		if a, ok := r.read(r.pre); ok {
			if b, ok := r.read(r.part); ok {
				if sum, ok := add(a, b); ok {
					r.add(sum)
				}
			}
		}
	case faultStrong:
		r.strong()
	case faultPercent:
		r.swap(r.part + "%")
		if v, ok := r.read(r.pre + r.part + "%"); ok && v == v*100/100 {
			r.add(v * 100)
		}
	}
	return r.out
}

// swap adds the reading of the text with other in place of the offending part.
func (r *readings) swap(other string) {
	if v, ok := r.read(r.pre + other + r.post); ok {
		r.add(v)
	}
}

// read reads text, and a length that lacks its unit in the one that was given for it,
// else as inches.
func (r *readings) read(s string) (int64, bool) {
	for _, unit := range []string{"", `"`} {
		var t text
		if v, ok := read(&t, s+unit, r.q, Parser{Unit: r.in.Unit}); ok {
			return v, true
		}
		if r.q != lengths {
			break
		}
	}
	return 0, false
}

func (r *readings) add(v int64) {
	if s := r.in.mark(r.q.format(v)); !slices.Contains(r.out, s) {
		r.out = append(r.out, s)
	}
}

// improper is 5 9/8: the sum, five feet and nine eighths, or 59/8.
func (r *readings) improper() {
	whole, frac, _ := strings.Cut(strings.Replace(r.part, "-", " ", 1), " ")
	frac = strings.TrimSpace(frac)
	n, d, _ := strings.Cut(frac, "/")
	w, err1 := strconv.ParseUint(whole, 10, 32)
	num, err2 := strconv.ParseUint(n, 10, 32)
	den, err3 := strconv.ParseUint(d, 10, 32)
	if err1 != nil || err2 != nil || err3 != nil || den == 0 {
		return
	}
	r.swap(mixed(w*den+num, den))
	r.swap(whole + "' " + mixed(num, den))
	if glued, err := strconv.ParseUint(whole+n, 10, 32); err == nil {
		r.swap(mixed(glued, den))
	}
}

// runTogether is 113/16: the space may have been lost anywhere, or nowhere.
func (r *readings) runTogether() {
	n, d, _ := strings.Cut(r.part, "/")
	num, err1 := strconv.ParseUint(n, 10, 32)
	den, err2 := strconv.ParseUint(d, 10, 32)
	if err1 != nil || err2 != nil || den == 0 {
		return
	}
	for k := 1; k < len(n); k++ {
		if tail, err := strconv.ParseUint(n[k:], 10, 32); err == nil && tail < den && n[k] != '0' {
			r.swap(n[:k] + " " + n[k:] + "/" + d)
		}
	}
	r.swap(mixed(num, den))
}

// twoNumbers is 88 6 or 6 1/2 3/4: feet and inches, a whole number and
// sixteenths as tapes are sometimes noted, the sum, or two values.
func (r *readings) twoNumbers() {
	a, b := r.part, ""
	for i, c := range r.part {
		// The second number starts after the space that no fraction follows.
		if rest := strings.TrimLeft(r.part[i:], " "); c == ' ' && rest != "" && !strings.Contains(strings.SplitN(rest, " ", 2)[0], "/") {
			a, b = r.part[:i], rest
			break
		} else if c == ' ' && strings.Contains(r.part[:i], "/") {
			a, b = r.part[:i], rest
			break
		}
	}
	if r.q == angles {
		r.swap(a + "° " + b)
		return
	}
	r.swap(a + "' " + b)
	r.swap(a + " " + strings.TrimRight(b, `"in `) + "/16")
	x, ok1 := r.read(r.pre + a)
	y, ok2 := r.read(b + r.post)
	if sum, ok := add(x, y); ok && ok1 && ok2 && strings.Contains(a, "/") {
		r.add(sum)
	}
}

// minus is a hyphen with a space before it: it joins, or it subtracts.
func (r *readings) minus() {
	whole := r.pre + r.part + r.post
	i := strings.Index(whole[len(r.pre):], "-")
	if i < 0 {
		return
	}
	i += len(r.pre)
	left, right := strings.TrimSpace(whole[:i]), strings.TrimSpace(whole[i+1:])
	joined := readings{in: r.in, q: r.q, part: left + "-" + right}
	joined.swap(joined.part)
	joined.swap(left + "' " + right)
	r.out = joined.out
	x, ok1 := r.read(left)
	y, ok2 := r.read(right)
	if diff, ok := sub(x, y); ok && ok1 && ok2 {
		r.add(diff)
	}
}

// strong is a length with a trailing + or -: the mark itself, or about a
// thirty-second beyond it (common practice, no source).
func (r *readings) strong() {
	s := strings.TrimRight(r.pre+r.part+r.post, " ")
	sign := Length(1)
	if strings.HasSuffix(s, "-") {
		sign = -1
	}
	mark, ok := r.read(strings.TrimRight(s, "+- "))
	if !ok {
		return
	}
	r.add(mark)
	if r.q == lengths {
		if v, ok := add(mark, int64(sign*Inch/32)); ok {
			r.add(v)
		}
	}
}

// mixed writes num/den with its whole part apart.
func mixed(num, den uint64) string {
	whole, num := num/den, num%den
	s := strconv.FormatUint(whole, 10)
	if num != 0 {
		s += " " + strconv.FormatUint(num, 10) + "/" + strconv.FormatUint(den, 10)
	}
	return s
}

// plain writes folded text in ASCII (and °), with fractions spelled out.
func plain(b []byte) string {
	var out []byte
	for i, c := range b {
		afterDigit := i > 0 && isDigit(b[i-1])
		switch {
		case isVulgar(c):
			if afterDigit {
				out = append(out, ' ')
			}
			v := vulgar[c-foldVulgar]
			out = strconv.AppendUint(out, uint64(v.num), 10)
			out = append(out, '/')
			out = strconv.AppendUint(out, uint64(v.den), 10)
		case isRaised(c):
			if afterDigit {
				out = append(out, ' ')
			}
			out = append(out, '0'+c-foldRaised)
		case c == foldDegree:
			out = append(out, "°"...)
		default:
			out = append(out, c)
		}
	}
	return string(out)
}
