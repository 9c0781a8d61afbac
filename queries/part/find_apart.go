package part

import (
	"strings"

	"matewell/graph"
	"matewell/queries/evidence"
)

// mostApart is how many dimensions tell parts apart at most: more nobody compares.
const mostApart = 4

// apartDim is a dimension of a feature that tells parts of one kind apart.
type apartDim struct {
	feature, dim string
	always       bool // is told even where all found have the same
}

// textOf is what a part has in a dimension, as written first; empty where nobody wrote it.
func textOf(p graph.Part, d apartDim) string {
	f, _ := p.Feature(d.feature)
	return strings.TrimSpace(evidence.FirstText(f.Dims[d.dim]))
}
