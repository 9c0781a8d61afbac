package mating

import (
	"testing"

	"matewell/graph"
)

// A check is excused by what was at least as bad before by value, and by nothing that
// was unknown.
func TestExcused(t *testing.T) {
	no := func(rule, gap string) Check {
		return Check{Rule: rule, Verdict: graph.DoesNotFit, Why: "off", Gap: gap}
	}
	read := func(hand string) Check {
		return Check{Rule: "hand", Verdict: graph.DoesNotFit, Uses: []Use{{Dim: "hand", Reading: graph.Reading{Text: hand}}}}
	}
	said := func(c Check, why string) Check {
		c.Why = why
		return c
	}
	unknown := Check{Rule: "thread", Verdict: graph.Unknown, Why: "nobody measured the pitch"}
	tests := []struct {
		name string
		c    Check
		was  Check
		want bool
	}{
		{"as far off", no("thread", "2 mm"), no("thread", "2 mm"), true},
		{"less far off", no("thread", "1 mm"), no("thread", "2 mm"), true},
		{"further off", no("thread", "2.5 mm"), no("thread", "2 mm"), false},
		{"another rule", no("thread", "2 mm"), no("bolt pattern", "2 mm"), false},
		{"a no after an unknown", no("thread", "2 mm"), unknown, false},
		{"an unknown after another", Check{Rule: "thread", Verdict: graph.Unknown, Why: "another reason"}, unknown, false},
		{"the same unknown", unknown, unknown, false},
		{"an unknown after a no", unknown, no("thread", "2 mm"), false},
		{"off without a size, the same", read("left"), read("left"), true},
		{"off without a size, told in other words", said(read("left"), "made for the other side"), read("left"), true},
		{"off without a size, read otherwise", said(read("left"), "off"), said(read("right"), "off"), false},
		{"off without a size, another", Check{Rule: "thread", Verdict: graph.DoesNotFit, Had: "M6"},
			Check{Rule: "thread", Verdict: graph.DoesNotFit, Had: "M8"}, false},
		{"more work", Check{Rule: "row", Verdict: graph.FitsWithChanges, Gap: "1 mm", Effort: graph.EffortLatheWeld},
			Check{Rule: "row", Verdict: graph.FitsWithChanges, Gap: "1 mm", Effort: graph.EffortHandTools}, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := Excused(tt.c, []Check{tt.was}); got != tt.want {
				t.Errorf("excused %v, want %v", got, tt.want)
			}
		})
	}
	if Excused(no("thread", "2 mm"), nil) {
		t.Error("what nobody judged before excuses nothing")
	}
}
