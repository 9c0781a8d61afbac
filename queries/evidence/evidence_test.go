package evidence

import (
	"context"
	"testing"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/queries/readertest"
)

// retold are sources and findings that lean on one another: reprints, a
// retelling, and two rings of origins, which a loader may let through.
func retold() graph.Facts {
	return graph.Facts{
		Sources: []graph.Source{
			{ID: "first-edition", Kind: graph.SourcePartsList},
			{ID: "reprint", Kind: graph.SourcePartsList, Origin: "first-edition"},
			{ID: "reprint-of-reprint", Kind: graph.SourcePartsList, Origin: "reprint"},
			{ID: "ring-a", Kind: graph.SourceReport, Origin: "ring-b"},
			{ID: "ring-b", Kind: graph.SourceReport, Origin: "ring-c"},
			{ID: "ring-c", Kind: graph.SourceReport, Origin: "ring-b"},
			{ID: "self", Kind: graph.SourceReport, Origin: "self"},
			{ID: "stall", Kind: graph.SourceSeller},
		},
		Findings: []graph.Finding{
			{ID: "f-1", By: "gull", Method: graph.MethodPhoto, Pos: diag.Pos{File: "mine.yaml", Line: 3, Col: 5}},
			{ID: "f-2", By: "tern", Method: graph.MethodMeasured, Origin: "f-1"},
			{ID: "f-3", By: "gull", Method: graph.MethodFitted},
			{ID: "f-4", Method: graph.MethodMeasured, Source: "stall"},
			{ID: "f-5", Method: graph.MethodFitted},
		},
	}
}

func loadRetold(t *testing.T, cites ...graph.SourceID) *Evidence {
	t.Helper()
	e := NewEvidence()
	var said []graph.Cite
	for _, id := range cites {
		said = append(said, graph.Cite{Source: id})
	}
	if err := e.Load(context.Background(), readertest.New(retold()), said); err != nil {
		t.Fatal(err)
	}
	return e
}

func TestRoot(t *testing.T) {
	tests := []struct{ name, id, want string }{
		{"own origin", "first-edition", "first-edition"},
		{"reprint", "reprint", "first-edition"},
		{"reprint of a reprint", "reprint-of-reprint", "first-edition"},
		{"into a ring", "ring-a", "ring-b"},
		{"in the ring", "ring-c", "ring-b"},
		{"its own origin in a ring of one", "self", "self"},
		{"finding", "f-1", "by gull"},
		{"retold finding", "f-2", "by gull"},
		{"same person again", "f-3", "by gull"},
		{"finding of nobody by a seller", "f-4", "stall"},
		{"finding of nobody", "f-5", "f-5"},
		{"not in the graph", "nowhere", "nowhere"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := loadRetold(t, graph.SourceID(tt.id)).root(tt.id); got != tt.want {
				t.Errorf("root of %s is %q, want %q", tt.id, got, tt.want)
			}
		})
	}
}

func TestFindingVoice(t *testing.T) {
	tests := []struct {
		name, id string
		want     Rank
	}{
		{"photographed", "f-1", RankPhoto},
		{"retold, whatever it claims", "f-2", RankReport},
		{"fitted", "f-3", RankReport},
		{"a seller's claim to have measured", "f-4", RankSeller},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			e := loadRetold(t, graph.SourceID(tt.id))
			voice := e.voice(graph.Cite{Source: graph.SourceID(tt.id), Pos: diag.Pos{File: "x.yaml", Line: 1, Col: 1}}, nil)
			if voice.Rank != tt.want {
				t.Errorf("rank %q, want %q", voice.Rank, tt.want)
			}
			if voice.Kind != kindFinding || voice.At != "x.yaml:1:1" {
				t.Errorf("voice %+v is not that of a finding at its place", voice)
			}
		})
	}
}

// TestVoicesOrder: best rank first, then own words before reprints, then the
// newer one.
func TestVoicesOrder(t *testing.T) {
	e := loadRetold(t, "reprint", "first-edition", "stall", "f-1")
	var cites []graph.Cite
	for _, id := range []graph.SourceID{"stall", "f-1", "reprint", "first-edition"} {
		cites = append(cites, graph.Cite{Source: id})
	}
	var got []string
	for _, v := range e.Voices(cites, nil) {
		got = append(got, v.ID)
	}
	want := []string{"first-edition", "reprint", "f-1", "stall"}
	for i := range want {
		if got[i] != want[i] {
			t.Fatalf("voices %v, want %v", got, want)
		}
	}
}

// TestJudgeDisputes: at a place with a safety class a "does not fit" of the first hand
// makes unknown what a better source calls usable; hearsay does not, nor does it
// elsewhere. A supersession that may not be gone that way stands against kits.
func TestJudgeDisputes(t *testing.T) {
	finding := func(m graph.Method, origin string) *graph.Finding {
		return &graph.Finding{ID: "f-9", By: "tern", Method: m, Origin: origin}
	}
	listed := Claim{Via: ViaListed, Verdict: graph.Fits, Why: "listed here",
		Links: []Link{{Cites: []graph.Cite{{Source: "first-edition"}}}}}
	found := func(m graph.Method, origin string) Claim {
		return Claim{Via: ViaFinding, Verdict: graph.DoesNotFit, Why: "fouls", Links: []Link{{Finding: finding(m, origin)}}}
	}
	computed := Claim{Via: ViaComputed, Verdict: graph.Fits, Why: "mates", Links: []Link{{Cites: []graph.Cite{
		{Source: "first-edition"}}}}}
	computedNo := Claim{Via: ViaComputed, Verdict: graph.DoesNotFit, Why: "too wide", Links: []Link{{Cites: []graph.Cite{
		{Source: "ring-a"}}}}}
	fitted := Claim{Via: ViaFinding, Verdict: graph.Fits, Why: "runs well",
		Links: []Link{{Finding: finding(graph.MethodPhoto, "")}}}
	by := func(via Via, v graph.Verdict, hops int, source graph.SourceID) Claim {
		return Claim{Via: via, Verdict: v, Why: string(via), Hops: hops,
			Links: []Link{{Cites: []graph.Cite{{Source: source}}}}}
	}
	tests := []struct {
		name   string
		claims []Claim
		safety graph.Safety
		want   graph.Verdict
	}{
		{"fitted against a list", []Claim{listed, found(graph.MethodFitted, "")}, graph.SafetyBrake, graph.Unknown},
		{"fitted against a computed fit", []Claim{computed, found(graph.MethodFitted, "")}, graph.SafetyBrake, graph.Unknown},
		{"no safety class", []Claim{listed, found(graph.MethodFitted, "")}, graph.SafetyNone, graph.Fits},
		{"heard against a list", []Claim{listed, found(graph.MethodHeard, "")}, graph.SafetyBrake, graph.Fits},
		{"read against a list", []Claim{listed, found(graph.MethodRead, "")}, graph.SafetyBrake, graph.Fits},
		{"retold against a list", []Claim{listed, found(graph.MethodFitted, "f-1")}, graph.SafetyBrake, graph.Fits},
		{"measured against a list, whatever its rank", []Claim{listed, found(graph.MethodMeasured, "")},
			graph.SafetyBrake, graph.Unknown},
		{"measured against a computed fit", []Claim{computed, found(graph.MethodMeasured, "")}, graph.SafetyBrake,
			graph.Unknown},
		{"measured against a list, no safety class", []Claim{listed, found(graph.MethodMeasured, "")}, graph.SafetyNone,
			graph.DoesNotFit},
		{"nobody calls it usable", []Claim{found(graph.MethodMeasured, "")}, graph.SafetyBrake, graph.DoesNotFit},
		{"a finding and the measures against a list", []Claim{listed, computedNo, found(graph.MethodMeasured, "")},
			graph.SafetyBrake, graph.DoesNotFit},
		{"the measures against a list", []Claim{listed, computedNo}, graph.SafetyBrake, graph.DoesNotFit},
		{"the measures against who fitted it", []Claim{computedNo, fitted}, graph.SafetyNone, graph.DoesNotFit},
		{"a kit does not undo a no", []Claim{by(ViaKit, graph.Fits, 0, "first-edition"),
			by(ViaSupersession, graph.DoesNotFit, 2, "ring-a")}, graph.SafetyNone, graph.DoesNotFit},
		{"nor does a longer chain", []Claim{by(ViaSupersession, graph.Fits, 3, "first-edition"),
			by(ViaSupersession, graph.DoesNotFit, 1, "ring-a")}, graph.SafetyNone, graph.DoesNotFit},
		{"a shorter chain against it, of equal rank", []Claim{by(ViaSupersession, graph.Fits, 1, "first-edition"),
			by(ViaSupersession, graph.DoesNotFit, 2, "first-edition")}, graph.SafetyNone, graph.Unknown},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			e := loadRetold(t, "first-edition", "ring-a")
			if got := e.Judge(tt.claims, nil, tt.safety); got.Verdict != tt.want {
				t.Errorf("%s (%s), want %s", got.Verdict, got.Why, tt.want)
			}
		})
	}
}
