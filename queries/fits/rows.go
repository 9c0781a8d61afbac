package fits

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// Spot is what a judgement is about.
type Spot struct {
	Part     graph.PartID
	Position graph.PositionID
	Variant  graph.VariantID
}

// rowGroup is judgements that say the same about one part at one position.
type rowGroup struct {
	part     graph.PartID
	position graph.PositionID
	frames   measure.Frames
	evidence.Judgement
	on []graph.VariantID
}

// rows judges the claims and groups what comes out the same.
func (g *Ground) rows(claims []evidence.Claim) []FitsRow {
	bySpot := map[Spot][]evidence.Claim{}
	for _, c := range claims {
		key := Spot{c.Part, c.Position, c.Variant}
		bySpot[key] = append(bySpot[key], c)
	}
	groups := map[string]*rowGroup{}
	for _, key := range sortedSpots(bySpot) {
		v := g.Variant(key.Variant)
		for _, limited := range g.byFrames(bySpot[key], &v) {
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
	return rows
}

// answer is equal for groups that come to the same, whatever the reasons.
func (r rowGroup) answer() string {
	return strings.Join([]string{string(r.position), string(r.part), r.Verdict.String()}, "\x00")
}

func sortedSpots(m map[Spot][]evidence.Claim) []Spot {
	spots := make([]Spot, 0, len(m))
	for s := range m {
		spots = append(spots, s)
	}
	slices.SortFunc(spots, func(a, b Spot) int {
		return cmp.Or(cmp.Compare(a.Position, b.Position), cmp.Compare(a.Part, b.Part), cmp.Compare(a.Variant, b.Variant))
	})
	return spots
}

// byFrames judges the claims that hold for the whole variant, then those that
// hold for some of its frame numbers together with the former. A limited claim
// that changes nothing gives no row of its own.
func (g *Ground) byFrames(claims []evidence.Claim, v *graph.Variant) []rowGroup {
	whole := lists.Kept(claims, func(c evidence.Claim) bool { return c.Frames.IsZero() })
	var out []rowGroup
	if len(whole) > 0 {
		out = append(out, rowGroup{Judgement: g.Evidence.Judge(whole, v)})
	}
	limits := map[string]measure.Frames{}
	for _, c := range claims {
		if !c.Frames.IsZero() {
			limits[c.Frames.String()] = c.Frames
		}
	}
	for _, text := range lists.KeysOf(limits) {
		some := lists.Kept(claims, func(c evidence.Claim) bool { return c.Frames.IsZero() || c.Frames == limits[text] })
		j := g.Evidence.Judge(some, v)
		if len(whole) == 0 || j.Verdict != out[0].Verdict {
			out = append(out, rowGroup{Judgement: j, frames: limits[text]})
		}
	}
	return out
}

// signature is equal for judgements that belong in one row.
func (r rowGroup) signature() string {
	parts := []string{string(r.position), string(r.part), r.Verdict.String(), string(r.Via), r.Why,
		r.Rank.String(), r.Source.ID, r.frames.String(), fmt.Sprint(r.Quantity)}
	for _, c := range r.Changes {
		parts = append(parts, c.Do, string(c.Part))
	}
	for _, c := range r.Against {
		parts = append(parts, c.Verdict.String(), c.Why, c.Source.ID)
	}
	return strings.Join(parts, "\x00")
}

func addToGroup(groups map[string]*rowGroup, r rowGroup, v graph.VariantID) {
	signature := r.signature()
	have, ok := groups[signature]
	if !ok {
		have = &r
		groups[signature] = have
	}
	have.on = append(have.on, v)
	if !ok {
		return
	}
	have.Steps = evidence.MergeSteps(have.Steps, r.Steps)
	have.Others = evidence.MergeSources(have.Others, r.Others)
	have.Schemes = lists.Unique(append(have.Schemes, r.Schemes...))
}

// rowsOf cuts a group into rows of years without a gap; alike are all variants
// with the same answer.
func (g *Ground) rowsOf(group *rowGroup, alike []graph.VariantID) []FitsRow {
	position := g.Positions[group.position]
	asked := g.asked(position.Model)
	var rows []FitsRow
	for _, c := range queries.CoveragesOf(group.on, g.siblings) {
		c.Frames = g.framesOf(c, group.frames)
		rows = append(rows, FitsRow{ID: queries.AnswerID{Question: "fits", Part: group.part, Variant: c.On[0],
			Position: group.position}.String(),
			Position: group.position, PositionName: position.Name, Safety: position.Safety, Part: group.part,
			Coverage: c, Covers: c.String(), Verdict: group.Verdict, Via: group.Via, Why: group.Why, Rank: group.Rank,
			Source: group.Source, OtherSources: evidence.Distinct(group.Others), ContradictedBy: group.Against,
			SettledBy: queries.SettledBy(c, append(slices.Clone(alike), c.On...), asked), Changes: group.Changes,
			Quantity: group.Quantity,
			Schemes:  group.Schemes, Steps: group.Steps})
	}
	return rows
}

// framesOf is the frame numbers a coverage is limited to: by the claim, or by
// its mark when all of its variants have the same ones.
func (g *Ground) framesOf(c queries.Coverage, limit measure.Frames) string {
	if !limit.IsZero() {
		return limit.String()
	}
	if c.Mark == "" {
		return ""
	}
	frames := g.Variant(c.On[0]).Frames
	for _, id := range c.On[1:] {
		if g.Variant(id).Frames != frames {
			return ""
		}
	}
	if frames.IsZero() {
		return ""
	}
	return frames.String()
}

// compareRows orders rows about one part by position, then years: as one looks
// for one's own machine.
func compareRows(a, b FitsRow) int {
	return cmp.Or(cmp.Compare(a.Position, b.Position), a.Coverage.Compare(b.Coverage), compareUse(a, b))
}

// compareUse orders rows about a machine by position, then the most usable and
// most direct first.
func compareUse(a, b FitsRow) int {
	return cmp.Or(cmp.Compare(a.Position, b.Position), cmp.Compare(a.Verdict, b.Verdict),
		cmp.Compare(a.Via.Order(), b.Via.Order()), cmp.Compare(a.Part, b.Part), a.Coverage.Compare(b.Coverage),
		cmp.Compare(a.Why, b.Why))
}

func (g *Ground) sortRows(rows []FitsRow) {
	if g.target != nil {
		slices.SortFunc(rows, compareRows)
		return
	}
	slices.SortFunc(rows, compareUse)
}
