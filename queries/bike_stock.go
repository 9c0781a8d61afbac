package queries

import (
	"cmp"
	"context"
	"fmt"

	"matewell/graph"
	"matewell/queries/mating"
)

// stockLine is one line of a box, or one sort of part out of a kit in a box.
type stockLine struct {
	box      string
	item     graph.BoxItem // of the box
	part     graph.PartID  // what it is; for a kit's contents the part inside
	quantity int
	kit      graph.PartID // the kit it is still in; empty for loose parts
	taken    int          // how many of it a position takes
}

// want is what one position still needs.
type want struct {
	position graph.Position
	part     graph.PartID // empty when no source says what belongs there
	quantity int
}

// supply says how a part from a box answers a want.
type supply struct {
	how   string // "the very number", "takes the place of ..."
	cost  float64
	extra []Change // what has to be changed with it
	// usable is false when it must be checked first.
	usable bool
}

// stock lists what is in the boxes. A kit is taken apart unless it is itself
// wanted: what is inside counts, not the box around it.
func (m *ownMachine) stock(wanted map[graph.PartID]bool) []stockLine {
	var lines []stockLine
	for _, box := range m.bike.Boxes {
		for _, item := range box.Items {
			kit := m.setup.library.parts[item.Part]
			if !kit.IsKit() || wanted[item.Part] {
				lines = append(lines, stockLine{box: box.Name, item: item, part: item.Part, quantity: item.Quantity})
				continue
			}
			for _, c := range kit.Contains {
				lines = append(lines, stockLine{box: box.Name, item: item, part: c.Part, quantity: item.Quantity * c.Quantity, kit: kit.ID})
			}
		}
	}
	return lines
}

// readBoxes reads the parts in the boxes and what their kits hold.
func (m *ownMachine) readBoxes(ctx context.Context) error {
	l := m.setup.library
	var ids []graph.PartID
	for _, box := range m.bike.Boxes {
		for _, item := range box.Items {
			ids = append(ids, item.Part)
		}
	}
	if err := l.readParts(ctx, ids); err != nil {
		return err
	}
	var inside []graph.PartID
	for _, id := range ids {
		for _, c := range l.parts[id].Contains {
			inside = append(inside, c.Part)
		}
	}
	return l.readParts(ctx, inside)
}

// successors answers which parts may take the place of another on the machine.
type successors struct {
	walker  walker
	variant graph.Variant
	frame   string
}

func (m *ownMachine) successors(ctx context.Context, parts []graph.PartID) (successors, error) {
	edges, err := edgesAround(ctx, m.r, parts)
	return successors{newWalker(edges), m.setup.Variant, m.bike.Frame}, err
}

// What a supply costs: the very number goes before a successor, and a successor
// as it is before one with companions. What somebody only looked at goes last
// among equals.
const (
	costSuccessor  = 1
	costCompanions = 2
	costByEye      = 0.25
)

// supplies says how a part answers for another; nil when nothing links them.
func (s successors) supply(have, wanted graph.PartID) (supply, bool) {
	if have == wanted {
		return supply{how: "the very number", usable: true}, true
	}
	best, found := supply{}, false
	for _, c := range s.walker.fromListed(wanted) {
		if c.target != have {
			continue
		}
		limit, holds := c.holdsOn(s.variant, s.frame)
		if !holds {
			continue
		}
		next := supply{how: c.why(), cost: costSuccessor, extra: c.changes()}
		switch c.verdict() {
		case graph.Fits:
			next.usable = limit.IsZero()
		case graph.FitsWithChanges:
			next.usable, next.cost = limit.IsZero(), costCompanions
		}
		if !limit.IsZero() {
			next.how += fmt.Sprintf(", on frames %s only", limit)
		}
		if !found || next.usable && (!best.usable || next.cost < best.cost) {
			best, found = next, true
		}
	}
	return best, found
}

// reaches lists the parts that may take the place of the wanted ones, and
// themselves.
func (s successors) reaches(wants []want) map[graph.PartID]bool {
	reached := map[graph.PartID]bool{}
	for _, w := range wants {
		reached[w.part] = true
		for _, c := range s.walker.fromListed(w.part) {
			if _, holds := c.holdsOn(s.variant, s.frame); holds && c.verdict() <= graph.FitsWithChanges {
				reached[c.target] = true
			}
		}
	}
	return reached
}

// given is how many of a stock line go to a want.
type given struct{ want, line, quantity int }

// Costs of the assignment, far enough apart that a piece is never left over to
// save on how well it answers, and a safety position is served first.
const (
	costUnserved       = 1e4
	costUnservedSafety = 1e6
	costNever          = 1e9
)

// share gives the pieces in the boxes to the wants so that as many as possible
// are served, safety positions first, then with the best answers.
func share(wants []want, lines []stockLine, how func(want, stockLine) (supply, bool)) []given {
	rows, columns := pieces(len(wants), func(i int) int { return wants[i].quantity }), pieces(len(lines), func(i int) int { return lines[i].quantity })
	if len(rows) == 0 || len(columns) == 0 {
		return nil
	}
	cost := make([][]float64, len(rows))
	for i, w := range rows {
		cost[i] = make([]float64, len(columns)+len(rows))
		for j, line := range columns {
			cost[i][j] = costNever
			if s, ok := how(wants[w], lines[line]); ok && s.usable {
				cost[i][j] = s.cost
				if unsure(lines[line].item.Sure) {
					cost[i][j] += costByEye
				}
			}
		}
		for j := range rows {
			cost[i][len(columns)+j] = cmp.Or(map[bool]float64{true: costUnservedSafety}[wants[w].position.Safety != ""], costUnserved)
		}
	}
	counts := map[[2]int]int{}
	for i, j := range mating.Assign(cost) {
		if j >= 0 && j < len(columns) && cost[i][j] < costUnserved {
			counts[[2]int{rows[i], columns[j]}]++
		}
	}
	return givens(counts, len(wants), len(lines))
}

func givens(counts map[[2]int]int, wants, lines int) []given {
	var all []given
	for w := range wants {
		for l := range lines {
			if n := counts[[2]int{w, l}]; n > 0 {
				all = append(all, given{w, l, n})
			}
		}
	}
	return all
}

// pieces is the number of each thing, once for every piece of it.
func pieces(n int, quantity func(int) int) []int {
	var all []int
	for i := range n {
		for range quantity(i) {
			all = append(all, i)
		}
	}
	return all
}
