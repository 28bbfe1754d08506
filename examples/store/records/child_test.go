//go:build unix

package records

import (
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// The test binary is also the process that tests run and kill. The variable gives its task: a role, the
// address of the database, and a number.
const role = "RECORDS_TEST_ROLE"

func TestMain(m *testing.M) {
	name, args, _ := strings.Cut(os.Getenv(role), "\n")
	if name == "" {
		os.Exit(m.Run())
	}
	address, number, _ := strings.Cut(args, "\n")
	n, err := strconv.Atoi(number)
	if err == nil {
		err = map[string]func(string, int) error{"day": dieInADay, "shop": workInAShop}[name](address, n)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(0)
}

// process returns the test's program in a role.
func process(name, address string, n int) (*exec.Cmd, *bytes.Buffer) {
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), role+"="+name+"\n"+address+"\n"+strconv.Itoa(n))
	var said bytes.Buffer
	c.Stdout, c.Stderr = &said, &said
	return c, &said
}

// killed reports whether a process ended by kill -9.
func killed(c *exec.Cmd) bool {
	status, ok := c.ProcessState.Sys().(syscall.WaitStatus)
	return ok && status.Signaled() && status.Signal() == syscall.SIGKILL
}

// day is a day of a shop: two jobs are cut, one of them not as planned, one is given up, and one stays
// open.
func day(ctx context.Context, db *DB) error {
	if err := db.SetRack(ctx, "shop", 0, nil); err != nil {
		return err
	}
	if _, err := db.Change(ctx, "shop", sticks("delivery", stock.Offcut{Length: 7 * ft, Count: 4}, stock.Offcut{Length: 51*in + in/2, Count: 3})); err != nil {
		return err
	}
	for _, j := range []struct {
		id     string
		pieces []measure.Length
	}{{"bench", []measure.Length{50 * in, 6 * ft}}, {"closet", []measure.Length{4 * ft, 7 * ft}}, {"coat rail", []measure.Length{51 * in, 11 * ft}}, {"shelf", []measure.Length{2 * ft}}} {
		if _, err := db.Plan(ctx, j.id, "shop", solve(j.pieces...)); err != nil {
			return err
		}
	}
	if err := db.Cut(ctx, "bench", nil); err != nil {
		return err
	}
	if err := db.Drop(ctx, "closet"); err != nil {
		return err
	}
	// The stick of 4 ft 3-1/2 in had a split, and one of 7 ft was taken in its place.
	if err := db.Cut(ctx, "coat rail", &stock.RackChange{
		Uses:   sticks("", stock.Offcut{Length: 7 * ft}).Leaves,
		Leaves: sticks("", stock.Offcut{Length: 33*in - in/8}, stock.Offcut{Length: ft - in/8}).Leaves,
	}); err != nil {
		return err
	}
	_, err := db.Change(ctx, "shop", stock.RackChange{ID: "for the stove", Uses: sticks("", stock.Offcut{Length: ft - in/8}).Leaves})
	return err
}

// dieInADay works until the n-th step.
func dieInADay(address string, n int) error {
	ctx, step := context.Background(), 0
	db, err := open(ctx, address, func(string) {
		if step++; step == n {
			syscall.Kill(os.Getpid(), syscall.SIGKILL)
		}
	})
	if err != nil {
		return err
	}
	return day(ctx, db)
}

// evening is the state after a day.
func evening(db *DB) (string, error) {
	ctx := context.Background()
	counted, err := db.Verify(ctx)
	if err != nil {
		return "", err
	}
	free, held, err := db.Rack(ctx, "shop")
	if err != nil {
		return "", err
	}
	list, err := db.Jobs(ctx, Filter{})
	slices.SortFunc(list, func(a, b Entry) int { return strings.Compare(a.ID, b.ID) }) // they may have come in one second or in two
	text := fmt.Sprintf("free %+v\nheld %+v\n%d %v %v %v\n", free, held, counted.Jobs, &counted.Came, &counted.Went, &counted.There)
	for _, e := range list {
		text += fmt.Sprintf("%s %s %d\n", e.ID, e.State, e.Cost)
	}
	return text, err
}

// A process is killed at every step of its day, before each statement and around each commit. Whatever
// the step, the stored data adds up; and when the day is repeated from its beginning, it ends as one
// without a kill.
func TestKilledAtEveryStep(t *testing.T) {
	onBoth(t, func(t *testing.T, fresh func() string) {
		steps := 0
		calm, err := open(t.Context(), fresh(), func(string) { steps++ })
		must(t, err)
		must(t, day(t.Context(), calm))
		done := steps
		want, err := evening(calm)
		must(t, err)
		must(t, calm.Close())
		if done < 100 {
			t.Errorf("only %d steps", done)
		}
		every := 1
		if testing.Short() {
			every = 11
		}
		var group errgroup
		for n := 1; n <= done; n += every {
			address := fresh()
			group.run(func() error { return killedAt(address, n, want) })
		}
		for _, err := range group.wait() {
			t.Error(err)
		}
	})
}

// killedAt kills a process at a step of its day.
func killedAt(address string, n int, want string) error {
	ctx := context.Background()
	c, said := process("day", address, n)
	if err := c.Run(); err == nil || !killed(c) {
		return fmt.Errorf("step %d: %v\n%s", n, err, said)
	}
	db, err := Open(ctx, address)
	if err != nil {
		return fmt.Errorf("after step %d: %w", n, err)
	}
	defer db.Close()
	if _, err := db.Verify(ctx); err != nil {
		return fmt.Errorf("after step %d: %w", n, err)
	}
	if err := day(ctx, db); err != nil {
		return fmt.Errorf("again after step %d: %w", n, err)
	}
	got, err := evening(db)
	if err == nil && got != want {
		err = fmt.Errorf("killed at step %d:\n%s\nwant\n%s", n, got, want)
	}
	return err
}

// errgroup runs functions, some at a time.
type errgroup struct {
	group sync.WaitGroup
	lock  sync.Mutex
	errs  []error
	turns chan bool
}

func (g *errgroup) run(f func() error) {
	if g.turns == nil {
		g.turns = make(chan bool, 4)
	}
	g.turns <- true
	g.group.Go(func() {
		defer func() { <-g.turns }()
		if err := f(); err != nil {
			g.lock.Lock()
			defer g.lock.Unlock()
			g.errs = append(g.errs, err)
		}
	})
}

func (g *errgroup) wait() []error {
	g.group.Wait()
	return g.errs
}

// shopJob is the k-th job of a shop. It takes what it can get, and sometimes is given up.
func shopJob(ctx context.Context, db *DB, shop, k int) error {
	r := rand.New(rand.NewPCG(uint64(shop), uint64(k)))
	id := fmt.Sprintf("shop %d, job %d", shop, k)
	length := func() measure.Length { return measure.Length(4+r.IntN(20)) * 4 * in }
	if _, err := db.Plan(ctx, id, "shop", solve(length(), length(), length())); err != nil {
		return err
	}
	if k%5 == 4 {
		return db.Drop(ctx, id)
	}
	if k%7 == 6 {
		return nil // it stays open
	}
	if err := db.Cut(ctx, id, nil); err != nil {
		return err
	}
	if k%3 != 2 {
		return nil
	}
	_, err := db.Change(ctx, "shop", sticks(id+", delivery", stock.Offcut{Length: 8 * ft}))
	return err
}

// workInAShop does the jobs of a shop. Every one is done again if it fails, since the
// server may be away.
func workInAShop(address string, shop int) error {
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	db, err := Open(ctx, address)
	for ; err != nil && ctx.Err() == nil; db, err = Open(ctx, address) {
		time.Sleep(50 * time.Millisecond)
	}
	if err != nil {
		return err
	}
	defer db.Close()
	for k := range shopJobs {
		for {
			err := shopJob(ctx, db, shop, k)
			if err == nil {
				break
			}
			if ctx.Err() != nil || !passing(err) {
				return err
			}
		}
	}
	return nil
}

const shopJobs = 15

// physical adds up the wood of all jobs, without the rack: what was put there by hand and bought, less
// pieces, cuts and leftovers too short to keep. Everything else is kept, so the rest must be on the
// rack.
func physical(t *testing.T, db *DB, put measure.Length) (there measure.Length) {
	t.Helper()
	list, err := db.Jobs(context.Background(), Filter{})
	must(t, err)
	there = put
	for _, e := range list {
		if e.State != StateCut {
			continue
		}
		j, _, err := db.Job(context.Background(), e.ID)
		must(t, err)
		for _, pat := range j.Plan.Patterns {
			s := j.Problem.Sticks[pat.Stick]
			left := s.Length
			for _, i := range pat.Pieces {
				left = max(0, left-j.Problem.Pieces[i].Length-j.Problem.Kerf)
			}
			if s.Rack {
				left -= s.Length // it was there before
			}
			there += left * measure.Length(pat.Count)
		}
	}
	return there
}

// Two processes change one rack at once; one of them is killed in the middle and starts
// again, and the server, if there is one, crashes twice.
func TestTwoShops(t *testing.T) {
	onBoth(t, func(t *testing.T, fresh func() string) { twoShops(t, fresh(), nil) })
}

func twoShops(t *testing.T, address string, disturb func()) {
	ctx, db := t.Context(), opened(t, address)
	must(t, db.SetRack(ctx, "shop", 0, nil))
	put := measure.Length(0)
	var delivery []stock.Offcut
	for k := range 10 {
		l := measure.Length(5+k) * 10 * in
		delivery = append(delivery, stock.Offcut{Length: l, Count: 2})
		put += 2 * l
	}
	_, err := db.Change(ctx, "shop", sticks("delivery", delivery...))
	must(t, err)

	first, saidFirst := process("shop", address, 1)
	second, saidSecond := process("shop", address, 2)
	must(t, first.Start())
	must(t, second.Start())
	defer func() { // which does nothing to a process that has ended
		first.Process.Kill()
		second.Process.Kill()
	}()
	// The first is killed once some of its jobs are there, and starts again.
	stored := func(shop string, atLeast int) {
		late := time.Now().Add(time.Minute)
		for n := 0; n < atLeast; {
			if time.Now().After(late) {
				t.Fatalf("%d jobs of %s after a minute, want %d\n%s%s", n, shop, atLeast, saidFirst, saidSecond)
			}
			list, err := db.Jobs(ctx, Filter{Rack: "shop"})
			must(t, err)
			n = 0
			for _, e := range list {
				if strings.HasPrefix(e.ID, shop) {
					n++
				}
			}
			if n == 2*shopJobs {
				t.Error("all jobs were finished before the disturbance")
				return
			}
		}
	}
	stored("shop 1,", 4)
	must(t, first.Process.Kill())
	first.Wait()
	first, saidFirst = process("shop", address, 1)
	must(t, first.Start())
	for _, n := range []int{10, 16} {
		if disturb != nil {
			stored("shop", n)
			disturb()
		}
	}
	if err := first.Wait(); err != nil {
		t.Errorf("%v\n%s", err, saidFirst)
	}
	if err := second.Wait(); err != nil {
		t.Errorf("%v\n%s", err, saidSecond)
	}

	c := verified(t, db)
	if c.Jobs != 2*shopJobs {
		t.Errorf("%d jobs, want %d", c.Jobs, 2*shopJobs)
	}
	for shop := 1; shop <= 2; shop++ {
		for k := range shopJobs {
			if k%3 == 2 && k%5 != 4 && k%7 != 6 {
				put += 8 * ft
			}
		}
	}
	var there measure.Length
	free, held, err := db.Rack(ctx, "shop")
	must(t, err)
	for _, h := range held {
		free.Offcuts = append(free.Offcuts, h.Offcuts...)
	}
	if there, err = free.Total(); err != nil {
		t.Fatal(err)
	}
	if want := physical(t, db, put); there != want || want.String() == "0" {
		t.Errorf("the rack has %v, want %v", there, want)
	}
	if len(held) == 0 {
		t.Error("no job is open")
	}
}
