package bike

import (
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// stockLine is one line of a box, and how many of it something on the machine takes.
type stockLine struct {
	machine.InBox
	taken int
}

// mayGo reports whether a piece may go to a place: what is scrap goes nowhere,
// and what is doubtful not where safety hangs on it.
func (l stockLine) mayGo(p graph.Position) bool {
	return l.State.Is == graph.Sound || l.State.Is == graph.Doubtful && p.Safety == ""
}

// want is what one position still needs.
type want struct {
	position graph.Position
	part     graph.PartID // empty when no source says what belongs there
	quantity int
	scrap    string // why what is there must not be used; empty when nothing is there
}

// supply says how a part from a box answers a want.
type supply struct {
	how   string // "the very number", "takes the place of ..."
	cost  float64
	extra []evidence.Change      // what has to be changed with it
	with  []evidence.ContentLine // the same as parts to get
	// usable is false when it must be checked first.
	usable bool
	// refused is true when a supersession says that it must not go there.
	refused bool
}

// successors answers which parts may take the place of another on the machine.
type successors struct{ evidence.Ways }

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
		how := "the very number"
		if why := evidence.Retired(have, s.ByOld[have]); why != "" {
			how += ", which " + why
		}
		return supply{how: how, usable: true}, true
	}
	best, found := supply{}, false
	for _, c := range s.chains(have, wanted) {
		limit := s.Limit(c)
		next := supply{how: c.Why(), cost: costSuccessor, extra: c.Changes(), refused: c.Verdict() == graph.DoesNotFit}
		for _, e := range c.Edges {
			next.with = append(next.with, lists.Mapped(e.Companions, contentLine)...)
		}
		switch c.Verdict() {
		case graph.Fits:
			next.usable = limit.IsZero()
		case graph.FitsWithChanges:
			next.usable, next.cost = limit.IsZero(), costCompanions
		}
		if !limit.IsZero() {
			next.how += fmt.Sprintf(", on frames %s only", limit)
		}
		if !found || next.refused && !best.usable || next.usable && (!best.usable || next.cost < best.cost) {
			best, found = next, true
		}
	}
	return best, found
}

// chains are the walks by which a part may, or must not, take the place of another
// on the machine.
func (s successors) chains(have, wanted graph.PartID) []evidence.Lineage {
	return lists.Kept(slices.Clone(s.From(wanted)), func(c evidence.Lineage) bool { return c.Target == have })
}

func contentLine(c graph.Content) evidence.ContentLine {
	return evidence.ContentLine{Part: c.Part, Quantity: c.Quantity}
}

// lineage says that a part is an earlier or a later number of another, where no
// chain of supersessions that holds on the machine lets it take its place; empty
// when they are not of one line.
func (s successors) lineage(have, of graph.PartID) string {
	for _, newer := range []bool{true, false} {
		seen := map[graph.PartID]bool{of: true}
		for next := []graph.PartID{of}; len(next) > 0; next = next[1:] {
			edges := s.ByNew[next[0]]
			if newer {
				edges = s.ByOld[next[0]]
			}
			for _, e := range edges {
				end := e.Old
				if newer {
					end = e.New
				}
				if end == have {
					return map[bool]string{true: "a later", false: "an earlier"}[newer] +
						" number of the listed one, but no supersession lets it take its place here"
				}
				if !seen[end] {
					seen[end], next = true, append(next, end)
				}
			}
		}
	}
	return ""
}

// reaches lists the parts that may take the place of the wanted ones, and
// themselves.
func (s successors) reaches(wants []want) map[graph.PartID]bool {
	reached := map[graph.PartID]bool{}
	for _, w := range wants {
		reached[w.part] = true
		for _, c := range s.From(w.part) {
			if one, ok := s.supply(c.Target, w.part); ok && !one.refused && c.Verdict() <= graph.FitsWithChanges {
				reached[c.Target] = true
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
	counts := allot(pieces(len(wants), func(i int) int { return wants[i].quantity }),
		pieces(len(lines), func(i int) int { return lines[i].Quantity }),
		func(w, l int) (float64, bool) {
			if !lines[l].mayGo(wants[w].position) {
				return 0, false
			}
			s, ok := how(wants[w], lines[l])
			if !graph.IsSure(lines[l].Item.Sure) {
				s.cost += costByEye
			}
			return s.cost, ok && s.usable
		},
		func(w int) float64 {
			if wants[w].position.Safety != "" {
				return costUnservedSafety
			}
			return costUnserved
		})
	var all []given
	for w := range wants {
		for l := range lines {
			if n := counts[pairing{w, l}]; n > 0 {
				all = append(all, given{w, l, n})
			}
		}
	}
	return all
}

// pairing is a row and a column that belong together.
type pairing struct{ row, column int }

// allot pairs rows with columns so that the total cost is least, where a row
// without a column costs what unserved says, and counts the pairs. Rows and
// columns may stand for the same thing several times; cost says what a pair
// costs and whether it may be at all, and is asked once for each pair of things.
// What no pair links is paired apart, since that costs far less.
func allot(rows, columns []int, cost func(row, column int) (float64, bool),
	unserved func(row int) float64) map[pairing]int {
	counts, costs := map[pairing]int{}, map[pairing]float64{}
	island := map[int]int{} // of each column, the island it belongs to
	for _, column := range columns {
		island[column] = column
	}
	root := func(column int) int {
		for island[column] != column {
			column = island[column]
		}
		return column
	}
	at := map[int]int{} // a column of each row that has one
	for _, row := range lists.Unique(slices.Clone(rows)) {
		for _, column := range lists.Unique(slices.Clone(columns)) {
			c, may := cost(row, column)
			if !may {
				continue
			}
			costs[pairing{row, column}] = c
			if first, has := at[row]; has {
				island[root(column)] = root(first)
			} else {
				at[row] = column
			}
		}
	}
	rowsOf, columnsOf := map[int][]int{}, map[int][]int{}
	for _, row := range rows {
		if first, has := at[row]; has {
			rowsOf[root(first)] = append(rowsOf[root(first)], row)
		}
	}
	for _, column := range columns {
		columnsOf[root(column)] = append(columnsOf[root(column)], column)
	}
	for _, i := range lists.KeysOf(rowsOf) {
		assign(rowsOf[i], columnsOf[i], costs, unserved, counts)
	}
	return counts
}

// assign pairs the rows and columns of one island, and adds to the counts.
func assign(rows, columns []int, may map[pairing]float64, unserved func(row int) float64, counts map[pairing]int) {
	costs := make([][]float64, len(rows))
	for i, row := range rows {
		costs[i] = make([]float64, len(columns)+len(rows))
		for j, column := range columns {
			c, ok := may[pairing{row, column}]
			if costs[i][j] = costNever; ok {
				costs[i][j] = c
			}
		}
		for j := range rows {
			costs[i][len(columns)+j] = unserved(row)
		}
	}
	for i, j := range mating.Assign(costs) {
		if j < 0 || j >= len(columns) {
			continue
		}
		if _, ok := may[pairing{rows[i], columns[j]}]; ok {
			counts[pairing{rows[i], columns[j]}]++
		}
	}
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
