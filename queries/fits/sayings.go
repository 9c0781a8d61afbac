package fits

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// Sayings is what sources say of some parts at some places of some machines, weighed
// against no measure: what Said says of each by itself, read for all of them together.
type Sayings struct {
	ground *ground
	claims map[Spot][]evidence.Claim
}

// SayingsOf reads what is said of parts at places of variants; e knows afterwards who
// says it. What is said of a kit is left to Said.
func SayingsOf(ctx context.Context, r graph.Reader, e *evidence.Evidence, on []graph.Variant,
	at []graph.PositionID, parts []graph.PartID) (*Sayings, error) {
	g := newGround(r)
	g.Evidence, g.Machines = e, &queries.Machines{Variants: on}
	g.targets = map[graph.PartID]bool{}
	for _, id := range parts {
		g.targets[id] = true
	}
	if err := g.aroundPlaces(ctx, at, parts); err != nil {
		return nil, err
	}
	if err := g.loadPositions(ctx); err != nil {
		return nil, err
	}
	if err := g.loadEvidence(ctx); err != nil {
		return nil, err
	}
	if err := g.loadVariants(ctx); err != nil {
		return nil, err
	}
	s := &Sayings{ground: g, claims: map[Spot][]evidence.Claim{}}
	for _, c := range (claimer{g}).claims() {
		key := Spot{Part: c.Part, Position: c.Position, Variant: c.Variant}
		s.claims[key] = append(s.claims[key], c)
	}
	return s, nil
}

// aroundPlaces reads what is listed at places, the ways from there to parts and to the
// kits that hold them, and what was found about them there.
func (g *ground) aroundPlaces(ctx context.Context, at []graph.PositionID, parts []graph.PartID) (err error) {
	if g.Fitments, err = g.r.FitmentsAt(ctx, at...); err != nil {
		return err
	}
	kits, err := g.r.KitsWith(ctx, parts...)
	if err != nil {
		return err
	}
	read, err := g.r.Parts(ctx, lists.Unique(kits)...)
	if err != nil {
		return err
	}
	for _, k := range read {
		g.kits[k.ID] = k
	}
	listed := lists.Unique(lists.Mapped(g.Fitments, func(f graph.Fitment) graph.PartID { return f.Part }))
	edges, err := evidence.EdgesAround(ctx, g.r, listed)
	if err != nil {
		return err
	}
	w := evidence.NewWalker(edges)
	for _, part := range listed {
		for _, c := range w.FromListed(part) {
			if _, isKit := g.kits[c.Target]; isKit || g.targets[c.Target] {
				g.Chains = append(g.Chains, c)
			}
		}
	}
	if err := g.retiredByKits(ctx, listed); err != nil {
		return err
	}
	there := map[graph.PositionID]bool{}
	for _, id := range at {
		there[id] = true
	}
	found, err := g.r.FindingsOf(ctx, parts...)
	g.Findings = lists.Kept(found, func(f graph.Finding) bool { return there[f.Position] })
	return err
}

// retiredByKits reads the kits that hold listed parts, and which of the parts asked about
// gave way to them.
func (g *ground) retiredByKits(ctx context.Context, listed []graph.PartID) error {
	holding, err := g.r.KitsWith(ctx, listed...)
	if err != nil || len(holding) == 0 {
		return err
	}
	edges, err := evidence.EdgesAround(ctx, g.r, holding)
	if err != nil {
		return err
	}
	isListed := func(id graph.PartID) bool { return slices.Contains(listed, id) }
	older := g.olderThanKits(evidence.NewWalker(edges), lists.Kept(slices.Clone(holding),
		func(id graph.PartID) bool { return !isListed(id) }))
	if len(older) == 0 {
		return nil
	}
	read, err := g.r.Parts(ctx, append(older, holding...)...)
	for _, p := range read {
		if p.IsKit() {
			g.kits[p.ID] = p
		}
		g.kinds[p.ID] = p.Kind
	}
	return err
}

// Claims are the reasons to say something of a part at a place of a machine; not to be
// changed.
func (s *Sayings) Claims(at Spot) []evidence.Claim { return s.claims[at] }

// Rows are what they come to: several where some hold for a range of frame numbers only,
// none when nobody says anything.
func (s *Sayings) Rows(at Spot) []FitsRow {
	claims := s.claims[at]
	if len(claims) == 0 {
		return nil
	}
	v, p := s.ground.variant(at.Variant), s.ground.Positions[at.Position]
	return lists.Mapped(answerer{s.ground}.byFrames(claims, &v, p.Safety), func(g rowGroup) FitsRow {
		return FitsRow{Part: at.Part, Position: at.Position, PositionName: p.Name, Safety: p.Safety, Verdict: g.Verdict,
			Via: g.Via, Why: g.Why, Rank: g.Rank, Source: g.Source, ContradictedBy: g.Against, Changes: g.Changes,
			Quantity: g.Quantity, Schemes: g.Schemes, Steps: g.Steps}
	})
}
