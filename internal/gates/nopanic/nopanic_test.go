package nopanic

import (
	"context"
	"flag"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"reflect"
	"runtime/debug"
	"slices"
	"strings"
	"testing"
	"time"
)

var wildRounds = flag.Int("wild", 10, "rounds of TestNoPanic with random arguments")

// TestNoPanic calls every exported function and method: first with zero arguments on nil pointers,
// then with zero arguments on zero values, then with random arguments on random values, many of them
// absurd. Like everywhere in Go, a nil error, and a nil pointer to read into, are bugs of the caller.
func TestNoPanic(t *testing.T) {
	c := caller{t: t, panicked: map[string]bool{}}
	for c.round = range 2 + *wildRounds {
		c.rnd = rand.New(rand.NewPCG(uint64(c.round), 1))
		for _, f := range everyFunc {
			c.call(f.name, reflect.ValueOf(f.f))
		}
		for _, typ := range everyType {
			c.methods(typ)
		}
	}
	if c.calls < 1000 {
		t.Errorf("only %d calls: this test does not see what is exported", c.calls)
	}
}

// A caller calls with the arguments of a round: on nil in round 0, of zeros in rounds 0 and 1, of
// random values from round 2 on.
type caller struct {
	t        *testing.T
	rnd      *rand.Rand
	round    int
	calls    int
	panicked map[string]bool
}

func (c *caller) methods(typ reflect.Type) {
	if typ.Kind() == reflect.Interface {
		return
	}
	pointer := reflect.PointerTo(typ)
	for m := range pointer.NumMethod() {
		method := pointer.Method(m).Name
		receiver := reflect.New(typ)
		_, byValue := typ.MethodByName(method)
		into := slices.Contains([]string{"UnmarshalText", "UnmarshalJSON", "Scan"}, method)
		if c.round == 0 && !byValue && !into && !pointer.Implements(reflect.TypeFor[error]()) {
			receiver = reflect.Zero(pointer)
		} else if c.round > 1 {
			c.fill(receiver.Elem(), 0)
		}
		c.call(typ.String()+"."+method, receiver.Method(m))
	}
}

// call calls a function, and uses its results.
func (c *caller) call(name string, f reflect.Value) {
	c.calls++
	defer func() {
		if p := recover(); p != nil && !c.panicked[name] {
			c.panicked[name] = true
			_, stack, _ := strings.Cut(string(debug.Stack()), "panic(")
			lines := strings.Split(stack, "\n")
			c.t.Errorf("round %d: %s panics: %v\n%s", c.round, name, p, strings.Join(lines[:min(len(lines), 12)], "\n"))
		}
	}()
	ctx, cancel := context.WithTimeout(context.Background(), 100*time.Millisecond)
	defer cancel()
	var args []reflect.Value
	for i := range f.Type().NumIn() {
		v := reflect.New(f.Type().In(i)).Elem()
		switch v.Type() {
		case reflect.TypeFor[io.Writer]():
			v.Set(reflect.ValueOf(io.Discard))
		case reflect.TypeFor[io.Reader]():
			v.Set(reflect.ValueOf(strings.NewReader("{}")))
		case reflect.TypeFor[context.Context]():
			if c.round > 0 {
				v.Set(reflect.ValueOf(ctx))
			}
		default:
			if c.round > 1 {
				c.fill(v, 0)
			}
		}
		args = append(args, v)
	}
	if f.Type().IsVariadic() {
		args = f.CallSlice(args)
	} else {
		args = f.Call(args)
	}
	for _, v := range args {
		use(v)
	}
}

// use prints a result and ranges over a sequence, which may be long.
func use(v reflect.Value) {
	n := 0
	switch {
	case v.Kind() == reflect.Func && v.IsNil():
	case v.Type().CanSeq2() && v.Kind() == reflect.Func:
		for range v.Seq2() {
			if n++; n > 100 {
				break
			}
		}
	case v.Type().CanSeq() && v.Kind() == reflect.Func:
		for range v.Seq() {
			if n++; n > 100 {
				break
			}
		}
	default:
		fmt.Fprint(io.Discard, v.Interface())
		if err, ok := v.Interface().(error); ok {
			_ = err.Error() // fmt recovers from a panic
		}
	}
}

var (
	oddTexts    = []string{"", "a", "base", "classroom", "größe 壁 جدار", "\x00\xff\u202e", "12ft", "1/8in", "22.5", strings.Repeat("x", 300)}
	usualCounts = []int64{0, 1, 2, 3, 7, 2032000, 12 * 2032000, 48 * 2032000, 96 * 2032000, 192 * 2032000, 162e9, 324e9}
	oddCounts   = []int64{-1, math.MaxInt64, math.MinInt64, math.MaxInt64 / 2, 1 << 40}
)

// fill sets v to a random value: in even rounds mostly to usual values, in odd ones to absurd ones.
func (c *caller) fill(v reflect.Value, depth int) {
	if !v.CanSet() || depth > 7 || c.rnd.IntN(5) == 0 {
		return
	}
	switch v.Kind() {
	case reflect.Bool:
		v.SetBool(c.rnd.IntN(2) == 0)
	case reflect.Int, reflect.Int64:
		list := usualCounts
		if c.round%2 == 1 && c.rnd.IntN(2) == 0 {
			list = oddCounts
		}
		v.SetInt(list[c.rnd.IntN(len(list))])
	case reflect.Uint8:
		v.SetUint(uint64(c.rnd.IntN([]int{8, 8, 8, 256}[c.rnd.IntN(4)])))
	case reflect.Float64:
		v.SetFloat([]float64{1, -1, math.NaN(), math.Inf(1), math.Inf(-1), 1e300, 3.7}[c.rnd.IntN(7)])
	case reflect.String:
		v.SetString(oddTexts[c.rnd.IntN(len(oddTexts))])
	case reflect.Slice:
		s := reflect.MakeSlice(v.Type(), c.rnd.IntN(4), 4)
		for i := range s.Len() {
			c.fill(s.Index(i), depth+1)
		}
		v.Set(s)
	case reflect.Map:
		key, value := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
		c.fill(key, depth+1)
		c.fill(value, depth+1)
		v.Set(reflect.MakeMap(v.Type()))
		v.SetMapIndex(key, value)
	case reflect.Pointer:
		p := reflect.New(v.Type().Elem())
		c.fill(p.Elem(), depth+1)
		v.Set(p)
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[time.Time]() {
			v.Set(reflect.ValueOf(time.Date(2027, 5, 3, 8, c.rnd.IntN(1000), 0, 0, time.UTC)))
			return
		}
		for i := range v.NumField() {
			c.fill(v.Field(i), depth+1)
		}
	case reflect.Interface:
		if v.Type() == reflect.TypeFor[error]() {
			v.Set(reflect.ValueOf(io.ErrUnexpectedEOF))
		} else if v.NumMethod() == 0 {
			v.Set(reflect.ValueOf([]any{"12ft", int64(7), []byte("x"), 3.5, true}[c.rnd.IntN(5)]))
		}
	}
}
