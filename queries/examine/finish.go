package examine

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// finish judges whether the painted panels are of one scheme.
func finish(x *Examiner) (Outcome, bool) {
	var refs []graph.FeatureRef
	for _, id := range x.painted {
		if f, ok := machine.FeatureOfKind(x.After.Seat(id).Part, "finish"); ok {
			refs = append(refs, graph.FeatureRef{Position: id, Feature: f.Name})
		}
	}
	if len(refs) == 0 {
		return Outcome{}, false
	}
	o := Outcome{What: OfFinish, ID: string(x.After.Variant.Model) + ":finish", Ends: x.Ends(refs...)}
	var was []mating.Check
	if !x.checksOnly && !x.afterOnly {
		was = finishChecks(x, x.Before)
	}
	return x.Judged(o, was, finishChecks(x, x.After)), true
}

// finishChecks compares the panels with one another and, where the machine's
// own panels carry its scheme, with that.
func finishChecks(x *Examiner, s *machine.Setup) []mating.Check {
	var in mating.PanelCase
	for _, id := range x.painted {
		seat := s.Seat(id)
		if f, ok := machine.FeatureOfKind(seat.Part, "finish"); ok {
			in.Panels = append(in.Panels, mating.Side{Position: id, Part: seat.Part.ID, Feature: f})
		}
		if f, ok := machine.Painted(x.Built.Seat(id).Part); ok && machine.BestText(f, "scheme") == s.Scheme {
			in.Scheme = s.Scheme
		}
	}
	return mating.JudgePanels(in)
}

// addPainted finds the panels whose finish must match that of the changed
// ones: those of the same assemblies.
func addPainted(ctx context.Context, a *Connections, s *machine.Setup, changed []graph.PositionID) error {
	var assemblies []graph.AssemblyID
	for _, id := range changed {
		if s.IsPainted(id) {
			assemblies = append(assemblies, id.Assembly())
		}
	}
	if len(assemblies) == 0 {
		return nil
	}
	positions, err := s.Library().Reader().PositionsIn(ctx, lists.Unique(assemblies)...)
	if err != nil {
		return err
	}
	var ids []graph.PositionID
	for _, p := range positions {
		if slices.Contains(p.On, s.Variant.ID) {
			ids = append(ids, p.ID)
		}
	}
	if err := s.Load(ctx, ids...); err != nil {
		return err
	}
	a.painted = lists.Kept(ids, s.IsPainted)
	return nil
}
