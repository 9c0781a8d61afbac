package fits

import (
	"context"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// finish turns what was read into the answer.
func (g *Ground) finish(ctx context.Context, q FitsQuestion, a *FitsAnswer) error {
	if err := g.LoadPositions(ctx); err != nil {
		return err
	}
	if err := g.loadNeighbours(ctx); err != nil {
		return err
	}
	if err := g.LoadEvidence(ctx); err != nil {
		return err
	}
	if err := g.LoadVariants(ctx); err != nil {
		return err
	}
	if err := g.checkMarket(); err != nil {
		return err
	}
	a.Rows = g.rows(g.Claims())
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
	if err := g.addBelongs(ctx, a); err != nil {
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
	var err error
	a.Twins, err = evidence.TwinsOf(ctx, g.r, *g.target)
	return err
}

// checkMarket refuses a market in which nothing that was read is listed, so that
// a slip of the pen is not taken for silence.
func (g *Ground) checkMarket() error {
	if g.market == "" || g.Machines != nil || len(g.Fitments)+len(g.Findings) == 0 {
		return nil
	}
	var markets []string
	for _, p := range g.Positions {
		markets = append(markets, lists.Mapped(p.On,
			func(v graph.VariantID) string { return queries.VariantOf(v).Market })...)
	}
	markets = lists.Unique(markets)
	if slices.ContainsFunc(markets, func(m string) bool { return strings.EqualFold(m, g.market) }) {
		return nil
	}
	return &queries.NotFoundError{What: "market", Asked: g.market, Where: "of the machines this is about", Near: markets}
}

// loadNeighbours reads what else is listed where the part is, to see whether
// the lists agree.
func (g *Ground) loadNeighbours(ctx context.Context) error {
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
func (g *Ground) emptyRows(rows []FitsRow) []FitsRow {
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
func (g *Ground) unsaid(rows []FitsRow) []queries.Coverage {
	if g.target == nil || g.Machines == nil {
		return nil
	}
	var said []graph.VariantID
	for _, row := range rows {
		said = append(said, row.Coverage.On...)
	}
	silent := lists.Kept(g.Machines.IDs(), func(v graph.VariantID) bool { return !slices.Contains(said, v) })
	return queries.CoveragesOf(silent, nil) // nothing is known of their marks: keep them
}

// addBelongs names the places of the machines nobody speaks of at which a part
// of the kind belongs.
func (g *Ground) addBelongs(ctx context.Context, a *FitsAnswer) error {
	if len(a.Unsaid) == 0 {
		return nil
	}
	ids, err := g.r.PositionsOfKind(ctx, g.target.Kind)
	if err != nil {
		return err
	}
	ids = lists.Kept(ids, func(id graph.PositionID) bool { return id.Model() == g.Machines.Model })
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
func (g *Ground) split(rows []FitsRow) []queries.SplitLine {
	if g.Machines == nil || !slices.ContainsFunc(rows, func(row FitsRow) bool { return len(row.SettledBy) > 0 }) {
		return nil
	}
	return g.Machines.SplitLines()
}

func (g *Ground) withdrawn() []evidence.FindingLine {
	gone := lists.Kept(g.Findings, func(f graph.Finding) bool {
		return f.Withdrawn != "" && g.asks(f.Part) && slices.ContainsFunc(g.onOf(f), g.wants)
	})
	return lists.Mapped(gone, func(f graph.Finding) evidence.FindingLine {
		return evidence.LineOfFinding(f, g.Evidence.FindingVoice(f))
	})
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
