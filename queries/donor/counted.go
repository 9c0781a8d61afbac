package donor

import (
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/plan"
	"matewell/queries/swap"
)

// counted counts those of the plans that a person would see as different, and keeps one of
// them unless all are asked for. The solver counts choices: of two parts that may go left and
// right either way round it has two, and of what is only kept account of, as many as there
// are ways to.
func counted(p *planner, r plan.Result) plan.Result {
	if len(r.Plans) == 0 {
		return r
	}
	seen := map[string]bool{}
	listed, whole := len(r.Plans), true
	r.Plans = lists.Kept(slices.Clone(r.Plans), func(one plan.Plan) bool {
		if !isLookedAt(p, one) {
			whole = false
			return false
		}
		key := lookOf(p, one)
		was := seen[key]
		seen[key] = true
		return !was
	})
	r.EqualAtLeast = r.EqualAtLeast || listed < r.Equal || !whole
	r.Equal = len(r.Plans)
	most := 1
	if p.q.All {
		most = MostPlans
	}
	r.Plans = r.Plans[:min(len(r.Plans), most)]
	return r
}

// isLookedAt reports whether a plan takes nothing that was not looked at.
func isLookedAt(p *planner, one plan.Plan) bool {
	for i, s := range p.slots {
		if s.options[one.Choice[i]].other {
			return false
		}
	}
	return true
}

// lookOf names what a person sees of a plan: what goes to which place and whence, with left
// and right as one, and what is made, got between or done.
func lookOf(p *planner, one plan.Plan) string {
	var seen []string
	for i, s := range p.slots {
		o := s.options[one.Choice[i]]
		seen = append(seen, eitherSide(s.at)+"="+string(o.part)+" "+counter(o.from))
	}
	for k, d := range p.demands {
		if way := d.ways[one.Through[k]]; way != nil && way.name != "" {
			seen = append(seen, "made "+eitherSide(graph.PositionID(d.ID))+" "+strings.Join(lists.Mapped(way.get,
				func(g swap.Get) string { return eitherSide(g.Position) + string(g.Part) + g.Text }), "; ")+way.name)
		}
	}
	slices.Sort(seen)
	return strings.Join(seen, "\n")
}

// eitherSide is the name that a place shares with that on the other side.
func eitherSide(id graph.PositionID) string {
	if twin := machine.OtherSide(id); twin != "" && twin < id {
		return string(twin)
	}
	return string(id)
}
