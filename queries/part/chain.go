package part

import (
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/evidence"
)

// maxLines is how many ways are listed; that there are more is said.
const maxLines = 100

// allWays lists the walks from a part to where no further edge leaves; the
// empty walk when none leaves at all. More says that there are others.
func allWays(from graph.PartID, edges map[graph.PartID][]graph.Supersession,
	end func(graph.Supersession) graph.PartID) (ways [][]graph.Supersession, more bool) {
	var step func(at graph.PartID, path []graph.Supersession)
	step = func(at graph.PartID, path []graph.Supersession) {
		stuck := true
		for _, e := range edges[at] {
			next := end(e)
			if next == from || evidence.OnPath(path, next) {
				continue
			}
			stuck = false
			if len(ways) >= maxLines {
				more = true
				continue
			}
			step(next, append(slices.Clone(path), e))
		}
		if stuck {
			ways = append(ways, path)
		}
	}
	step(from, nil)
	return ways, more
}

// chainLine is "A -> B (both ways) -> C (new on old only; 2003 eu)".
func chainLine(way []graph.Supersession) string {
	var b strings.Builder
	b.WriteString(string(way[0].Old))
	for _, e := range way {
		b.WriteString(" -> " + string(e.New) + " (" + useWords(e))
		if scope := evidence.ScopeText(e.Scope); scope != "" {
			b.WriteString("; " + scope)
		}
		if len(e.Companions) > 0 {
			b.WriteString("; with other parts")
		}
		b.WriteString(")")
	}
	return b.String()
}

// useWords says which directions an edge allows. "Not stated" is said, since it
// never means yes.
func useWords(e graph.Supersession) string {
	switch {
	case e.NewOnOld == graph.Yes && e.OldOnNew == graph.Yes:
		return "both ways"
	case e.NewOnOld == graph.No && e.OldOnNew == graph.No:
		return "neither way"
	case e.NewOnOld == graph.NotStated && e.OldOnNew == graph.NotStated:
		return "use not stated"
	case e.NewOnOld == graph.Yes && e.OldOnNew == graph.No:
		return "new on old only"
	case e.NewOnOld == graph.No && e.OldOnNew == graph.Yes:
		return "old on new only"
	}
	return "new on old " + e.NewOnOld.String() + ", old on new " + e.OldOnNew.String()
}
