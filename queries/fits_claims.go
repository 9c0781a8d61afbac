package queries

import (
	"cmp"
	"fmt"
	"strings"

	"matewell/graph"
)

// claims lists every reason there is to say something about the parts asked
// about, on the variants asked about.
func (g *ground) claims() []claim {
	listings := map[graph.PartID][]graph.Fitment{}
	for _, f := range g.fitments {
		listings[f.Part] = append(listings[f.Part], f)
	}
	var claims []claim
	for _, f := range g.fitments {
		if g.asks(f.Part) {
			claims = append(claims, g.listedClaims(f)...)
		}
	}
	for _, c := range g.chains {
		if !g.asks(c.target) {
			continue
		}
		for _, f := range listings[c.listed] {
			claims = append(claims, g.chainClaims(c, f)...)
		}
	}
	for _, id := range keysOf(g.kits) {
		claims = append(claims, g.kitClaims(g.kits[id], listings)...)
	}
	for i := range g.findings {
		claims = append(claims, g.findingClaims(&g.findings[i])...)
	}
	return claims
}

func (g *ground) listedClaims(f graph.Fitment) []claim {
	why := "listed here"
	if f.Note != "" {
		why += ": " + f.Note
	}
	base := claim{part: f.Part, position: f.Position, via: ViaListed, verdict: graph.Fits, why: why,
		links: []link{listingLink(f)}, quantity: f.Quantity, scheme: f.Scheme}
	return g.spread(base, f.On)
}

func listingLink(f graph.Fitment) link {
	text := fmt.Sprintf("%s is listed at %s", f.Part, f.Position.Local())
	if f.Scheme != "" {
		text += " in scheme " + f.Scheme
	}
	return link{kind: StepFact, text: text, wrongIf: wrongFact, cites: f.Said}
}

// spread makes the claim for each variant that is asked about.
func (g *ground) spread(base claim, on []graph.VariantID) []claim {
	var claims []claim
	for _, v := range on {
		if g.wants(v) {
			base.variant = v
			claims = append(claims, base)
		}
	}
	return claims
}

func (g *ground) chainClaims(c chain, f graph.Fitment) []claim {
	base := claim{part: c.target, position: f.Position, via: ViaSupersession, verdict: c.verdict(), why: c.why(),
		links: append(c.links(), listingLink(f)), quantity: f.Quantity, scheme: f.Scheme}
	if base.verdict == graph.FitsWithChanges {
		base.changes = c.changes()
	}
	return g.spreadChain(c, base, f.On)
}

func (g *ground) spreadChain(c chain, base claim, on []graph.VariantID) []claim {
	var claims []claim
	for _, v := range on {
		if !g.wants(v) {
			continue
		}
		limit, holds := c.holdsOn(g.variant(v), g.frame)
		if holds {
			base.variant, base.frames = v, limit
			claims = append(claims, base)
		}
	}
	return claims
}

func (g *ground) findingClaims(f *graph.Finding) []claim {
	if !g.asks(f.Part) || f.Position == "" || f.Verdict == graph.NoVerdict || f.Withdrawn != "" {
		return nil
	}
	base := claim{part: f.Part, position: f.Position, via: ViaFinding, verdict: f.Verdict, why: findingWhy(*f),
		links: []link{{kind: StepFinding, text: findingText(*f), wrongIf: wrongFinding, finding: f}}}
	base.changes = mapped(f.Changes, func(c graph.Change) Change { return Change{Do: c.Do, Effort: c.Effort, Part: c.Part} })
	return g.spread(base, g.onOf(*f))
}

// findingWhy is what a finding says in one phrase.
func findingWhy(f graph.Finding) string {
	if len(f.Changes) > 0 {
		return strings.Join(mapped(f.Changes, func(c graph.Change) string { return c.Do }), "; ")
	}
	if f.Note != "" {
		return f.Note
	}
	return "found so by " + cmp.Or(f.By, string(f.Source), string(f.ID))
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
