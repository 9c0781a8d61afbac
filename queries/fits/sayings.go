package fits

import (
	"context"

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
