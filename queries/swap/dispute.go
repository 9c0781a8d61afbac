package swap

import (
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// isFitting reports whether all that was worked out about a place fits there, and anything
// was.
func isFitting(outcomes []examine.Outcome, numbers []examine.Number, at graph.PositionID) bool {
	worked := lists.Kept(slices.Clone(outcomes), func(o examine.Outcome) bool {
		return o.What != examine.OfWord && o.What != examine.OfFinish && o.Concerns(at)
	})
	return len(worked) > 0 && worstOf(worked, nil) <= graph.FitsWithChanges &&
		!slices.ContainsFunc(numbers, func(n examine.Number) bool {
			return n.Verdict > graph.FitsWithChanges && n.Concerns(at)
		})
}

// isRefusedByHand reports whether a finding says by first hand that a part does not fit
// at a place, and whether safety hangs on that place.
func isRefusedByHand(s *machine.Setup, at graph.PositionID, part graph.PartID, finding graph.FindingID) bool {
	return s.SafetyAt(at) != graph.SafetyNone && slices.ContainsFunc(s.Library().FindingsOf(part),
		func(f graph.Finding) bool {
			return f.ID == finding && f.Verdict == graph.DoesNotFit && s.Library().Evidence().IsFirstHand(f)
		})
}

// computedFits is the claim that a part fits at a place by what it and what it meets
// measure.
func computedFits(part graph.PartID, at graph.PositionID, on graph.VariantID, t Tried) evidence.Claim {
	fits := evidence.Claim{Part: part, Position: at, Variant: on, Via: evidence.ViaComputed, Verdict: t.Verdict(),
		Why: "by all that was worked out it fits"}
	for _, o := range t.Outcomes {
		for _, c := range o.Checks {
			fits.Links = append(fits.Links, examine.RuleLinks(c.Rule, c.Verdict, c.Why, c.Uses)...)
		}
	}
	fits.Links = append(fits.Links, evidence.Link{Kind: evidence.StepComputed,
		Text: fmt.Sprintf("%s at %s of %s: %s", part, at.Local(), on, t.Verdict())})
	return fits
}
