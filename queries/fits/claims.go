package fits

import (
	"fmt"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// Claims lists every reason there is to say something about the parts asked
// about, on the variants asked about.
func (g *Ground) Claims() []evidence.Claim {
	listings := map[graph.PartID][]graph.Fitment{}
	for _, f := range g.Fitments {
		listings[f.Part] = append(listings[f.Part], f)
	}
	var claims []evidence.Claim
	for _, f := range g.Fitments {
		if g.asks(f.Part) {
			claims = append(claims, g.listedClaims(f)...)
		}
	}
	for _, c := range g.Chains {
		if !g.asks(c.Target) {
			continue
		}
		for _, f := range listings[c.Listed] {
			claims = append(claims, g.chainClaims(c, f)...)
		}
	}
	for _, id := range lists.KeysOf(g.kits) {
		claims = append(claims, g.kitClaims(g.kits[id], listings)...)
	}
	for i := range g.Findings {
		claims = append(claims, g.findingClaims(&g.Findings[i])...)
	}
	return claims
}

func (g *Ground) listedClaims(f graph.Fitment) []evidence.Claim {
	why := "listed here"
	if f.Note != "" {
		why += ": " + f.Note
	}
	base := evidence.Claim{Part: f.Part, Position: f.Position, Via: evidence.ViaListed, Verdict: graph.Fits, Why: why,
		Links: []evidence.Link{listingLink(f)}, Quantity: f.Quantity, Scheme: f.Scheme}
	return g.spread(base, f.On)
}

func listingLink(f graph.Fitment) evidence.Link {
	text := fmt.Sprintf("%s is listed at %s", f.Part, f.Position.Local())
	if f.Scheme != "" {
		text += " in scheme " + f.Scheme
	}
	return evidence.Link{Kind: evidence.StepFact, Text: text, WrongIf: evidence.WrongFact, Cites: f.Said}
}

// spread makes the claim for each variant that is asked about.
func (g *Ground) spread(base evidence.Claim, on []graph.VariantID) []evidence.Claim {
	var claims []evidence.Claim
	for _, v := range on {
		if g.wants(v) {
			base.Variant = v
			claims = append(claims, base)
		}
	}
	return claims
}

func (g *Ground) chainClaims(c evidence.Lineage, f graph.Fitment) []evidence.Claim {
	base := evidence.Claim{Part: c.Target, Position: f.Position, Via: evidence.ViaSupersession, Verdict: c.Verdict(),
		Why:   c.Why(),
		Links: append(c.Links(), listingLink(f)), Quantity: f.Quantity, Scheme: f.Scheme}
	if base.Verdict == graph.FitsWithChanges {
		base.Changes = c.Changes()
	}
	return g.spreadChain(c, base, f.On)
}

func (g *Ground) spreadChain(c evidence.Lineage, base evidence.Claim, on []graph.VariantID) []evidence.Claim {
	var claims []evidence.Claim
	for _, v := range on {
		if !g.wants(v) {
			continue
		}
		limit, holds := c.HoldsOn(g.Variant(v), g.frame)
		if holds {
			base.Variant, base.Frames = v, limit
			claims = append(claims, base)
		}
	}
	return claims
}

func (g *Ground) findingClaims(f *graph.Finding) []evidence.Claim {
	if !g.asks(f.Part) || f.Position == "" || f.Verdict == graph.NoVerdict || f.Withdrawn != "" {
		return nil
	}
	base := evidence.Claim{Part: f.Part, Position: f.Position, Via: evidence.ViaFinding, Verdict: f.Verdict,
		Why: evidence.FindingWhy(*f),
		Links: []evidence.Link{{Kind: evidence.StepFinding, Text: findingText(*f), WrongIf: evidence.WrongFinding,
			Finding: f}}}
	base.Changes = lists.Mapped(f.Changes,
		func(c graph.Change) evidence.Change { return evidence.Change{Do: c.Do, Effort: c.Effort, Part: c.Part} })
	return g.spread(base, g.onOf(*f))
}

// findingText is a finding as a step.
func findingText(f graph.Finding) string {
	text := fmt.Sprintf("%s: %s at %s %s", f.ID, f.Part, f.Position.Local(), f.Verdict)
	if f.By != "" {
		text += ", by " + f.By
	}
	if f.Method != "" {
		text += ", " + string(f.Method)
	}
	if f.Note != "" {
		text += ": " + f.Note
	}
	return text
}
