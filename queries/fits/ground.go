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

// ground is what one question about fitting reads from the graph: only what is
// near the part or the positions asked about, in few calls.
type ground struct {
	r        graph.Reader
	Evidence *evidence.Evidence
	Machines *queries.Machines     // what the question is limited to; nil for no limit
	frame    string                // the machine's own frame number; empty when not known
	market   string                // narrows when there are no machines; empty for no limit
	target   *graph.Part           // the part asked about; nil for any
	targets  map[graph.PartID]bool // several that are asked about together; nil for none
	// measures holds what is said against measures; nil for not at all.
	measures Measures

	Chains      []evidence.Lineage
	notFollowed []string                    // what of them was left out
	notHeld     int                         // safety places at which nothing was measured: too many
	kits        map[graph.PartID]graph.Part // kits asked about, or with a part that is
	// astray is, by machine, which contents of the kit asked about nobody lists for it.
	astray   map[graph.VariantID][]graph.Content
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
	siblings   queries.Universe                  // all variants of the models the rows are on
	asked      queries.Universe                  // those of them that are asked about
	judged     judgements
}

// newGround has read nothing yet.
func newGround(r graph.Reader) *ground {
	return &ground{r: r, Evidence: evidence.NewEvidence(),
		kits:      map[graph.PartID]graph.Part{},
		kinds:     map[graph.PartID]graph.KindID{},
		forms:     map[graph.BrandID]graph.NumberForm{},
		bikes:     map[graph.BikeID]graph.Bike{},
		Positions: map[graph.PositionID]graph.Position{},
		variants:  map[graph.VariantID]graph.Variant{},
		judged:    judgements{}}
}

// wants reports whether the question is about the variant. A variant that is
// not read yet, or whose frame numbers nobody recorded, may be the one with the
// frame number.
func (g *ground) wants(id graph.VariantID) bool {
	if g.Machines != nil {
		return g.Machines.Has(id)
	}
	if g.market == "" && g.frame == "" {
		return true
	}
	v := g.variant(id)
	if g.market != "" && !strings.EqualFold(v.Market, g.market) {
		return false
	}
	if g.frame == "" || v.Frames.IsZero() {
		return true
	}
	has, err := v.Frames.Has(g.frame)
	return has && err == nil
}

// wanted are those of some variants that the question is about.
func (g *ground) wanted(ids []graph.VariantID) []graph.VariantID {
	if g.Machines == nil && g.market == "" && g.frame == "" {
		return ids
	}
	return lists.Kept(ids, g.wants)
}

// asks reports whether the question is about the part.
func (g *ground) asks(p graph.PartID) bool {
	return (g.target == nil || g.target.ID == p) && (g.targets == nil || g.targets[p])
}

// variant is the variant as read, else as far as its identity tells.
func (g *ground) variant(id graph.VariantID) graph.Variant {
	if v, ok := g.variants[id]; ok {
		return v
	}
	return queries.VariantOf(id)
}

// having is the variants asked about that have a position.
func (g *ground) having(id graph.PositionID) []graph.VariantID {
	return lists.Kept(slices.Clone(g.Positions[id].On), g.wants)
}

// loadSiblings reads which variants there are of the models of the positions.
func (g *ground) loadSiblings(ctx context.Context) (err error) {
	var models []graph.ModelID
	for id := range g.Positions {
		models = append(models, id.Model())
	}
	g.siblings, err = queries.SiblingsOf(ctx, g.r, models)
	return err
}

// loadPositions reads the positions of fitments and findings that are not read
// yet, and the bikes that findings were tried on.
func (g *ground) loadPositions(ctx context.Context) error {
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
func (g *ground) onOf(f graph.Finding) []graph.VariantID {
	if bike, ok := g.bikes[f.Bike]; ok && len(f.On) == 0 {
		return []graph.VariantID{bike.Variant}
	}
	return f.On
}

// loadEvidence reads every source that the claims can name.
func (g *ground) loadEvidence(ctx context.Context) error {
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

// loadVariants reads the variants for which more than the identity matters:
// those with a mark, and all of them when some scope speaks of frame numbers.
func (g *ground) loadVariants(ctx context.Context) error {
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
		add(g.siblings.IDs(g.wants))
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

func (g *ground) scopesByFrame() bool {
	for _, s := range g.Evidence.Sources {
		if !s.Scope.Frames.IsZero() {
			return true
		}
	}
	return slices.ContainsFunc(g.Chains, func(c evidence.Lineage) bool {
		return slices.ContainsFunc(c.Edges, func(e graph.Supersession) bool { return e.Scope.Frames != measure.Frames{} })
	})
}

// checkMarket refuses a market in which nothing that was read is listed, so that
// a slip of the pen is not taken for silence.
func (g *ground) checkMarket() error {
	if g.market == "" || g.Machines != nil || len(g.Fitments)+len(g.Findings) == 0 {
		return nil
	}
	var on []graph.VariantID
	for _, p := range g.Positions {
		on = append(on, p.On...)
	}
	for _, f := range g.Fitments {
		on = append(on, f.On...)
	}
	markets := lists.Unique(lists.Mapped(on, func(v graph.VariantID) string { return queries.VariantOf(v).Market }))
	if slices.ContainsFunc(markets, func(m string) bool { return strings.EqualFold(m, g.market) }) {
		return nil
	}
	return &queries.NotFoundError{What: "market", Asked: g.market, Where: "of the machines this is about", Near: markets}
}

// loadNeighbours reads what else is listed where the part is, to see whether
// the lists agree.
func (g *ground) loadNeighbours(ctx context.Context) error {
	all := g.Fitments
	if g.target != nil {
		var at []graph.PositionID
		for _, f := range g.Fitments {
			if f.Part == g.target.ID {
				at = append(at, f.Position)
			}
		}
		if len(at) == 0 {
			return nil
		}
		var err error
		if all, err = g.r.FitmentsAt(ctx, lists.Unique(at)...); err != nil {
			return err
		}
	}
	g.atPosition = map[graph.PositionID][]graph.Fitment{}
	var brands []graph.BrandID
	for _, f := range all {
		g.atPosition[f.Position] = append(g.atPosition[f.Position], f)
		brands = append(brands, f.Part.Brand())
	}
	if len(brands) == 0 {
		return nil
	}
	read, err := g.r.Brands(ctx, lists.Unique(brands)...)
	for _, b := range read {
		g.forms[b.ID] = b.Form
	}
	return err
}

// findAstray reads, where a kit is asked about, what of it nobody lists for a machine
// although another part of it is listed there: not at a place, nor inside what a job
// takes apart. A kit that is listed itself, that took a listed part's place, or that a
// job of the machine names, is meant for it as it is.
func (g *ground) findAstray(ctx context.Context) error {
	if g.target == nil || !g.target.IsKit() {
		return nil
	}
	placed := map[graph.PartID][]graph.VariantID{}
	for _, f := range g.Fitments {
		placed[f.Part] = append(placed[f.Part], f.On...)
	}
	jobs, err := g.r.Jobs(ctx)
	if err != nil {
		return err
	}
	g.astray = map[graph.VariantID][]graph.Content{}
	for _, c := range g.target.Contains {
		for _, id := range placed[c.Part] {
			if _, done := g.astray[id]; done || !g.wants(id) {
				continue
			}
			v := g.variant(id)
			g.astray[id] = lists.Kept(slices.Clone(g.target.Contains), func(c graph.Content) bool {
				return !slices.Contains(placed[c.Part], id) && !isNamed(jobs, v, c.Part)
			})
			if slices.Contains(placed[g.target.ID], id) || isNamed(jobs, v, g.target.ID) || g.isSuccessor(v, placed) {
				g.astray[id] = nil
			}
		}
	}
	return nil
}

// isSuccessor reports whether the part asked about may go in the place of one that is
// listed for a variant.
func (g *ground) isSuccessor(v graph.Variant, placed map[graph.PartID][]graph.VariantID) bool {
	return slices.ContainsFunc(g.Chains, func(c evidence.Lineage) bool {
		_, holds := c.HoldsOn(v, g.frame)
		return holds && c.Target == g.target.ID && c.Verdict() != graph.DoesNotFit && slices.Contains(placed[c.Listed], v.ID)
	})
}

// aroundMachine reads what is near the positions asked about: what is listed
// there, what may take its place, the kits that hold it, what was found there.
func (g *ground) aroundMachine(ctx context.Context, q FitsQuestion, a *FitsAnswer) error {
	if a.On == nil {
		return &queries.NotFoundError{What: "part or machine", Asked: ""}
	}
	positions, err := PositionsAsked(ctx, g.r, *a.On, q.Position, q.Assembly)
	if err != nil {
		return err
	}
	ids := make([]graph.PositionID, 0, len(positions))
	for _, p := range positions {
		g.Positions[p.ID] = p
		ids = append(ids, p.ID)
	}
	if len(ids) == 0 {
		return nil
	}
	whole := q.Position == "" && q.Assembly == ""
	if err := g.loadFitmentsAt(ctx, ids, whole); err != nil {
		return err
	}
	if err := g.loadAround(ctx, whole); err != nil {
		return err
	}
	g.Findings, err = g.r.FindingsAt(ctx, ids...)
	return err
}

// loadFitmentsAt reads what is listed at the positions: for the whole machine
// by its variants, which is less to read, else by the positions.
func (g *ground) loadFitmentsAt(ctx context.Context, ids []graph.PositionID, whole bool) (err error) {
	if whole {
		g.Fitments, err = g.r.FitmentsOn(ctx, g.Machines.IDs()...)
	} else {
		g.Fitments, err = g.r.FitmentsAt(ctx, ids...)
	}
	g.Fitments = lists.Kept(g.Fitments, func(f graph.Fitment) bool {
		_, asked := g.Positions[f.Position]
		return asked && slices.ContainsFunc(f.On, g.wants)
	})
	return err
}

// loadAround reads the walks from what is listed and the kits that bear on it:
// those that hold a listed part, and, unless the whole machine was asked about,
// those that are listed or took a listed part's place, with what they contain.
// For a whole machine that would mean to read every part with all of its
// features; the kit itself is in the answer then, and what it holds is not.
func (g *ground) loadAround(ctx context.Context, whole bool) error {
	listed := lists.Unique(lists.Mapped(g.Fitments, func(f graph.Fitment) graph.PartID { return f.Part }))
	if len(listed) == 0 {
		return nil
	}
	holding, err := g.r.KitsWith(ctx, listed...)
	if err != nil {
		return err
	}
	from := listed
	if !whole {
		from = lists.Unique(slices.Concat(listed, holding))
	}
	edges, err := evidence.EdgesAround(ctx, g.r, from)
	if err != nil {
		return err
	}
	w := evidence.NewWalker(edges)
	mayBeKits := slices.Clone(holding)
	if !whole {
		older := g.olderThanKits(w, lists.Kept(holding, func(id graph.PartID) bool { return !slices.Contains(listed, id) }))
		mayBeKits = slices.Concat(mayBeKits, listed, older)
	}
	for _, part := range listed {
		for _, c := range w.FromListed(part) {
			g.Chains = append(g.Chains, c)
			if !whole {
				mayBeKits = append(mayBeKits, c.Target)
			}
		}
	}
	g.notFollowed = w.Cut()
	return g.loadKits(ctx, lists.Unique(mayBeKits))
}

// olderThanKits notes the walks back from kits to the parts that gave way to them, and
// gives those parts.
func (g *ground) olderThanKits(w evidence.Walker, kits []graph.PartID) []graph.PartID {
	var older []graph.PartID
	for _, kit := range kits {
		for _, c := range w.FromListed(kit) {
			if !c.Newer && g.asks(c.Target) {
				g.Chains, older = append(g.Chains, c), append(older, c.Target)
			}
		}
	}
	return lists.Unique(older)
}

// loadKits reads those of the parts that are kits, and the kinds of what they
// contain.
func (g *ground) loadKits(ctx context.Context, candidates []graph.PartID) error {
	if len(candidates) == 0 {
		return nil
	}
	parts, err := g.r.Parts(ctx, candidates...)
	if err != nil {
		return err
	}
	var contents []graph.PartID
	for _, p := range parts {
		g.kinds[p.ID] = p.Kind
		if !p.IsKit() {
			continue
		}
		g.kits[p.ID] = p
		// What a part is matters only where a kit took another part's place.
		if slices.ContainsFunc(g.Chains, func(c evidence.Lineage) bool { return c.Target == p.ID }) {
			contents = append(contents, lists.Mapped(p.Contains, func(c graph.Content) graph.PartID { return c.Part })...)
		}
	}
	contents = lists.Kept(lists.Unique(contents), func(id graph.PartID) bool { _, have := g.kinds[id]; return !have })
	if len(contents) == 0 {
		return nil
	}
	parts, err = g.r.Parts(ctx, contents...)
	for _, p := range parts {
		g.kinds[p.ID] = p.Kind
	}
	return err
}

// aroundPart reads what is near one part: the walks that lead to it, the kits
// that hold it or that it holds, where any of them is listed, what was found
// about it.
func (g *ground) aroundPart(ctx context.Context, q FitsQuestion, a *FitsAnswer) error {
	id, err := queries.PartFor(ctx, g.r, q.Part)
	if err != nil {
		return err
	}
	return g.aroundKnown(ctx, q, a, id)
}

// aroundKnown is aroundPart for a part by its identity.
func (g *ground) aroundKnown(ctx context.Context, q FitsQuestion, a *FitsAnswer, id graph.PartID) error {
	parts, err := g.r.Parts(ctx, id)
	if err != nil {
		return err
	}
	if len(parts) == 0 {
		return &queries.NotFoundError{What: "part", Asked: q.Part}
	}
	g.target = &parts[0]
	g.kinds[id] = g.target.Kind
	a.Part = evidence.LineOfPart(*g.target)
	if err := g.loadKitsOf(ctx, *g.target); err != nil {
		return err
	}
	listed, err := g.loadChainsTo(ctx)
	if err != nil {
		return err
	}
	if g.Fitments, err = g.r.FitmentsOf(ctx, listed...); err != nil {
		return err
	}
	if g.Findings, err = g.r.FindingsOf(ctx, id); err != nil {
		return err
	}
	return g.onlyAsked(ctx, q)
}

// loadKitsOf reads the kits that hold the part; when the part is a kit, it is
// among them.
func (g *ground) loadKitsOf(ctx context.Context, part graph.Part) error {
	if part.IsKit() {
		g.kits[part.ID] = part
	}
	ids, err := g.r.KitsWith(ctx, part.ID)
	if err != nil || len(ids) == 0 {
		return err
	}
	kits, err := g.r.Parts(ctx, ids...)
	for _, k := range kits {
		g.kits[k.ID] = k
	}
	return err
}

// loadChainsTo reads the walks to the part and to the kits that hold it, and
// gives every part whose listing bears on the answer.
func (g *ground) loadChainsTo(ctx context.Context) ([]graph.PartID, error) {
	targets := append(lists.KeysOf(g.kits), g.target.ID)
	edges, err := evidence.EdgesAround(ctx, g.r, targets)
	if err != nil {
		return nil, err
	}
	w := evidence.NewWalker(edges)
	listed := targets
	for _, t := range lists.Unique(targets) {
		for _, c := range w.ToTarget(t) {
			g.Chains = append(g.Chains, c)
			listed = append(listed, c.Listed)
		}
	}
	g.notFollowed = w.Cut()
	for _, c := range g.target.Contains {
		listed = append(listed, c.Part)
	}
	ofKits, err := g.loadNewerKits(ctx)
	return lists.Unique(append(listed, ofKits...)), err
}

// loadNewerKits reads the kits that the part asked about gave way to, and gives what
// they hold.
func (g *ground) loadNewerKits(ctx context.Context) ([]graph.PartID, error) {
	var newer, held []graph.PartID
	for _, c := range g.Chains {
		if _, have := g.kits[c.Listed]; !have && c.Target == g.target.ID && !c.Newer {
			newer = append(newer, c.Listed)
		}
	}
	if len(newer) == 0 {
		return nil, nil
	}
	read, err := g.r.Parts(ctx, lists.Unique(newer)...)
	for _, k := range read {
		if k.IsKit() {
			g.kits[k.ID] = k
			held = append(held, lists.Mapped(k.Contains, func(c graph.Content) graph.PartID { return c.Part })...)
		}
	}
	return held, err
}

// onlyAsked drops what lies outside of the machines, position and assembly
// asked about.
func (g *ground) onlyAsked(ctx context.Context, q FitsQuestion) error {
	if g.Machines == nil {
		return nil
	}
	inside, err := g.insideOf(ctx, q)
	if err != nil {
		return err
	}
	g.Fitments = lists.Kept(g.Fitments, func(f graph.Fitment) bool { return inside(f.Position) })
	g.Findings = lists.Kept(g.Findings, func(f graph.Finding) bool { return f.Position == "" || inside(f.Position) })
	return nil
}

func (g *ground) insideOf(ctx context.Context, q FitsQuestion) (func(graph.PositionID) bool, error) {
	if g.Machines == nil {
		return func(graph.PositionID) bool { return true }, nil
	}
	model := g.Machines.Model
	switch {
	case q.Position != "":
		p, err := queries.PositionFor(ctx, g.r, model, q.Position)
		return func(id graph.PositionID) bool { return id == p.ID }, err
	case q.Assembly != "":
		as, err := queries.AssemblyFor(ctx, g.r, model, q.Assembly)
		return func(id graph.PositionID) bool { return id.Assembly() == as.ID }, err
	}
	return func(id graph.PositionID) bool { return id.Model() == model }, nil
}

// judge is what claims about one part at one position of one variant come to.
func (g *ground) judge(claims []evidence.Claim, v *graph.Variant, safety graph.Safety) *judged {
	at, covered := place{claims[0].Part, claims[0].Position}, g.covered(claims, v)
	for _, known := range g.judged[at] {
		if slices.Equal(known.covered, covered) && slices.EqualFunc(known.claims, claims, sameButVariant) {
			return known
		}
	}
	j := &judged{claims, covered, g.Evidence.Judge(claims, v, safety)}
	// What is added to a list of it must not come into those of others.
	j.Against, j.Schemes, j.Steps, j.Others = slices.Clip(j.Against), slices.Clip(j.Schemes), slices.Clip(j.Steps),
		slices.Clip(j.Others)
	g.judged[at] = append(g.judged[at], j)
	return j
}

// covered tells of each cited source that is limited to some machines whether the
// variant is one of them: nothing else of a variant counts when voices are ranked.
func (g *ground) covered(claims []evidence.Claim, v *graph.Variant) []bool {
	var covered []bool
	for _, c := range claims {
		for _, l := range c.Links {
			for _, cite := range l.Cites {
				if s, ok := g.Evidence.Sources[cite.Source]; ok && !s.Scope.IsZero() {
					covered = append(covered, s.Scope.Covers(*v))
				}
			}
		}
	}
	return covered
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

// PositionsAsked reads the positions of a question that some of its variants
// have.
func PositionsAsked(ctx context.Context, r graph.Reader, m queries.Machines, position,
	assembly string) ([]graph.Position, error) {
	var positions []graph.Position
	switch {
	case position != "":
		p, err := queries.PositionFor(ctx, r, m.Model, position)
		if err != nil {
			return nil, err
		}
		positions = []graph.Position{p}
	case assembly != "":
		as, err := queries.AssemblyFor(ctx, r, m.Model, assembly)
		if err != nil {
			return nil, err
		}
		if positions, err = r.PositionsIn(ctx, as.ID); err != nil {
			return nil, err
		}
	default:
		var err error
		if positions, err = r.PositionsOf(ctx, m.Model); err != nil {
			return nil, err
		}
	}
	return lists.Kept(positions, func(p graph.Position) bool { return slices.ContainsFunc(p.On, m.Has) }), nil
}
