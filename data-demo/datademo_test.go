package datademo_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	datademo "matewell/data-demo"
	"matewell/graph"
	"matewell/graph/diag"
	"matewell/loader"
)

// TestData reads the embedded set once and asks of it what it was made for.
func TestData(t *testing.T) {
	f := load(t)
	tests := []struct {
		name  string
		check func(*testing.T, graph.Facts)
	}{
		{"as rich as ordered", amounts},
		{"supersessions of every sort", supersessionsOfEverySort},
		{"no torque where it could hurt", genericTorques},
		{"bearings as published", bearingsArePublishedSizes},
		{"chain wear as published", chainWearIsPublished},
		{"threads as published", hardwareThreadsArePreferred},
		{"every file has its entry", everyFileHasAnEntry},
		{"hubs, tubes and bearings agree", hubsAgree},
		{"sources knew of what they say", sourcesKnewOfIt},
		{"reasons hold", reasonsHold},
		{"usual joints", usualJoints},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) { tt.check(t, f) })
	}
}

// load reads the embedded set as the program does. A fault fails the test, and
// so does a warning but for the gaps left on purpose: sizes that nobody gave of
// parts no machine left its works with, so that there is something to measure.
func load(t *testing.T) graph.Facts {
	t.Helper()
	var probs diag.List
	facts, err := loader.Load(context.Background(), []loader.Layer{loader.Standard(), {Name: "data-demo",
		FS: datademo.FS()}}, &probs)
	if err != nil {
		t.Fatal(err)
	}
	gaps := 0
	for _, p := range probs.Sorted() {
		if p.Severity == diag.Warning && (p.Code == "missing-dimension" || p.Code == "missing-feature") {
			gaps++
			if aftermarket := !strings.Contains(p.Message, "Tarnholt"); aftermarket {
				continue
			}
		}
		t.Errorf("%s: %s [%s]", p.Pos, p.Message, p.Code)
	}
	if gaps == 0 || gaps > 20 {
		t.Errorf("%d gaps, 1 to 20 wanted", gaps)
	}
	return facts
}

// hardware are the kinds that a list of fasteners holds.
func hardware() []graph.KindID {
	return []graph.KindID{"bolt", "nut", "washer", "seal-washer", "banjo-bolt", "stud", "circlip", "split-pin", "clip",
		"insert", "collar"}
}

// amounts keeps the set as rich as it was ordered to be.
func amounts(t *testing.T, f graph.Facts) {
	assemblies := map[string]bool{}
	for _, a := range f.Assemblies {
		assemblies[a.ID.Local()] = true
	}
	markets, schemes, marks := map[string]bool{}, 99, 0
	for _, v := range f.Variants {
		markets[v.Market] = true
		schemes = min(schemes, len(v.Schemes))
		if v.Mark != "" {
			marks++
		}
	}
	kits, fasteners, priced := 0, 0, 0
	for _, p := range f.Parts {
		switch {
		case p.IsKit():
			kits++
		case slices.Contains(hardware(), p.Kind):
			fasteners++
		}
		if len(p.Price) > 0 {
			priced++
		}
	}
	kinds := map[graph.SourceKind]bool{}
	for _, s := range f.Sources {
		kinds[s.Kind] = true
	}
	tests := []struct {
		name        string
		have, least int
	}{
		{"models", len(f.Models), 3},
		{"markets", len(markets), 2},
		{"colour schemes of every variant", schemes, 3},
		{"variants told apart by frame number", marks, 4},
		{"positions", len(f.Positions), 330},
		{"parts besides hardware and kits", len(f.Parts) - kits - fasteners, 700},
		{"hardware", fasteners, 400},
		{"kits", kits, 40},
		{"supersessions", len(f.Supersessions), 60},
		{"assemblies", len(assemblies), 25},
		{"joints", len(f.Joints), 300},
		{"findings", len(f.Findings), 30},
		{"bikes", len(f.Bikes), 3},
		{"sources", len(f.Sources), 18},
		{"kinds of source", len(kinds), len(graph.SourceKinds()) - 1}, // all but what only import writes
		{"parts with a price", priced, 60},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if tt.have < tt.least {
				t.Errorf("%d, at least %d wanted", tt.have, tt.least)
			}
		})
	}
}

// supersessionsOfEverySort keeps an example of each way a number can be
// replaced.
func supersessionsOfEverySort(t *testing.T, f graph.Facts) {
	kit := map[graph.PartID]bool{}
	for _, p := range f.Parts {
		kit[p.ID] = p.IsKit()
	}
	from, have := map[graph.PartID]graph.PartID{}, map[string]int{}
	frames := map[graph.PartID]int{}
	for _, s := range f.Supersessions {
		from[s.Old] = s.New
		switch {
		case s.NewOnOld == graph.Yes && s.OldOnNew == graph.Yes:
			have["both ways"]++
		case s.NewOnOld == graph.Yes && s.OldOnNew == graph.No:
			have["one way"]++
		case s.NewOnOld == graph.No && s.OldOnNew == graph.No:
			have["neither way"]++
		case s.NewOnOld == graph.NotStated || s.OldOnNew == graph.NotStated:
			have["a direction not stated"]++
		}
		if kit[s.New] {
			have["into a kit"]++
		}
		if len(s.Companions) > 0 {
			have["with companions"]++
		}
		if !s.Scope.Frames.IsZero() {
			frames[s.Old]++
		}
		if len(s.Scope.Markets) > 0 {
			have["in one market"]++
		}
	}
	for _, n := range frames {
		if n > 1 {
			have["branching by frame number"]++
		}
	}
	for _, mid := range from {
		if _, on := from[from[mid]]; on && from[mid] != "" {
			have["chain of three"]++
		}
	}
	for sort, least := range map[string]int{"both ways": 10, "one way": 15, "neither way": 4, "a direction not stated": 8,
		"into a kit":      6,
		"with companions": 8, "branching by frame number": 3, "in one market": 1, "chain of three": 1} {
		if have[sort] < least {
			t.Errorf("%s: %d, at least %d wanted", sort, have[sort], least)
		}
	}
}
