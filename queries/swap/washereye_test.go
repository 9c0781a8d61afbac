package swap_test

import (
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
)

// A washer under the eye of a brake line decides how far the hollow bolt reaches: one that
// nobody measured is not taken for usual there.
func TestWasherUnderAnEye(t *testing.T) {
	const eye = "front-brake/banjo-washer-master "
	tryEquivalents(t, demotest.Facts(t), "skerry-620/2003/eu/late", []equivalent{
		{name: "the same one under another number", parts: []string{eye}, want: graph.Fits},
		{name: "near miss: a little thicker, and measured", parts: []string{eye + "ring.thickness=1.2 mm"},
			want: graph.Fits},
		{name: "nobody measured it", parts: []string{eye + "ring.thickness="}, want: graph.Unknown,
			says: "thickness of ring"},
		{name: "so thick that the bolt holds by nothing", parts: []string{eye + "ring.thickness=8 mm"},
			want: graph.DoesNotFit, says: "too short"},
	})
}
