package plan

import (
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"sync/atomic"
	"testing"
	"time"

	"matewell/graph/sampletest"
	"matewell/queries/plan/plantest"
)

// 500 made-up machines: the smallest plan weighs what minisat+ proves on the
// exported OPB, under every order of costs. Every fifth goes to the solver
// whole, the others as Solve would have it.
func TestMachinesEqualMinisat(t *testing.T) {
	var impossible, compared atomic.Int32
	count := uint64(sampletest.Of(t, 20, 500))
	t.Run("all", func(t *testing.T) {
		for seed := range count {
			rnd := rand.New(rand.NewPCG(seed, 5))
			sh := shape{slots: 5 + rnd.IntN(4), least: 4, most: 6, loops: rnd.IntN(5), fixed: 1 + rnd.IntN(3),
				triples: rnd.IntN(2)}
			steps := 0
			if seed%5 == 0 {
				steps = -1
			}
			t.Run(fmt.Sprint("seed ", seed), func(t *testing.T) {
				t.Parallel()
				p, o := machine(rnd, sh), Objective{Prefer: Prefer(rnd.IntN(3))}
				got := prove(t, p, Options{Prefer: o.Prefer, steps: steps})
				found := ""
				if len(got.Plans) > 0 {
					found = WeightsFor(p, o.Prefer).Value(got.Plans[0].Cost).String()
				} else {
					impossible.Add(1)
				}
				if want := plantest.Minisat(t, export(t, p, o), found); found != want {
					t.Errorf("smallest plan weighs %q, minisat+ proves %q", found, want)
				}
				compared.Add(1)
			})
		}
	})
	if n := compared.Load(); impossible.Load() > n/2 {
		t.Errorf("%d of %d machines have no plan: too few tell anything", impossible.Load(), n)
	}
}

// Bigger machines, cost by cost: minisat+ proves each step of the sequence.
func TestStepsEqualMinisat(t *testing.T) {
	for seed := range uint64(sampletest.Of(t, 2, 12)) {
		rnd := rand.New(rand.NewPCG(seed, 6))
		p := machine(rnd, shape{slots: 10 + rnd.IntN(8), least: 5, most: 6, loops: 3, fixed: 2, triples: 1})
		prefer := Prefer(seed % 3)
		t.Run(fmt.Sprint("seed ", seed), func(t *testing.T) {
			t.Parallel()
			got := prove(t, p, Options{Prefer: prefer})
			for i, l := range prefer.order() {
				o := Objective{Prefer: prefer, Step: i + 1}
				found := ""
				if len(got.Plans) > 0 {
					o.Settled = got.Plans[0].Cost
					found = fmt.Sprint(at(o.Settled, l))
				}
				if want := plantest.Minisat(t, export(t, p, o), found); found != want {
					t.Fatalf("%s of the smallest plan is %q, minisat+ proves %q", l, found, want)
				}
			}
		})
	}
}

func export(t *testing.T, p Problem, o Objective) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := WriteOPB(&out, p, o); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// prove solves a problem that has to be settled.
func prove(t *testing.T, p Problem, o Options) Result {
	t.Helper()
	o.Deadline = 5 * time.Minute
	got, err := Solve(context.Background(), p, o)
	if err != nil || !got.Proved {
		t.Fatalf("%s, error %v", got.Verdict(), err)
	}
	return got
}
