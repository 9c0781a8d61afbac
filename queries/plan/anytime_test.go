package plan

import (
	"context"
	"math/rand/v2"
	"runtime"
	"testing"
	"time"

	"matewell/graph/sampletest"
)

// large is a thousand places of eight candidates, more tangled than any machine:
// twelve joints at every place, each of which allows seven pairs in eight.
func large(rnd *rand.Rand) Problem {
	const slots, options, joints = 1000, 8, 6000
	var p Problem
	for range slots {
		var s Slot
		for range options {
			s.Options = append(s.Options, Option{Cost: Cost{Unknowns: rnd.IntN(2), Effort: rnd.IntN(4), Parts: rnd.IntN(3),
				Money: rnd.IntN(9000)}})
		}
		p.Slots = append(p.Slots, s)
	}
	for range joints {
		a := rnd.IntN(slots)
		d := Demand{Slots: []int{a, (a + 1 + rnd.IntN(slots-1)) % slots}}
		for pair := range options * options {
			if pair == 0 || rnd.IntN(8) > 0 {
				d.Allowed = append(d.Allowed, Combination{Options: []int{pair / options, pair % options},
					Cost: Cost{Parts: rnd.IntN(3) / 2}})
			}
		}
		p.Demands = append(p.Demands, d)
	}
	return p
}

// A plan comes at once, and what comes after it is never dearer: of each one is
// told, and the last is the answer.
func TestPlansGetCheaper(t *testing.T) {
	p := tangle(rand.New(rand.NewPCG(2, 1)), 40)
	var told []Plan
	got, err := Solve(context.Background(), p, Options{Deadline: 400 * time.Millisecond, Better: func(one Plan) {
		told = append(told, one)
	}})
	if err != nil || len(got.Plans) != 1 || len(told) < 2 {
		t.Fatalf("%s, %d plans, told of %d, error %v", got.Verdict(), len(got.Plans), len(told), err)
	}
	for i, one := range told {
		if cost, err := p.costOf(one.Choice, one.Through); err != nil || cost != one.Cost {
			t.Fatalf("plan %d that was told of costs %v, not %v: %v", i, cost, one.Cost, err)
		}
		if i > 0 && !one.Cost.Less(told[i-1].Cost, PreferEffort) {
			t.Errorf("plan %d is no cheaper than the one before: %v, %v", i, one.Cost, told[i-1].Cost)
		}
	}
	if last := told[len(told)-1]; last.Cost.Less(got.Plans[0].Cost, PreferEffort) {
		t.Errorf("the answer costs %v, a plan told of only %v", got.Plans[0].Cost, last.Cost)
	}
}

// No plan costs less than Least says: on machines small enough to prove, the
// bound that a stopped search would give is never above the proved cost, and the
// improved plan never below it.
func TestLeastIsNeverTooMuch(t *testing.T) {
	close, tried, seeds := 0, 0, sampletest.Of(t, 24, 60)
	for seed := range uint64(seeds) {
		rnd := rand.New(rand.NewPCG(seed, 9))
		p := machine(rnd, shape{slots: 12, least: 4, most: 6, loops: 6, fixed: 2, triples: 2})
		proved := prove(t, p, Options{})
		if len(proved.Plans) == 0 {
			continue
		}
		r := newRoom(&p, PreferEffort)
		if ok, err := r.reduce(t.Context()); err != nil || !ok {
			t.Fatal(err)
		}
		s := newSearch(r, -1)
		if err := s.any(t.Context()); err != nil {
			t.Fatal(err)
		}
		first := s.best()
		m := newImprover(r, first, s.openOfTangled(), nil)
		m.until(t.Context(), patience)
		floors(t.Context(), s)
		best, least := proved.Plans[0].Cost, s.least(m.plan.Cost)
		for _, l := range levels() {
			if l == unknowns && at(least, l) > at(best, l) { // what counts first is as low as it can be
				t.Errorf("seed %d: at least %d %s, yet a plan has %d", seed, at(least, l), l, at(best, l))
			}
		}
		if m.plan.Cost.Less(best, PreferEffort) || first.Cost.Less(m.plan.Cost, PreferEffort) {
			t.Errorf("seed %d: improved from %v to %v, proved smallest %v", seed, first.Cost, m.plan.Cost, best)
		}
		if tried++; m.plan.Cost == best {
			close++
		}
	}
	if tried < seeds/3 || close < tried*9/10 {
		t.Errorf("improving found a smallest plan on %d of %d machines", close, tried)
	}
}

// At no level does any plan cost less than the bound of that level: tried on
// every plan of small machines.
func TestBoundHoldsForEveryPlan(t *testing.T) {
	tried := 0
	for seed := range uint64(40) {
		p := machine(rand.New(rand.NewPCG(seed, 11)), shape{slots: 6, least: 3, most: 4, loops: 2, fixed: 1})
		r := newRoom(&p, PreferEffort)
		if ok, err := r.consistent(t.Context()); err != nil || !ok {
			continue
		}
		least := Cost{}
		for _, m := range newSearch(r, -1).methods {
			least = least.Plus(m.state().least(t.Context()))
		}
		eachCost(p, func(cost Cost) {
			tried++
			for _, l := range levels() {
				if at(cost, l) < at(least, l) {
					t.Fatalf("seed %d: a plan has %d %s, the bound says at least %d", seed, at(cost, l), l, at(least, l))
				}
			}
		})
	}
	if tried < 200 {
		t.Errorf("only %d plans were tried", tried)
	}
}

// BenchmarkLarge tells by how much a deadline is overrun, what the plan then
// costs, and how much memory is in use at most.
func BenchmarkLarge(b *testing.B) {
	p := large(rand.New(rand.NewPCG(1, 1)))
	for _, deadline := range []time.Duration{300 * time.Millisecond, 500 * time.Millisecond, 2 * time.Second,
		30 * time.Second} {
		b.Run(deadline.String(), func(b *testing.B) {
			var cost Cost
			first := time.Duration(0)
			for b.Loop() {
				start := time.Now()
				first = 0
				got, err := Solve(context.Background(), p, Options{Deadline: deadline, NoClash: true, Better: func(Plan) {
					if first == 0 {
						first = time.Since(start)
					}
				}})
				if err != nil {
					b.Fatal(err)
				}
				if len(got.Plans) > 0 {
					cost = got.Plans[0].Cost
				}
			}
			over := b.Elapsed()/time.Duration(b.N) - deadline
			b.ReportMetric(100*over.Seconds()/deadline.Seconds(), "%over")
			b.ReportMetric(first.Seconds(), "s-to-first")
			b.ReportMetric(float64(cost.Unknowns), "unknowns")
			b.ReportMetric(float64(cost.Parts), "parts")
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			b.ReportMetric(float64(m.Sys>>20), "MB")
		})
	}
}

// A search that is stopped gives the best plan it had, as one whose time is over.
func TestStoppedSearchGivesItsBest(t *testing.T) {
	p := tangle(rand.New(rand.NewPCG(2, 1)), 40)
	stop, told := make(chan struct{}), []Plan{}
	got, err := Solve(context.Background(), p, Options{Deadline: time.Minute, Stop: stop, Better: func(one Plan) {
		if told = append(told, one); len(told) == 2 {
			close(stop)
		}
	}})
	if err != nil || len(got.Plans) != 1 || len(told) < 2 {
		t.Fatalf("%s, %d plans, told of %d, error %v", got.Verdict(), len(got.Plans), len(told), err)
	}
	if told[1].Cost.Less(got.Plans[0].Cost, PreferEffort) {
		t.Errorf("the answer costs %v, the plan it was stopped at only %v", got.Plans[0].Cost, told[1].Cost)
	}
	if !got.Proved && got.Gap() == "" {
		t.Error("not proved, and no word of how much smaller it might be")
	}
}
