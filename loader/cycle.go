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
	type frame struct {
		node  K
		after []K
	}
	index, low, onStack := map[K]int{}, map[K]int{}, map[K]bool{}
	var stack []K
	var groups [][]K
	enter := func(k K) frame {
		index[k] = len(index) + 1
		low[k] = index[k]
		stack, onStack[k] = append(stack, k), true
		return frame{k, next(k)}
	}
	leave := func(k K) {
		if low[k] != index[k] {
			return
		}
		at := len(stack)
		for at--; stack[at] != k; at-- {
		}
		group := slices.Clone(stack[at:])
		stack = stack[:at]
		for _, member := range group {
			onStack[member] = false
		}
		groups = append(groups, group)
	}
	for _, start := range nodes {
		if index[start] != 0 {
			continue
		}
		way := []frame{enter(start)}
		for len(way) > 0 {
			top := &way[len(way)-1]
			if len(top.after) == 0 {
				done := top.node
				leave(done)
				if way = way[:len(way)-1]; len(way) > 0 {
					above := way[len(way)-1].node
					low[above] = min(low[above], low[done])
				}
				continue
			}
			to := top.after[0]
			top.after = top.after[1:]
			if index[to] == 0 {
				way = append(way, enter(to))
			} else if onStack[to] {
				low[top.node] = min(low[top.node], index[to])
			}
		}
	}
	return groups
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
