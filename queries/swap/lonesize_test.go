package swap_test

import (
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
)

// What agrees with the one thing that it is held against may be wrong for all else: a
// shaft that goes through its bores on its thread, two sprockets in line beside the chain
// guard, a bolt that fills its eye and goes into no nut.
func TestWhatAgreesAndIsWrong(t *testing.T) {
	const washer = "engine/drain-washer ring."
	tryEquivalents(t, demotest.Facts(t), "skerry-620/2003/eu/late", []equivalent{
		{name: "a pivot shaft on its thread", parts: []string{"rear-suspension/pivot-shaft thread.grip=150 mm"},
			want: graph.DoesNotFit, says: "would sit on the thread"},
		{name: "one a millimetre off", parts: []string{"rear-suspension/pivot-shaft thread.grip=245 mm"}, want: graph.Fits},
		{name: "both sprockets 90 mm further in", parts: []string{"final-drive/sprocket-front teeth.line=-86 mm",
			"final-drive/sprocket-rear teeth.line=-87 mm"}, want: graph.DoesNotFit, says: "in the tyre"},
		{name: "both 10 mm further out", parts: []string{"final-drive/sprocket-front teeth.line=14 mm",
			"final-drive/sprocket-rear teeth.line=13 mm"}, want: graph.Unknown, says: "beside where it ran as built"},
		{name: "nine teeth more in front", parts: []string{"final-drive/sprocket-front teeth.teeth=24"},
			want: graph.DoesNotFit, says: "made round the one built in"},
		{name: "a pivot bolt that fills its lever, with another thread",
			parts: []string{"front-brake/lever-pivot-bolt thread.thread=M8x1"}, want: graph.Unknown, says: "thread"},
		{name: "pads and caliper for another pin, in one of two records of each",
			parts: []string{"front-brake/pads-left pad.pin=6.3 mm", "front-brake/caliper-left pads.pin=6 mm"},
			want:  graph.Unknown, says: "one and the same size is recorded as"},
		{name: "a washer too wide for its plug", parts: []string{washer + "inside=20 mm"}, want: graph.DoesNotFit,
			says: "too wide for"},
	})
	tryEquivalents(t, demotest.Single(t), "tern-125/1974/any", []equivalent{
		{name: "hub and spokes of another circle", parts: []string{"front-wheel/hub spoke-holes.spacing=200 mm",
			"front-wheel/spokes hub-end.spacing=200 mm"}, want: graph.DoesNotFit, says: "too long for these circles"},
		{name: "hub and one end of the spokes with more holes", parts: []string{"front-wheel/hub spoke-holes.count=40",
			"front-wheel/spokes hub-end.count=40"}, want: graph.DoesNotFit, says: "36 spokes for 40 holes"},
	})
}
