package store

import (
	"strings"
	"testing"

	"github.com/cayleygraph/quad"
	"pgregory.net/rapid"

	"matewell/graph"
	"matewell/graph/diag"
)

func TestIRI(t *testing.T) {
	tests := []struct {
		name string
		got  quad.IRI
		want quad.IRI
	}{
		{"part with a space", iri(graph.PartID("Tarnholt 207.4418b/kr")),
			"https://matewell.example/id/part/Tarnholt%20207.4418b/kr"},
		{"position", iri(graph.PositionID("skerry-620:front-brake/caliper-left")),
			"https://matewell.example/id/position/skerry-620:front-brake/caliper-left"},
		{"letters beyond ASCII", iri(graph.BrandID("Ås")), "https://matewell.example/id/brand/%C3%85s"},
		{"percent and fragment sign", iri(graph.SourceID("a%41#b")), "https://matewell.example/id/source/a%2541%23b"},
		{"feature at a position", featureIRI(graph.FeatureRef{Position: "m:a/b", Feature: "port 1"}),
			"https://matewell.example/id/position/m:a/b#port%201"},
		{"part of a record", within(iri(graph.PartID("T 1")), "feature", "a/b"),
			"https://matewell.example/id/part/T%201#feature/a%2Fb"},
		{"part of a part", within(within(iri(graph.PartID("T 1")), "feature", "a"), "x"),
			"https://matewell.example/id/part/T%201#feature/a/x"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if tt.got != tt.want {
				t.Errorf("got %s, want %s", tt.got, tt.want)
			}
		})
	}
}

// The characters an IRI may hold unescaped are those of RFC 3986; ours use
// fewer, so that every parser takes them.
func TestIdentitiesSurviveAsIRIs(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		id := graph.PartID(rapid.String().Draw(rt, "id"))
		node := iri(id)
		if back, ok := identityOf[graph.PartID](node); !ok || back != id {
			rt.Errorf("%q came back as %q, %t", id, back, ok)
		}
		for _, r := range node {
			if r >= 0x7F || r <= ' ' || strings.ContainsRune("<>\"{}|^`\\", r) {
				rt.Errorf("%s holds %q", node, r)
			}
		}
		if _, ok := identityOf[graph.SourceID](node); ok {
			rt.Errorf("%s passes for a source", node)
		}
		ref := graph.FeatureRef{Position: graph.PositionID(id), Feature: rapid.String().Draw(rt, "feature")}
		if back, ok := featureOf(featureIRI(ref)); !ok || back != ref {
			rt.Errorf("%q came back as %q, %t", ref, back, ok)
		}
	})
}

func TestPlace(t *testing.T) {
	tests := []struct {
		name string
		pos  diag.Pos
		want string
	}{
		{"nowhere", diag.Pos{}, "-"},
		{"file", diag.Pos{File: "demo/a.yaml"}, "demo/a.yaml"},
		{"line", diag.Pos{File: "demo/a.yaml", Line: 3}, "demo/a.yaml:3"},
		{"column", diag.Pos{File: "demo/a.yaml", Line: 3, Col: 9}, "demo/a.yaml:3:9"},
		{"a file that looks like a line", diag.Pos{File: "a:3"}, "a:3:0:0"},
		{"a file that looks like a column", diag.Pos{File: "a:3:4", Line: 5}, "a:3:4:5:0"},
		{"a file called dash", diag.Pos{File: "-"}, "-:0:0"},
		{"a leading zero is no line", diag.Pos{File: "a:03"}, "a:03"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := formatPlace(tt.pos)
			if got != tt.want {
				t.Errorf("formatPlace = %q, want %q", got, tt.want)
			}
			if back := parsePlace(got); back != tt.pos {
				t.Errorf("parsePlace(%q) = %+v, want %+v", got, back, tt.pos)
			}
		})
	}
}
