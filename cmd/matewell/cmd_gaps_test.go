package main

import (
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries/gaps"
	"matewell/queries/mating"
	"matewell/queries/swap"
)

// A seller is asked for one mark once, however many answers hang on it.
func TestSellerIsAskedOnce(t *testing.T) {
	one := gaps.Gap{Ask: mating.Ask{Position: "m:front-brake/hose", Part: "T 1", Feature: "fluid", Dim: "allows",
		What: "fluids it allows", Gauge: graph.ByEye}, New: true, Settles: []string{"joint a"}}
	other := one
	other.Where = "the other end"
	text := sellerText(gaps.Answer{On: "m/2000/eu", Gaps: []gaps.Gap{one, other},
		Swaps: []swap.SwapLine{{Position: "m:front-brake/hose", Now: "T 1"}}})
	if n := strings.Count(text, "fluid: fluids it allows"); n != 1 {
		t.Errorf("asked %d times:\n%s", n, text)
	}
}
