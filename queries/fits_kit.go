package queries

import (
	"fmt"

	"matewell/graph"
)

// kitClaims makes the claims that come from what a kit holds: the kit provides
// for every place where one of its parts is listed; its parts belong where the
// kit itself is listed; and a part of it takes the place of an older part that
// the kit took the place of.
func (g *ground) kitClaims(kit graph.Part, listings map[graph.PartID][]graph.Fitment) []claim {
	var claims []claim
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
		for _, c := range g.chains {
			if c.target != kit.ID || !c.newer {
				continue
			}
			for _, f := range listings[c.listed] {
				claims = append(claims, g.successorClaims(kit, content, c, f)...)
			}
		}
	}
	return claims
}

func contentLink(kit graph.Part, content graph.Content) link {
	return link{kind: StepKit, text: fmt.Sprintf("kit %s holds %d x %s", kit.ID, content.Quantity, content.Part),
		wrongIf: wrongKit, cites: kit.Said}
}

// providesClaims says that a kit fits where a part that it holds is listed.
func (g *ground) providesClaims(kit graph.Part, content graph.Content, f graph.Fitment) []claim {
	why := fmt.Sprintf("holds %d x %s, listed here", content.Quantity, content.Part)
	if content.Quantity < f.Quantity {
		why = fmt.Sprintf("holds %d of the %d x %s listed here", content.Quantity, f.Quantity, content.Part)
	}
	return g.spread(claim{part: kit.ID, position: f.Position, via: ViaKit, verdict: graph.Fits, why: why,
		links: []link{contentLink(kit, content), listingLink(f)}, quantity: f.Quantity, scheme: f.Scheme}, f.On)
}

// contentClaims says that a part belongs where its kit is listed. One part out
// of a matched kit does not go in alone.
func (g *ground) contentClaims(kit graph.Part, content graph.Content, f graph.Fitment) []claim {
	base := claim{part: content.Part, position: f.Position, via: ViaKit, verdict: graph.Fits,
		why:   fmt.Sprintf("in kit %s, which is listed here", kit.ID),
		links: []link{contentLink(kit, content), listingLink(f)}, quantity: content.Quantity, scheme: f.Scheme}
	if kit.Matched {
		base.verdict = graph.FitsWithChanges
		base.why = fmt.Sprintf("in matched kit %s, which is listed here: its parts go in together", kit.ID)
		base.changes = restOf(kit, content.Part)
	}
	return g.spread(base, f.On)
}

// successorClaims says that a part takes the place of an older one of its kind
// together with the rest of the kit that took its place. A part of another kind
// goes somewhere else nearby, which nobody states.
func (g *ground) successorClaims(kit graph.Part, content graph.Content, c chain, f graph.Fitment) []claim {
	if kind := g.kinds[content.Part]; kind == "" || kind != g.positions[f.Position].Kind {
		return nil
	}
	verdict, rest := c.verdict(), restOf(kit, content.Part)
	if len(rest) > 0 {
		verdict = verdict.Worst(graph.FitsWithChanges)
	}
	base := claim{part: content.Part, position: f.Position, via: ViaKit, verdict: verdict,
		why:   fmt.Sprintf("with the rest of kit %s, which %s", kit.ID, c.why()),
		links: append([]link{contentLink(kit, content)}, append(c.links(), listingLink(f))...), quantity: f.Quantity, scheme: f.Scheme}
	if verdict == graph.FitsWithChanges {
		base.changes = append(rest, c.changes()...)
	}
	return g.spreadChain(c, base, f.On)
}

// restOf is everything in the kit besides the part, as changes.
func restOf(kit graph.Part, part graph.PartID) []Change {
	var changes []Change
	for _, c := range kit.Contains {
		if c.Part != part {
			changes = append(changes, Change{Do: fmt.Sprintf("fit with it: %d x %s", c.Quantity, c.Part),
				Effort: graph.EffortHandTools, Part: c.Part})
		}
	}
	return changes
}
