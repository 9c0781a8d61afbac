package plan

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"runtime"
	"testing"
	"time"
)

// tangle makes up a problem no machine has: every second pair of slots with a
// joint. Neither elimination nor the solver gets through it in time.
func tangle(rnd *rand.Rand, slots int) Problem {
	var p Problem
	for i := range slots {
		s := Slot{Name: fmt.Sprint("slot-", i)}
		for range 5 {
			s.Options = append(s.Options, Option{Cost: Cost{Parts: rnd.IntN(50), Money: rnd.IntN(1000)}})
		}
		p.Slots = append(p.Slots, s)
	}
	for a := range slots {
		for b := range a {
			if rnd.IntN(2) == 0 {
				continue
			}
			d := Demand{Name: fmt.Sprint(a, "-", b), Slots: []int{a, b}}
			for o := range 25 {
				if o == 0 || rnd.IntN(8) > 0 {
					d.Allowed = append(d.Allowed, Combination{Options: []int{o / 5, o % 5}, Cost: Cost{Parts: rnd.IntN(9)}})
				}
			}
			p.Demands = append(p.Demands, d)
		}
	}
	return p
}

// At its deadline Solve gives the best it has found, doesn't call it proved, and
// leaves nothing running. How well the time is kept is for BenchmarkDeadline.
func TestDeadlineEndsTheSearch(t *testing.T) {
	p := tangle(rand.New(rand.NewPCG(1, 1)), 30)
	before := runtime.NumGoroutine()
	for _, deadline := range []time.Duration{time.Millisecond, 500 * time.Millisecond} {
		got, err := Solve(context.Background(), p, Options{Deadline: deadline})
		if err != nil || got.Proved || deadline > time.Millisecond && (len(got.Plans) != 1 || !got.EqualAtLeast) {
			t.Fatalf("after %v: %s, %d plans, error %v", deadline, got.Verdict(), len(got.Plans), err)
		}
	}
	for wait := 0; runtime.NumGoroutine() > before; wait++ {
		if wait == 500 {
			t.Fatalf("%d goroutines are left, %d were there before", runtime.NumGoroutine(), before)
		}
		time.Sleep(10 * time.Millisecond)
	}
}

// BenchmarkDeadline tells by how much of the deadline the search runs over it.
func BenchmarkDeadline(b *testing.B) {
	p := tangle(rand.New(rand.NewPCG(1, 1)), 30)
	const deadline = 500 * time.Millisecond
	for b.Loop() {
		if _, err := Solve(context.Background(), p, Options{Deadline: deadline}); err != nil {
			b.Fatal(err)
		}
	}
	over := b.Elapsed()/time.Duration(b.N) - deadline
	b.ReportMetric(100*over.Seconds()/deadline.Seconds(), "%over")
}

// The context's own end is an error: nobody waits for the answer any more.
func TestCancelIsAnError(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	for _, steps := range []int{0, -1} {
		got, err := Solve(ctx, machine(rand.New(rand.NewPCG(1, 1)), shape{10, 5, 5, 2, 1, 0}), Options{steps: steps})
		if !errors.Is(err, context.Canceled) {
			t.Errorf("%s, error %v, want that the context was cancelled", got.Verdict(), err)
		}
	}
}

// 200 positions of 5 candidates, with 40 loops and 4 things to take over.
func BenchmarkTwoHundredPositions(b *testing.B) {
	var machines []Problem
	for seed := range uint64(10) {
		machines = append(machines, machine(rand.New(rand.NewPCG(seed, 1)), shape{200, 5, 5, 40, 4, 5}))
	}
	n := 0
	for b.Loop() {
		got, err := Solve(context.Background(), machines[n%len(machines)], Options{})
		if err != nil || !got.Proved {
			b.Fatalf("%s, error %v", got.Verdict(), err)
		}
		n++
	}
}

// The same kind of machine by the solver alone, and the published garden: what
// elimination saves, and what a tangled piece costs.
func BenchmarkSolverAlone(b *testing.B) {
	p := machine(rand.New(rand.NewPCG(3, 1)), shape{60, 5, 5, 10, 3, 2})
	for b.Loop() {
		if got, err := Solve(context.Background(), p, Options{steps: -1}); err != nil || !got.Proved {
			b.Fatalf("%s, error %v", got.Verdict(), err)
		}
	}
}
