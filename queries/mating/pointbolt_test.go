package mating

import (
	"testing"

	"matewell/graph"
)

// A bolt that holds something on its points is held against them: it goes into a thread
// there, or through holes that suit it. Clearance holes: ISO 273, coarse series, from memory.
func TestBoltAtPoints(t *testing.T) {
	tank := made("points", "points", "front: 18 mm rubber at 200,58; rear: 8.5 mm collar at -240,0", "seen-from", "top")
	frame := made("points", "points", "front: 18 mm peg at 200,58; rear: M8x1.25 insert at -240,0", "seen-from", "top")
	nutted := frame.with("points", "front: 18 mm peg at 200,58; rear: 8.5 mm hole at -240,0")
	bolt := made("male-thread", "thread", "M8x1.25", "length", "40 mm")
	for _, tt := range []struct {
		name    string
		carrier Side
		bolt    Side
		want    graph.Verdict
		says    string
	}{
		{"as built", frame, bolt, yes, "M8x1.25 goes into the thread at rear"},
		{"too thin", frame, bolt.with("thread", "M6x1"), no, "none of the threads there: M8x1.25 at rear"},
		{"too thick", frame, bolt.with("thread", "M10x1.25"), no, "none of the threads"},
		{"near miss: another pitch", frame, bolt.with("thread", "M8x1"), no, "none of the threads"},
		{"through both, into a nut", nutted, bolt, yes, "on both sides"},
		{"too thick for the holes", nutted, bolt.with("thread", "M10x1.25"), no, "none of the holes"},
		{"thread missing", frame, bolt.with("thread", ""), open, "thread"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := the(t, Judge(Meeting{A: tank, B: tt.carrier, Bolts: []Side{tt.bolt}}), "bolt at points")
			if c.Verdict != tt.want || !contains(c.Why, tt.says) {
				t.Errorf("%s (%s), want %s with %q", c.Verdict, c.Why, tt.want, tt.says)
			}
		})
	}
}
