package loader_test

import (
	"fmt"

	"matewell/graph"
)

// summary counts what a data set holds.
func summary(f graph.Facts) string {
	return fmt.Sprintf("%d sources, %d brands, %d kinds, %d models, %d variants, %d assemblies, %d positions, %d parts, "+
		"%d fitments, %d joints, %d runs, %d circuits, %d stacks, %d supersessions, %d findings, %d bikes\n",
		len(f.Sources), len(f.Brands), len(f.Kinds), len(f.Models), len(f.Variants), len(f.Assemblies), len(f.Positions),
		len(f.Parts),
		len(f.Fitments), len(f.Joints), len(f.Runs), len(f.Circuits), len(f.Stacks), len(f.Supersessions), len(f.Findings),
		len(f.Bikes))
}
