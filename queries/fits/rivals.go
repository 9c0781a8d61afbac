package fits

import (
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries/evidence"
)

// rivals are sources that list another part where one is listed, when no
// supersession, kit, revision, colour or colour scheme explains it: then one of
// the lists may be wrong.
func (g *Ground) rivals(s Spot, j evidence.Judgement) []evidence.Contradiction {
	if j.Via != evidence.ViaListed {
		return nil
	}
	var found []evidence.Contradiction
	v := g.Variant(s.Variant)
	for _, f := range g.atPosition[s.Position] {
		if f.Part == s.Part || !slices.Contains(f.On, s.Variant) || g.explained(s.Part, f, j) {
			continue
		}
		w := g.Evidence.Weigh(evidence.Claim{Links: []evidence.Link{listingLink(f)}}, &v)
		if w.Voice.Origin == j.Source.Origin {
			continue // one list that names two parts means a choice
		}
		found = append(found, evidence.Contradiction{Why: fmt.Sprintf("lists %s here", f.Part),
			Via: evidence.ViaListed, Source: w.Voice, Steps: w.Steps})
	}
	return found
}

func (g *Ground) explained(part graph.PartID, f graph.Fitment, j evidence.Judgement) bool {
	if f.Scheme != "" && len(j.Schemes) > 0 && !slices.Contains(j.Schemes, f.Scheme) {
		return true
	}
	if g.sameCore(part, f.Part) {
		return true
	}
	linked := func(a, b graph.PartID) bool { return a == part && b == f.Part || a == f.Part && b == part }
	if slices.ContainsFunc(g.Chains, func(c evidence.Lineage) bool { return linked(c.Listed, c.Target) }) {
		return true
	}
	for _, kit := range g.kits {
		for _, c := range kit.Contains {
			if linked(kit.ID, c.Part) {
				return true
			}
		}
	}
	return false
}

// sameCore reports whether two parts are revisions or colours of one core.
func (g *Ground) sameCore(a, b graph.PartID) bool {
	if a.Brand() != b.Brand() {
		return false
	}
	form := g.forms[a.Brand()]
	x, errX := form.Parse(a.Number())
	y, errY := form.Parse(b.Number())
	return errX == nil && errY == nil && x.CoreKey() == y.CoreKey()
}
