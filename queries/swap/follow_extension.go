package swap

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// LengthenedBy is what an extension does for a lead that is too short: its two
// plugs go between the lead and what that plugs into, and with its length the
// lead reaches. It is false when it does not go there or is of no use.
func LengthenedBy(x *examine.Examiner, o examine.Outcome, id graph.PartID) (Get, bool) {
	part, ok := x.After.Library().Ranked(id, &x.After.Variant)
	if !ok || !x.PlugsIn(x.After, o.Run.Line, part) {
		return Get{}, false
	}
	longer, ok := extended(x.RunCase(o.Run), part)
	checks := mating.JudgeRun(longer)
	if verdict := mating.Worst(checks); !ok || verdict > graph.FitsWithChanges || verdict >= o.After {
		return Get{}, false
	}
	spec := []mating.Field{{Name: "with it the lead is", Value: machine.BestText(longer.Line.Feature, "length") + " long"}}
	for _, c := range checks {
		for _, do := range c.Do {
			spec = append(spec, mating.Field{Name: "do", Value: do})
		}
	}
	return Get{What: GetExtension, Position: o.Run.Line, Part: part.ID, Name: machine.NameOf(part), Quantity: 1,
		Text: machine.NameOf(part),
		Spec: spec, Price: PriceOf(part)}, true
}

// Extensions are the parts of the kinds that are little else than a lead with a
// plug at either end; of more than MaxOfKind none.
func Extensions(ctx context.Context, l *machine.Library, kinds []graph.KindID) ([]graph.PartID, error) {
	if err := l.ReadKinds(ctx, kinds); err != nil {
		return nil, err
	}
	kinds = lists.Kept(slices.Clone(kinds), func(id graph.KindID) bool {
		k := l.Kind(id)
		plugs := lists.Kept(slices.Clone(k.Features), func(f graph.KindFeature) bool { return f.Kind == "connector" })
		return k.Joins && len(plugs) == 2 && len(k.Features) <= machine.MaxAdapter
	})
	return l.ReadPartsOf(ctx, kinds)
}

// extended is a run with its line longer by an extension. It is not known how
// long that is when either is not.
func extended(in mating.RunCase, part graph.Part) (mating.RunCase, bool) {
	more, _ := machine.FeatureOfKind(part, "lead")
	a, errA := measure.Parse(machine.BestText(in.Line.Feature, "length"), measure.Length)
	b, errB := measure.Parse(machine.BestText(more, "length"), measure.Length)
	if errA != nil || errB != nil {
		return in, false
	}
	f := in.Line.Feature
	f.Dims = map[string][]graph.Reading{"length": {{Text: measure.Format(a.Quantity.Nominal+b.Quantity.Nominal,
		measure.Length)}}}
	in.Line.Feature = f
	return in, true
}
