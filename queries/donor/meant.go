package donor

import (
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// readMeant reads where sources list parts of the kinds that go to places, as
// far as that was not read: for isForElsewhere.
func readMeant(p *planner, ids []graph.PositionID) error {
	var parts []graph.PartID
	for _, id := range ids {
		here := listedAtNamesakes(p, id)
		for _, kind := range kindsAt(p, id) {
			if p.meant[kind] != nil || isChosenBySize(p, id, kind) {
				continue
			}
			if slices.ContainsFunc(p.byKind[kind], func(part graph.PartID) bool { return !slices.Contains(here, part) }) {
				parts = append(parts, p.byKind[kind]...)
			}
		}
	}
	if len(parts) == 0 {
		return nil
	}
	fitments, err := p.before.Library().Reader().FitmentsOf(p.ctx, lists.Unique(parts)...)
	if err != nil {
		return err
	}
	for _, part := range parts {
		if kind := p.before.Library().Part(part).Kind; p.meant[kind] == nil {
			p.meant[kind] = map[graph.PartID][]graph.PositionID{}
		}
	}
	for _, f := range fitments {
		kind := p.before.Library().Part(f.Part).Kind
		p.meant[kind][f.Part] = append(p.meant[kind][f.Part], f.Position)
	}
	return nil
}

// isChosenBySize reports whether parts of a kind go wherever their sizes let
// them: lines by length and ends, spacers.
func isChosenBySize(p *planner, at graph.PositionID, kind graph.KindID) bool {
	if examine.IsSpacer(p.before.Seat(at)) {
		return true
	}
	isLine := func(id graph.PartID) bool {
		part := p.before.Library().Part(id)
		return machine.HasKind(part, "hose") || machine.HasKind(part, "cable") || machine.HasKind(part, "lead")
	}
	return slices.ContainsFunc(p.byKind[kind], isLine)
}

// isForElsewhere reports whether a part is meant for another place: sources list
// it, on no model at this place or its twin, and every model on which they list
// it has this place too and something else there. So a rear caliper stands in
// for no front one, whatever its bolts measure.
//
// It is told from the lists alone. Kinds of which one and the same part is
// listed at several places of a model, as bearings are, go anywhere; so does a
// part that is listed nowhere, one of a model that has no such place, and one
// that somebody had at this very place.
func isForElsewhere(p *planner, at graph.PositionID, part graph.PartID) bool {
	kind := p.before.Library().Part(part).Kind
	listed := p.meant[kind][part]
	if len(listed) == 0 || goesAnywhere(p, kind) || len(wordOn(p, at, part).by) > 0 {
		return false
	}
	return !slices.ContainsFunc(listed, func(id graph.PositionID) bool {
		here := at.On(id.Model())
		_, has := p.before.Library().Position(here)
		return !has || id == here || id == machine.OtherSide(here)
	})
}

// goesAnywhere reports whether some part of a kind is listed at several places
// of one model that are not left and right of the same.
func goesAnywhere(p *planner, kind graph.KindID) bool {
	if anywhere, known := p.anywhere[kind]; known {
		return anywhere
	}
	anywhere := false
	for _, at := range p.meant[kind] {
		for _, id := range at {
			anywhere = anywhere || slices.ContainsFunc(at, func(other graph.PositionID) bool {
				return other.Model() == id.Model() && other != id && other != machine.OtherSide(id)
			})
		}
	}
	p.anywhere[kind] = anywhere
	return anywhere
}
