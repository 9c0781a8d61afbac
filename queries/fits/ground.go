package fits

import (
	"context"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// Ground is what one question about fitting reads from the graph: only what is
// near the part or the positions asked about, in few calls.
type Ground struct {
	r        graph.Reader
	Evidence *evidence.Evidence
	Machines *queries.Machines // what the question is limited to; nil for no limit
	frame    string            // the machine's own frame number; empty when not known
	market   string            // narrows when there are no machines; empty for no limit
	target   *graph.Part       // the part asked about; nil for any

	Chains   []evidence.Lineage
	kits     map[graph.PartID]graph.Part // kits asked about, or with a part that is
	kinds    map[graph.PartID]graph.KindID
	Fitments []graph.Fitment
	// atPosition is everything that is listed where the rows are; forms is how
	// the brands there write their numbers.
	atPosition map[graph.PositionID][]graph.Fitment
	forms      map[graph.BrandID]graph.NumberForm
	Findings   []graph.Finding
	bikes      map[graph.BikeID]graph.Bike
	Positions  map[graph.PositionID]graph.Position
	variants   map[graph.VariantID]graph.Variant // read ones; see variant
	siblings   []graph.VariantID                 // all variants of the models the rows are on
}

func NewGround(r graph.Reader) *Ground {
	return &Ground{r: r, Evidence: evidence.NewEvidence(),
		kits:      map[graph.PartID]graph.Part{},
		kinds:     map[graph.PartID]graph.KindID{},
		forms:     map[graph.BrandID]graph.NumberForm{},
		bikes:     map[graph.BikeID]graph.Bike{},
		Positions: map[graph.PositionID]graph.Position{},
		variants:  map[graph.VariantID]graph.Variant{}}
}

// wants reports whether the question is about the variant. A variant that is
// not read yet, or whose frame numbers nobody recorded, may be the one with the
// frame number.
func (g *Ground) wants(id graph.VariantID) bool {
	if g.Machines != nil {
		return g.Machines.Has(id)
	}
	v := g.Variant(id)
	if g.market != "" && !strings.EqualFold(v.Market, g.market) {
		return false
	}
	if g.frame == "" || v.Frames.IsZero() {
		return true
	}
	has, err := v.Frames.Has(g.frame)
	return has && err == nil
}

// asks reports whether the question is about the part.
func (g *Ground) asks(p graph.PartID) bool { return g.target == nil || g.target.ID == p }

// Variant is the variant as read, else as far as its identity tells.
func (g *Ground) Variant(id graph.VariantID) graph.Variant {
	if v, ok := g.variants[id]; ok {
		return v
	}
	return queries.VariantOf(id)
}

// having is the variants asked about that have a position.
func (g *Ground) having(id graph.PositionID) []graph.VariantID {
	return lists.Kept(slices.Clone(g.Positions[id].On), g.wants)
}

// asked is the variants of a model that are asked about, those that lack the
// position of a row included.
func (g *Ground) asked(model graph.ModelID) []graph.VariantID {
	return lists.Kept(slices.Clone(g.siblings),
		func(id graph.VariantID) bool { return id.Model() == model && g.wants(id) })
}

// loadSiblings reads which variants there are of the models of the positions.
func (g *Ground) loadSiblings(ctx context.Context) (err error) {
	var on []graph.VariantID
	for _, p := range g.Positions {
		on = append(on, p.On...)
	}
	g.siblings, err = queries.SiblingsOf(ctx, g.r, on)
	return err
}

// LoadPositions reads the positions of fitments and findings that are not read
// yet, and the bikes that findings were tried on.
func (g *Ground) LoadPositions(ctx context.Context) error {
	var missing []graph.PositionID
	for _, f := range g.Fitments {
		missing = append(missing, f.Position)
	}
	var bikes []graph.BikeID
	for _, f := range g.Findings {
		missing = append(missing, f.Position)
		if len(f.On) == 0 && f.Bike != "" {
			bikes = append(bikes, f.Bike)
		}
	}
	missing = lists.Kept(lists.Unique(missing), func(id graph.PositionID) bool {
		_, have := g.Positions[id]
		return id != "" && !have
	})
	if len(missing) > 0 {
		positions, err := g.r.Positions(ctx, missing...)
		if err != nil {
			return err
		}
		for _, p := range positions {
			g.Positions[p.ID] = p
		}
	}
	if len(bikes) == 0 {
		return nil
	}
	read, err := g.r.Bikes(ctx, lists.Unique(bikes)...)
	for _, b := range read {
		g.bikes[b.ID] = b
	}
	return err
}

// onOf is the variants a finding speaks of.
func (g *Ground) onOf(f graph.Finding) []graph.VariantID {
	if bike, ok := g.bikes[f.Bike]; ok && len(f.On) == 0 {
		return []graph.VariantID{bike.Variant}
	}
	return f.On
}

// LoadEvidence reads every source that the claims can name.
func (g *Ground) LoadEvidence(ctx context.Context) error {
	var cites []graph.Cite
	for _, f := range g.Fitments {
		cites = append(cites, f.Said...)
	}
	for _, neighbours := range g.atPosition {
		for _, f := range neighbours {
			cites = append(cites, f.Said...)
		}
	}
	for _, c := range g.Chains {
		for _, e := range c.Edges {
			cites = append(cites, e.Said...)
		}
	}
	for _, k := range g.kits {
		cites = append(cites, k.Said...)
	}
	g.Evidence.AddFindings(g.Findings)
	return g.Evidence.Load(ctx, g.r, cites)
}

// LoadVariants reads the variants for which more than the identity matters:
// those with a mark, and all of them when some scope speaks of frame numbers.
func (g *Ground) LoadVariants(ctx context.Context) error {
	if err := g.loadSiblings(ctx); err != nil {
		return err
	}
	if g.Machines != nil {
		for _, v := range g.Machines.Variants {
			g.variants[v.ID] = v
		}
	}
	byFrame := g.frame != "" || g.scopesByFrame()
	var missing []graph.VariantID
	add := func(ids []graph.VariantID) {
		for _, id := range ids {
			if _, have := g.variants[id]; !have && g.wants(id) && (byFrame || queries.VariantOf(id).Mark != "") {
				missing = append(missing, id)
			}
		}
	}
	for _, f := range g.Fitments {
		add(f.On)
	}
	for _, f := range g.Findings {
		add(g.onOf(f))
	}
	if g.frame != "" {
		add(g.siblings)
	}
	if len(missing) == 0 {
		return nil
	}
	variants, err := g.r.Variants(ctx, lists.Unique(missing)...)
	for _, v := range variants {
		g.variants[v.ID] = v
	}
	return err
}

func (g *Ground) scopesByFrame() bool {
	for _, s := range g.Evidence.Sources {
		if !s.Scope.Frames.IsZero() {
			return true
		}
	}
	return slices.ContainsFunc(g.Chains, func(c evidence.Lineage) bool {
		return slices.ContainsFunc(c.Edges, func(e graph.Supersession) bool { return e.Scope.Frames != measure.Frames{} })
	})
}
