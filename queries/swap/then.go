package swap

import (
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// withAllOn judges the machine with all that is to be got and made on as well. It is
// nil when that is nothing.
func (f *follower) withAllOn(after *machine.Setup, outcomes []examine.Outcome, numbers []examine.Number) (*SwapThen,
	error) {
	if len(f.gets) == 0 {
		return nil, nil
	}
	setup, err := after.With(f.ctx, f.fitted)
	if err != nil {
		return nil, err
	}
	setup = f.withMade(setup)
	got, err := examine.Examine(f.ctx, f.before.Setup(), setup)
	if err != nil {
		return nil, err
	}
	for _, o := range outcomes {
		if examine.IsOfPart(o) && !f.replaces(o) {
			got = append(got, o)
		}
	}
	got = lists.Kept(lists.Mapped(got, f.asMade), func(o examine.Outcome) bool { return !f.closed[o.ID] && !f.isMade(o) })
	t := &SwapThen{Verdict: LeftVerdict(got, numbers), OnceMade: slices.ContainsFunc(f.gets, Get.IsOrdered),
		NotReady: NotReady(got, numbers), Left: []examine.Outcome{}, fitted: f.fitted}
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
func (f *follower) replaces(o examine.Outcome) bool {
	return slices.ContainsFunc(o.Ends, func(e examine.End) bool {
		_, replaced := f.fitted[e.Position]
		return replaced
	})
}

// asMade leaves of a row whose spacers are ordered only what spacers don't put
// right: where the sprocket comes to stand.
func (f *follower) asMade(o examine.Outcome) examine.Outcome {
	rest := lists.Kept(slices.Clone(o.Checks),
		func(c mating.Check) bool { return c.Rule == "sprocket line" && c.Verdict != graph.Fits })
	if o.What != examine.OfStack || len(rest) == 0 || f.seated[o.What+" "+o.ID] || !f.isMade(o) {
		return o
	}
	delete(f.made, o.What+" "+o.ID)
	o.Checks, o.After, o.Why = rest, mating.Worst(rest), examine.WhyOf(rest)
	return o
}

// isMade reports whether what was ordered for an outcome puts right all that is
// wrong with it, where that stands between the two sides: what takes the place of
// a part is judged again instead. What is not known stays so: it was ordered on a guess.
func (f *follower) isMade(o examine.Outcome) bool {
	if !f.made[o.What+" "+o.ID] || f.seated[o.What+" "+o.ID] || o.After == graph.Unknown {
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
func (x *judging) openEnds() []examine.Outcome {
	var all []examine.Outcome
	for _, id := range x.After.Changed() {
		part, was := x.After.Seat(id).Part, x.Before.Seat(id).Part
		for _, f := range part.Features {
			if _, had := was.Feature(f.Name); had || !slices.Contains(openKinds(), f.Kind) || x.isJoined(id, f.Name) {
				continue
			}
			o := examine.Outcome{What: examine.OfOpenEnd, ID: string(id) + "." + f.Name,
				Ends: x.Ends(graph.FeatureRef{Position: id, Feature: f.Name})}
			is := []mating.Check{{Rule: "open end", Verdict: graph.FitsWithChanges, Effort: graph.EffortHandTools,
				Why: "the " + f.Kind + " " + f.Name + " meets nothing on this machine",
				Do:  []string{"close it off, or find what it belongs to on the machine it comes from"}}}
			all = append(all, x.Judged(o, []mating.Check{{Rule: "open end", Verdict: graph.Fits,
				Why: "the part before had none"}}, is))
		}
	}
	return all
}

func (x *judging) isJoined(id graph.PositionID, feature string) bool {
	ref := graph.FeatureRef{Position: id, Feature: feature}
	return slices.ContainsFunc(x.Joints, func(j graph.Joint) bool { return j.A == ref || j.B == ref })
}
