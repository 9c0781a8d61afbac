package queries

import (
	"context"
	"fmt"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
)

// The longest walk along supersessions, and the most walks from one part. No
// maker's list comes near; they keep a broken data set from running for ever.
const (
	maxWalk  = 24
	maxWalks = 500
)

// chain is a walk along supersessions, all in one direction, from a part that
// is listed somewhere to the part that may take its place there.
type chain struct {
	listed, target graph.PartID
	edges          []graph.Supersession // in order from listed to target
	newer          bool                 // the target is newer than the listed part
}

// usable is what an edge says about the direction of the walk.
func (c chain) usable(e graph.Supersession) graph.Usable {
	if c.newer {
		return e.NewOnOld
	}
	return e.OldOnNew
}

// verdict is the worst of the edges: "not stated" is unknown, never yes.
func (c chain) verdict() graph.Verdict {
	verdict := graph.Fits
	for _, e := range c.edges {
		switch {
		case c.usable(e) == graph.No:
			verdict = verdict.Worst(graph.DoesNotFit)
		case c.usable(e) == graph.NotStated:
			verdict = verdict.Worst(graph.Unknown)
		case len(e.Companions) > 0:
			verdict = verdict.Worst(graph.FitsWithChanges)
		}
	}
	return verdict
}

// edgesAround reads every supersession that a walk from the parts can reach, in
// both directions, a generation at a time.
func edgesAround(ctx context.Context, r graph.Reader, parts []graph.PartID) (map[graph.SupersessionID]graph.Supersession, error) {
	edges := map[graph.SupersessionID]graph.Supersession{}
	asked := map[graph.PartID]bool{}
	next := unique(append([]graph.PartID(nil), parts...))
	for range maxWalk {
		if len(next) == 0 {
			break
		}
		found, err := r.SupersessionsOf(ctx, next...)
		if err != nil {
			return nil, err
		}
		for _, id := range next {
			asked[id] = true
		}
		var further []graph.PartID
		for _, e := range found {
			edges[e.ID] = e
			for _, end := range []graph.PartID{e.Old, e.New} {
				if !asked[end] {
					further = append(further, end)
				}
			}
		}
		next = unique(further)
	}
	return edges, nil
}

// walker lists the walks from a part.
type walker struct {
	byOld, byNew map[graph.PartID][]graph.Supersession
}

func newWalker(edges map[graph.SupersessionID]graph.Supersession) walker {
	w := walker{map[graph.PartID][]graph.Supersession{}, map[graph.PartID][]graph.Supersession{}}
	for _, id := range keysOf(edges) {
		e := edges[id]
		w.byOld[e.Old] = append(w.byOld[e.Old], e)
		w.byNew[e.New] = append(w.byNew[e.New], e)
	}
	return w
}

// fromListed lists the walks from a listed part to what may take its place,
// newer and older.
func (w walker) fromListed(part graph.PartID) []chain {
	var chains []chain
	for _, newer := range []bool{true, false} {
		w.walk(part, newer, newer, func(end graph.PartID, edges []graph.Supersession) {
			chains = append(chains, chain{listed: part, target: end, edges: edges, newer: newer})
		})
	}
	return chains
}

// toTarget lists the walks from any listed part to the target.
func (w walker) toTarget(part graph.PartID) []chain {
	var chains []chain
	for _, newer := range []bool{true, false} {
		w.walk(part, !newer, newer, func(end graph.PartID, edges []graph.Supersession) {
			c := chain{listed: end, target: part, newer: newer}
			for i := len(edges) - 1; i >= 0; i-- {
				c.edges = append(c.edges, edges[i])
			}
			chains = append(chains, c)
		})
	}
	return chains
}

// walk visits every walk without a ring from a part: toNewer says which way it
// steps, newer which direction of use must be allowed. A "no" ends a walk and
// stands for its own edge alone: that the middle part does not go there says
// nothing sure about the one behind it.
func (w walker) walk(from graph.PartID, toNewer, newer bool, visit func(graph.PartID, []graph.Supersession)) {
	visits := 0
	var step func(at graph.PartID, path []graph.Supersession)
	step = func(at graph.PartID, path []graph.Supersession) {
		next := w.byNew[at]
		if toNewer {
			next = w.byOld[at]
		}
		for _, e := range next {
			end := e.Old
			if toNewer {
				end = e.New
			}
			refused := chain{newer: newer}.usable(e) == graph.No
			if visits >= maxWalks || len(path) >= maxWalk || end == from || onPath(path, end) || refused && len(path) > 0 {
				continue
			}
			visits++
			longer := append(append([]graph.Supersession(nil), path...), e)
			visit(end, longer)
			if !refused {
				step(end, longer)
			}
		}
	}
	step(from, nil)
}

func onPath(path []graph.Supersession, part graph.PartID) bool {
	for _, e := range path {
		if e.Old == part || e.New == part {
			return true
		}
	}
	return false
}

// holdsOn says whether every edge of the chain holds on a variant, and for
// which of its frame numbers when not for all; frame is the machine's own
// number, empty when not known.
func (c chain) holdsOn(v graph.Variant, frame string) (limit measure.Frames, ok bool) {
	for _, e := range c.edges {
		switch {
		case e.Scope.Covers(v):
			continue
		case !e.Scope.Touches(v):
			return limit, false
		case frame != "":
			if has, err := e.Scope.Frames.Has(frame); err != nil || !has {
				return limit, false
			}
		default:
			if limit, ok = bothFrames(limit, e.Scope.Frames); !ok {
				return limit, false
			}
		}
	}
	return limit, true
}

// bothFrames is the interval that lies in both.
func bothFrames(a, b measure.Frames) (measure.Frames, bool) {
	switch {
	case a.IsZero():
		return b, true
	case b.IsZero():
		return a, true
	case !a.Overlaps(b):
		return a, false
	}
	a.From = max(a.From, b.From)
	if a.To == 0 || b.To != 0 && b.To < a.To {
		a.To = b.To
	}
	return a, true
}

// why says in one phrase what the chain makes of the target.
func (c chain) why() string {
	through := ""
	if n := len(c.edges) - 1; n > 0 {
		middle := make([]string, 0, n)
		for _, e := range c.edges[:n] {
			end := e.New
			if !c.newer {
				end = e.Old
			}
			middle = append(middle, string(end))
		}
		through = " through " + strings.Join(middle, ", ")
	}
	age := "newer"
	if c.newer {
		age = "older"
	}
	switch c.verdict() {
	case graph.DoesNotFit:
		return fmt.Sprintf("must not take the place of the %s %s", age, c.listed)
	case graph.Unknown:
		return fmt.Sprintf("not stated whether it may take the place of the %s %s%s", age, c.listed, through)
	case graph.FitsWithChanges:
		return fmt.Sprintf("takes the place of the %s %s%s, with other parts", age, c.listed, through)
	}
	return fmt.Sprintf("takes the place of the %s %s%s", age, c.listed, through)
}

// changes are the companions that must be changed along the chain.
func (c chain) changes() []Change {
	do := "change with it"
	if !c.newer {
		do = "change back with it"
	}
	var changes []Change
	for _, e := range c.edges {
		for _, with := range e.Companions {
			changes = append(changes, Change{Do: fmt.Sprintf("%s: %d x %s", do, with.Quantity, with.Part),
				Effort: graph.EffortHandTools, Part: with.Part})
		}
	}
	return changes
}

// links are the edges as links of a claim.
func (c chain) links() []link {
	return mapped(c.edges, func(e graph.Supersession) link {
		return link{kind: StepSupersession, text: edgeText(e), wrongIf: wrongSupersession, cites: e.Said}
	})
}

// edgeText is a supersession in words.
func edgeText(e graph.Supersession) string {
	text := fmt.Sprintf("%s gave way to %s: new on old %s, old on new %s", e.Old, e.New, e.NewOnOld, e.OldOnNew)
	if scope := scopeText(e.Scope); scope != "" {
		text += "; holds for " + scope
	}
	if e.Reason != "" {
		text += "; " + e.Reason
	}
	return text
}

// scopeText is a scope in words, empty when it holds everywhere.
func scopeText(s graph.Scope) string {
	var words []string
	if !s.Years.IsZero() {
		words = append(words, s.Years.String())
	}
	if len(s.Markets) > 0 {
		words = append(words, strings.Join(s.Markets, ", "))
	}
	if len(s.Marks) > 0 {
		words = append(words, strings.Join(s.Marks, ", "))
	}
	if !s.Frames.IsZero() {
		words = append(words, "frames "+s.Frames.String())
	}
	return strings.Join(words, " ")
}
