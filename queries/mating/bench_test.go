package mating

import "testing"

// BenchmarkJudge is a typical meeting: a caliper on its leg. The command line
// judges some hundreds of them in one answer.
func BenchmarkJudge(b *testing.B) {
	m := Meeting{
		A: made("caliper-mount", "style", "axial", "spacing", "84 mm", "hole", "10.5 mm", "disc", "296 mm", "offset",
			"12 mm"),
		B: made("caliper-mount", "style", "axial", "spacing", "84 mm", "thread", "M10x1.25", "disc", "296 mm", "offset",
			"12 mm"),
	}
	for b.Loop() {
		if len(Judge(m)) != 4 {
			b.Fatal("four checks wanted")
		}
	}
}
