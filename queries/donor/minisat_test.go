package donor_test

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/txtar"

	"matewell/graph/sampletest"
	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/plan"
	"matewell/queries/plan/plantest"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// minisat+ proves, on the problem that --format opb writes for each donor story,
// the cost that is called smallest, under every order of costs; and that there is
// no plan where it is said that nothing works. The two small problems are always
// put to it, the large ones in a sample.
func TestDonorStoriesEqualMinisat(t *testing.T) {
	r, share := readertest.New(demotest.Facts(t)), sampletest.OneIn(t, 8)
	for i, q := range demoDonors() {
		for _, q.Prefer = range []plan.Prefer{plan.PreferEffort, plan.PreferParts, plan.PreferMoney} {
			name := fmt.Sprintf("D%d/%s", i+1, q.Prefer)
			if (i > 1 || q.Prefer != plan.PreferEffort) && !share(name) {
				continue
			}
			t.Run(name, func(t *testing.T) {
				q.Time = time.Hour
				got, problem, err := donor.SettleDonor(context.Background(), r, q, false)
				if err != nil || !got.Proved {
					t.Fatalf("%s, error %v", got.Verdict(), err)
				}
				found := ""
				if len(got.Plans) > 0 {
					found = plan.WeightsFor(problem, q.Prefer).Value(got.Plans[0].Cost).String()
				}
				if want := optimum(t, problem, q.Prefer, found); found != want {
					t.Errorf("the smallest plan weighs %q, minisat+ proves %q", found, want)
				}
			})
		}
	}
}

// What lies in the boxes is counted in the problem that is written, where it may
// not go round, and minisat+ proves the same cost on it. It solves that same
// problem: that a plan takes no more than lies there is for the story to check.
func TestDonorBoxesEqualMinisat(t *testing.T) {
	archive, err := txtar.ParseFile(demotest.Root(t) + "/testdata/queries/plan_boxes.txtar")
	if err != nil {
		t.Fatal(err)
	}
	r := readertest.New(demotest.Story(t, archive))
	for bike, perch := range map[string]string{"one": "Tarnholt P-10", "two": "Tarnholt P-10", "pair": "Tarnholt P-5"} {
		for _, prefer := range []plan.Prefer{plan.PreferEffort, plan.PreferParts, plan.PreferMoney} {
			t.Run(fmt.Sprintf("%s/%s", bike, prefer), func(t *testing.T) {
				q := donor.DonorQuestion{On: bike, Boxes: true, Prefer: prefer, Time: time.Hour,
					Swaps: []swap.Replacement{{Position: "bars/perch-left", Part: perch}, {Position: "bars/perch-right", Part: perch}}}
				got, problem, err := donor.SettleDonor(context.Background(), r, q, false)
				if err != nil || len(got.Plans) == 0 || !got.Proved {
					t.Fatalf("%s, error %v", got.Verdict(), err)
				}
				counts := slices.ContainsFunc(problem.Demands,
					func(d plan.Demand) bool { return strings.HasPrefix(d.Name, "no more than") })
				if wanted := bike != "two"; counts != wanted {
					t.Errorf("the problem counts what is taken: %v, want %v", counts, wanted)
				}
				found := plan.WeightsFor(problem, prefer).Value(got.Plans[0].Cost).String()
				if want := optimum(t, problem, prefer, found); found != want {
					t.Errorf("the smallest plan weighs %s, minisat+ proves %s", found, want)
				}
			})
		}
	}
}

// optimum is what minisat+ proves on a problem; empty when there is no plan. Told
// where to begin, it needs seconds where it else needs minutes, and still finds
// whatever is smaller than what was found.
func optimum(t *testing.T, problem plan.Problem, prefer plan.Prefer, found string) string {
	t.Helper()
	var opb bytes.Buffer
	if err := plan.WriteOPB(&opb, problem, plan.Objective{Prefer: prefer}); err != nil {
		t.Fatal(err)
	}
	return plantest.Minisat(t, opb.Bytes(), found)
}
