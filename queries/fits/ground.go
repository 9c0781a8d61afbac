package fits

import (
	"cmp"
	"context"
	"fmt"
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
	// measuring holds what is said against measures; nil for not at all.
	measuring Measuring

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

// claims lists every reason there is to say something about the parts asked
// about, on the variants asked about.
func (g *ground) claims() []evidence.Claim {
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
	return append(claims, g.furtherClaims(listings)...)
}

// furtherClaims are those that rest on more than a listing of the very part.
func (g *ground) furtherClaims(listings map[graph.PartID][]graph.Fitment) []evidence.Claim {
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

func (g *ground) listedClaims(f graph.Fitment) []evidence.Claim {
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
func (g *ground) spread(base evidence.Claim, on []graph.VariantID) []evidence.Claim {
	var claims []evidence.Claim
	for _, v := range on {
		if g.wants(v) {
			base.Variant = v
			claims = append(claims, base)
		}
	}
	return claims
}

func (g *ground) chainClaims(c evidence.Lineage, f graph.Fitment) []evidence.Claim {
	base := evidence.Claim{Part: c.Target, Position: f.Position, Via: evidence.ViaSupersession, Verdict: c.Verdict(),
		Why:   c.Why(),
		Links: append(c.Links(), listingLink(f)), Quantity: f.Quantity, Scheme: f.Scheme, Hops: len(c.Edges)}
	if base.Verdict == graph.FitsWithChanges {
		base.Changes = c.Changes()
	}
	return g.spreadChain(c, base, f.On)
}

func (g *ground) spreadChain(c evidence.Lineage, base evidence.Claim, on []graph.VariantID) []evidence.Claim {
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

func (g *ground) findingClaims(f *graph.Finding) []evidence.Claim {
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

// finish turns what was read into the answer.
func (g *ground) finish(ctx context.Context, q FitsQuestion, a *FitsAnswer) error {
	if err := g.loadPositions(ctx); err != nil {
		return err
	}
	if err := g.loadNeighbours(ctx); err != nil {
		return err
	}
	if err := g.loadEvidence(ctx); err != nil {
		return err
	}
	if err := g.loadVariants(ctx); err != nil {
		return err
	}
	if err := g.checkMarket(); err != nil {
		return err
	}
	g.asked = queries.UniverseOf(g.siblings.IDs(g.wants))
	if err := g.findAstray(ctx); err != nil {
		return err
	}
	claims, err := g.held(ctx, q, g.claims())
	if err != nil {
		return err
	}
	if a.Rows, err = g.rows(ctx, claims); err != nil {
		return err
	}
	a.Rows = append(a.Rows, g.emptyRows(a.Rows)...)
	if g.target == nil {
		a.Rows = g.foldKits(a.Rows)
	}
	g.sortRows(a.Rows)
	if err := g.settle(ctx, a.Rows); err != nil {
		return err
	}
	a.Split = g.split(a.Rows)
	a.Unsaid = g.unsaid(a.Rows)
	if err := g.addBelongs(ctx, q, a); err != nil {
		return err
	}
	a.Withdrawn = g.withdrawn()
	var touches []string
	if g.target != nil {
		touches = queries.FeatureKindsOf(*g.target, graph.Kind{})
	}
	a.Cautions = queries.CautionsAbout(touches, append(lists.Mapped(a.Rows,
		func(row FitsRow) graph.Safety { return row.Safety }),
		lists.Mapped(a.Belongs, func(p Place) graph.Safety { return p.Safety })...)...)
	a.Verdicts = countVerdicts(lists.Mapped(a.Rows, func(row FitsRow) graph.Verdict { return row.Verdict }))
	if !q.Twins || g.target == nil {
		return nil
	}
	a.Twins, err = evidence.TwinsOf(ctx, g.r, *g.target)
	return err
}

// held holds the claims against measures, place by place, where the question is
// about so few places that each is judged; else it notes that none was. A kit has no
// measures of its own.
func (g *ground) held(ctx context.Context, q FitsQuestion, claims []evidence.Claim) ([]evidence.Claim, error) {
	if g.measuring == nil || q.Part == "" && q.Position == "" {
		return claims, nil
	}
	bySpot := map[Spot][]evidence.Claim{}
	for _, c := range claims {
		key := Spot{c.Part, c.Position, c.Variant}
		bySpot[key] = append(bySpot[key], c)
	}
	// What fits with changes only may well not fit as it is. What somebody found not to fit
	// where safety hangs on it may be disputed by its measures.
	toHold := lists.Kept(sortedSpots(bySpot), func(at Spot) bool {
		_, isKit := g.kits[at.Part]
		v := g.variant(at.Variant)
		safety := g.Positions[at.Position].Safety
		j := g.judge(bySpot[at], &v, safety)
		return !isKit && (j.Verdict == graph.Fits ||
			j.Verdict == graph.DoesNotFit && j.Via == evidence.ViaFinding && safety != graph.SafetyNone)
	})
	if len(toHold) > mostMeasured {
		g.leaveUnheld(toHold)
		return claims, nil
	}
	for _, spot := range toHold {
		err := ctx.Err()
		if err != nil {
			return nil, err
		}
		if bySpot[spot], err = g.measuring(ctx, spot, bySpot[spot]); err != nil {
			return nil, err
		}
	}
	var all []evidence.Claim
	for _, spot := range sortedSpots(bySpot) {
		all = append(all, bySpot[spot]...)
	}
	clear(g.judged) // more is known now of who says what
	return all, g.Evidence.Load(ctx, g.r, citesOf(all))
}

// leaveUnheld notes that what is listed at so many places stands unmeasured.
func (g *ground) leaveUnheld(spots []Spot) {
	for _, at := range spots {
		if g.Positions[at.Position].Safety != graph.SafetyNone {
			g.notHeld++
		}
	}
	g.notFollowed = append(g.notFollowed, fmt.Sprintf("what is listed at %d places of machines was not held against "+
		"measures, as is done for up to %d; ask with --on MACHINE", len(spots), mostMeasured))
}

// citesOf is everything that claims rest on.
func citesOf(claims []evidence.Claim) []graph.Cite {
	var cites []graph.Cite
	for _, c := range claims {
		for _, l := range c.Links {
			cites = append(cites, l.Cites...)
		}
	}
	return cites
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

// emptyRows says of every position asked about that nobody says anything: for
// a machine only.
func (g *ground) emptyRows(rows []FitsRow) []FitsRow {
	if g.target != nil {
		return nil
	}
	said := map[graph.PositionID][]graph.VariantID{}
	for _, row := range rows {
		said[row.Position] = append(said[row.Position], row.Coverage.On...)
	}
	var empty []FitsRow
	for _, id := range lists.KeysOf(g.Positions) {
		silent := lists.Kept(g.having(id), func(v graph.VariantID) bool { return !slices.Contains(said[id], v) })
		if len(silent) > 0 {
			group := &rowGroup{position: id, on: silent, Judgement: evidence.Judgement{Verdict: graph.Unknown,
				Via: evidence.ViaNothing, Why: "no source says what sits here", Quantity: g.Positions[id].Quantity}}
			empty = append(empty, g.rowsOf(group, silent)...)
		}
	}
	return empty
}

// unsaid is the machines asked about for which there is no row about the part.
func (g *ground) unsaid(rows []FitsRow) []queries.Coverage {
	if g.target == nil || g.Machines == nil {
		return nil
	}
	var said []graph.VariantID
	for _, row := range rows {
		said = append(said, row.Coverage.On...)
	}
	silent := lists.Kept(g.Machines.IDs(), func(v graph.VariantID) bool { return !slices.Contains(said, v) })
	return queries.CoveragesOf(silent, queries.Universe{}) // nothing is known of their marks: keep them
}

// addBelongs names the places of the machines nobody speaks of at which a part
// of the kind belongs: those asked about, where it belongs at one of them.
func (g *ground) addBelongs(ctx context.Context, q FitsQuestion, a *FitsAnswer) error {
	if len(a.Unsaid) == 0 {
		return nil
	}
	ids, err := g.r.PositionsOfKind(ctx, g.target.Kind)
	if err != nil {
		return err
	}
	ids = lists.Kept(ids, func(id graph.PositionID) bool { return id.Model() == g.Machines.Model })
	inside, err := g.insideOf(ctx, q)
	if err != nil {
		return err
	}
	if there := lists.Kept(slices.Clone(ids), inside); len(there) > 0 {
		ids = there
	}
	positions, err := g.r.Positions(ctx, ids...)
	for _, p := range positions {
		silent := slices.ContainsFunc(a.Unsaid, func(c queries.Coverage) bool {
			return slices.ContainsFunc(c.On, func(v graph.VariantID) bool { return slices.Contains(p.On, v) })
		})
		if silent {
			a.Belongs = append(a.Belongs, Place{Position: p.ID, Name: p.Name, Safety: p.Safety})
		}
	}
	return err
}

// split lists the variants asked about when a row tells them apart.
func (g *ground) split(rows []FitsRow) []queries.SplitLine {
	if g.Machines == nil || !slices.ContainsFunc(rows, func(row FitsRow) bool { return len(row.SettledBy) > 0 }) {
		return nil
	}
	return g.Machines.SplitLines()
}

func (g *ground) withdrawn() []evidence.FindingLine {
	gone := lists.Kept(g.Findings, func(f graph.Finding) bool {
		return f.Withdrawn != "" && g.asks(f.Part) && slices.ContainsFunc(g.onOf(f), g.wants)
	})
	return lists.Mapped(gone, func(f graph.Finding) evidence.FindingLine {
		return evidence.LineOfFinding(f, g.Evidence.FindingVoice(f))
	})
}

// kitClaims makes the claims that come from what a kit holds: the kit provides
// for every place where one of its parts is listed; its parts belong where the
// kit itself is listed; a part of it takes the place of an older part that
// the kit took the place of; and the older part may not go back in its place.
func (g *ground) kitClaims(kit graph.Part, listings map[graph.PartID][]graph.Fitment) []evidence.Claim {
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
func (g *ground) providesClaims(kit graph.Part, content graph.Content, f graph.Fitment) []evidence.Claim {
	why := fmt.Sprintf("holds %d x %s, listed here", content.Quantity, content.Part)
	if content.Quantity < f.Quantity {
		why = fmt.Sprintf("holds %d of the %d x %s listed here", content.Quantity, f.Quantity, content.Part)
	}
	return g.spread(evidence.Claim{Part: kit.ID, Position: f.Position, Via: evidence.ViaKit, Verdict: graph.Fits, Why: why,
		Links: []evidence.Link{contentLink(kit, content), listingLink(f)}, Quantity: f.Quantity, Scheme: f.Scheme}, f.On)
}

// withAstray makes of a judgement that rests on what a kit holds an unknown one, where
// nobody lists for the machine what else is in it.
func (g *ground) withAstray(r rowGroup, s Spot) rowGroup {
	astray := g.astray[s.Variant]
	if len(astray) == 0 || g.target == nil || s.Part != g.target.ID || r.Via != evidence.ViaKit ||
		r.Verdict > graph.FitsWithChanges {
		return r
	}
	r.Verdict = graph.Unknown
	r.Why += "; but nobody lists for this machine what else is in it: " + strings.Join(lists.Mapped(astray,
		func(c graph.Content) string { return fmt.Sprintf("%d x %s", c.Quantity, c.Part) }), ", ")
	return r
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

// contentClaims says that a part belongs where its kit is listed. One part out
// of a matched kit does not go in alone.
func (g *ground) contentClaims(kit graph.Part, content graph.Content, f graph.Fitment) []evidence.Claim {
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
func (g *ground) successorClaims(kit graph.Part, content graph.Content, c evidence.Lineage,
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
func (g *ground) retiredClaims(kit graph.Part, listings map[graph.PartID][]graph.Fitment) []evidence.Claim {
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

// foldKits takes the rows that say no more than that a kit holds a listed part,
// and names the kit in the row of the part instead: a washer is in a dozen kits,
// and they must not bury what is listed.
func (g *ground) foldKits(rows []FitsRow) []FitsRow {
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
	inside, err := g.insideOf(ctx, q)
	if err != nil {
		return err
	}
	g.Fitments = lists.Kept(g.Fitments, func(f graph.Fitment) bool { return inside(f.Position) })
	g.Findings = lists.Kept(g.Findings, func(f graph.Finding) bool { return f.Position == "" || inside(f.Position) })
	return nil
}

func (g *ground) insideOf(ctx context.Context, q FitsQuestion) (func(graph.PositionID) bool, error) {
	all := func(graph.PositionID) bool { return true }
	if g.Machines == nil {
		return all, nil
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

// rivals are sources that list another part where one is listed, when no
// supersession, kit, revision, colour or colour scheme explains it: then one of
// the lists may be wrong.
func (g *ground) rivals(s Spot, j evidence.Judgement) []evidence.Contradiction {
	if j.Via != evidence.ViaListed {
		return nil
	}
	var found []evidence.Contradiction
	v := g.variant(s.Variant)
	for _, f := range g.atPosition[s.Position] {
		if f.Part == s.Part || !slices.Contains(f.On, s.Variant) || g.explained(s.Part, f, j) {
			continue
		}
		w := g.Evidence.Weigh(evidence.Claim{Links: []evidence.Link{listingLink(f)}}, &v)
		if !w.Voice.IsApart(j.Source) {
			continue // one list that names two parts means a choice
		}
		found = append(found, evidence.Contradiction{Why: fmt.Sprintf("lists %s here", f.Part), Lists: f.Part,
			Via: evidence.ViaListed, Source: w.Voice, Steps: w.Steps})
	}
	return found
}

func (g *ground) explained(part graph.PartID, f graph.Fitment, j evidence.Judgement) bool {
	if f.Scheme != "" && len(j.Schemes) > 0 && !slices.Contains(j.Schemes, f.Scheme) {
		return true
	}
	if g.sameCore(part, f.Part) {
		return true
	}
	linked := func(a, b graph.PartID) bool { return a == part && b == f.Part || a == f.Part && b == part }
	if slices.ContainsFunc(g.Chains, func(c evidence.Lineage) bool { return linked(c.Listed, c.Target) }) {
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

// rows judges the claims and groups what comes out the same. The only error is that
// the question is asked no more.
func (g *ground) rows(ctx context.Context, claims []evidence.Claim) ([]FitsRow, error) {
	bySpot := map[Spot][]evidence.Claim{}
	for _, c := range claims {
		key := Spot{c.Part, c.Position, c.Variant}
		bySpot[key] = append(bySpot[key], c)
	}
	groups := map[string]*rowGroup{}
	for _, key := range sortedSpots(bySpot) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		v := g.variant(key.Variant)
		for _, limited := range g.byFrames(bySpot[key], &v, g.Positions[key.Position].Safety) {
			limited = g.withAstray(limited, key)
			limited.part, limited.position = key.Part, key.Position
			limited.Against = append(limited.Against, g.rivals(key, limited.Judgement)...)
			addToGroup(groups, limited, key.Variant)
		}
	}
	alike := map[string][]graph.VariantID{}
	for _, group := range groups {
		if group.frames.IsZero() {
			alike[group.answer()] = append(alike[group.answer()], group.on...)
		}
	}
	rows := []FitsRow{}
	for _, signature := range lists.KeysOf(groups) {
		rows = append(rows, g.rowsOf(groups[signature], alike[groups[signature].answer()])...)
	}
	return rows, nil
}

// byFrames judges the claims that hold for the whole variant, then those that
// hold for some of its frame numbers together with the former. A limited claim
// that changes nothing gives no row of its own.
func (g *ground) byFrames(claims []evidence.Claim, v *graph.Variant, safety graph.Safety) []rowGroup {
	whole := lists.Kept(claims, func(c evidence.Claim) bool { return c.Frames.IsZero() })
	var out []rowGroup
	if len(whole) > 0 {
		out = append(out, groupOf(g.judge(whole, v, safety)))
	}
	limits := map[string]measure.Frames{}
	for _, c := range claims {
		if !c.Frames.IsZero() {
			limits[c.Frames.String()] = c.Frames
		}
	}
	for _, text := range lists.KeysOf(limits) {
		some := lists.Kept(claims, func(c evidence.Claim) bool { return c.Frames.IsZero() || c.Frames == limits[text] })
		j := groupOf(g.judge(some, v, safety))
		if len(whole) == 0 || j.Verdict != out[0].Verdict {
			j.frames = limits[text]
			out = append(out, j)
		}
	}
	return out
}

// rowsOf cuts a group into rows of years without a gap; alike are all variants
// with the same answer.
func (g *ground) rowsOf(group *rowGroup, alike []graph.VariantID) []FitsRow {
	position := g.Positions[group.position]
	var rows []FitsRow
	for _, c := range queries.CoveragesOf(group.on, g.siblings) {
		c.Frames = g.framesOf(c, group.frames)
		rows = append(rows, FitsRow{ID: queries.AnswerID{Question: "fits", Part: group.part, Variant: c.On[0],
			Position: group.position}.String(),
			Position: group.position, PositionName: position.Name, Safety: position.Safety, Part: group.part,
			Coverage: c, Covers: c.String(), Verdict: group.Verdict, Via: group.Via, Why: group.Why, Rank: group.Rank,
			Source: group.Source, OtherSources: evidence.Distinct(group.Others), ContradictedBy: group.Against,
			SettledBy: queries.SettledBy(c, append(slices.Clone(alike), c.On...), g.asked), Changes: group.Changes,
			Quantity: group.Quantity,
			Schemes:  group.Schemes, Steps: group.Steps})
	}
	return rows
}

// framesOf is the frame numbers a coverage is limited to: by the claim, or by
// its mark when all of its variants have the same ones.
func (g *ground) framesOf(c queries.Coverage, limit measure.Frames) string {
	if !limit.IsZero() {
		return limit.String()
	}
	if c.Mark == "" {
		return ""
	}
	frames := g.variant(c.On[0]).Frames
	for _, id := range c.On[1:] {
		if g.variant(id).Frames != frames {
			return ""
		}
	}
	if frames.IsZero() {
		return ""
	}
	return frames.String()
}

func (g *ground) sortRows(rows []FitsRow) {
	if g.target != nil {
		slices.SortFunc(rows, compareRows)
		return
	}
	slices.SortFunc(rows, compareUse)
}

// settle names, for each contradicted row, the one measurement or look that
// would settle it; see settleRow.
func (g *ground) settle(ctx context.Context, rows []FitsRow) error {
	var ids []graph.PartID
	for _, row := range rows {
		if len(row.ContradictedBy) > 0 {
			ids = append(ids, row.Part)
		}
	}
	if len(ids) == 0 {
		return nil
	}
	read, err := g.r.Parts(ctx, lists.Unique(ids)...)
	if err != nil {
		return err
	}
	parts := lists.ByKey(read, func(p graph.Part) graph.PartID { return p.ID })
	for i := range rows {
		if len(rows[i].ContradictedBy) > 0 {
			part := parts[rows[i].Part]
			part.Features = evidence.Overlaid(part, graph.Kind{}, g.Findings)
			rows[i].Settle = g.settleRow(rows[i], part)
		}
	}
	return nil
}

// settleRow names what decides this very dispute: the number on the part where two
// lists differ; what one side measured, first where others give it differently; else
// nothing but to offer the part up.
func (g *ground) settleRow(row FitsRow, part graph.Part) string {
	var measured []graph.Measured
	for _, against := range row.ContradictedBy {
		if against.Verdict == graph.NoVerdict { // a list that names another part
			return fmt.Sprintf("read the number on the part at %s of an untouched machine", row.Position.Local())
		}
		if against.Via == evidence.ViaComputed {
			return measureAgain(against.Steps)
		}
		measured = append(measured, g.Evidence.Findings[graph.FindingID(against.Source.ID)].Measured...)
	}
	measured = append(measured, g.Evidence.Findings[graph.FindingID(row.Source.ID)].Measured...)
	if row.Via == evidence.ViaComputed {
		return measureAgain(row.Steps)
	}
	if len(measured) == 0 {
		return fmt.Sprintf("offer %s up at %s and photograph it", row.Part, row.Position.Local())
	}
	at := max(0, slices.IndexFunc(measured, func(m graph.Measured) bool { return isGivenOtherwise(part, m) }))
	return evidence.MeasureText(part, measured[at].Feature, measured[at].Dim)
}

func countVerdicts(verdicts []graph.Verdict) []VerdictCount {
	counts := []VerdictCount{}
	for _, verdict := range []graph.Verdict{graph.Fits, graph.FitsWithChanges, graph.Unknown, graph.DoesNotFit} {
		n := 0
		for _, v := range verdicts {
			if v == verdict {
				n++
			}
		}
		if n > 0 {
			counts = append(counts, VerdictCount{Verdict: verdict, Rows: n})
		}
	}
	return counts
}

func listingLink(f graph.Fitment) evidence.Link {
	text := fmt.Sprintf("%s is listed at %s", f.Part, f.Position.Local())
	if f.Scheme != "" {
		text += " in scheme " + f.Scheme
	}
	return evidence.Link{Kind: evidence.StepFact, Text: text, WrongIf: evidence.WrongFact, Cites: f.Said}
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
