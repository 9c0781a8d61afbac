package mating

import (
	"fmt"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"matewell/graph"
	"matewell/graph/measure"
)

// pools are values that often match one another, so that every verdict comes
// up. A dimension that is not named takes the pool of its type.
var pools = map[string][]string{
	"thread":         {"M8", "M8x1.25", "M8x1", "M10x1.25", "M10x1", "M10", "3/8-24 UNF", "M10x1.25 LH"},
	"bolt-class":     {"8.8", "10.9", "9T"},
	"class":          {"8.8", "8", "10.9", "10", "A2-70"},
	"depth":          {"6.8 mm", "8.4 mm", "12 mm", "13 mm", "15 mm", "20 mm", "24 mm ±1"},
	"hole":           {"8.4 mm", "8.5 mm", "10.5 mm", "7 mm"},
	"grip":           {"4 mm", "8 mm", "12 mm", "12 mm ±0.5"},
	"eye":            {"10.2 mm", "10 mm", "9.6 mm", "8.2 mm"},
	"thickness":      {"1.2 mm", "5 mm", "9 mm", "5.5 mm"},
	"disc-thickness": {"5 mm", "5.5 mm", "5.5 mm ±0.6"},
	"spacing":        {"60 mm", "60.5 mm", "84 mm", "96 mm", "84 mm ±0.5"},
	"spacing-2":      {"40 mm", "45 mm"},
	"offset":         {"-2 mm", "0 mm", "0.4 mm", "3 mm"},
	"disc":           {"296 mm", "310 mm", "320 mm"},
	"slot":           {"1 mm", "12 mm"},
	"inside":         {"15 mm", "17 mm", "20 mm", "25 mm", "17 mm ±0.1"},
	"outside":        {"40 mm", "42 mm", "47 mm"},
	"diameter":       {"15 mm", "17 mm", "17.1 mm", "20 mm", "22.2 mm", "25 mm", "42 mm", "47 mm", "17 mm ±0.2"},
	"width":          {"5.9 mm", "7 mm", "12 mm", "13 mm", "8.8 mm", "88.9 mm"},
	"inner-width":    {"6.35 mm", "9.53 mm", "7.94 mm"},
	"pitch":          {"15.875 mm", "5/8 in", "12.7 mm"},
	"roller":         {"10.16 mm", "8.51 mm"},
	"gap":            {"12 mm", "13 mm", "12.2 mm", "16 mm"},
	"count":          {"2", "4", "5"},
	"banjos":         {"1", "2"},
	"teeth":          {"13", "14", "45"},
	"designation":    {"6203", "6004-2RS", "32005X", "6302"},
	"family":         {"sealed 3-way", "open 3-way"},
	"cap":            {"BA15s", "BAY15d", "P43t"},
	"size":           {"120/70-17", "110/80-18", "3.00-18", "odd"},
	"pins": {"1 feed 12 V, 2 earth", "1 earth, 2 feed 12 V", "1 feed 12 V, 2 earth, 3 speed pulse",
		"1 feed 12 V, 2 speed CAN"},
	"points": {"A: 6.5 mm at 0,0; B: 6.5 mm at 100,0", "A: M6 at 5,5; B: M6 at 105,5", "A: M6; C: M6",
		"A: M6 at 5,5"},
	"allows":   {"DOT 4", "DOT 4, DOT 5.1", "DOT 5", "DOT 3, DOT 4", "mineral oil"},
	"for":      {"fuel", "fuel injection", "air, mixture", "SAE J30 R7"},
	"carries":  {"fuel", "fuel injection", "air", "mixture", "coolant"},
	"range":    {"10-14 mm", "20-30 mm", "40 mm"},
	"plug":     {"10-14 mm", "16-20 mm"},
	"tells":    {"speed", "revs"},
	"per-turn": {"2", "4", "2.01"},
	"per-km":   {"1000", "1400"},
	"primary":  {"3 ohm", "0.6 ohm", "2.5-4 ohm"},
	"ceiling":  {"14.4 V", "14-14.8 V", "15 V"},
	"pack":     {"10-12 mm", "30 mm"},
	"minimum":  {"4 mm", "4.5 mm"},
	"scheme":   {"ash", "kelp"},
	"paint":    {"W12", "K3"},
}

func poolFor(d graph.DimSpec) []string {
	if len(d.Words) > 0 {
		return d.Words
	}
	if pool, ok := pools[d.Name]; ok && d.Type != measure.Word || ok && d.Name != "hole" {
		return pool
	}
	switch d.Type {
	case measure.Length:
		return []string{"10 mm", "10.1 mm", "12 mm", "20 mm", "25 mm", "30 mm", "40 mm", "34 mm", "12 mm ±0.4"}
	case measure.Power:
		return []string{"21 W", "10 W", "60 W"}
	case measure.Voltage:
		return []string{"12 V", "6 V"}
	case measure.Current:
		return []string{"10 A", "15 A", "7.5-10 A"}
	case measure.Resistance:
		return []string{"3 ohm", "0.6 ohm", "3 ohm ±0.5"}
	case measure.Stiffness:
		return []string{"9 N/mm", "9.2 N/mm", "12 N/mm"}
	case measure.YesNo:
		return []string{"yes", "no"}
	case measure.Angle:
		return []string{"20 deg"}
	case measure.Torque:
		return []string{"24 N m"}
	case measure.Count:
		return []string{"2", "3", "110"}
	case measure.Ratio:
		return []string{"2.8"}
	}
	return []string{"alpha", "beta"}
}

// saysOtherwise is a dimension that, drawn by chance, contradicts the others: the
// height of a lug or caliper says another radius than the discs they are made for,
// and what was measured wins.
func saysOtherwise(kind, dim string) bool { return kind == "caliper-mount" && dim == "height" }

// changesShape is a dimension that, told later, makes another thing of it: a hole
// of which no slot is told is round.
func changesShape(kind, dim string) bool { return kind == "bolt-pattern" && dim == "slot" }

// drawSide draws a side; each dimension is there when keep says so.
func drawSide(t *rapid.T, kind, name string, keep func() bool) Side {
	spec, ok := graph.FeatureKindNamed(kind)
	if !ok {
		t.Fatalf("no feature kind %q", kind)
	}
	s := Side{Position: graph.PositionID("bench/" + name), Feature: graph.Feature{Name: name, Kind: kind,
		Dims: map[string][]graph.Reading{}}}
	for _, d := range spec.Dims {
		if saysOtherwise(kind, d.Name) {
			continue
		}
		if text := rapid.SampledFrom(poolFor(d)).Draw(t, name+" "+d.Name); keep() {
			s.Feature.Dims[d.Name] = []graph.Reading{{Text: text}}
		}
	}
	return s
}

// brief is checks in a few lines, for a failure.
func brief(checks []Check) string {
	text := ""
	for _, c := range checks {
		text += fmt.Sprintf("\n  %s: %s: %s [%s|%s|%s]", c.Rule, c.Verdict, c.Why, c.Had, c.Wanted, c.Gap)
	}
	return text
}

func always() bool { return true }

func sometimes(t *rapid.T) func() bool {
	return func() bool { return rapid.IntRange(0, 3).Draw(t, "kept") > 0 }
}

// drawMeeting draws two sides that some rule pairs, with a bolt and washers now
// and then.
func drawMeeting(t *rapid.T, r rule, keep func() bool) Meeting {
	m := Meeting{A: drawSide(t, r.a, "a", keep), B: drawSide(t, r.b, "b", keep)}
	if rapid.Bool().Draw(t, "bolt") {
		m.Bolts = []Side{drawSide(t, "male-thread", "bolt", always)}
	}
	for i := range rapid.IntRange(0, 3).Draw(t, "washers") {
		m.Washers = append(m.Washers, drawSide(t, "washer", fmt.Sprintf("washer-%d", i), always))
	}
	if rapid.Bool().Draw(t, "new") {
		m.New = "bench/a"
	}
	return m
}

// eachRule runs a property for every pair of kinds.
func eachRule(t *testing.T, property func(*rapid.T, rule)) {
	t.Helper()
	for _, r := range rules() {
		t.Run(r.a+" with "+r.b, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) { property(t, r) })
		})
	}
}

func TestSwappingSidesChangesNothing(t *testing.T) {
	eachRule(t, func(t *rapid.T, r rule) {
		m := drawMeeting(t, r, sometimes(t))
		turned := m
		turned.A, turned.B = m.B, m.A
		if got, want := Judge(turned), Judge(m); !reflect.DeepEqual(got, want) {
			t.Fatalf("turned round: %s\nbefore: %s", brief(got), brief(want))
		}
	})
}

// better reports whether a verdict says more than the one before it allows,
// once something was taken away: nothing certain may come of knowing less.
func better(before, after graph.Verdict) bool {
	switch before {
	case graph.Fits:
		return false
	case graph.FitsWithChanges:
		return after == graph.Fits
	}
	return after == graph.Fits || after == graph.FitsWithChanges
}

// untangled takes what contradicts itself out of a meeting that has everything:
// one side is tapped, the other clear.
func untangled(m Meeting) Meeting {
	if m.A.Feature.Kind == "bolt-pattern" || m.A.Feature.Kind == "caliper-mount" {
		m.A, m.B = m.A.with("thread", ""), m.B.with("hole", "")
	}
	return m
}

// standIn reports whether another dimension stands in for one: the number on a
// ring for its sizes, what a speedometer takes for a kilometre for what it takes
// for a turn.
func standIn(s Side, dim string) bool {
	if s.Feature.Kind == "signal-in" && dim == "per-turn" {
		return shownByWay(s)
	}
	return len(s.Feature.Dims["designation"]) > 0 && slices.Contains([]string{"inside", "outside", "width", "form"}, dim)
}

// absentSays are the dimensions whose absence is itself said to mean something:
// a thread without spanner size or class is a tapped hole, an eye that nobody
// counted is the only one, a bolt without a plain length is a standard one, a
// ring without a number on it contradicts nothing, a shank is as thick as its
// thread, a thread's size says whether it is a cap's, a drum without a mark is
// judged by its shoes alone, a hole of which no class is listed takes any, a bore
// of no length is as long as its sleeve, a tyre without a mark is for the road and
// either wheel, a room without a chain has none, and points that nobody says
// how they are seen are seen as those opposite.
var absentSays = []string{"female-thread across-flats", "port banjos", "male-thread grip", "bearing designation",
	"points seen-from",
	"male-thread shank", "male-thread duty", "female-thread duty", "drum most",
	"female-thread bolt-class", "bolt-pattern bolt-class", "caliper-mount bolt-class", "bore length", "tyre place",
	"tyre service",
	"tyre-room chain"}

func TestRemovingADimensionNeverImproves(t *testing.T) {
	eachRule(t, func(t *rapid.T, r rule) {
		m := untangled(drawMeeting(t, r, always))
		side, spec := &m.A, r.a
		if rapid.Bool().Draw(t, "of b") {
			side, spec = &m.B, r.b
		}
		kind, _ := graph.FeatureKindNamed(spec)
		dim := rapid.SampledFrom(kind.Dims).Draw(t, "removed").Name
		if slices.Contains(absentSays, spec+" "+dim) || standIn(*side, dim) {
			return
		}
		before := Judge(m)
		*side = side.with(dim, "")
		after := Judge(m)
		if better(Worst(before), Worst(after)) {
			t.Fatalf("without %s %s: %s, with it %s\n%s\n%s", spec, dim, Worst(after), Worst(before), brief(after),
				brief(before))
		}
	})
}

func TestAddingADimensionNeverTurnsNoIntoFits(t *testing.T) {
	eachRule(t, func(t *rapid.T, r rule) {
		m := drawMeeting(t, r, sometimes(t))
		before := Judge(m)
		if Worst(before) != graph.DoesNotFit {
			return
		}
		for _, side := range []*Side{&m.A, &m.B} {
			kind, _ := graph.FeatureKindNamed(side.Feature.Kind)
			for _, d := range kind.Dims {
				odd := saysOtherwise(kind.Name, d.Name) || changesShape(kind.Name, d.Name)
				if len(side.Feature.Dims[d.Name]) == 0 && !odd && rapid.Bool().Draw(t, "add "+d.Name) {
					*side = side.with(d.Name, rapid.SampledFrom(poolFor(d)).Draw(t, "added "+d.Name))
				}
			}
		}
		if after := Judge(m); Worst(after) == graph.Fits || Worst(after) == graph.FitsWithChanges {
			t.Fatalf("with more measured: %s\n%s\nbefore: %s", Worst(after), brief(after), brief(before))
		}
	})
}

func TestASecondReadingNeverImproves(t *testing.T) {
	eachRule(t, func(t *rapid.T, r rule) {
		m := drawMeeting(t, r, sometimes(t))
		before := Judge(m)
		for _, side := range []*Side{&m.A, &m.B} {
			kind, _ := graph.FeatureKindNamed(side.Feature.Kind)
			for _, d := range kind.Dims {
				if readings := side.Feature.Dims[d.Name]; len(readings) > 0 && rapid.IntRange(0, 4).Draw(t, "more "+d.Name) == 0 {
					other := graph.Reading{Text: rapid.SampledFrom(poolFor(d)).Draw(t, "other "+d.Name)}
					side.Feature.Dims[d.Name] = append(slices.Clone(readings), other)
				}
			}
		}
		for _, after := range Judge(m) {
			if was, ok := named(before, after.Rule); ok && after.Verdict != was.Verdict && after.Verdict != graph.Unknown {
				t.Fatalf("%s: %s, with one reading %s", after.Rule, after.Verdict, was.Verdict)
			}
		}
	})
}

// A check must be complete: a verdict, a reason, no change without saying what,
// and no unknown without a measurement where one would settle it.
func TestChecksAreComplete(t *testing.T) {
	eachRule(t, func(t *rapid.T, r rule) {
		m := drawMeeting(t, r, sometimes(t))
		seen := map[string]bool{}
		for _, c := range Judge(m) {
			switch {
			case c.Verdict == graph.NoVerdict || c.Why == "" || c.Rule == "" || c.Basis == "":
				t.Fatalf("incomplete: %+v", c)
			case c.Verdict == graph.FitsWithChanges && (len(c.Do) == 0 || c.Effort == graph.EffortNone):
				t.Fatalf("a change without saying which: %+v", c)
			case c.Verdict == graph.Fits && len(c.Measure) > 0:
				t.Fatalf("fits, but wants a measurement: %+v", c)
			case seen[c.Rule]:
				t.Fatalf("two checks %q", c.Rule)
			}
			seen[c.Rule] = true
			for _, a := range c.Measure {
				if a.What == "" || a.Where == "" || a.Gauge == "" || a.Accuracy == "" {
					t.Fatalf("a measurement that says too little: %+v", a)
				}
			}
		}
	})
}
