package graph_test

import (
	"testing"

	"matewell/graph"
	"matewell/graph/measure"
)

func TestScope(t *testing.T) {
	frames := func(text string) measure.Frames {
		f, err := measure.ParseFrames(text)
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	late := graph.Variant{ID: "skerry-620/2003/eu/late", Model: "skerry-620", Year: 2003, Market: "eu", Mark: "late",
		Frames: frames("TK6A-004121 to TK6A-009000")}
	unknownFrames := late
	unknownFrames.Frames = measure.Frames{}
	openEnd := late
	openEnd.Frames = frames("TK6A-004121 on")
	tests := []struct {
		name            string
		scope           graph.Scope
		v               graph.Variant
		covers, touches bool
	}{
		{"everywhere", graph.Scope{}, late, true, false},
		{"everywhere, frames not known", graph.Scope{}, unknownFrames, true, false},
		{"year", graph.Scope{Years: measure.Years{From: 2001, To: 2003}}, late, true, false},
		{"year just over", graph.Scope{Years: measure.Years{From: 2004, To: 2006}}, late, false, false},
		{"market", graph.Scope{Markets: []string{"eu", "us"}}, late, true, false},
		{"other market", graph.Scope{Markets: []string{"us"}}, late, false, false},
		{"mark", graph.Scope{Marks: []string{"late"}}, late, true, false},
		{"other mark", graph.Scope{Marks: []string{"early"}}, late, false, false},
		{"all frames inside", graph.Scope{Frames: frames("TK6A-004121 on")}, late, true, false},
		{"the very same frames", graph.Scope{Frames: frames("TK6A-004121 to TK6A-009000")}, late, true, false},
		{"one frame short", graph.Scope{Frames: frames("TK6A-004122 on")}, late, false, true},
		{"one frame shared", graph.Scope{Frames: frames("up to TK6A-004121")}, late, false, true},
		{"frames end just before", graph.Scope{Frames: frames("up to TK6A-004120")}, late, false, false},
		{"other prefix", graph.Scope{Frames: frames("TK6B-004121 on")}, late, false, false},
		{"closed scope, open variant", graph.Scope{Frames: frames("TK6A-004121 to TK6A-009000")}, openEnd, false, true},
		{"frames not known", graph.Scope{Frames: frames("TK6A-004121 on")}, unknownFrames, false, true},
		{"frames fit, year does not", graph.Scope{Years: measure.Years{From: 2004, To: 2004},
			Frames: frames("TK6A-000001 on")}, late, false, false},
		{"frames overlap, market does not", graph.Scope{Markets: []string{"us"}, Frames: frames("TK6A-004122 on")}, late,
			false, false},
		{"all fields", graph.Scope{Years: measure.Years{From: 2003, To: 2003}, Markets: []string{"eu"},
			Marks:  []string{"late"},
			Frames: frames("TK6A-004121 on")}, late, true, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := tt.scope.Covers(tt.v); got != tt.covers {
				t.Errorf("Covers = %v, want %v", got, tt.covers)
			}
			if got := tt.scope.Touches(tt.v); got != tt.touches {
				t.Errorf("Touches = %v, want %v", got, tt.touches)
			}
		})
	}
}
