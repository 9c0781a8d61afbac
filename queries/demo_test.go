package queries_test

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/graph/sampletest"
	"matewell/queries/demotest"
	"matewell/queries/examine"
	"matewell/queries/machine"
	"matewell/queries/readertest"
)

// TestDemoAsBuilt walks every joint, run, stack, circuit, chain and finish of
// every variant of the demonstration data, in every colour scheme, as built: a
// machine that left its works must mate. All failures of all variants are
// reported in one run, each once with the variants it happens on.
func TestDemoAsBuilt(t *testing.T) {
	demotest.Alone(t)
	facts := demotest.Facts(t)
	r := readertest.New(facts)
	failures := map[string][]string{}
	judged := map[string]int{}
	note := func(on string, outcomes []examine.Outcome, err error) {
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range outcomes {
			judged[o.What]++
			if o.After != graph.Fits {
				text := failureText(o)
				failures[text] = append(failures[text], on)
			}
		}
	}
	share := sampletest.OneIn(t, 5)
	first := machine.StartIn(machine.NewLibrary(r), facts.Variants[0], "") // the others share what it read
	for _, v := range facts.Variants {
		if !share(string(v.ID)) {
			continue
		}
		outcomes, err := examine.ExamineAll(context.Background(), first.Sibling(v, ""))
		note(string(v.ID), outcomes, err)
		for _, scheme := range v.Schemes {
			outcomes, err := examineScheme(first.Sibling(v, scheme), facts)
			note(string(v.ID)+" "+scheme, outcomes, err)
		}
	}
	for _, text := range slices.Sorted(maps.Keys(failures)) {
		on := failures[text]
		slices.Sort(on)
		on = slices.Compact(on)
		t.Errorf("%s\n\ton %d: %s", text, len(on), strings.Join(on[:min(len(on), 4)], ", "))
	}
	for _, what := range []string{examine.OfJoint, examine.OfRun, examine.OfStack, examine.OfDisc, examine.OfCircuit,
		examine.OfChain, examine.OfFinish} {
		if judged[what] == 0 {
			t.Errorf("no %s was judged", what)
		}
	}
	t.Logf("judged: %v", judged)
}

// examineScheme judges what depends on the colour scheme: everything at the
// positions that have a part of their own for each.
func examineScheme(s *machine.Setup, facts graph.Facts) ([]examine.Outcome, error) {
	ctx := context.Background()
	asBuilt := map[graph.PositionID]graph.PartID{}
	for _, f := range facts.Fitments {
		if f.Scheme != "" && slices.Contains(f.On, s.Variant.ID) {
			if err := s.Load(ctx, f.Position); err != nil {
				return nil, err
			}
			asBuilt[f.Position] = s.Seat(f.Position).Part.ID
		}
	}
	same, err := s.With(ctx, asBuilt)
	if err != nil {
		return nil, err
	}
	return examine.Examine(ctx, examine.From(s), same)
}

// failureText is one outcome that should have fitted, with all of its checks
// that don't, and where the data are.
func failureText(o examine.Outcome) string {
	var b strings.Builder
	var ends []string
	for _, e := range o.Ends {
		ends = append(ends, fmt.Sprintf("%s.%s (%s)", e.Position.Local(), e.Feature, e.Part))
	}
	fmt.Fprintf(&b, "%s %s: %s", o.What, o.ID, strings.Join(ends, " + "))
	for _, c := range o.Checks {
		if c.Verdict == graph.Fits {
			continue
		}
		fmt.Fprintf(&b, "\n\t%s: %s: %s", c.Rule, c.Verdict, c.Why)
		if c.Had+c.Wanted != "" {
			fmt.Fprintf(&b, " (had %s, wanted %s)", c.Had, c.Wanted)
		}
		for _, use := range c.Uses {
			fmt.Fprintf(&b, "\n\t\t%s %s.%s = %s  %s", use.Part, use.Feature, use.Dim, use.Reading.Text, use.Reading.Pos)
		}
	}
	return b.String()
}
