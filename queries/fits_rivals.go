package queries

import (
	"fmt"
	"slices"

	"matewell/graph"
)

// rivals are sources that list another part where one is listed, when no
// supersession, kit, revision, colour or colour scheme explains it: then one of
// the lists may be wrong.
func (g *ground) rivals(s spot, j judgement) []Contradiction {
	if j.via != ViaListed {
		return nil
	}
	var found []Contradiction
	v := g.variant(s.variant)
	for _, f := range g.atPosition[s.position] {
		if f.Part == s.part || !slices.Contains(f.On, s.variant) || g.explained(s.part, f, j) {
			continue
		}
		w := g.evidence.weigh(claim{links: []link{listingLink(f)}}, &v)
		if w.voice.origin == j.source.origin {
			continue // one list that names two parts means a choice
		}
		found = append(found, Contradiction{Why: fmt.Sprintf("lists %s here", f.Part),
			Via: ViaListed, Source: w.voice, Steps: w.steps})
	}
	return found
}

func (g *ground) explained(part graph.PartID, f graph.Fitment, j judgement) bool {
	if f.Scheme != "" && len(j.schemes) > 0 && !slices.Contains(j.schemes, f.Scheme) {
		return true
	}
	if g.sameCore(part, f.Part) {
		return true
	}
	linked := func(a, b graph.PartID) bool { return a == part && b == f.Part || a == f.Part && b == part }
	if slices.ContainsFunc(g.chains, func(c chain) bool { return linked(c.listed, c.target) }) {
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
func (g *ground) sameCore(a, b graph.PartID) bool {
	if a.Brand() != b.Brand() {
		return false
	}
	form := g.forms[a.Brand()]
	x, errX := form.Parse(a.Number())
	y, errY := form.Parse(b.Number())
	return errX == nil && errY == nil && x.CoreKey() == y.CoreKey()
}
