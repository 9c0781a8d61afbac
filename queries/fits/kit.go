package fits

import (
	"cmp"
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// kitClaims makes the claims that come from what a kit holds: the kit provides
// for every place where one of its parts is listed; its parts belong where the
// kit itself is listed; and a part of it takes the place of an older part that
// the kit took the place of.
func (g *Ground) kitClaims(kit graph.Part, listings map[graph.PartID][]graph.Fitment) []evidence.Claim {
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
	return claims
}

func contentLink(kit graph.Part, content graph.Content) evidence.Link {
	return evidence.Link{Kind: evidence.StepKit, Text: fmt.Sprintf("kit %s holds %d x %s", kit.ID, content.Quantity,
		content.Part),
		WrongIf: evidence.WrongKit, Cites: kit.Said}
}

// providesClaims says that a kit fits where a part that it holds is listed.
func (g *Ground) providesClaims(kit graph.Part, content graph.Content, f graph.Fitment) []evidence.Claim {
	why := fmt.Sprintf("holds %d x %s, listed here", content.Quantity, content.Part)
	if content.Quantity < f.Quantity {
		why = fmt.Sprintf("holds %d of the %d x %s listed here", content.Quantity, f.Quantity, content.Part)
	}
	return g.spread(evidence.Claim{Part: kit.ID, Position: f.Position, Via: evidence.ViaKit, Verdict: graph.Fits, Why: why,
		Links: []evidence.Link{contentLink(kit, content), listingLink(f)}, Quantity: f.Quantity, Scheme: f.Scheme}, f.On)
}

// contentClaims says that a part belongs where its kit is listed. One part out
// of a matched kit does not go in alone.
func (g *Ground) contentClaims(kit graph.Part, content graph.Content, f graph.Fitment) []evidence.Claim {
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
func (g *Ground) successorClaims(kit graph.Part, content graph.Content, c evidence.Lineage,
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

// restOf is everything in the kit besides the part, as changes.
func restOf(kit graph.Part, part graph.PartID) []evidence.Change {
	var changes []evidence.Change
	for _, c := range kit.Contains {
		if c.Part != part {
			changes = append(changes, evidence.Change{Do: fmt.Sprintf("fit with it: %d x %s", c.Quantity, c.Part),
				Effort: graph.EffortHandTools, Part: c.Part})
		}
	}
	return changes
}

// foldKits takes the rows that say no more than that a kit holds a listed part,
// and names the kit in the row of the part instead: a washer is in a dozen kits,
// and they must not bury what is listed.
func (g *Ground) foldKits(rows []FitsRow) []FitsRow {
	listed := map[graph.PositionID][]int{}
	for i, row := range rows {
		if row.Via == evidence.ViaListed {
			listed[row.Position] = append(listed[row.Position], i)
		}
	}
	folded := map[int]bool{}
	for i, row := range rows {
		kit := g.kits[row.Part]
		holding := lists.Kept(slices.Clone(listed[row.Position]), func(j int) bool {
			return heldIn(kit, rows[j].Part) >= 0 && rows[j].Coverage.Frames == row.Coverage.Frames
		})
		if !saysOnlyKit(row, kit) || !covered(row, rows, holding) {
			continue
		}
		folded[i] = true
		for _, j := range holding {
			content := kit.Contains[heldIn(kit, rows[j].Part)]
			rows[j].Kits = append(rows[j].Kits, evidence.ContentLine{Part: kit.ID, Quantity: content.Quantity})
		}
	}
	left := []FitsRow{}
	for i, row := range rows {
		if !folded[i] {
			slices.SortFunc(row.Kits, func(a, b evidence.ContentLine) int { return cmp.Compare(a.Part, b.Part) })
			left = append(left, row)
		}
	}
	return left
}

// saysOnlyKit reports whether a row about a kit rests on nothing but what it
// holds.
func saysOnlyKit(row FitsRow, kit graph.Part) bool {
	more := slices.ContainsFunc(row.Steps,
		func(s evidence.Step) bool { return s.Kind != evidence.StepKit && s.Kind != evidence.StepFact })
	return row.Via == evidence.ViaKit && row.Verdict == graph.Fits && kit.IsKit() && len(row.ContradictedBy) == 0 && !more
}

// covered reports whether some of the rows together hold for every variant of
// the row.
func covered(row FitsRow, rows []FitsRow, some []int) bool {
	return !slices.ContainsFunc(row.Coverage.On, func(v graph.VariantID) bool {
		return !slices.ContainsFunc(some, func(i int) bool { return slices.Contains(rows[i].Coverage.On, v) })
	})
}

// heldIn is the place of a part among what a kit holds, -1 when it is not there.
func heldIn(kit graph.Part, part graph.PartID) int {
	return slices.IndexFunc(kit.Contains, func(c graph.Content) bool { return c.Part == part })
}
