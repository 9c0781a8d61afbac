package donor_test

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"matewell/graph"
	"matewell/graph/sampletest"
	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/once"
	"matewell/queries/readertest"
)

// workClock is a clock that only work moves: each read and each look at it,
// which stands for the judgement that follows, takes a fixed time.
type workClock struct {
	at         time.Time
	read, look time.Duration
	reads      int
}

// measuredClock goes by what reads and judgements were measured to take.
func measuredClock() *workClock {
	return &workClock{at: time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC), read: 400 * time.Microsecond,
		look: 50 * time.Microsecond}
}

func (c *workClock) now() time.Time {
	c.at = c.at.Add(c.look)
	return c.at
}

// clockedReader takes time for each read and, like the stores, reads nothing
// under a context that has ended. What it does not list is not read while a
// plan is looked for.
type clockedReader struct {
	graph.Reader
	clock *workClock
}

func timed[K, T any](ctx context.Context, r clockedReader,
	read func(context.Context, ...K) ([]T, error), ids []K) ([]T, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	r.clock.at = r.clock.at.Add(r.clock.read)
	r.clock.reads++
	return read(ctx, ids...)
}

func (r clockedReader) Sources(ctx context.Context, ids ...graph.SourceID) ([]graph.Source, error) {
	return timed(ctx, r, r.Reader.Sources, ids)
}

func (r clockedReader) Kinds(ctx context.Context, ids ...graph.KindID) ([]graph.Kind, error) {
	return timed(ctx, r, r.Reader.Kinds, ids)
}

func (r clockedReader) Models(ctx context.Context, ids ...graph.ModelID) ([]graph.Model, error) {
	return timed(ctx, r, r.Reader.Models, ids)
}

func (r clockedReader) Variants(ctx context.Context, ids ...graph.VariantID) ([]graph.Variant, error) {
	return timed(ctx, r, r.Reader.Variants, ids)
}

func (r clockedReader) Positions(ctx context.Context, ids ...graph.PositionID) ([]graph.Position, error) {
	return timed(ctx, r, r.Reader.Positions, ids)
}

func (r clockedReader) Parts(ctx context.Context, ids ...graph.PartID) ([]graph.Part, error) {
	return timed(ctx, r, r.Reader.Parts, ids)
}

func (r clockedReader) PartsOfKind(ctx context.Context, ids ...graph.KindID) ([]graph.PartID, error) {
	return timed(ctx, r, r.Reader.PartsOfKind, ids)
}

func (r clockedReader) KindsWith(ctx context.Context, ids ...string) ([]graph.KindID, error) {
	return timed(ctx, r, r.Reader.KindsWith, ids)
}

func (r clockedReader) FitmentsAt(ctx context.Context, ids ...graph.PositionID) ([]graph.Fitment, error) {
	return timed(ctx, r, r.Reader.FitmentsAt, ids)
}

func (r clockedReader) FitmentsOf(ctx context.Context, ids ...graph.PartID) ([]graph.Fitment, error) {
	return timed(ctx, r, r.Reader.FitmentsOf, ids)
}

func (r clockedReader) SupersessionsOf(ctx context.Context, ids ...graph.PartID) ([]graph.Supersession, error) {
	return timed(ctx, r, r.Reader.SupersessionsOf, ids)
}

func (r clockedReader) FindingsOf(ctx context.Context, ids ...graph.PartID) ([]graph.Finding, error) {
	return timed(ctx, r, r.Reader.FindingsOf, ids)
}

func (r clockedReader) JointsAt(ctx context.Context, ids ...graph.PositionID) ([]graph.Joint, error) {
	return timed(ctx, r, r.Reader.JointsAt, ids)
}

func (r clockedReader) RunsAt(ctx context.Context, ids ...graph.PositionID) ([]graph.Run, error) {
	return timed(ctx, r, r.Reader.RunsAt, ids)
}

func (r clockedReader) CircuitsAt(ctx context.Context, ids ...graph.PositionID) ([]graph.Circuit, error) {
	return timed(ctx, r, r.Reader.CircuitsAt, ids)
}

func (r clockedReader) StacksAt(ctx context.Context, ids ...graph.PositionID) ([]graph.Stack, error) {
	return timed(ctx, r, r.Reader.StacksAt, ids)
}

// demoDonors are the four questions of the stories.
func demoDonors() []donor.DonorQuestion {
	return []donor.DonorQuestion{
		{On: "skerry-620/2002/eu", From: "fjeld-750/2003/eu", Take: []string{"front-brake/master-cylinder"}},
		{On: "skerry-620/2002/eu", From: "fjeld-750/2003/eu", Take: []string{"clutch/lever", "clutch/release"}},
		{On: "skerry-620/2005/eu", From: "fjeld-750/2004/eu",
			Take: []string{"front-brake/caliper-left", "front-brake/caliper-right"}, Keep: []string{"fork"}},
		{On: "skerry-620/2003/eu/late", From: "fjeld-750/2003/eu", Take: []string{"front-wheel/wheel"}},
	}
}

// wideDonors are those questions, and some whose plan takes most of the front.
func wideDonors() []donor.DonorQuestion {
	all := demoDonors()
	for _, take := range []string{"fork/leg-left", "front-brake", "final-drive/chain", "exhaust/silencer"} {
		all = append(all, donor.DonorQuestion{On: "skerry-620/2003/eu/late", From: "fjeld-750/2003/eu", Take: []string{take}})
	}
	return all
}

// The time that was asked for holds within a tenth, from the start of the
// process to the plan checked, however long a read or a judgement takes: counted
// in work, not measured, so that no busy machine can disturb it. A start of 35 ms,
// reads of 0.4 ms and judgements of 0.05 ms are what was measured; the others are
// the same under load, and with judgements so dear that one look too few shows.
func TestDonorDeadlineHolds(t *testing.T) {
	r := once.New(readertest.New(demotest.Facts(t)))
	loads := []struct {
		name              string
		start, read, look time.Duration
	}{
		{"alone", 35 * time.Millisecond, 400 * time.Microsecond, 50 * time.Microsecond},
		{"two busy loops beside", 70 * time.Millisecond, 800 * time.Microsecond, 100 * time.Microsecond},
		{"dear judgements", 35 * time.Millisecond, 400 * time.Microsecond, time.Millisecond},
	}
	cut, share := map[string]int{}, sampletest.OneIn(t, 8)
	for _, load := range loads {
		for i, q := range wideDonors() {
			for _, q.Time = range []time.Duration{100 * time.Millisecond, 150 * time.Millisecond, 300 * time.Millisecond,
				800 * time.Millisecond, 2 * time.Second} {
				name := fmt.Sprintf("%s/D%d/%s", load.name, i+1, q.Time)
				if !share(name) || i >= len(demoDonors()) && q.Time > 300*time.Millisecond {
					continue // a wide one is judged for seconds where it has time
				}
				t.Run(name, func(t *testing.T) {
					clock := &workClock{at: time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC), read: load.read, look: load.look}
					q.Began, q.Now = clock.at, clock.now
					clock.at = clock.at.Add(load.start)
					a, err := donor.Donor(context.Background(), clockedReader{r, clock}, q)
					if err != nil {
						t.Fatal(err)
					}
					if took := clock.at.Sub(q.Began); took > q.Time+q.Time/10 {
						t.Errorf("%q after %v and %d reads, more than a tenth over %v", a.Outcome, took, clock.reads, q.Time)
					}
					if said := q.Time.String(); strings.Contains(a.Outcome, "found in") && !strings.HasSuffix(a.Outcome, said) {
						t.Errorf("outcome %q does not say %s", a.Outcome, said)
					}
					cut[strings.Split(a.Outcome, " in ")[0]]++
				})
			}
		}
	}
	for _, outcome := range []string{"proved smallest", "no plan", "best found", "no plan found"} {
		if cut[outcome] == 0 && sampletest.All() {
			t.Errorf("never %q: these times tell nothing about it (%v)", outcome, cut)
		}
	}
}

// Two seconds, the time nobody asks for, prove every demo plan on a machine four
// times as slow as the one it was measured on, and that there is none where calipers
// are to go on a fork that stays.
func TestDonorDefaultTimeProves(t *testing.T) {
	r := once.New(readertest.New(demotest.Facts(t)))
	for i, q := range demoDonors() {
		clock := &workClock{at: time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC), read: 1600 * time.Microsecond,
			look: 200 * time.Microsecond}
		q.Began, q.Now = clock.at, clock.now
		clock.at = clock.at.Add(140 * time.Millisecond)
		a, err := donor.Donor(context.Background(), clockedReader{r, clock}, q)
		if want := []string{"proved smallest", "proved smallest", "no plan", "proved smallest"}[i]; err != nil ||
			a.Outcome != want {
			t.Errorf("D%d: %q, error %v, want %q", i+1, a.Outcome, err, want)
		}
	}
}

// Before each judgement the clock is looked at, and after the look that finds the
// time over nothing more is judged.
func TestDonorLooksBeforeJudging(t *testing.T) {
	r := once.New(readertest.New(demotest.Facts(t)))
	for i, q := range demoDonors() {
		for _, looks := range []int{20, 100, 400} { // after so many the time is over
			before, most, late, n := 0, 0, 0, 0
			began := time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)
			q.Now = func() time.Time { return began }
			q.Time = time.Minute
			err := donor.SearchDonor(context.Background(), r, q, func(judged int) time.Time {
				most = max(most, judged-before)
				if n > looks {
					late = max(late, judged-before)
				}
				before = judged
				if n++; n > looks {
					return began.Add(time.Hour)
				}
				return began
			})
			if err != nil || most > 1 || late > 0 {
				t.Errorf("D%d, time over after %d looks: up to %d judged between two looks, %d after the end, error %v", i+1, looks,
					most, late, err)
			}
		}
	}
}

// Wherever the time runs out, what was found by then is a plan that passes the
// check of the swap engine, or none.
func TestDonorCutAnywhere(t *testing.T) {
	r := once.New(readertest.New(demotest.Facts(t)))
	best, cuts := 0, sampletest.Of(t, 3, 18)
	step := 700 / cuts
	first := 5 + int(sampletest.Seed(t)%uint64(step))
	for i, q := range demoDonors() {
		for looks := first; looks < 700; looks += step {
			began, n := time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC), 0
			q.Time = time.Minute
			q.Now = func() time.Time {
				if n++; n > looks {
					return began.Add(time.Hour)
				}
				return began
			}
			a, err := donor.Donor(context.Background(), r, q)
			if err != nil {
				t.Fatalf("D%d, time over after %d looks: %v", i+1, looks, err)
			}
			if strings.HasPrefix(a.Outcome, "best found") {
				best++
			}
		}
	}
	if best == 0 {
		t.Error("never a best plan: these cuts tell nothing")
	}
}
