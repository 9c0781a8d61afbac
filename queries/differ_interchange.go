package queries

import (
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/mating"
)

// transplant is a part taken to another machine's place.
type transplant struct {
	part    graph.Part
	to      graph.Position
	onOther graph.VariantID
	compare comparison // with what sits there
}

// direction judges a transplant by what is stated of the part in its new place,
// and by what its features come to when they meet what is there. The computed
// side is as strong as the weakest dimension it used. sitting is the part that
// it would replace; the same question is answered once.
func (d *differing) direction(t transplant, sitting graph.PartID) *Direction {
	at := spot{t.part.ID, t.to.ID, t.onOther}
	key := swapKey{at, sitting}
	if known := d.directions[key]; known != nil {
		return known
	}
	claims := append(slices.Clone(d.claims[at]), d.compute(t))
	v := d.ground.variant(t.onOther)
	j := d.evidence.judge(claims, &v)
	d.directions[key] = &Direction{Verdict: j.verdict, Via: j.via, Why: j.why, Rank: j.rank, Source: j.source,
		Changes: j.changes, ContradictedBy: j.against, Steps: j.steps}
	return d.directions[key]
}

// swapKey tells transplants apart.
type swapKey struct {
	spot
	sitting graph.PartID
}

// compute works out from features whether the part mates in its new place.
func (d *differing) compute(t transplant) claim {
	base := claim{part: t.part.ID, position: t.to.ID, variant: t.onOther, via: ViaComputed}
	var checks []mating.Check
	if !t.compare.onlyColour {
		checks = d.checks(t)
	}
	switch {
	case len(checks) > 0:
		d.fromChecks(&base, t, checks)
	case t.compare.onlyColour:
		base.verdict, base.why = graph.Fits, t.compare.why
		base.links = []link{{kind: StepComputed, text: t.compare.why}}
	case t.compare.class == ClassCosmetic:
		base.verdict, base.why = graph.Fits, "measures the same as what sits there"
		base.links = []link{{kind: StepComputed, text: t.compare.why}}
	case t.compare.class == ClassNotKnown:
		base.verdict, base.why = graph.Unknown, t.compare.why
	default:
		base.verdict, base.why = graph.Unknown, "no joint is recorded here to judge it by: "+t.compare.why
	}
	return base
}

// checks judges every joint of the new place with the part in it.
func (d *differing) checks(t transplant) []mating.Check {
	var checks []mating.Check
	for _, j := range d.around.jointsAt(t.to.ID, t.onOther) {
		m := d.around.meeting(j, t.to.ID, t.onOther, t.part)
		if lacking, ok := d.lacking(t, j); ok {
			checks = append(checks, lacking)
			continue
		}
		checks = append(checks, mating.Judge(m)...)
	}
	if len(checks) == 0 {
		return nil
	}
	return append(checks, d.unjudged(t)...)
}

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
	if _, has := t.part.Feature(name); has || !mayLack(d.kinds[t.part.Kind], name) {
		return mating.Check{}, false
	}
	return mating.Check{Rule: "feature", Verdict: graph.DoesNotFit,
		Why: fmt.Sprintf("has no %s for %s to meet", name, other)}, true
}

// unjudged are the features that differ and that no joint of the new place
// judges: an open port must be closed off, anything else is not known to do.
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
			checks = append(checks, mating.Check{Rule: "open port", Verdict: graph.FitsWithChanges, Effort: graph.EffortHandTools,
				Why: diff.Feature + " meets nothing here", Do: []string{"close off " + diff.Feature + ", which meets nothing here"}})
		case diff.Dim != "":
			open = append(open, diff.Text)
		}
	}
	if len(open) > 0 {
		checks = append(checks, mating.Check{Rule: "no joint", Verdict: graph.Unknown,
			Why: "no joint recorded here judges this: " + strings.Join(unique(open), "; ")})
	}
	return checks
}

// judgedFeatures are the names of the part's features that the joints of the
// new place judge.
func (d *differing) judgedFeatures(t transplant) []string {
	var judged []string
	for _, j := range d.around.jointsAt(t.to.ID, t.onOther) {
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
func (d *differing) fromChecks(base *claim, t transplant, checks []mating.Check) {
	base.verdict = mating.Worst(checks)
	var why []string
	for _, c := range checks {
		for _, use := range c.Uses {
			base.links = append(base.links, useLink(use))
		}
		base.links = append(base.links, link{kind: StepRule, text: fmt.Sprintf("%s: %s: %s", c.Rule, c.Verdict, c.Why)})
		if c.Verdict == base.verdict && !slices.Contains(why, c.Why) {
			why = append(why, c.Why)
		}
		for _, do := range c.Do {
			base.changes = append(base.changes, Change{Do: do, Effort: c.Effort})
		}
	}
	base.why = strings.Join(why, "; ")
	if base.verdict == graph.Fits {
		base.why = "mates with " + strings.Join(d.metBy(t), ", ")
	}
	base.links = append(base.links, link{kind: StepComputed,
		text: fmt.Sprintf("%s in the place at %s: %s", t.part.ID, t.to.ID, base.verdict)})
	if base.verdict != graph.FitsWithChanges {
		base.changes = nil
	}
}

// metBy are the places that the part meets in its new place, sorted.
func (d *differing) metBy(t transplant) []string {
	var met []string
	for _, j := range d.around.jointsAt(t.to.ID, t.onOther) {
		for _, ref := range []graph.FeatureRef{j.A, j.B} {
			if ref.Position != t.to.ID {
				met = append(met, ref.Position.Local())
			}
		}
	}
	return unique(met)
}

func useLink(use mating.Use) link {
	where := string(use.Part)
	if where == "" {
		where = use.Position.Local()
	}
	text := fmt.Sprintf("%s of %s of %s is %s", use.Dim, use.Feature, where, use.Reading.Text)
	if use.Reading.Method != "" {
		text += ", " + use.Reading.Method
	}
	return link{kind: StepDimension, text: text, cites: []graph.Cite{use.Reading.Cite},
		wrongIf: "measured again it is another"}
}
