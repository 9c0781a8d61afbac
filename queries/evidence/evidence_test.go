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
			if voice.Kind != KindFinding || voice.At != "x.yaml:1:1" {
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
