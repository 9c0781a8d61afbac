package mating

import (
	"testing"

	"matewell/graph"
)

// Geometry. How many teeth more the trade goes without measuring: common practice, no
// source.
func TestJudgeChainPath(t *testing.T) {
	sprocket := func(line, teeth string) Side {
		return made("sprocket", "pitch", "15.875 mm", "line", line, "teeth", teeth)
	}
	plane := made("sprocket-plane", "plane", "64 mm")
	built := ChainPathCase{Front: sprocket("6 mm", "16"), Rear: sprocket("0 mm", "42"), Plane: plane,
		Tyre: made("tyre", "size", "130/80-17", "section", "131 mm")}
	other := plane
	other.Part = "another engine"
	for _, tt := range []struct {
		name   string
		change func(*ChainPathCase)
		want   graph.Verdict
	}{
		{"as built", func(*ChainPathCase) {}, yes},
		{"near miss: 2 mm out, as it is read", func(in *ChainPathCase) { in.Front = sprocket("8 mm", "16") }, yes},
		{"20 mm further out", func(in *ChainPathCase) { in.Front = sprocket("26 mm", "16") }, open},
		{"3 mm further in, clear of the tyre", func(in *ChainPathCase) { in.Front = sprocket("3 mm", "16") }, open},
		{"in the tyre", func(in *ChainPathCase) { in.Front = sprocket("-12 mm", "16") }, no},
		{"on a spacer", func(in *ChainPathCase) { in.Packed = 5 }, open},
		{"its line not measured", func(in *ChainPathCase) { in.Front = sprocket("", "16") }, open},
		{"the face of another engine not measured", func(in *ChainPathCase) { in.Plane = other.with("plane", "") }, open},
		{"a tooth more in front", func(in *ChainPathCase) { in.Front = sprocket("6 mm", "17") }, yes},
		{"eight teeth more in front", func(in *ChainPathCase) { in.Front = sprocket("6 mm", "24") }, open},
		{"two teeth fewer in front", func(in *ChainPathCase) { in.Front = sprocket("6 mm", "14") }, yes},
		{"three teeth fewer in front", func(in *ChainPathCase) { in.Front = sprocket("6 mm", "13") }, open},
		{"another engine with its sprocket", func(in *ChainPathCase) {
			in.Front, in.Plane = sprocket("6 mm", "13"), other
		}, yes},
		{"three teeth more behind", func(in *ChainPathCase) { in.Rear = sprocket("0 mm", "45") }, yes},
		{"ten teeth more behind", func(in *ChainPathCase) { in.Rear = sprocket("0 mm", "52") }, open},
		{"its teeth not counted", func(in *ChainPathCase) { in.Rear = sprocket("0 mm", "") }, open},
	} {
		in := built
		in.Built = &built
		if tt.change(&in); Worst(JudgeChainPath(in)) != tt.want {
			t.Errorf("%s: %+v, want %s", tt.name, JudgeChainPath(in), tt.want)
		}
		right := built // a chain on the right is judged as one on the left
		right.Plane = right.Plane.with("plane", "-64 mm")
		in.Built = &right
		if len(in.Plane.Feature.Dims["plane"]) > 0 {
			in.Plane = in.Plane.with("plane", "-64 mm")
		}
		if Worst(JudgeChainPath(in)) != tt.want {
			t.Errorf("%s, on the right: %+v, want %s", tt.name, JudgeChainPath(in), tt.want)
		}
	}
}
