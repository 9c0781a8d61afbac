package fits

import (
	"context"
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// measured holds what is said against measures, place by place; where no machine is named
// and the places are too many, it notes that none was. Of many whole machines together it
// holds those that doubtful names, and notes it. A kit has no measures of its own.
func (g answerer) measured(ctx context.Context, q FitsQuestion, said spots) error {
	if g.measures == nil {
		return nil
	}
	// What fits with changes only may well not fit as it is, but where safety hangs on it
	// and somebody's word is all there is, it must do so with some changes. What somebody
	// found not to fit there may be disputed by its measures.
	toHold := lists.Kept(slices.Clone(said.keys), func(at Spot) bool {
		_, isKit := g.kits[at.Part]
		v := g.variant(at.Variant)
		safety := g.Positions[at.Position].Safety
		j := g.judge(said.claims[at], &v, safety)
		return !isKit && (j.Verdict == graph.Fits ||
			j.Verdict != graph.Unknown && j.Via == evidence.ViaFinding && safety != graph.SafetyNone)
	})
	var err error
	if whole := q.Part == "" && q.Position == "" && q.Assembly == ""; whole && len(toHold) > mostOfMachine {
		all := len(toHold)
		if toHold, err = g.doubtful(ctx, toHold, said.claims); err != nil {
			return err
		}
		g.notFollowed = append(g.notFollowed, fmt.Sprintf("of %d places, on all these machines together, those alone "+
			"were held against measures where somebody measured otherwise than the book; name a model year", all))
	}
	if q.On == "" && len(toHold) > mostMeasured {
		g.leaveUnheld(toHold)
		return nil
	}
	for _, spot := range toHold {
		if err := ctx.Err(); err != nil {
			return err
		}
		if said.claims[spot], err = g.measures.Hold(ctx, spot, said.claims[spot]); err != nil {
			return err
		}
	}
	clear(g.judged) // more is known now of who says what
	return g.Evidence.Load(ctx, g.r, said.cites())
}

// doubtful are those places of a whole machine at which measures may say other than what
// sources say: the rest is what lists say of parts that, like all that they meet, measure
// what the book says.
func (g answerer) doubtful(ctx context.Context, spots []Spot, said map[Spot][]evidence.Claim) ([]Spot, error) {
	odd, err := g.measuredOtherwise(ctx)
	if err != nil {
		return nil, err
	}
	oddAt := map[graph.VariantID][]graph.PositionID{}
	for _, f := range g.Fitments {
		if odd[f.Part] {
			for _, v := range lists.Kept(slices.Clone(f.On), g.wants) {
				oddAt[v] = append(oddAt[v], f.Position)
			}
		}
	}
	meeting := map[graph.VariantID]map[graph.PositionID]bool{}
	for _, v := range lists.KeysOf(oddAt) {
		at, err := g.measures.Meeting(ctx, v, lists.Unique(oddAt[v]))
		if err != nil {
			return nil, err
		}
		meeting[v] = map[graph.PositionID]bool{}
		for _, id := range at {
			meeting[v][id] = true
		}
	}
	return lists.Kept(spots, func(at Spot) bool {
		return odd[at.Part] || meeting[at.Variant][at.Position] ||
			!slices.ContainsFunc(said[at], func(c evidence.Claim) bool { return c.Via == evidence.ViaListed })
	}), nil
}

// measuredOtherwise are the listed parts and those that were tried of which somebody
// measured what others give otherwise.
func (g answerer) measuredOtherwise(ctx context.Context) (map[graph.PartID]bool, error) {
	odd := map[graph.PartID]bool{}
	ids := lists.Mapped(g.Fitments, func(f graph.Fitment) graph.PartID { return f.Part })
	if len(ids) == 0 {
		return odd, nil
	}
	findings, err := g.r.FindingsOf(ctx, lists.Unique(ids)...)
	findings = lists.Kept(findings, func(f graph.Finding) bool { return len(f.Measured) > 0 && f.Withdrawn == "" })
	if err != nil || len(findings) == 0 {
		return odd, err
	}
	parts, err := g.r.Parts(ctx, lists.Unique(lists.Mapped(findings,
		func(f graph.Finding) graph.PartID { return f.Part }))...)
	if err != nil {
		return odd, err
	}
	for _, part := range parts {
		odd[part.ID] = slices.ContainsFunc(findings, func(f graph.Finding) bool {
			return f.Part == part.ID && slices.ContainsFunc(f.Measured, func(m graph.Measured) bool {
				return isNewOrOtherwise(part, m)
			})
		})
	}
	return odd, nil
}

// leaveUnheld notes that what is listed at so many places stands unmeasured.
func (g answerer) leaveUnheld(spots []Spot) {
	for _, at := range spots {
		if g.Positions[at.Position].Safety != graph.SafetyNone {
			g.notHeld++
		}
	}
	g.notFollowed = append(g.notFollowed, fmt.Sprintf("what is listed at %d places of machines was not held against "+
		"measures, as is done for up to %d; ask with --on MACHINE", len(spots), mostMeasured))
}
