package fits

import (
	"fmt"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// claimer makes claims of what was read: of lists, of walks along supersessions from what is
// listed, of kits and of findings.
type claimer struct{ *ground }

// claims lists every reason there is to say something about the parts asked
// about, on the variants asked about.
func (g claimer) claims() []evidence.Claim {
	listings := map[graph.PartID][]graph.Fitment{}
	for _, f := range g.Fitments {
		listings[f.Part] = append(listings[f.Part], f)
	}
	most := 0
	for _, f := range g.Fitments {
		if g.asks(f.Part) {
			most += len(f.On)
		}
	}
	claims := make([]evidence.Claim, 0, most)
	for _, f := range g.Fitments {
		if g.asks(f.Part) {
			claims = append(claims, g.listedClaims(f)...)
		}
	}
	return append(claims, g.furtherClaims(listings)...)
}

// furtherClaims are those that rest on more than a listing of the very part.
func (g claimer) furtherClaims(listings map[graph.PartID][]graph.Fitment) []evidence.Claim {
	var claims []evidence.Claim
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

func (g claimer) listedClaims(f graph.Fitment) []evidence.Claim {
	base := listedClaim(f)
	base.Links = []evidence.Link{listingLink(f)}
	return g.spread(base, f.On)
}

// listedClaim is what a listing claims, without what it rests on and for no variant
// yet.
func listedClaim(f graph.Fitment) evidence.Claim {
	why := "listed here"
	if f.Note != "" {
		why += ": " + f.Note
	}
	return evidence.Claim{Part: f.Part, Position: f.Position, Via: evidence.ViaListed, Verdict: graph.Fits, Why: why,
		Quantity: f.Quantity, Scheme: f.Scheme}
}

// spread makes the claim for each variant that is asked about.
func (g claimer) spread(base evidence.Claim, on []graph.VariantID) []evidence.Claim {
	var claims []evidence.Claim
	for _, v := range on {
		if g.wants(v) {
			base.Variant = v
			claims = append(claims, base)
		}
	}
	return claims
}

func (g claimer) chainClaims(c evidence.Lineage, f graph.Fitment) []evidence.Claim {
	base := evidence.Claim{Part: c.Target, Position: f.Position, Via: evidence.ViaSupersession, Verdict: c.Verdict(),
		Why:   c.Why(),
		Links: append(c.Links(), listingLink(f)), Quantity: f.Quantity, Scheme: f.Scheme, Hops: len(c.Edges)}
	if base.Verdict == graph.FitsWithChanges {
		base.Changes = c.Changes()
	}
	return g.spreadChain(c, base, f.On)
}

func (g claimer) spreadChain(c evidence.Lineage, base evidence.Claim, on []graph.VariantID) []evidence.Claim {
	var claims []evidence.Claim
	for _, v := range on {
		if !g.wants(v) {
			continue
		}
		limit, holds := c.HoldsOn(g.variant(v), g.frame)
		if holds {
			base.Variant, base.Frames = v, limit
			claims = append(claims, base)
		}
	}
	return claims
}

func (g claimer) findingClaims(f *graph.Finding) []evidence.Claim {
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

// kitClaims makes the claims that come from what a kit holds: the kit provides
// for every place where one of its parts is listed; its parts belong where the
// kit itself is listed; a part of it takes the place of an older part that
// the kit took the place of; and the older part may not go back in its place.
func (g claimer) kitClaims(kit graph.Part, listings map[graph.PartID][]graph.Fitment) []evidence.Claim {
	var claims []evidence.Claim
	for _, content := range kit.Contains {
		if g.asks(kit.ID) {
			for _, f := range listings[content.Part] {
				claims = append(claims, g.providesClaims(kit, content, f)...)
			}
		}
		if !g.asks(content.Part) {
			continue
		}
		for _, f := range listings[kit.ID] {
			claims = append(claims, g.contentClaims(kit, content, f)...)
		}
		for _, c := range g.Chains {
			if c.Target != kit.ID || !c.Newer {
				continue
			}
			for _, f := range listings[c.Listed] {
				claims = append(claims, g.successorClaims(kit, content, c, f)...)
			}
		}
	}
	return append(claims, g.retiredClaims(kit, listings)...)
}

// providesClaims says that a kit fits where a part that it holds is listed.
func (g claimer) providesClaims(kit graph.Part, content graph.Content, f graph.Fitment) []evidence.Claim {
	why := fmt.Sprintf("holds %d x %s, listed here", content.Quantity, content.Part)
	if content.Quantity < f.Quantity {
		why = fmt.Sprintf("holds %d of the %d x %s listed here", content.Quantity, f.Quantity, content.Part)
	}
	return g.spread(evidence.Claim{Part: kit.ID, Position: f.Position, Via: evidence.ViaKit, Verdict: graph.Fits, Why: why,
		Links: []evidence.Link{contentLink(kit, content), listingLink(f)}, Quantity: f.Quantity, Scheme: f.Scheme}, f.On)
}

// contentClaims says that a part belongs where its kit is listed. One part out
// of a matched kit does not go in alone.
func (g claimer) contentClaims(kit graph.Part, content graph.Content, f graph.Fitment) []evidence.Claim {
	base := evidence.Claim{Part: content.Part, Position: f.Position, Via: evidence.ViaKit, Verdict: graph.Fits,
		Why:   fmt.Sprintf("in kit %s, which is listed here", kit.ID),
		Links: []evidence.Link{contentLink(kit, content), listingLink(f)}, Quantity: content.Quantity, Scheme: f.Scheme}
	if kit.Matched {
		base.Verdict = graph.FitsWithChanges
		base.Why = fmt.Sprintf("in matched kit %s, which is listed here: its parts go in together", kit.ID)
		base.Changes = restOf(kit, content.Part)
	}
	return g.spread(base, f.On)
}

// successorClaims says that a part takes the place of an older one of its kind
// together with the rest of the kit that took its place. A part of another kind
// goes somewhere else nearby, which nobody states.
func (g claimer) successorClaims(kit graph.Part, content graph.Content, c evidence.Lineage,
	f graph.Fitment) []evidence.Claim {
	if kind := g.kinds[content.Part]; kind == "" || kind != g.Positions[f.Position].Kind || content.Part == f.Part {
		return nil // the kit goes on with the part: it takes nobody's place
	}
	verdict, rest := c.Verdict(), restOf(kit, content.Part)
	if len(rest) > 0 {
		verdict = verdict.Worst(graph.FitsWithChanges)
	}
	base := evidence.Claim{Part: content.Part, Position: f.Position, Via: evidence.ViaKit, Verdict: verdict,
		Why:   fmt.Sprintf("with the rest of kit %s, which %s", kit.ID, c.Why()),
		Links: append([]evidence.Link{contentLink(kit, content)}, append(c.Links(), listingLink(f))...), Quantity: f.Quantity,
		Scheme: f.Scheme}
	if verdict == graph.FitsWithChanges {
		base.Changes = append(rest, c.Changes()...)
	}
	return g.spreadChain(c, base, f.On)
}

// retiredClaims say that a part which gave way to a kit must not go back, or that nobody
// states whether it may, in the place of what the kit holds of its kind: there the kit
// stands for that part. Where it may, nobody says that of the one part without the rest.
func (g claimer) retiredClaims(kit graph.Part, listings map[graph.PartID][]graph.Fitment) []evidence.Claim {
	var claims []evidence.Claim
	for _, c := range g.Chains {
		verdict := c.Verdict()
		if c.Listed != kit.ID || c.Newer || !g.asks(c.Target) || verdict <= graph.FitsWithChanges ||
			heldIn(kit, c.Target) >= 0 {
			continue
		}
		for _, content := range kit.Contains {
			for _, f := range listings[content.Part] {
				if kind := g.kinds[c.Target]; kind == "" || kind != g.Positions[f.Position].Kind {
					continue
				}
				base := evidence.Claim{Part: c.Target, Position: f.Position, Via: evidence.ViaKit, Verdict: verdict,
					Why:   fmt.Sprintf("%s; %s is of that kit", c.Why(), content.Part),
					Links: append(c.Links(), contentLink(kit, content), listingLink(f)), Quantity: f.Quantity, Scheme: f.Scheme}
				claims = append(claims, g.spreadChain(c, base, f.On)...)
			}
		}
	}
	return claims
}
