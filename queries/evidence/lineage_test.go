package evidence

import (
	"context"
	"fmt"
	"testing"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/lists"
	"matewell/queries/readertest"
)

func edge(old, new string, newOnOld, oldOnNew graph.Usable) graph.Supersession {
	return graph.Supersession{ID: graph.SupersessionID(old + ">" + new), Old: graph.PartID(old), New: graph.PartID(new),
		NewOnOld: newOnOld, OldOnNew: oldOnNew}
}

func walkerOf(edges ...graph.Supersession) Walker {
	return NewWalker(lists.ByKey(edges, func(e graph.Supersession) graph.SupersessionID { return e.ID }))
}

func TestChainVerdict(t *testing.T) {
	with := edge("a", "b", graph.Yes, graph.Yes)
	with.Companions = []graph.Content{{Part: "x", Quantity: 1}}
	tests := []struct {
		name  string
		edges []graph.Supersession
		newer bool
		want  graph.Verdict
	}{
		{"yes", []graph.Supersession{edge("a", "b", graph.Yes, graph.No)}, true, graph.Fits},
		{"the other direction", []graph.Supersession{edge("a", "b", graph.Yes, graph.No)}, false, graph.DoesNotFit},
		{"not stated is unknown", []graph.Supersession{edge("a", "b", graph.Yes, graph.NotStated)}, false, graph.Unknown},
		{"companions", []graph.Supersession{with}, true, graph.FitsWithChanges},
		{"worst of two", []graph.Supersession{with, edge("b", "c", graph.NotStated, graph.Yes)}, true, graph.Unknown},
		{"a no beats an unknown", []graph.Supersession{edge("a", "b", graph.No, graph.Yes),
			edge("b", "c", graph.NotStated, graph.Yes)}, true, graph.DoesNotFit},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := (Lineage{Edges: tt.edges, Newer: tt.newer}).Verdict(); got != tt.want {
				t.Errorf("verdict %q, want %q", got, tt.want)
			}
		})
	}
}

// TestWalksAgree: the walks found from every listed part are those found to
// every target.
func TestWalksAgree(t *testing.T) {
	w := walkerOf(edge("a", "b", graph.Yes, graph.Yes), edge("b", "c", graph.Yes, graph.No),
		edge("a", "c", graph.NotStated, graph.No),
		edge("c", "d", graph.No, graph.Yes), edge("e", "c", graph.Yes, graph.Yes))
	parts := []graph.PartID{"a", "b", "c", "d", "e"}
	from, to := map[string]bool{}, map[string]bool{}
	text := func(c Lineage) string {
		s := fmt.Sprint(c.Listed, " ", c.Target, " ", c.Newer)
		for _, e := range c.Edges {
			s += " " + string(e.ID)
		}
		return s
	}
	for _, p := range parts {
		for _, c := range w.FromListed(p) {
			from[text(c)] = true
		}
		for _, c := range w.ToTarget(p) {
			to[text(c)] = true
		}
	}
	if len(from) == 0 {
		t.Fatal("no walk was found")
	}
	for s := range from {
		if !to[s] {
			t.Errorf("only from the listed part: %s", s)
		}
	}
	for s := range to {
		if !from[s] {
			t.Errorf("only to the target: %s", s)
		}
	}
}

// TestRefusal: what must not go back is refused through a longer chain too, with the
// reason, and a chain that is as long or longer does not undo it.
func TestRefusal(t *testing.T) {
	leaks := edge("a", "b", graph.Yes, graph.No)
	leaks.Reason = "leaks"
	verdicts := func(w Walker, listed, target graph.PartID) (found []Lineage) {
		return lists.Kept(w.FromListed(listed), func(c Lineage) bool { return c.Target == target })
	}
	chain := walkerOf(leaks, edge("b", "c", graph.Yes, graph.Yes), edge("c", "d", graph.Yes, graph.NotStated))
	for _, listed := range []graph.PartID{"b", "c", "d"} {
		found := verdicts(chain, listed, "a")
		if len(found) != 1 || found[0].Verdict() != graph.DoesNotFit {
			t.Fatalf("a where %s is built: %+v, want one refusal", listed, found)
		}
		want := "must not take the place of the newer b: leaks"
		if listed != "b" {
			want = "must not take the place of the newer b, so not that of " + string(listed) + ": leaks"
		}
		if got := found[0].Why(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if found := verdicts(walkerOf(edge("a", "b", graph.Yes, graph.Yes), edge("b", "c", graph.Yes, graph.No)), "c",
		"a"); len(found) != 0 {
		t.Errorf("behind a no nothing is sure: %+v", found)
	}
	around := walkerOf(leaks, edge("a", "x", graph.Yes, graph.Yes), edge("x", "b", graph.Yes, graph.Yes))
	if stands := standing(verdicts(around, "b", "a")); len(stands) != 1 || stands[0].Verdict() != graph.DoesNotFit {
		t.Errorf("a longer chain undoes a no: %+v", stands)
	}
	direct := walkerOf(leaks, edge("b", "c", graph.Yes, graph.Yes), edge("a", "c", graph.Yes, graph.Yes))
	if stands := standing(verdicts(direct, "c", "a")); len(stands) != 2 {
		t.Errorf("what is stated of the very two stands beside the refusal: %+v", stands)
	}
	if got := Retired("a", []graph.Supersession{leaks}); got != "gave way to b and must not go back in its place: leaks" {
		t.Errorf("retired: %q", got)
	}
	if got := Retired("a", []graph.Supersession{edge("a", "b", graph.Yes, graph.Yes)}); got != "" {
		t.Errorf("what may go back is called %q", got)
	}
}

// TestWalkEnds: a ring and a thicket of edges, which no list has, must not run
// for ever.
func TestWalkEnds(t *testing.T) {
	ring := walkerOf(edge("a", "b", graph.Yes, graph.Yes), edge("b", "c", graph.Yes, graph.Yes),
		edge("c", "a", graph.Yes, graph.Yes))
	if n := len(ring.FromListed("a")); n != 4 {
		t.Errorf("%d walks round a ring of three, want 4: two each way", n)
	}
	var thicket []graph.Supersession
	for i := range 20 {
		for j := i + 1; j < 20; j++ {
			thicket = append(thicket, edge(fmt.Sprintf("p%02d", i), fmt.Sprintf("p%02d", j), graph.Yes, graph.Yes))
		}
	}
	w := walkerOf(thicket...)
	to := map[graph.PartID]int{}
	for _, c := range w.FromListed("p00") {
		to[c.Target]++
	}
	if len(to) != 19 || to["p01"] != 1 || to["p19"] != maxWays {
		t.Errorf("walks through a thicket, by where they end: %v, want all 19 ends, up to %d walks each", to, maxWays)
	}
	if len(w.Cut()) == 0 {
		t.Error("nobody is told that walks were left out")
	}
}

// TestLongWalk: a number that was changed 700 times is followed to its end, and
// each walk has its own edges in order.
func TestLongWalk(t *testing.T) {
	const steps = 700
	var edges []graph.Supersession
	name := func(i int) string { return fmt.Sprintf("p%03d", i) }
	for i := range steps {
		edges = append(edges, edge(name(i), name(i+1), graph.Yes, graph.Yes))
	}
	w := walkerOf(edges...)
	for _, walks := range [][]Lineage{w.FromListed("p000"), w.ToTarget(graph.PartID(name(steps)))} {
		if len(walks) != steps {
			t.Fatalf("%d walks, want %d", len(walks), steps)
		}
		for _, c := range walks {
			at := c.Listed
			for _, e := range c.Edges {
				if e.Old != at {
					t.Fatalf("from %s to %s: the edges are not in order at %s", c.Listed, c.Target, e.ID)
				}
				at = e.New
			}
			if at != c.Target {
				t.Fatalf("a walk to %s ends at %s", c.Target, at)
			}
		}
	}
	if len(w.Cut()) > 0 {
		t.Errorf("something was left out: %v", w.Cut())
	}
	around, err := EdgesAround(context.Background(), readertest.New(graph.Facts{Supersessions: edges}),
		[]graph.PartID{"p000"})
	if err != nil || len(around) != steps {
		t.Errorf("%d edges around the first number (%v), want %d", len(around), err, steps)
	}
}

// TestBranchesKeepTheirEdges: walks that part share what they have in common and
// nothing else.
func TestBranchesKeepTheirEdges(t *testing.T) {
	w := walkerOf(edge("a", "b", graph.Yes, graph.Yes), edge("b", "c", graph.Yes, graph.Yes),
		edge("b", "d", graph.Yes, graph.Yes), edge("b", "e", graph.Yes, graph.Yes), edge("d", "f", graph.Yes, graph.Yes))
	got := map[string]bool{}
	for _, c := range w.FromListed("a") {
		text := ""
		for _, e := range c.Edges {
			text += string(e.ID) + " "
		}
		got[text+string(c.Target)] = true
	}
	for _, want := range []string{"a>b b", "a>b b>c c", "a>b b>d d", "a>b b>d d>f f", "a>b b>e e"} {
		if !got[want] {
			t.Errorf("no walk %q in %v", want, got)
		}
	}
}

func TestEdgesAround(t *testing.T) {
	facts := graph.Facts{Supersessions: []graph.Supersession{edge("a", "b", graph.Yes, graph.Yes),
		edge("b", "c", graph.Yes, graph.Yes),
		edge("x", "y", graph.Yes, graph.Yes)}}
	r := readertest.New(facts)
	edges, err := EdgesAround(context.Background(), r, []graph.PartID{"a"})
	if err != nil {
		t.Fatal(err)
	}
	if len(edges) != 2 {
		t.Errorf("%d edges around a, want 2", len(edges))
	}
	if calls := r.Calls()["SupersessionsOf"]; calls != 3 {
		t.Errorf("%d calls for two generations, want 3: the last one finds nothing", calls)
	}
}

func TestHoldsOn(t *testing.T) {
	upTo := measure.Frames{Prefix: "TK6A-", To: 6000, Width: 6}
	from := measure.Frames{Prefix: "TK6A-", From: 5001, Width: 6}
	known := graph.Variant{ID: "skerry-620/2002/eu", Year: 2002, Market: "eu",
		Frames: measure.Frames{Prefix: "TK6A-", From: 4121, To: 8000, Width: 6}}
	unknown := graph.Variant{ID: "skerry-620/2002/eu", Year: 2002, Market: "eu"}
	scoped := func(scopes ...graph.Scope) Lineage {
		c := Lineage{Newer: true}
		for _, s := range scopes {
			e := edge("a", "b", graph.Yes, graph.Yes)
			e.Scope = s
			c.Edges = append(c.Edges, e)
		}
		return c
	}
	tests := []struct {
		name  string
		c     Lineage
		v     graph.Variant
		frame string
		limit string
		ok    bool
	}{
		{"everywhere", scoped(graph.Scope{}), known, "", "all frames", true},
		{"other market", scoped(graph.Scope{Markets: []string{"uk"}}), known, "", "all frames", false},
		{"part of the frames", scoped(graph.Scope{Frames: upTo}), known, "", "up to TK6A-006000", true},
		{"frame inside", scoped(graph.Scope{Frames: upTo}), known, "TK6A-006000", "all frames", true},
		{"frame outside", scoped(graph.Scope{Frames: upTo}), known, "TK6A-006001", "all frames", false},
		{"frames of the variant not known", scoped(graph.Scope{Frames: upTo}), unknown, "", "up to TK6A-006000", true},
		{"two edges overlap", scoped(graph.Scope{Frames: upTo}, graph.Scope{Frames: from}), known, "",
			"TK6A-005001 to TK6A-006000", true},
		{"two edges apart", scoped(graph.Scope{Frames: upTo},
			graph.Scope{Frames: measure.Frames{Prefix: "TK6A-", From: 6001, Width: 6}}), known, "", "", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			limit, ok := tt.c.HoldsOn(tt.v, tt.frame)
			if ok != tt.ok || ok && limit.String() != tt.limit {
				t.Errorf("holds %v for %s, want %v for %s", ok, limit, tt.ok, tt.limit)
			}
		})
	}
}
