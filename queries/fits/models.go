package fits

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// manyPlaces is at how many places a part may be listed for each to be judged
// and told unasked. Above it are bolts and washers that go anywhere.
const manyPlaces = 500

// ModelRange is what sources say of a part on one model, put together over its
// places: what they say, not yet weighed against what others say of the same
// place. With the model after --on each place is judged.
type ModelRange struct {
	Model graph.ModelID `json:"model"`
	// Places is how many positions are spoken of.
	Places  int           `json:"places"`
	Covers  string        `json:"covers"` // model years and markets, of all the places together
	Verdict graph.Verdict `json:"verdict"`
	Via     evidence.Via  `json:"via"`
	Why     string        `json:"why"`
}

// places is how many positions a question about a part comes to.
func places(g *ground) int {
	if g.target == nil {
		return 0
	}
	at := make([]graph.PositionID, len(g.Fitments))
	for i := range g.Fitments {
		at[i] = g.Fitments[i].Position
	}
	slices.Sort(at)
	return len(slices.Compact(at))
}

// byModel answers by models: from what is listed alone, so that no place has to
// be read.
func byModel(ctx context.Context, g *ground, q FitsQuestion, a *FitsAnswer) error {
	if err := g.checkMarket(); err != nil {
		return err
	}
	a.Rows = []FitsRow{}
	var models []graph.ModelID
	for i := range g.Fitments {
		if m := g.Fitments[i].Position.Model(); len(models) == 0 || models[len(models)-1] != m {
			models = append(models, m)
		}
	}
	var err error
	if g.siblings, err = queries.SiblingsOf(ctx, g.r, models); err != nil {
		return err
	}
	if g.frame != "" {
		read, err := g.r.Variants(ctx, g.siblings.IDs(func(graph.VariantID) bool { return true })...)
		if err != nil {
			return err
		}
		g.variants = lists.ByKey(read, func(v graph.Variant) graph.VariantID { return v.ID })
	}
	a.Models = ranges(g)
	a.Withdrawn = answerer{g}.withdrawn()
	a.Verdicts = countVerdicts(lists.Mapped(a.Models, func(m ModelRange) graph.Verdict { return m.Verdict }))
	a.Cautions = queries.CautionsAbout(queries.FeatureKindsOf(*g.target, graph.Kind{}), graph.SafetyClasses()...)
	if q.Twins {
		a.Twins, err = evidence.TwinsOf(ctx, g.r, *g.target)
	}
	return err
}

// rangeGroup is the claims that make one ModelRange.
type rangeGroup struct {
	ModelRange
	at []graph.PositionID
	on map[graph.VariantID]bool
	// last are the variants that were added last: most places of a model have the same.
	last []graph.VariantID
}

// rangeGroups are ranges in the making, by model and what is said.
type rangeGroups struct {
	by map[rangeKey]*rangeGroup
	// key and last are of the claim before: one model's mostly follow one another.
	key  rangeKey
	last *rangeGroup
}

type rangeKey struct {
	model   graph.ModelID
	verdict graph.Verdict
	via     evidence.Via
	why     string
}

// of is the group of a claim.
func (r *rangeGroups) of(c *evidence.Claim) *rangeGroup {
	key := rangeKey{c.Position.Model(), c.Verdict, c.Via, c.Why}
	have := r.last
	if have == nil || key != r.key {
		have = r.by[key]
	}
	if have == nil {
		have = &rangeGroup{ModelRange: ModelRange{Model: key.model, Verdict: c.Verdict, Via: c.Via, Why: c.Why},
			on: map[graph.VariantID]bool{}}
		r.by[key] = have
	}
	r.key, r.last = key, have
	if n := len(have.at); n == 0 || have.at[n-1] != c.Position {
		have.at = append(have.at, c.Position)
	}
	return have
}

// ranges puts claims together by model and what they say, sorted by model, then
// the best verdict and the most direct way first.
func ranges(g *ground) []ModelRange {
	groups := rangeGroups{by: map[rangeKey]*rangeGroup{}}
	listings := map[graph.PartID][]graph.Fitment{}
	rests := len(g.Chains)+len(g.kits) > 0 // whether anything rests on what is listed of other parts
	for _, f := range g.Fitments {
		if rests {
			listings[f.Part] = append(listings[f.Part], f)
		}
		on := g.wanted(f.On)
		if !g.asks(f.Part) || len(on) == 0 {
			continue
		}
		claim := listedClaim(f)
		group := groups.of(&claim)
		if slices.Equal(on, group.last) {
			continue
		}
		group.last = on
		for _, v := range on {
			group.on[v] = true
		}
	}
	for _, c := range (claimer{g}).furtherClaims(listings) {
		groups.of(&c).on[c.Variant] = true
	}
	var ranges []ModelRange
	for _, group := range groups.by {
		m := group.ModelRange
		slices.Sort(group.at)
		m.Places = len(slices.Compact(group.at))
		m.Covers = strings.Join(lists.Mapped(queries.CoveragesOf(lists.KeysOf(group.on), g.siblings),
			queries.Coverage.String), "; ")
		ranges = append(ranges, m)
	}
	slices.SortFunc(ranges, func(a, b ModelRange) int {
		return cmp.Or(cmp.Compare(a.Model, b.Model), cmp.Compare(a.Verdict, b.Verdict),
			cmp.Compare(a.Via.Order(), b.Via.Order()), cmp.Compare(a.Why, b.Why))
	})
	return ranges
}
