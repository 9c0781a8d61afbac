package queries

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
)

// spot is what a judgement is about.
type spot struct {
	part     graph.PartID
	position graph.PositionID
	variant  graph.VariantID
}

// rowGroup is judgements that say the same about one part at one position.
type rowGroup struct {
	part     graph.PartID
	position graph.PositionID
	frames   measure.Frames
	judgement
	on []graph.VariantID
}

// rows judges the claims and groups what comes out the same.
func (g *ground) rows(claims []claim) []FitsRow {
	bySpot := map[spot][]claim{}
	for _, c := range claims {
		key := spot{c.part, c.position, c.variant}
		bySpot[key] = append(bySpot[key], c)
	}
	groups := map[string]*rowGroup{}
	for _, key := range sortedSpots(bySpot) {
		v := g.variant(key.variant)
		for _, limited := range g.byFrames(bySpot[key], &v) {
			limited.part, limited.position = key.part, key.position
			limited.against = append(limited.against, g.rivals(key, limited.judgement)...)
			addToGroup(groups, limited, key.variant)
		}
	}
	alike := map[string][]graph.VariantID{}
	for _, group := range groups {
		if group.frames.IsZero() {
			alike[group.answer()] = append(alike[group.answer()], group.on...)
		}
	}
	rows := []FitsRow{}
	for _, signature := range keysOf(groups) {
		rows = append(rows, g.rowsOf(groups[signature], alike[groups[signature].answer()])...)
	}
	return rows
}

// answer is equal for groups that come to the same, whatever the reasons.
func (r rowGroup) answer() string {
	return strings.Join([]string{string(r.position), string(r.part), r.verdict.String()}, "\x00")
}

func sortedSpots(m map[spot][]claim) []spot {
	spots := make([]spot, 0, len(m))
	for s := range m {
		spots = append(spots, s)
	}
	slices.SortFunc(spots, func(a, b spot) int {
		return cmp.Or(cmp.Compare(a.position, b.position), cmp.Compare(a.part, b.part), cmp.Compare(a.variant, b.variant))
	})
	return spots
}

// byFrames judges the claims that hold for the whole variant, then those that
// hold for some of its frame numbers together with the former. A limited claim
// that changes nothing gives no row of its own.
func (g *ground) byFrames(claims []claim, v *graph.Variant) []rowGroup {
	whole := kept(claims, func(c claim) bool { return c.frames.IsZero() })
	var out []rowGroup
	if len(whole) > 0 {
		out = append(out, rowGroup{judgement: g.evidence.judge(whole, v)})
	}
	limits := map[string]measure.Frames{}
	for _, c := range claims {
		if !c.frames.IsZero() {
			limits[c.frames.String()] = c.frames
		}
	}
	for _, text := range keysOf(limits) {
		some := kept(claims, func(c claim) bool { return c.frames.IsZero() || c.frames == limits[text] })
		j := g.evidence.judge(some, v)
		if len(whole) == 0 || j.verdict != out[0].verdict {
			out = append(out, rowGroup{judgement: j, frames: limits[text]})
		}
	}
	return out
}

// signature is equal for judgements that belong in one row.
func (r rowGroup) signature() string {
	parts := []string{string(r.position), string(r.part), r.verdict.String(), string(r.via), r.why,
		r.rank.String(), r.source.ID, r.frames.String(), fmt.Sprint(r.quantity)}
	for _, c := range r.changes {
		parts = append(parts, c.Do, string(c.Part))
	}
	for _, c := range r.against {
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
	have.steps = mergeSteps(have.steps, r.steps)
	have.others = mergeSources(have.others, r.others)
	have.schemes = unique(append(have.schemes, r.schemes...))
}

// rowsOf cuts a group into rows of years without a gap; alike are all variants
// with the same answer.
func (g *ground) rowsOf(group *rowGroup, alike []graph.VariantID) []FitsRow {
	position := g.positions[group.position]
	asked := g.asked(position.Model)
	var rows []FitsRow
	for _, c := range coveragesOf(group.on, g.siblings) {
		c.Frames = g.framesOf(c, group.frames)
		rows = append(rows, FitsRow{ID: AnswerID{Question: "fits", Part: group.part, Variant: c.On[0], Position: group.position}.String(),
			Position: group.position, PositionName: position.Name, Safety: position.Safety, Part: group.part,
			Coverage: c, Covers: c.String(), Verdict: group.verdict, Via: group.via, Why: group.why, Rank: group.rank,
			Source: group.source, OtherSources: distinct(group.others), ContradictedBy: group.against,
			SettledBy: settledBy(c, append(slices.Clone(alike), c.On...), asked), Changes: group.changes, Quantity: group.quantity,
			Schemes: group.schemes, Steps: group.steps})
	}
	return rows
}

// framesOf is the frame numbers a coverage is limited to: by the claim, or by
// its mark when all of its variants have the same ones.
func (g *ground) framesOf(c Coverage, limit measure.Frames) string {
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

// compareRows orders rows about one part by position, then years: as one looks
// for one's own machine.
func compareRows(a, b FitsRow) int {
	return cmp.Or(cmp.Compare(a.Position, b.Position), a.Coverage.compare(b.Coverage), compareUse(a, b))
}

// compareUse orders rows about a machine by position, then the most usable and
// most direct first.
func compareUse(a, b FitsRow) int {
	return cmp.Or(cmp.Compare(a.Position, b.Position), cmp.Compare(a.Verdict, b.Verdict),
		cmp.Compare(a.Via.order(), b.Via.order()), cmp.Compare(a.Part, b.Part), a.Coverage.compare(b.Coverage),
		cmp.Compare(a.Why, b.Why))
}

func (g *ground) sortRows(rows []FitsRow) {
	if g.target != nil {
		slices.SortFunc(rows, compareRows)
		return
	}
	slices.SortFunc(rows, compareUse)
}
