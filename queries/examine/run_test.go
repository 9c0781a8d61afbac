package examine_test

import (
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
	"matewell/queries/readertest"
)

// TestRunWantsEveryPath: a line to a brake is judged only when its path is known in
// every attitude that it moves through: both locks and straight ahead, and the wheel
// at both ends of its travel, in front; both ends of the travel behind. A line from
// the bars to what is sprung needs no path with the fork pushed in. Common practice,
// no source.
func TestRunWantsEveryPath(t *testing.T) {
	const on = "skerry-620/2003/eu/late"
	facts := demotest.Facts(t)
	all := slices.Clone(facts.Runs)
	v := variantNamed(t, facts, on)
	judged := func(id graph.RunID, drop string) examine.Outcome {
		facts.Runs = lists.Mapped(slices.Clone(all), func(r graph.Run) graph.Run {
			if r.ID == id {
				r.Needs = lists.Kept(slices.Clone(r.Needs), func(n graph.RunNeed) bool { return n.Lock+"-"+n.Fork != drop })
			}
			return r
		})
		outcomes, err := examine.ExamineAll(t.Context(), machine.StartIn(machine.NewLibrary(readertest.New(facts)), v, ""))
		if err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(outcomes, func(o examine.Outcome) bool { return o.What == examine.OfRun && o.ID == string(id) })
		if i < 0 {
			t.Fatalf("no outcome of %s", id)
		}
		return outcomes[i]
	}
	six := []string{"left-extended", "left-compressed", "centre-extended", "centre-compressed", "right-extended",
		"right-compressed"}
	for line, must := range map[string][]string{"front-brake/hose-left": six, "front-brake/hose-right": six,
		"rear-brake/hose":           {"centre-extended", "centre-compressed"},
		"front-brake/hose-upper":    {"left-extended", "centre-extended", "right-extended"},
		"rear-brake/reservoir-hose": nil} {
		i := slices.IndexFunc(all, func(r graph.Run) bool { return r.Line.Local() == line && slices.Contains(r.On, v.ID) })
		if i < 0 {
			t.Fatalf("no run of %s", line)
		}
		id := all[i].ID
		if o := judged(id, ""); o.After == graph.Unknown {
			t.Errorf("%s with all its paths: %s (%s)", line, o.After, o.Why)
		}
		for _, at := range must {
			o := judged(id, at)
			asked := slices.ContainsFunc(o.Checks[0].Measure, func(a mating.Ask) bool { return strings.HasSuffix(a.Dim, at) })
			if o.After != graph.Unknown || !asked {
				t.Errorf("%s without %s: %s (%s), asked for %v; want unknown, and asked for", line, at, o.After, o.Why, asked)
			}
		}
		if len(must) == 3 {
			if o := judged(id, "left-compressed"); o.After == graph.Unknown {
				t.Errorf("%s without left-compressed: %s (%s), which it does not go through", line, o.After, o.Why)
			}
		}
	}
}

func variantNamed(t *testing.T, facts graph.Facts, id graph.VariantID) graph.Variant {
	t.Helper()
	i := slices.IndexFunc(facts.Variants, func(v graph.Variant) bool { return v.ID == id })
	if i < 0 {
		t.Fatalf("no variant %s", id)
	}
	return facts.Variants[i]
}
