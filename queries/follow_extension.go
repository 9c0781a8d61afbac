package queries

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/mating"
)

// extensionFor finds an extension for a lead that is too short.
func (f *follower) extensionFor(s *Setup, o Outcome) (Get, bool, error) {
	around := f.around[o.run.Line]
	if o.What != OfRun || around == nil {
		return Get{}, false, nil
	}
	x := &examiner{built: s.AsBuilt(), before: f.before, after: s, connections: around, past: f.past}
	if !x.isLead(o.run) {
		return Get{}, false, nil
	}
	kinds, err := f.kindsBetween(s, "lead", "connector")
	if err != nil {
		return Get{}, false, err
	}
	ids, err := s.Library().extensions(f.ctx, kinds)
	if err != nil {
		return Get{}, false, err
	}
	for _, id := range ids {
		if get, ok := x.lengthenedBy(o, id); ok {
			return get, true, nil
		}
	}
	return Get{}, false, nil
}

// isLead reports whether the line of a run is a lead.
func (x *examiner) isLead(run graph.Run) bool { return x.lineSide(x.after, run).Feature.Kind == "lead" }

// lengthenedBy is what an extension does for a lead that is too short: its two
// plugs go between the lead and what that plugs into, and with its length the
// lead reaches. It is false when it does not go there or is of no use.
func (x *examiner) lengthenedBy(o Outcome, id graph.PartID) (Get, bool) {
	part, ok := x.after.Library().ranked(id, &x.after.Variant)
	if !ok || !x.plugsIn(x.after, o.run.Line, part) {
		return Get{}, false
	}
	longer, ok := extended(x.runCase(x.after, o.run), part)
	checks := mating.JudgeRun(longer)
	if verdict := mating.Worst(checks); !ok || verdict > graph.FitsWithChanges || verdict >= o.After {
		return Get{}, false
	}
	spec := []mating.Field{{Name: "with it the lead is", Value: bestText(longer.Line.Feature, "length") + " long"}}
	for _, c := range checks {
		for _, do := range c.Do {
			spec = append(spec, mating.Field{Name: "do", Value: do})
		}
	}
	return Get{What: GetExtension, Position: o.run.Line, Part: part.ID, Name: nameOf(part), Quantity: 1, Text: nameOf(part),
		Spec: spec, Price: priceOf(part)}, true
}

// extensions are the parts of the kinds that are little else than a lead with a
// plug at either end; of more than maxOfKind none.
func (l *library) extensions(ctx context.Context, kinds []graph.KindID) ([]graph.PartID, error) {
	if err := l.readKinds(ctx, kinds); err != nil {
		return nil, err
	}
	kinds = kept(slices.Clone(kinds), func(id graph.KindID) bool {
		k := l.kind(id)
		plugs := kept(slices.Clone(k.Features), func(f graph.KindFeature) bool { return f.Kind == "connector" })
		return len(plugs) == 2 && len(k.Features) <= maxAdapter
	})
	return l.readPartsOf(ctx, kinds)
}

// plugsIn reports whether a part goes between the plug of a line and what that
// plugs into.
func (c *connections) plugsIn(s *Setup, line graph.PositionID, part graph.Part) bool {
	return slices.ContainsFunc(c.known, func(j graph.Joint) bool {
		own, other, ok := endsOf(j, func(own, other graph.FeatureRef) bool {
			return own.Position == line && s.kindOf(own) == "connector" && s.kindOf(other) == "connector"
		})
		return ok && joins(part, s.side(own), s.side(other))
	})
}

// extended is a run with its line longer by an extension. It is not known how
// long that is when either is not.
func extended(in mating.RunCase, part graph.Part) (mating.RunCase, bool) {
	more, _ := ofKind(part, "lead")
	a, errA := measure.Parse(bestText(in.Line.Feature, "length"), measure.Length)
	b, errB := measure.Parse(bestText(more, "length"), measure.Length)
	if errA != nil || errB != nil {
		return in, false
	}
	f := in.Line.Feature
	f.Dims = map[string][]graph.Reading{"length": {{Text: measure.Format(a.Quantity.Nominal+b.Quantity.Nominal, measure.Length)}}}
	in.Line.Feature = f
	return in, true
}
