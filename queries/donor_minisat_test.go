package queries_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"testing"
	"time"

	"matewell/queries"
	"matewell/queries/plan"
	"matewell/queries/readertest"
)

// minisat+ proves, on the problem that --format opb writes for each donor story,
// the cost that is called smallest, under every order of costs; and that there is
// no plan where it is said that nothing works.
func TestDonorStoriesEqualMinisat(t *testing.T) {
	program, err := exec.LookPath("minisat+")
	if err != nil {
		if os.Getenv("MATEWELL_NO_SKIP") == "1" {
			t.Fatal("minisat+ is not installed, and MATEWELL_NO_SKIP=1 forbids to skip")
		}
		t.Skip("minisat+ is not installed")
	}
	r := readertest.New(demoFacts(t))
	for i, q := range demoDonors() {
		for _, q.Prefer = range []plan.Prefer{plan.PreferEffort, plan.PreferParts, plan.PreferMoney} {
			if i == 3 && q.Prefer == plan.PreferMoney {
				continue // equal too, but minisat+ took 250 s to prove it
			}
			t.Run(fmt.Sprintf("D%d/%s", i+1, q.Prefer), func(t *testing.T) {
				q.Time = time.Hour
				got, problem, err := queries.SettleDonor(context.Background(), r, q, false)
				if err != nil || !got.Proved {
					t.Fatalf("%s, error %v", got.Verdict(), err)
				}
				found := ""
				if len(got.Plans) > 0 {
					found = plan.WeightsFor(problem, q.Prefer).Value(got.Plans[0].Cost).String()
				}
				if want := optimum(t, program, problem, q.Prefer); found != want {
					t.Errorf("the smallest plan weighs %q, minisat+ proves %q", found, want)
				}
			})
		}
	}
}

// optimum is what minisat+ proves on a problem; empty when there is no plan.
func optimum(t *testing.T, program string, problem plan.Problem, prefer plan.Prefer) string {
	t.Helper()
	var opb bytes.Buffer
	if err := plan.WriteOPB(&opb, problem, plan.Objective{Prefer: prefer}); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "problem.opb")
	if err := os.WriteFile(file, opb.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	out, _ := exec.Command(program, "-a", "-ga", file).Output() // its exit code says what it found: only the output counts
	if bytes.Contains(out, []byte("s UNSATISFIABLE")) {
		return ""
	}
	all := regexp.MustCompile(`(?m)^c Found solution: (\d+)`).FindAllSubmatch(out, -1)
	if !bytes.Contains(out, []byte("s OPTIMUM FOUND")) || len(all) == 0 {
		t.Fatalf("minisat+ says:\n%s", out)
	}
	return string(all[len(all)-1][1])
}
