package donor_test

import (
	"context"
	"slices"
	"strings"
	"testing"
	"time"

	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/once"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// What keeps the parts as they are leaves every way open that alters none: the plan is
// the one without the rule, where that one makes spacers and sleeves only, and never
// asks for a part to be drilled, bored or cut.
func TestReversibleMakesWhatKeepMakes(t *testing.T) {
	q := demoDonors()[3]
	made := func(q donor.DonorQuestion) []string {
		a := answered(t, q)
		if len(a.Plans) == 0 {
			t.Fatalf("no plan: %s", a.Outcome)
		}
		var texts []string
		for _, g := range a.Plans[0].Make {
			texts = append(texts, g.Text)
		}
		for _, m := range a.Plans[0].Modify {
			if q.ReversibleAll && (strings.Contains(m.Do, "drill") || strings.Contains(m.Do, " off ")) {
				t.Errorf("%s: %s", m.At, m.Do)
			}
			if said := strings.Contains(m.Do, "make others so"); strings.Contains(m.Do, "the spacers beside the hub") &&
				said != q.ReversibleAll {
				t.Errorf("%s: %s, with all parts kept as they are: %v", m.At, m.Do, q.ReversibleAll)
			}
		}
		return texts
	}
	keep, all, named := q, q, q
	keep.Keep, all.ReversibleAll, named.Reversible = []string{"fork"}, true, []string{"fork"}
	want := made(keep)
	for _, q := range []donor.DonorQuestion{all, named} {
		if got := made(q); !slices.Equal(got, want) {
			t.Errorf("made %q, want %q as with what is kept", got, want)
		}
	}
}

// What is said to open the way opens it: with that part asked for there is a plan.
func TestAdviceIsAPlan(t *testing.T) {
	r := once.New(readertest.New(demotest.Facts(t)))
	tried := 0
	for _, q := range []donor.DonorQuestion{
		{Take: []string{"clutch/release"}, Keep: []string{"clutch/lever"}},
		{Take: []string{"clutch/lever"}, Keep: []string{"clutch/release"}},
	} {
		q.On, q.From = "skerry-620/2002/eu", "fjeld-750/2003/eu"
		q.Time = time.Minute
		a, err := donor.Donor(context.Background(), r, q)
		if err != nil || a.Clash == nil {
			t.Errorf("%v: %s, %v: want no plan, and advice", q.Take, a.Outcome, err)
			continue
		}
		for _, said := range a.Clash.Opens {
			rest, ok := strings.CutPrefix(said, "instead at ")
			if !ok {
				continue
			}
			at, part, _ := strings.Cut(rest, ": ")
			part, _, _ = strings.Cut(part, ",")
			other := q
			other.Swaps = []swap.Replacement{{Position: at, Part: part}}
			if b, err := donor.Donor(context.Background(), r, other); err != nil || len(b.Plans) == 0 {
				t.Errorf("%q: %s, %v", said, b.Outcome, err)
			}
			tried++
		}
	}
	if tried == 0 {
		t.Error("no advice was given: nothing is told by this")
	}
}
