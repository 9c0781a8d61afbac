package evidence

import (
	"testing"

	"matewell/graph"
	"matewell/graph/measure"
)

func TestAgree(t *testing.T) {
	dim := func(kind, name string) graph.DimSpec {
		k, ok := graph.FeatureKindNamed(kind)
		if !ok {
			t.Fatalf("no feature kind %s", kind)
		}
		d, ok := k.Dim(name)
		if !ok {
			t.Fatalf("no dimension %s of %s", name, kind)
		}
		return d
	}
	spacing := dim("caliper-mount", "spacing") // vernier caliper, 0.1 mm
	tests := []struct {
		name    string
		dim     graph.DimSpec
		a, b    string
		methodB string
		want    bool
	}{
		{"equal", spacing, "84 mm", "84 mm", "", true},
		{"other unit", dim("master-bore", "bore"), "15.875 mm", "5/8 in", "", true}, // 5/8 x 25.4, exact
		{"two documents, a tenth apart", spacing, "84 mm", "84.1 mm", "", false},
		{"a gauge can't tell a tenth", spacing, "84 mm", "84.1 mm", "vernier caliper", true},
		{"a gauge can tell two tenths", spacing, "84 mm", "84.2 mm", "vernier caliper", false},
		{"inside of the limits", spacing, "84 mm ±0.3 mm", "84.2 mm", "", true},
		{"outside of the limits", spacing, "84 mm ±0.3 mm", "84.4 mm", "", false},
		{"pitch", dim("port", "thread"), "M10x1.25", "M10x1", "thread gauge", false},
		{"coarse pitch left out", dim("port", "thread"), "M10", "M10x1.5", "", true},
		{"words", dim("port", "seat"), "flare", "Flare", "", true},
		{"other words", dim("port", "seat"), "flare", "flat washer", "by eye", false},
		{"share of the value", dim("master-bore", "lever-ratio"), "5", "5.1", "vernier caliper", true}, // 2 %
		{"more than its share", dim("master-bore", "lever-ratio"), "5", "5.2", "vernier caliper", false},
		{"not readable", spacing, "eighty", "Eighty", "", true},
		{"unknown dimension", graph.DimSpec{}, "1", "2", "", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			a, b := graph.Reading{Text: tt.a}, graph.Reading{Text: tt.b, Method: tt.methodB}
			if got := Agree(tt.dim, a, b); got != tt.want {
				t.Errorf("%s and %s agree: %v, want %v", tt.a, tt.b, got, tt.want)
			}
			if got := Agree(tt.dim, b, a); got != tt.want {
				t.Errorf("%s and %s agree: %v, want %v: the order matters", tt.b, tt.a, got, tt.want)
			}
		})
	}
}

// TestRankReadings: the value with the best voices together comes first, with
// all readings that agree beside it.
func TestRankReadings(t *testing.T) {
	e := NewEvidence()
	for id, kind := range map[graph.SourceID]graph.SourceKind{"list": graph.SourcePartsList,
		"bench": graph.SourceMeasurement,
		"stall": graph.SourceSeller, "north": graph.SourceReport, "south": graph.SourceReport} {
		e.Sources[id] = graph.Source{ID: id, Kind: kind}
	}
	e.Findings["f-1"] = graph.Finding{ID: "f-1", By: "gull", Method: graph.MethodHeard}
	k, _ := graph.FeatureKindNamed("caliper-mount")
	dim, _ := k.Dim("disc")
	read := func(text string, source graph.SourceID) graph.Reading {
		return graph.Reading{Text: text, Cite: graph.Cite{Source: source}}
	}
	tests := []struct {
		name string
		in   []graph.Reading
		want []string
	}{
		{"measured over list", []graph.Reading{read("296 mm", "list"), read("300 mm", "bench")},
			[]string{"300 mm", "296 mm"}},
		{"list over seller", []graph.Reading{read("300 mm", "stall"), read("296 mm", "list")}, []string{"296 mm", "300 mm"}},
		{"agreeing ones stand together", []graph.Reading{read("296 mm", "stall"), read("300 mm", "list"),
			read("296 mm", "bench")},
			[]string{"296 mm", "296 mm", "300 mm"}},
		{"two reports over one", []graph.Reading{read("310 mm", "north"), read("296 mm", "south"), read("296 mm", "nowhere")},
			[]string{"296 mm", "296 mm", "310 mm"}},
		{"a finding's own measure, whatever its verdict rests on",
			[]graph.Reading{read("296 mm", "list"), read("300 mm", "f-1")},
			[]string{"300 mm", "296 mm"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := e.RankReadings(dim, tt.in, nil)
			for i := range tt.want {
				if got[i].Text != tt.want[i] {
					t.Fatalf("ranked %v, want %v", got, tt.want)
				}
			}
		})
	}
}

// TestContested: at a place with a safety class a single measurement does not silence
// the others; two people who measured by themselves do.
func TestContested(t *testing.T) {
	e := NewEvidence()
	e.Sources["list"] = graph.Source{ID: "list", Kind: graph.SourcePartsList}
	for id, by := range map[graph.FindingID]string{"f-1": "gull", "f-2": "gull", "f-3": "tern"} {
		e.Findings[id] = graph.Finding{ID: id, By: by, Method: graph.MethodMeasured}
	}
	k, _ := graph.FeatureKindNamed("caliper-mount")
	dim, _ := k.Dim("spacing")
	read := func(text string, source graph.SourceID) graph.Reading {
		return graph.Reading{Text: text, Cite: graph.Cite{Source: source}}
	}
	tests := []struct {
		name      string
		in        []graph.Reading
		contested bool
	}{
		{"one measurement", []graph.Reading{read("84 mm", "list"), read("90 mm", "f-1")}, true},
		{"twice by one person", []graph.Reading{read("84 mm", "list"), read("90 mm", "f-1"), read("90 mm", "f-2")}, true},
		{"by two people", []graph.Reading{read("84 mm", "list"), read("90 mm", "f-1"), read("90 mm", "f-3")}, false},
		{"they agree", []graph.Reading{read("84 mm", "list"), read("84 mm", "f-1")}, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := graph.Part{Features: []graph.Feature{{Name: "mount", Kind: "caliper-mount",
				Dims: map[string][]graph.Reading{"spacing": e.RankReadings(dim, tt.in, nil)}}}}
			if got := IsContested(p); got != tt.contested {
				t.Errorf("contested %v, want %v", got, tt.contested)
			}
			for _, r := range Contested(p).Features[0].Dims["spacing"] {
				if r.Outranked != (len(tt.in) == 3 && r.Text == "84 mm" && !tt.contested) {
					t.Errorf("%s is outranked %v", r.Text, r.Outranked)
				}
			}
		})
	}
}

// A size in inches is one in millimetres where each may have been rounded to the other.
func TestSameReadingInTwoUnits(t *testing.T) {
	length := graph.DimSpec{Type: measure.Length}
	for _, tt := range []struct {
		a, b string
		want bool
	}{{"0.126 in", "3.2 mm", true}, {"0.12 in", "3.2 mm", true}, {"0.126 in", "3.3 mm", false},
		{"1/8 in", "3.2 mm", true}, {"1/8 in", "3.3 mm", false}, {"3.2 mm", "3.24 mm", false}, {"3.2 mm", "3.20 mm", true},
		{"0.126 in", "3.2 mm +0/-0.1", false}} {
		if got := SameReading(length, graph.Reading{Text: tt.a}, graph.Reading{Text: tt.b}); got != tt.want {
			t.Errorf("%s and %s: %v, want %v", tt.a, tt.b, got, tt.want)
		}
	}
}

// A list whose names put its parts in their places has not said that they go there.
func TestPlacedByNameIsUnknown(t *testing.T) {
	e := NewEvidence()
	e.Sources = map[graph.SourceID]graph.Source{"boxes": {ID: "boxes", Kind: graph.SourcePlaced},
		"book": {ID: "book", Kind: graph.SourcePartsList}}
	claim := func(sources ...graph.SourceID) []Claim {
		l := Link{}
		for _, id := range sources {
			l.Cites = append(l.Cites, graph.Cite{Source: id})
		}
		return []Claim{{Via: ViaListed, Verdict: graph.Fits, Links: []Link{l}}}
	}
	for _, tt := range []struct {
		name    string
		sources []graph.SourceID
		want    graph.Verdict
	}{{"by its name", []graph.SourceID{"boxes"}, graph.Unknown}, {"by a parts list", []graph.SourceID{"book"}, graph.Fits},
		{"by both", []graph.SourceID{"boxes", "book"}, graph.Fits}} {
		if got := e.Judge(claim(tt.sources...), nil, graph.SafetyBrake); got.Verdict != tt.want {
			t.Errorf("%s: %s (%s), want %s", tt.name, got.Verdict, got.Why, tt.want)
		}
	}
}

// TestOutvotes: many first-hand voices against few, each counted once; what was retold
// counts for none. Common practice, no source: two of three measurements that agree are
// trusted, and one against one is measured again.
func TestOutvotes(t *testing.T) {
	measured := func(by string) Source { return Source{ID: by, Rank: RankMeasured, Origin: "by " + by} }
	sheet := Source{ID: "sheet", Rank: RankFactory, Origin: "sheet"}
	retold := Source{ID: "retold", Rank: RankReport, Origin: "forum"}
	one := []Source{measured("skua")}
	for name, tt := range map[string]struct {
		many, few []Source
		more      int
	}{
		"two and the sheet against one": {[]Source{measured("gull"), measured("tern"), sheet}, one, 0},
		"the one is retold by others": {[]Source{measured("gull"), measured("tern"), sheet},
			[]Source{measured("skua"), retold}, 0},
		"two against one":                     {[]Source{measured("gull"), measured("tern")}, one, 1},
		"one who measured twice, and a sheet": {[]Source{measured("gull"), measured("gull"), sheet}, one, 1},
		"a sheet and its reprints":            {[]Source{sheet, sheet, sheet}, one, 2},
		"three against two": {[]Source{measured("gull"), measured("tern"), sheet},
			[]Source{measured("skua"), measured("rook")}, 2},
	} {
		many, few := ValueGroup{Voices: tt.many}, ValueGroup{Voices: tt.few}
		if got := many.MoreToOutvote(few); got != tt.more {
			t.Errorf("%s: %d more are asked for, want %d", name, got, tt.more)
		}
		if got := many.Outvotes(few); got != (tt.more == 0) {
			t.Errorf("%s: outvotes: %v", name, got)
		}
		if few.Outvotes(many) {
			t.Errorf("%s: the few outvote the many", name)
		}
	}
}
