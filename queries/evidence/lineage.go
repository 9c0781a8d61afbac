package evidence

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/lists"
)

// maxWays is how many walks along supersessions are followed from one part to
// another. No maker's list comes near; it keeps a thicket of them, which has
// more walks than can be counted, from running for ever. A walk may be of any
// length. What was left out is told: see Walker.Cut.
const maxWays = 20

// Lineage is a walk along supersessions, all in one direction, from a part that
// is listed somewhere to the part that may take its place there.
type Lineage struct {
	Listed, Target graph.PartID
	Edges          []graph.Supersession // in order from listed to target
	Newer          bool                 // the target is newer than the listed part
}

// usable is what an edge says about the direction of the walk.
func (c Lineage) usable(e graph.Supersession) graph.Usable {
	if c.Newer {
		return e.NewOnOld
	}
	return e.OldOnNew
}

// Verdict is the worst of the edges: "not stated" is unknown, never yes.
func (c Lineage) Verdict() graph.Verdict {
	verdict := graph.Fits
	for _, e := range c.Edges {
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

// EdgesAround reads every supersession that a walk from the parts can reach, in
// both directions, a generation at a time.
func EdgesAround(ctx context.Context, r graph.Reader,
	parts []graph.PartID) (map[graph.SupersessionID]graph.Supersession, error) {
	edges := map[graph.SupersessionID]graph.Supersession{}
	asked := map[graph.PartID]bool{}
	next := lists.Unique(append([]graph.PartID(nil), parts...))
	for len(next) > 0 {
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
		next = lists.Unique(further)
	}
	return edges, nil
}

// Walker lists the walks from a part.
type Walker struct {
	ByOld, ByNew map[graph.PartID][]graph.Supersession
	cut          map[string]bool // "A and B": more walks lead from one to the other than were followed
}

// NewWalker walks along the supersessions given.
func NewWalker(edges map[graph.SupersessionID]graph.Supersession) Walker {
	w := Walker{map[graph.PartID][]graph.Supersession{}, map[graph.PartID][]graph.Supersession{}, map[string]bool{}}
	for _, id := range lists.KeysOf(edges) {
		e := edges[id]
		w.ByOld[e.Old] = append(w.ByOld[e.Old], e)
		w.ByNew[e.New] = append(w.ByNew[e.New], e)
	}
	return w
}

// FromListed lists the walks from a listed part to what may take its place,
// newer and older.
func (w Walker) FromListed(part graph.PartID) []Lineage {
	var chains []Lineage
	for _, newer := range []bool{true, false} {
		w.walk(part, newer, newer, func(end graph.PartID, edges []graph.Supersession) {
			chains = append(chains, Lineage{Listed: part, Target: end, Edges: edges, Newer: newer})
		})
	}
	return chains
}

// ToTarget lists the walks from any listed part to the target.
func (w Walker) ToTarget(part graph.PartID) []Lineage {
	var chains []Lineage
	for _, newer := range []bool{true, false} {
		w.walk(part, !newer, newer, func(end graph.PartID, edges []graph.Supersession) {
			c := Lineage{Listed: end, Target: part, Newer: newer}
			for i := len(edges) - 1; i >= 0; i-- {
				c.Edges = append(c.Edges, edges[i])
			}
			chains = append(chains, c)
		})
	}
	return chains
}

// Ways are the walks of one machine: those that hold on its variant, and of several from one part to another
// those that stand, see standing. Each part is walked from once.
type Ways struct {
	Walker
	variant graph.Variant
	frame   string
	walked  map[graph.PartID][]Lineage
}

// On are the walks of a machine. Its frame number may be empty; then a walk that holds for some frames only is
// among them.
func (w Walker) On(v graph.Variant, frame string) Ways {
	return Ways{Walker: w, variant: v, frame: frame, walked: map[graph.PartID][]Lineage{}}
}

// From are the walks from a listed part to what may, or must not, take its place; not to be changed.
func (w Ways) From(listed graph.PartID) []Lineage {
	found, walked := w.walked[listed]
	if !walked {
		found = standingOn(w.FromListed(listed), w.variant, w.frame)
		w.walked[listed] = found
	}
	return found
}

// To are the same from any listed part to one target.
func (w Ways) To(target graph.PartID) []Lineage {
	return standingOn(w.ToTarget(target), w.variant, w.frame)
}

// Limit is for which frame numbers of the machine's variant a walk holds; zero for all, and where the machine's
// own is known.
func (w Ways) Limit(c Lineage) measure.Frames {
	limit, _ := c.HoldsOn(w.variant, w.frame)
	return limit
}

// Allows reports whether a walk lets the one part take the place of the other on the machine, at least with
// other parts.
func (w Ways) Allows(c Lineage) bool {
	return c.Verdict() <= graph.FitsWithChanges && w.Limit(c).IsZero()
}

func standingOn(chains []Lineage, v graph.Variant, frame string) []Lineage {
	type ends struct{ listed, target graph.PartID }
	of := func(c Lineage) ends { return ends{c.Listed, c.Target} }
	held := lists.Kept(chains, func(c Lineage) bool {
		_, holds := c.HoldsOn(v, frame)
		return holds
	})
	between := map[ends][]Lineage{}
	for _, c := range held {
		between[of(c)] = append(between[of(c)], c)
	}
	var ways []Lineage
	for _, c := range held {
		ways = append(ways, standing(between[of(c)])...)
		delete(between, of(c))
	}
	return ways
}

// walk visits every walk without a ring from a part: toNewer says which way it
// steps, newer which direction of use must be allowed. A "no" stands only at the
// end of a walk that is next to the target: that the middle part does not go there
// says nothing sure about the one behind it, but what must not take the place of
// one part must not take that of another which that part may replace.
func (w Walker) walk(from graph.PartID, toNewer, newer bool, visit func(graph.PartID, []graph.Supersession)) {
	ways, toTarget := map[graph.PartID]int{}, toNewer == newer
	var step func(at graph.PartID, path []graph.Supersession)
	step = func(at graph.PartID, path []graph.Supersession) {
		next := w.ByNew[at]
		if toNewer {
			next = w.ByOld[at]
		}
		grown := false // the path goes on in place once, then in copies
		for _, e := range next {
			end := e.Old
			if toNewer {
				end = e.New
			}
			refused := Lineage{Newer: newer}.usable(e) == graph.No
			inside := refused && !toTarget && len(path) > 0 // the target lies where the walk began
			if end == from || OnPath(path, end) || inside {
				continue
			}
			if ways[end]++; ways[end] > maxWays {
				w.cut[string(from)+" and "+string(end)] = true
				continue
			}
			if grown {
				path = slices.Clip(path)
			}
			longer := append(path, e)
			grown = true
			visit(end, longer)
			if !refused || !toTarget {
				step(end, longer)
			}
		}
	}
	step(from, nil)
}

// Cut says between which parts there are more walks than were followed so far,
// sorted; nil when all were.
func (w Walker) Cut() []string {
	var said []string
	for _, pair := range lists.KeysOf(w.cut) {
		said = append(said, fmt.Sprintf("there are more ways along supersessions between %s than the %d looked at", pair,
			maxWays))
	}
	return said
}

// OnPath reports whether a part stands on a walk.
func OnPath(path []graph.Supersession, part graph.PartID) bool {
	for _, e := range path {
		if e.Old == part || e.New == part {
			return true
		}
	}
	return false
}

// HoldsOn says whether every edge of the chain holds on a variant, and for
// which of its frame numbers when not for all; frame is the machine's own
// number, empty when not known.
func (c Lineage) HoldsOn(v graph.Variant, frame string) (limit measure.Frames, ok bool) {
	for _, e := range c.Edges {
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

// Why says in one phrase what the chain makes of the target, and why not where it
// must not be used.
func (c Lineage) Why() string {
	through := ""
	if middle := lists.Mapped(c.middle(), func(id graph.PartID) string { return string(id) }); len(middle) > 0 {
		if n := len(middle); n-2*namedWays > 1 {
			middle = slices.Concat(middle[:namedWays], []string{fmt.Sprintf("%d more", n-2*namedWays)}, middle[n-namedWays:])
		}
		through = " through " + strings.Join(middle, ", ")
	}
	switch c.Verdict() {
	case graph.DoesNotFit:
		return c.refusal()
	case graph.Unknown:
		return fmt.Sprintf("not stated whether it may take the place of the %s %s%s", c.age(), c.Listed, through)
	case graph.FitsWithChanges:
		return fmt.Sprintf("takes the place of the %s %s%s, with other parts", c.age(), c.Listed, through)
	}
	return fmt.Sprintf("takes the place of the %s %s%s", c.age(), c.Listed, through)
}

// refusal says which step of the chain refuses the target, and the reason.
func (c Lineage) refusal() string {
	last, next := c.Edges[len(c.Edges)-1], c.Listed
	middle := c.middle()
	if len(middle) > 0 {
		next = middle[len(middle)-1]
	}
	text := fmt.Sprintf("must not take the place of the %s %s", c.age(), next)
	if next != c.Listed {
		text += fmt.Sprintf(", so not that of %s", c.Listed)
	}
	if last.Reason != "" {
		text += ": " + last.Reason
	}
	return text
}

// age is what the listed part is to the target.
func (c Lineage) age() string {
	if c.Newer {
		return "older"
	}
	return "newer"
}

// middle are the parts between the listed one and the target, in order.
func (c Lineage) middle() []graph.PartID {
	return lists.Mapped(c.Edges[:len(c.Edges)-1], func(e graph.Supersession) graph.PartID {
		if c.Newer {
			return e.New
		}
		return e.Old
	})
}

// standing are the chains that count among several which lead from one listed part
// to one target: a "no" is not undone by a chain that is as long or longer.
func standing(chains []Lineage) []Lineage {
	shortest := 0
	for _, c := range chains {
		if c.Verdict() == graph.DoesNotFit && (shortest == 0 || len(c.Edges) < shortest) {
			shortest = len(c.Edges)
		}
	}
	return lists.Kept(slices.Clone(chains), func(c Lineage) bool {
		return shortest == 0 || c.Verdict() == graph.DoesNotFit || len(c.Edges) < shortest
	})
}

// Retired says of a part that gave way to another why it must not go back: "gave
// way to 203.3003 and must not go back: leak". Empty where no supersession says so.
func Retired(part graph.PartID, edges []graph.Supersession) string {
	var words []string
	for _, e := range edges {
		if e.Old != part || e.OldOnNew != graph.No || e.Reason == "" {
			continue
		}
		words = append(words, fmt.Sprintf("gave way to %s and must not go back in its place: %s", e.New, e.Reason))
	}
	return strings.Join(lists.Unique(words), "; ")
}

// namedWays is how many numbers of a long walk are named at each of its ends.
const namedWays = 4

// Changes are the companions that must be changed along the chain.
func (c Lineage) Changes() []Change {
	do := "change with it"
	if !c.Newer {
		do = "change back with it"
	}
	var changes []Change
	for _, e := range c.Edges {
		for _, with := range e.Companions {
			changes = append(changes, Change{Do: fmt.Sprintf("%s: %d x %s", do, with.Quantity, with.Part),
				Effort: graph.EffortHandTools, Part: with.Part})
		}
	}
	return changes
}

// Links are the edges as links of a claim.
func (c Lineage) Links() []Link {
	return lists.Mapped(c.Edges, func(e graph.Supersession) Link {
		return Link{Kind: StepSupersession, Text: edgeText(e), WrongIf: wrongSupersession, Cites: e.Said}
	})
}

// edgeText is a supersession in words.
func edgeText(e graph.Supersession) string {
	text := fmt.Sprintf("%s gave way to %s: new on old %s, old on new %s", e.Old, e.New, e.NewOnOld, e.OldOnNew)
	if scope := ScopeText(e.Scope); scope != "" {
		text += "; holds for " + scope
	}
	if e.Reason != "" {
		text += "; " + e.Reason
	}
	return text
}

// ScopeText is a scope in words, empty when it holds everywhere.
func ScopeText(s graph.Scope) string {
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
