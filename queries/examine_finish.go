package queries

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries/mating"
)

// finish judges whether the painted panels are of one scheme.
func (x *examiner) finish() []Outcome {
	var refs []graph.FeatureRef
	for _, id := range x.painted {
		if f, ok := ofKind(x.after.Seat(id).Part, "finish"); ok {
			refs = append(refs, graph.FeatureRef{Position: id, Feature: f.Name})
		}
	}
	if len(refs) == 0 || !x.concerns(x.painted) {
		return nil
	}
	o := Outcome{What: OfFinish, ID: string(x.after.Variant.Model) + ":finish", Ends: x.ends(refs...)}
	return []Outcome{x.judged(o, x.finishChecks(x.before), x.finishChecks(x.after))}
}

// finishChecks compares the panels with one another and, where the machine's
// own panels carry its scheme, with that.
func (x *examiner) finishChecks(s *Setup) []mating.Check {
	var in mating.PanelCase
	for _, id := range x.painted {
		seat := s.Seat(id)
		if f, ok := ofKind(seat.Part, "finish"); ok {
			in.Panels = append(in.Panels, mating.Side{Position: id, Part: seat.Part.ID, Feature: f})
		}
		if f, ok := painted(x.built.Seat(id).Part); ok && bestText(f, "scheme") == s.Scheme {
			in.Scheme = s.Scheme
		}
	}
	return mating.JudgePanels(in)
}

// addPainted finds the panels whose finish must match that of the changed
// ones: those of the same assemblies.
func (a *connections) addPainted(ctx context.Context, s *Setup, changed []graph.PositionID) error {
	var assemblies []graph.AssemblyID
	for _, id := range changed {
		if s.isPainted(id) {
			assemblies = append(assemblies, id.Assembly())
		}
	}
	if len(assemblies) == 0 {
		return nil
	}
	positions, err := s.Library().reader().PositionsIn(ctx, unique(assemblies)...)
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
	a.painted = kept(ids, s.isPainted)
	return nil
}

// isPainted reports whether what sits at a position, or what was built there,
// belongs to a colour scheme.
func (s *Setup) isPainted(id graph.PositionID) bool {
	_, now := painted(s.Seat(id).Part)
	_, built := painted(s.AsBuilt().Seat(id).Part)
	return now || built
}

// painted is the finish of a part that belongs to a colour scheme.
func painted(p graph.Part) (graph.Feature, bool) {
	f, ok := ofKind(p, "finish")
	return f, ok && len(f.Dims["scheme"]) > 0
}
