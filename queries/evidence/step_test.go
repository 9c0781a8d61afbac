package evidence_test

import (
	"fmt"
	"slices"
	"testing"

	"matewell/graph"
	"matewell/queries/evidence"
)

func TestMergeSteps(t *testing.T) {
	voice := func(ids ...string) []evidence.Source {
		var list []evidence.Source
		for _, id := range ids {
			list = append(list, evidence.Source{ID: id})
		}
		return list
	}
	step := func(text string, ids ...string) evidence.Step {
		return evidence.Step{Kind: evidence.StepFact, Text: text, Sources: voice(ids...)}
	}
	first := []evidence.Step{step("b", "z"), step("a", "y")}
	got := evidence.MergeSteps(first, []evidence.Step{step("a", "x", "y")}, nil,
		[]evidence.Step{step("c"), step("a", "w")})
	want := []evidence.Step{step("b", "z"), step("a", "w", "x", "y"), step("c")}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("got %v, want %v", got, want)
	}
	if !slices.Equal(first[1].Sources, voice("y")) {
		t.Errorf("a trail that was handed in is changed: %v", first)
	}
}

// said is what so many people found about one part at one place, each in their own words.
func said(n int) []evidence.Claim {
	claims := make([]evidence.Claim, n)
	for i := range claims {
		id := fmt.Sprintf("f-%06d", i)
		claims[i] = evidence.Claim{Part: "Tarnholt 1", Position: "m:a/p", Variant: "m/2001/eu", Via: evidence.ViaFinding,
			Verdict: graph.Fits, Why: id,
			Links: []evidence.Link{{Kind: evidence.StepFinding, Text: id,
				Finding: &graph.Finding{ID: graph.FindingID(id), By: id, Method: graph.MethodFitted}}}}
	}
	return claims
}

// Of many voices each is heard, and is in the trail.
func TestManyVoices(t *testing.T) {
	const n = 2_000
	j := evidence.NewEvidence().Judge(said(n), nil, graph.SafetyNone)
	if len(j.Steps) != n || len(j.Others) != n-1 || j.Verdict != graph.Fits {
		t.Errorf("of %d voices %d steps, %d others, %s", n, len(j.Steps), len(j.Others), j.Verdict)
	}
}

func BenchmarkManyVoices(b *testing.B) {
	for _, n := range []int{1_000, 10_000, 100_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			claims := said(n)
			for b.Loop() {
				evidence.NewEvidence().Judge(claims, nil, graph.SafetyNone)
			}
		})
	}
}
