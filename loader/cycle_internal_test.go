package loader

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

func TestCycles(t *testing.T) {
	tests := []struct {
		name  string
		edges map[string][]string
		want  [][]string
	}{
		{"none", map[string][]string{"a": {"b"}, "b": {"c"}}, nil},
		{"two", map[string][]string{"a": {"b"}, "b": {"a"}}, [][]string{{"a", "b"}}},
		{"one node is the caller's affair", map[string][]string{"a": {"a"}}, nil},
		{"three", map[string][]string{"c": {"a"}, "a": {"b"}, "b": {"c"}}, [][]string{{"a", "b", "c"}}},
		{"the shortest of several", map[string][]string{"a": {"b", "d"}, "b": {"c"}, "c": {"a"}, "d": {"a"}},
			[][]string{{"a", "d"}}},
		{"apart", map[string][]string{"a": {"b"}, "b": {"a"}, "c": {"d"}, "d": {"c"}, "e": {"a", "c"}}, [][]string{{"a",
			"b"}, {"c", "d"}}},
		{"diamond", map[string][]string{"a": {"b", "c"}, "b": {"d"}, "c": {"d"}}, nil},
		{"node with a loop of its own in a circle", map[string][]string{"a": {"a", "b"}, "b": {"b", "a"}}, [][]string{{"a",
			"b"}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := cycles(sortedKeys(tt.edges), func(k string) []string { return tt.edges[k] })
			if !reflect.DeepEqual(got, tt.want) {
				t.Errorf("got %v, want %v", got, tt.want)
			}
		})
	}
}

// A chain of a hundred thousand does not exhaust the stack, and closes.
func TestCycleIsLong(t *testing.T) {
	if testing.Short() {
		t.Skip("nothing here runs at once")
	}
	const length = 100_000
	name := func(i int) string { return fmt.Sprintf("%06d", i%length) }
	var nodes []string
	for i := range length {
		nodes = append(nodes, name(i))
	}
	next := func(k string) []string {
		at, err := strconv.Atoi(k)
		if err != nil {
			t.Fatal(err)
		}
		return []string{name(at + 1)}
	}
	if got := cycles(nodes, next); len(got) != 1 || len(got[0]) != length {
		t.Errorf("%d cycles", len(got))
	}
}

// Whatever the graph: what is reported is a cycle, and one is reported exactly
// when taking away nodes that nothing leads to (Kahn, Comm. ACM 5 (1962)
// 558-562) does not take away all.
func TestCyclesAlways(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(t, "nodes")
		edges := map[string][]string{}
		for i := range n {
			edges[string(rune('a'+i))] = nil
		}
		nodes := sortedKeys(edges)
		for range rapid.IntRange(0, 16).Draw(t, "edges") {
			from, to := rapid.SampledFrom(nodes).Draw(t, "from"), rapid.SampledFrom(nodes).Draw(t, "to")
			if from != to {
				edges[from] = append(edges[from], to)
			}
		}
		got := cycles(nodes, func(k string) []string { return edges[k] })
		for _, cycle := range got {
			for i, k := range cycle {
				if !slices.Contains(edges[k], cycle[(i+1)%len(cycle)]) {
					t.Fatalf("%v is no cycle", cycle)
				}
			}
		}
		if acyclic(nodes, edges) != (len(got) == 0) {
			t.Fatalf("got %v", got)
		}
	})
}

func acyclic(nodes []string, edges map[string][]string) bool {
	left := slices.Clone(nodes)
	for {
		before := len(left)
		left = slices.DeleteFunc(left, func(k string) bool {
			return !slices.ContainsFunc(left, func(from string) bool { return from != "" && slices.Contains(edges[from], k) })
		})
		if len(left) == before {
			return before == 0
		}
	}
}
