package loader

import "slices"

// cycles finds the ways in a directed graph that lead back to their start. Each
// set of nodes that all reach each other gives one: the shortest through its
// least node, which stands first. Nodes that lead to themselves are passed
// over; the caller has already reported those. The result is sorted.
func cycles[K ~string](nodes []K, next func(K) []K) [][]K {
	var found [][]K
	for _, group := range knots(nodes, next) {
		if len(group) > 1 {
			found = append(found, shortestCycle(group, next))
		}
	}
	slices.SortFunc(found, func(a, b []K) int { return slices.Compare(a, b) })
	return found
}

// knots gives the strongly connected components (Tarjan, "Depth-first search
// and linear graph algorithms", SIAM J. Comput. 1 (1972) 146-160), without
// recursion, so that a chain of any length is no trouble.
func knots[K ~string](nodes []K, next func(K) []K) [][]K {
	s := knotSearch[K]{next: next, index: map[K]int{}, low: map[K]int{}, onStack: map[K]bool{}}
	for _, start := range nodes {
		if s.index[start] == 0 {
			s.walk(start)
		}
	}
	return s.groups
}

// knotSearch is the state of the search: the number of each node in the order
// of visits, the least number it leads back to, and the nodes of groups that
// are not complete.
type knotSearch[K ~string] struct {
	next       func(K) []K
	index, low map[K]int
	stack      []K
	onStack    map[K]bool
	groups     [][]K
	way        []step[K]
}

// step is a node on the way from the start, with where it still leads.
type step[K ~string] struct {
	node  K
	after []K
}

func (s *knotSearch[K]) walk(start K) {
	s.enter(start)
	for len(s.way) > 0 {
		top := &s.way[len(s.way)-1]
		if len(top.after) == 0 {
			s.leave()
			continue
		}
		to := top.after[0]
		top.after = top.after[1:]
		if s.index[to] == 0 {
			s.enter(to)
		} else if s.onStack[to] {
			s.low[top.node] = min(s.low[top.node], s.index[to])
		}
	}
}

func (s *knotSearch[K]) enter(k K) {
	s.index[k] = len(s.index) + 1
	s.low[k] = s.index[k]
	s.stack, s.onStack[k] = append(s.stack, k), true
	s.way = append(s.way, step[K]{k, s.next(k)})
}

// leave goes back one step; a node that leads back to none before it closes a
// group.
func (s *knotSearch[K]) leave() {
	k := s.way[len(s.way)-1].node
	if s.way = s.way[:len(s.way)-1]; len(s.way) > 0 {
		above := s.way[len(s.way)-1].node
		s.low[above] = min(s.low[above], s.low[k])
	}
	if s.low[k] != s.index[k] {
		return
	}
	at := len(s.stack) - 1
	for s.stack[at] != k {
		at--
	}
	group := slices.Clone(s.stack[at:])
	s.stack = s.stack[:at]
	for _, member := range group {
		s.onStack[member] = false
	}
	s.groups = append(s.groups, group)
}

// shortestCycle walks breadth first from the least node of a group back to it.
func shortestCycle[K ~string](group []K, next func(K) []K) []K {
	start := slices.Min(group)
	from, inGroup := map[K]K{}, map[K]bool{}
	for _, k := range group {
		inGroup[k] = true
	}
	for queue := []K{start}; len(queue) > 0; queue = queue[1:] {
		for _, to := range next(queue[0]) {
			if to == start && queue[0] != start {
				way := []K{queue[0]}
				for last := queue[0]; last != start; way = append(way, last) {
					last = from[last]
				}
				slices.Reverse(way)
				return way
			}
			if _, seen := from[to]; !seen && to != start && inGroup[to] {
				from[to] = queue[0]
				queue = append(queue, to)
			}
		}
	}
	return group
}
