package mating

import (
	"math"
	"testing"

	"matewell/graph"
	"matewell/queries/trade"
)

// Pitches of 8 and 14 mm are those of ISO 13050, from memory; a belt 3 mm narrower than its
// pulley between the flanges, and a profile that goes by its word, are common practice, no
// source.
func TestBeltOnPulley(t *testing.T) {
	belt := func(pitch, profile, width string) Side {
		return made("belt", "teeth", "136").with("pitch", pitch).with("profile", profile).with("width", width)
	}
	pulley := made("pulley", "pitch", "14 mm", "profile", "round", "width", "31 mm", "teeth", "32", "line", "0 mm")
	for _, tt := range []struct {
		name string
		belt Side
		want graph.Verdict
		says string
	}{
		{"made for it", belt("14 mm", "round", "28 mm"), yes, ""},
		{"pitch as a caliper reads it", belt("14.1 mm", "round", "28 mm"), yes, ""},
		{"another pitch", belt("8 mm", "round", "28 mm"), no, "8 mm against 14 mm pitch"},
		{"near miss: 0.3 mm of pitch", belt("13.7 mm", "round", "28 mm"), no, "pitch"},
		{"another profile", belt("14 mm", "trapezoid", "28 mm"), no, "climbs"},
		{"wider than the pulley", belt("14 mm", "round", "32 mm"), no, "1 mm wider"},
		{"near miss: as wide", belt("14 mm", "round", "31 mm"), open, "of one width"},
		{"for a narrower pulley", belt("14 mm", "round", "24 mm"), open, "made for a wider one"},
		{"nobody read the profile", belt("14 mm", "", "28 mm"), open, "profile"},
		{"nobody measured the width", belt("14 mm", "round", ""), open, "width"},
		{"nor the pitch", belt("", "round", "28 mm"), open, "pitch"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := the(t, Judge(Meeting{A: tt.belt, B: pulley}), "belt on pulley")
			if c.Verdict != tt.want || !contains(c.Why, tt.says) {
				t.Errorf("%s (%s), want %s with %q", c.Verdict, c.Why, tt.want, tt.says)
			}
		})
	}
}

// A belt of 136 teeth of 11 mm on 32 and 61 teeth: 489.6 mm between the shafts.
func TestBeltLength(t *testing.T) {
	for _, tt := range []struct {
		name, teeth, centre string
		want                graph.Verdict
		order               string
	}{
		{"within the adjusters", "136", "480-500 mm", yes, ""},
		{"three teeth short", "133", "480-500 mm", no, "belt, 135-137 teeth"},
		{"near miss: the next one that still does", "135", "480-500 mm", yes, ""},
		{"near miss: one less", "134", "480-500 mm", no, "belt, 135-137 teeth"},
		{"too long, and not shortened", "142", "480-500 mm", no, "belt, 135-137 teeth"},
		{"nobody knows how far the axle goes", "136", "", open, ""},
		{"nobody counted its teeth", "", "480-500 mm", open, ""},
		{"so short that it goes round neither", "60", "480-500 mm", no, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			in := ChainCase{NoLine: true, Chain: made("belt", "pitch", "11 mm").with("teeth", tt.teeth),
				Front: made("pulley", "teeth", "32"), Rear: made("pulley", "teeth", "61")}
			if tt.centre != "" {
				in.Centre = []graph.Reading{{Text: tt.centre}}
			}
			c := the(t, JudgeBelt(in), "belt length")
			if c.Verdict != tt.want {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.want)
			}
			if tt.order != "" && (len(c.Orders) != 1 || c.Orders[0].Text != tt.order) {
				t.Errorf("orders %+v, want %q", c.Orders, tt.order)
			}
		})
	}
}

// The formula of chains holds for a belt: against the exact length of a belt round two
// circles, 2 C cos f + pi (d1+d2)/2 + f (d2-d1) with sin f = (d2-d1)/2C, it is off by less than
// a tenth of a tooth. Source: plane geometry; the pitch circle of a toothed pulley is p z/pi.
func TestBeltLengthIsThatOfTwoCircles(t *testing.T) {
	for _, tt := range []struct {
		front, rear   int
		centre, pitch float64
	}{{32, 61, 488.9, 11}, {28, 70, 640, 14}, {34, 66, 700, 8}, {30, 30, 500, 14}} {
		d1, d2 := float64(tt.front)*tt.pitch/math.Pi, float64(tt.rear)*tt.pitch/math.Pi
		f := math.Asin((d2 - d1) / (2 * tt.centre))
		exact := (2*tt.centre*math.Cos(f) + math.Pi*(d1+d2)/2 + f*(d2-d1)) / tt.pitch
		got, err := trade.ChainLinks(tt.front, tt.rear, tt.centre, tt.pitch)
		if err != nil || math.Abs(got-exact) > 0.1 {
			t.Errorf("%d and %d teeth of %g mm, %g mm apart: %.3f teeth (%v), want %.3f", tt.front, tt.rear, tt.pitch,
				tt.centre, got, err, exact)
		}
	}
}
