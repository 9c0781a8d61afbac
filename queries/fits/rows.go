package fits

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
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
	on   []graph.VariantID
	from []*judged // what its steps and voices are of
}

func groupOf(j *judged) rowGroup { return rowGroup{Judgement: j.Judgement, from: []*judged{j}} }

// answer is equal for groups that come to the same, whatever the reasons.
func (r rowGroup) answer() string {
	return strings.Join([]string{string(r.position), string(r.part), r.Verdict.String()}, "\x00")
}

// spots is what is said of each part at each place of each machine.
type spots struct {
	keys   []Spot // by position, part and variant
	claims map[Spot][]evidence.Claim
}

func spotsOf(claims []evidence.Claim) spots {
	s := spots{claims: map[Spot][]evidence.Claim{}}
	for _, c := range claims {
		key := Spot{c.Part, c.Position, c.Variant}
		s.claims[key] = append(s.claims[key], c)
	}
	s.keys = make([]Spot, 0, len(s.claims))
	for key := range s.claims {
		s.keys = append(s.keys, key)
	}
	slices.SortFunc(s.keys, func(a, b Spot) int {
		return cmp.Or(cmp.Compare(a.Position, b.Position), cmp.Compare(a.Part, b.Part), cmp.Compare(a.Variant, b.Variant))
	})
	return s
}

// cites is everything that the claims rest on.
func (s spots) cites() []graph.Cite {
	var cites []graph.Cite
	for _, key := range s.keys {
		for _, c := range s.claims[key] {
			for _, l := range c.Links {
				cites = append(cites, l.Cites...)
			}
		}
	}
	return cites
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
		have.from = nil // its steps are not put in order yet
		return
	}
	if slices.Contains(have.from, r.from[0]) {
		return // nothing that is not there already
	}
	have.from = append(have.from, r.from[0])
	have.Steps = evidence.MergeSteps(have.Steps, r.Steps)
	have.Others = evidence.MergeSources(have.Others, r.Others)
	have.Schemes = lists.Unique(append(have.Schemes, r.Schemes...))
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
