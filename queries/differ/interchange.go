package differ

import (
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/examine"
	"matewell/queries/fits"
	"matewell/queries/lists"
	"matewell/queries/mating"
)

// transplant is a part taken to another machine's place.
type transplant struct {
	part    graph.Part
	to      graph.Position
	onOther graph.VariantID
	sitting graph.PartID // what it would replace
	compare comparison   // of the two
}

// direction judges a transplant by what is stated of the part in its new place,
// and by what its features come to when they meet what is there. The computed
// side is as strong as the weakest dimension it used. The same question is
// answered once.
func (d *differing) direction(t transplant) *Direction {
	key := swapKeyOf(t)
	if known := d.directions[key]; known != nil {
		return known
	}
	claims := append(slices.Clone(d.claims[key.Spot]), d.compute(t))
	v := d.ground.Variant(t.onOther)
	j := d.evidence.Judge(claims, &v)
	d.directions[key] = &Direction{Verdict: j.Verdict, Via: j.Via, Why: j.Why, Rank: j.Rank, Source: j.Source,
		Changes: j.Changes, ContradictedBy: j.Against, Steps: j.Steps}
	return d.directions[key]
}

// swapKey tells transplants apart.
type swapKey struct {
	fits.Spot
	sitting graph.PartID
}

func swapKeyOf(t transplant) swapKey {
	return swapKey{fits.Spot{Part: t.part.ID, Position: t.to.ID, Variant: t.onOther}, t.sitting}
}

// compute works out from features whether the part mates in its new place.
func (d *differing) compute(t transplant) evidence.Claim {
	base := evidence.Claim{Part: t.part.ID, Position: t.to.ID, Variant: t.onOther, Via: evidence.ViaComputed}
	var checks []mating.Check
	if !t.compare.onlyColour {
		checks = d.checks(t)
	}
	switch {
	case len(checks) > 0:
		d.fromChecks(&base, t, checks)
	case t.compare.onlyColour:
		base.Verdict, base.Why = graph.Fits, t.compare.why
		base.Links = []evidence.Link{{Kind: evidence.StepComputed, Text: t.compare.why}}
	case t.compare.class == ClassCosmetic:
		base.Verdict, base.Why = graph.Fits, "measures the same as what sits there"
		base.Links = []evidence.Link{{Kind: evidence.StepComputed, Text: t.compare.why}}
	case t.compare.class == ClassNotKnown:
		base.Verdict, base.Why = graph.Unknown, t.compare.why
	default:
		base.Verdict, base.Why = graph.Unknown, "no joint is recorded here to judge it by: "+t.compare.why
	}
	return base
}

// checks judges what the part meets in the new place: every joint there, and what
// else comes out worse with it.
func (d *differing) checks(t transplant) []mating.Check {
	var checks []mating.Check
	for _, o := range d.outcomes[swapKeyOf(t)] {
		if o.What != examine.OfJoint {
			continue
		}
		if lacking, ok := d.lacking(t, o.Joint); ok {
			checks = append(checks, lacking)
			continue
		}
		checks = append(checks, o.Checks...)
	}
	rest := d.unjudged(t)
	if len(checks) == 0 && !slices.ContainsFunc(rest, func(c mating.Check) bool { return c.Rule != noJudge }) {
		return nil
	}
	return append(checks, rest...)
}

// noJudge is the name of the check that says that nothing judges a difference.
const noJudge = "no joint"

// lacking is the check for a joint whose feature the part may do without, and
// does not have.
func (d *differing) lacking(t transplant, j graph.Joint) (mating.Check, bool) {
	name, other := j.A.Feature, j.B
	switch t.to.ID {
	case j.A.Position:
	case j.B.Position:
		name, other = j.B.Feature, j.A
	default:
		return mating.Check{}, false // the part only holds the joint
	}
	if _, has := t.part.Feature(name); has || !mayLack(d.kindOf(t.part), name) {
		return mating.Check{}, false
	}
	return mating.Check{Rule: "feature", Verdict: graph.DoesNotFit,
		Why: fmt.Sprintf("has no %s for %s to meet", name, other)}, true
}

// unjudged judges the features that differ and that no joint of the new place
// judges: an open port must be closed off; a length or a width counts as far as
// a run, a row or a chain judges it; anything else is not known to do.
func (d *differing) unjudged(t transplant) []mating.Check {
	judged := d.judgedFeatures(t)
	var checks []mating.Check
	var open []string
	for _, diff := range t.compare.differences {
		if diff.Class == ClassCosmetic || slices.Contains(judged, diff.Feature) {
			continue
		}
		f, has := t.part.Feature(diff.Feature)
		switch {
		case !has: // what the new place can do without, since nothing there meets it
		case f.Kind == "port" && diff.Dim == "":
			checks = append(checks, mating.Check{Rule: "open port", Verdict: graph.FitsWithChanges,
				Effort: graph.EffortHandTools,
				Why:    diff.Feature + " meets nothing here", Do: []string{"close off " + diff.Feature +
					", which meets nothing here"}})
		case diff.Dim != "":
			further := usingFeature(d.further(t), t.to.ID, diff.Feature)
			checks = append(checks, further...)
			if len(further) == 0 {
				open = append(open, diff.Text)
			}
		}
	}
	checks = append(checks, d.worse(t, checks)...)
	if len(open) > 0 {
		checks = append(checks, mating.Check{Rule: noJudge, Verdict: graph.Unknown,
			Why: "nothing recorded here judges this: " + strings.Join(lists.Unique(open), "; ")})
	}
	return checks
}

// usingFeature are the checks that looked at a feature of the new part, and
// those that could not for want of a measure.
func usingFeature(checks []mating.Check, at graph.PositionID, feature string) []mating.Check {
	return lists.Kept(slices.Clone(checks), func(c mating.Check) bool {
		used := slices.ContainsFunc(c.Uses, func(u mating.Use) bool { return u.Position == at && u.Feature == feature })
		return used || slices.ContainsFunc(c.Measure,
			func(a mating.Ask) bool { return a.Position == at && a.Feature == feature })
	})
}

// judgedFeatures are the names of the part's features that the joints of the
// new place judge.
func (d *differing) judgedFeatures(t transplant) []string {
	var judged []string
	for _, j := range d.jointsOf(t) {
		for _, ref := range []graph.FeatureRef{j.A, j.B} {
			if ref.Position == t.to.ID {
				judged = append(judged, ref.Feature)
			}
		}
		if slices.Contains(j.Fasteners, t.to.ID) {
			for _, f := range t.part.Features {
				if f.Kind == "male-thread" || f.Kind == "washer" {
					judged = append(judged, f.Name)
				}
			}
		}
	}
	return judged
}

// fromChecks makes a claim of checks: the worst decides and is said first.
func (d *differing) fromChecks(base *evidence.Claim, t transplant, checks []mating.Check) {
	base.Verdict = mating.Worst(checks)
	var why []string
	for _, c := range checks {
		for _, use := range c.Uses {
			base.Links = append(base.Links, useLink(use))
		}
		base.Links = append(base.Links, evidence.Link{Kind: evidence.StepRule,
			Text: fmt.Sprintf("%s: %s: %s", c.Rule, c.Verdict, c.Why)})
		if c.Verdict == base.Verdict && !slices.Contains(why, c.Why) {
			why = append(why, c.Why)
		}
		for _, do := range c.Do {
			base.Changes = append(base.Changes, evidence.Change{Do: do, Effort: c.Effort})
		}
	}
	base.Why = strings.Join(why, "; ")
	if base.Verdict == graph.Fits {
		base.Why = "mates with " + strings.Join(d.metBy(t), ", ")
		for _, name := range d.openFeatures(t) {
			for _, c := range usingFeature(d.further(t), t.to.ID, name) {
				base.Why += "; " + c.Why
			}
		}
	}
	base.Links = append(base.Links, evidence.Link{Kind: evidence.StepComputed,
		Text: fmt.Sprintf("%s at %s of %s: %s", t.part.ID, t.to.ID.Local(), t.onOther, base.Verdict)})
	if base.Verdict != graph.FitsWithChanges {
		base.Changes = nil
	}
}

// metBy are the places that the part meets in its new place, sorted.
func (d *differing) metBy(t transplant) []string {
	var met []string
	for _, j := range d.jointsOf(t) {
		for _, ref := range []graph.FeatureRef{j.A, j.B} {
			if ref.Position != t.to.ID {
				met = append(met, ref.Position.Local())
			}
		}
	}
	return lists.Unique(met)
}

func useLink(use mating.Use) evidence.Link {
	where := string(use.Part)
	if where == "" {
		where = use.Position.Local()
	}
	text := fmt.Sprintf("%s of %s of %s is %s", use.Dim, use.Feature, where, use.Reading.Text)
	if use.Reading.Method != "" {
		text += ", " + use.Reading.Method
	}
	return evidence.Link{Kind: evidence.StepDimension, Text: text, Cites: []graph.Cite{use.Reading.Cite},
		WrongIf: "measured again it is another"}
}
