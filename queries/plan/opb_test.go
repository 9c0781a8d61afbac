package plan

import (
	"errors"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"matewell/queries/plan/plantest"
)

// The file says what it is about: read the diff of a refreshed one as code.
func TestWriteOPBText(t *testing.T) {
	const file = "testdata/swap.opb"
	got := export(t, swap(), Objective{})
	if os.Getenv("MATEWELL_UPDATE") != "" {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil || string(got) != string(want) {
		t.Errorf("error %v, got:\n%s", err, got)
	}
}

// Weights keep the order of costs: bigger first level, bigger number.
func TestWeightsKeepOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := tiny(t)
		prefer := rapid.SampledFrom([]Prefer{PreferEffort, PreferParts, PreferMoney}).Draw(t, "prefer")
		w := WeightsFor(p, prefer)
		draw := func(name string) Cost {
			upTo := func(l level) int { return rapid.IntRange(0, p.most(l)).Draw(t, name+" "+l.String()) }
			return Cost{upTo(unknowns), upTo(effort), upTo(parts), upTo(money), upTo(distance)}
		}
		a, b := draw("a"), draw("b")
		if less := w.Value(a).Cmp(w.Value(b)) < 0; less != a.Less(b, prefer) {
			t.Fatalf("%v weighs %v, %v weighs %v, but less is %v", a, w.Value(a), b, w.Value(b), a.Less(b, prefer))
		}
	})
}

// A problem without a plan is one for minisat+ too, with an empty demand as with
// a clash.
func TestImpossibleOPB(t *testing.T) {
	clash, empty := swap(), swap()
	clash.Demands[1].Allowed = clash.Demands[1].Allowed[:1]
	empty.Demands[2].Allowed = nil
	for name, p := range map[string]Problem{"clash": clash, "nothing allowed": empty} {
		t.Run(name, func(t *testing.T) {
			if got := plantest.Minisat(t, export(t, p, Objective{}), ""); got != "" {
				t.Errorf("minisat+ finds %s, want nothing", got)
			}
			if got := prove(t, p, Options{}); len(got.Plans) != 0 {
				t.Errorf("Solve finds %+v, want nothing", got.Plans)
			}
		})
	}
}

// A budget is a row of its own: minisat+ finds a plan exactly as long as the cheapest one
// keeps it.
func TestOPBKeepsTheBudget(t *testing.T) {
	p := swap()
	cheapest := prove(t, p, Options{Prefer: PreferMoney}).Plans[0].Cost.Money
	if cheapest == 0 {
		t.Fatal("the cheapest plan costs nothing: no budget is too small for it")
	}
	for budget, want := range map[int]bool{cheapest: true, cheapest + 1: true, cheapest - 1: false, 0: true} {
		if got := plantest.Minisat(t, export(t, p, Objective{Budget: budget}), ""); (got != "") != want {
			t.Errorf("budget %d: minisat+ finds %q, and there is a plan: %v", budget, got, want)
		}
	}
}

func TestWriteOPBRefuses(t *testing.T) {
	if err := WriteOPB(&strings.Builder{}, swap(), Objective{Step: 6}); err == nil {
		t.Error("step 6 was taken")
	}
	if err := WriteOPB(&strings.Builder{}, Problem{Slots: []Slot{{}}}, Objective{}); err == nil {
		t.Error("a slot without options was taken")
	}
	if err := WriteOPB(full{}, swap(), Objective{}); !errors.Is(err, errFull) {
		t.Errorf("a full disk gave error %v", err)
	}
}

var errFull = errors.New("no space left")

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errFull }
