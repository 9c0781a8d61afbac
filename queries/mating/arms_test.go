package mating

import (
	"testing"

	"matewell/graph"
)

// Two arms in one proportion are not the same lever: the rod's eye stands elsewhere. Arithmetic; that a rod must meet
// its eye in line is common practice, no source.
func TestArmsInOneProportion(t *testing.T) {
	pedal := made("pedal", "foot", "110 mm", "rod", "30 mm")
	for _, tt := range []struct {
		name, foot, rod string
		safety          graph.Safety
		want            graph.Verdict
	}{
		{"as built", "110 mm", "30 mm", graph.SafetyBrake, yes},
		{"both half", "55 mm", "15 mm", graph.SafetyBrake, open},
		{"both double", "220 mm", "60 mm", graph.SafetyBrake, open},
		{"both half, of the gears", "55 mm", "15 mm", graph.SafetyDrive, open},
		{"near miss: as read twice", "112 mm", "30.8 mm", graph.SafetyBrake, yes},
	} {
		now := pedal.with("foot", tt.foot).with("rod", tt.rod)
		if got := JudgePedal(PedalCase{Was: pedal, Now: now, Safety: tt.safety}); Worst(got) != tt.want {
			t.Errorf("pedal, %s: %s, want %s", tt.name, brief(got), tt.want)
		}
	}
	for _, tt := range []struct {
		name, now, was, master string
		want                   graph.Verdict
	}{
		{"as built", "108/20", "108/20", "", yes},
		{"both half", "54/10", "108/20", "", open},
		{"near miss: as read twice", "110/20.5", "108/20", "", yes},
		{"no arms are written", "5.4", "108/20", "", yes},
		{"nor are they here", "5.4:1", "108/20", "", yes},
		{"nor in a fraction made small", "27/5", "108/20", "", yes},
		{"with the master that asks for it", "54/10", "108/20", "54/10", yes},
		{"with a master that asks for others", "54/10", "108/20", "108/20", open},
	} {
		in := LeverCase{Was: made("lever-throw", "ratio", tt.was), Now: made("lever-throw", "ratio", tt.now),
			Safety: graph.SafetyBrake}
		if tt.master != "" {
			in.Master = made("master-bore", "lever-ratio", tt.master)
		}
		if got := JudgeLever(in); Worst(got) != tt.want {
			t.Errorf("lever, %s: %s, want %s", tt.name, brief(got), tt.want)
		}
	}
}

// A master that is made for another lever of the same leverage. Source as above.
func TestArmsThatAMasterAsksFor(t *testing.T) {
	brake := func(ratio, blade string) Leverage {
		l := Leverage{Master: made("master-bore", "bore", "19 mm").with("lever-ratio", ratio),
			Pistons: []Side{made("pistons", "layout", "opposed", "sizes", "4x 30 mm")}}
		if blade != "" {
			l.Worked = made("lever-throw").with("ratio", blade)
		}
		return l
	}
	for _, tt := range []struct {
		name string
		is   Leverage
		want graph.Verdict
	}{
		{"as built", brake("108/20", "108/20"), yes},
		{"both double", brake("216/40", "108/20"), open},
		{"both double, nothing known of the lever", brake("216/40", ""), open},
		{"with its lever", brake("216/40", "216/40"), yes},
		{"near miss: as read twice", brake("110/20.5", "108/20"), yes},
	} {
		in := LeverageCase{Before: brake("108/20", "108/20"), After: tt.is, Safety: graph.SafetyBrake}
		if c := the(t, JudgeLeverage(in), "brake leverage"); c.Verdict != tt.want {
			t.Errorf("%s: %s (%s), want %s", tt.name, c.Verdict, c.Why, tt.want)
		}
	}
}
