package queries

import (
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/mating"
)

// extensionFor finds an extension for a lead that is too short: its two plugs
// go between the lead and what that plugs into, and with its length the lead
// reaches.
func (f *follower) extensionFor(s *Setup, o Outcome) (Get, bool, error) {
	around := f.around[o.run.Line]
	if o.What != OfRun || around == nil {
		return Get{}, false, nil
	}
	x := &examiner{built: s.AsBuilt(), before: f.before, after: s, connections: around, past: f.past}
	in := x.runCase(s, o.run)
	if in.Line.Feature.Kind != "lead" {
		return Get{}, false, nil
	}
	ids, err := f.extensions(s)
	if err != nil {
		return Get{}, false, err
	}
	for _, id := range ids {
		part, ok := s.library.ranked(id, &s.Variant)
		if !ok || !around.plugsIn(s, o.run.Line, part) {
			continue
		}
		longer, ok := extended(in, part)
		checks := mating.JudgeRun(longer)
		if verdict := mating.Worst(checks); !ok || verdict > graph.FitsWithChanges || verdict >= o.After {
			continue
		}
		spec := []mating.Field{{Name: "with it the lead is", Value: bestText(longer.Line.Feature, "length") + " long"}}
		for _, c := range checks {
			for _, do := range c.Do {
				spec = append(spec, mating.Field{Name: "do", Value: do})
			}
		}
		return Get{What: GetExtension, Position: o.run.Line, Part: part.ID, Name: nameOf(part), Quantity: 1, Text: nameOf(part),
			Spec: spec, Price: priceOf(part)}, true, nil
	}
	return Get{}, false, nil
}

// extensions are the parts that are little else than a lead with a plug at
// either end.
func (f *follower) extensions(s *Setup) ([]graph.PartID, error) {
	kinds, err := f.kindsBetween(s, "lead", "connector")
	if err != nil {
		return nil, err
	}
	if err := s.library.readKinds(f.ctx, kinds); err != nil {
		return nil, err
	}
	kinds = kept(kinds, func(id graph.KindID) bool {
		k := s.library.kinds[id]
		plugs := kept(slices.Clone(k.Features), func(f graph.KindFeature) bool { return f.Kind == "connector" })
		return len(plugs) == 2 && len(k.Features) <= maxAdapter
	})
	if len(kinds) == 0 {
		return nil, nil
	}
	ids, err := s.library.r.PartsOfKind(f.ctx, kinds...)
	if err != nil || len(ids) > maxOfKind {
		return nil, err
	}
	return ids, s.library.readParts(f.ctx, ids)
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
