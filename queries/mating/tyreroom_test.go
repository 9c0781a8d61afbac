package mating

import (
	"testing"

	"matewell/graph"
)

// A wider tyre on a wider rim meets legs that were made for neither. The sizes are widths
// and heights as UN R75 has them; the legs are invented.
func TestTyreRoom(t *testing.T) {
	tyre := func(size string) Side { return made("tyre", "size", size) }
	yoke := made("yoke-offset", "offset", "35 mm", "spacing", "194 mm")
	leg := made("tube", "diameter", "43 mm")
	for _, tt := range []struct {
		name string
		in   TyreRoomCase
		want graph.Verdict
	}{
		{"another of its size", TyreRoomCase{Tyre: tyre("120/70 R 17"), Was: tyre("120/70 ZR 17")}, graph.Fits},
		{"smaller", TyreRoomCase{Tyre: tyre("110/70 R 17"), Was: tyre("120/70 R 17")}, graph.Fits},
		{"near miss: one size wider", TyreRoomCase{Tyre: tyre("130/65 R 17"), Was: tyre("120/70 R 17")}, graph.Unknown},
		{"as wide and higher", TyreRoomCase{Tyre: tyre("120/80 R 17"), Was: tyre("120/70 R 17")}, graph.Unknown},
		{"wide, between wide legs", TyreRoomCase{Tyre: tyre("150/70 R 17"), Was: tyre("120/70 R 17"), Yoke: yoke, Leg: leg},
			graph.Unknown},
		{"wider than the legs stand apart", TyreRoomCase{Tyre: tyre("170/50 R 17"), Was: tyre("120/70 R 17"), Yoke: yoke,
			Leg: leg}, graph.DoesNotFit},
		{"by the inch", TyreRoomCase{Tyre: tyre("4.60-18"), Was: tyre("3.25-18")}, graph.Unknown},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := JudgeTyreRoom(tt.in)
			if len(got) != 1 || got[0].Verdict != tt.want {
				t.Errorf("got %v, want %s", got, tt.want)
			}
		})
	}
	if got := JudgeTyreRoom(TyreRoomCase{Tyre: tyre(""), Was: tyre("120/70 R 17")}); len(got) != 0 {
		t.Errorf("without a size: %v, want no check", got)
	}
}
