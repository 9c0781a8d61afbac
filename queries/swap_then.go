package queries

import (
	"slices"

	"matewell/graph"
	"matewell/queries/mating"
)

// then judges the machine with all that is to be got and made on as well. It is
// nil when that is nothing.
func (f *follower) then(after *Setup, outcomes []Outcome, numbers []Number) (*SwapThen, error) {
	if len(f.gets) == 0 {
		return nil, nil
	}
	setup, err := after.With(f.ctx, f.fitted)
	if err != nil {
		return nil, err
	}
	got, err := Examine(f.ctx, f.before, setup)
	if err != nil {
		return nil, err
	}
	for _, o := range outcomes {
		if isOfPart(o) && !f.replaces(o) {
			got = append(got, o)
		}
	}
	got = kept(mapped(got, f.asMade), func(o Outcome) bool { return !f.closed[o.ID] && !f.isMade(o) })
	t := &SwapThen{Verdict: leftVerdict(got, numbers), NotReady: notReady(got, numbers), Left: []Outcome{}, fitted: f.fitted}
	t.Ready = len(t.NotReady) == 0
	for _, n := range numbers {
		if n.Verdict > graph.FitsWithChanges {
			t.Figures = append(t.Figures, n.Name)
		}
	}
	for _, o := range got {
		if o.After > o.Before {
			t.Left = append(t.Left, o)
		}
	}
	return t, nil
}

// replaces reports whether what an outcome is said of gives way to a part of
// the trails.
func (f *follower) replaces(o Outcome) bool {
	return slices.ContainsFunc(o.Ends, func(e End) bool {
		_, replaced := f.fitted[e.Position]
		return replaced
	})
}

// asMade leaves of a row whose spacers are ordered only what spacers don't put
// right: where the sprocket comes to stand.
func (f *follower) asMade(o Outcome) Outcome {
	rest := kept(slices.Clone(o.Checks), func(c mating.Check) bool { return c.Rule == "sprocket line" && c.Verdict != graph.Fits })
	if o.What != OfStack || len(rest) == 0 || !f.isMade(o) {
		return o
	}
	delete(f.made, o.What+" "+o.ID)
	o.Checks, o.After, o.Why = rest, mating.Worst(rest), whyOf(rest)
	return o
}

// isMade reports whether what was ordered for an outcome puts right all that is
// wrong with it. What is not known stays so: it was ordered on a guess.
func (f *follower) isMade(o Outcome) bool {
	if !f.made[o.What+" "+o.ID] || o.After == graph.Unknown {
		return false
	}
	return o.After == graph.FitsWithChanges || !slices.ContainsFunc(o.Checks, func(c mating.Check) bool {
		return c.Verdict == graph.DoesNotFit && len(c.Orders) == 0
	})
}

// openKinds are the feature kinds that must not stay open: a port that nothing
// screws into, half a plug, a holder without a bulb.
func openKinds() []string {
	return []string{"port", "connector", "lamp-holder", "banjo", "screwed-end"}
}

// openEnds finds features of the new parts that meet nothing on this machine
// although they must not stay open, where the part before had none such.
func (x *judging) openEnds() []Outcome {
	var all []Outcome
	for _, id := range x.after.Changed() {
		part, was := x.after.Seat(id).Part, x.before.Seat(id).Part
		for _, f := range part.Features {
			if _, had := was.Feature(f.Name); had || !slices.Contains(openKinds(), f.Kind) || x.isJoined(id, f.Name) {
				continue
			}
			o := Outcome{What: OfOpenEnd, ID: string(id) + "." + f.Name, Ends: x.ends(graph.FeatureRef{Position: id, Feature: f.Name})}
			is := []mating.Check{{Rule: "open end", Verdict: graph.FitsWithChanges, Effort: graph.EffortHandTools,
				Why: "the " + f.Kind + " " + f.Name + " meets nothing on this machine",
				Do:  []string{"close it off, or find what it belongs to on the machine it comes from"}}}
			all = append(all, x.judged(o, []mating.Check{{Rule: "open end", Verdict: graph.Fits, Why: "the part before had none"}}, is))
		}
	}
	return all
}

func (x *judging) isJoined(id graph.PositionID, feature string) bool {
	ref := graph.FeatureRef{Position: id, Feature: feature}
	return slices.ContainsFunc(x.joints, func(j graph.Joint) bool { return j.A == ref || j.B == ref })
}
