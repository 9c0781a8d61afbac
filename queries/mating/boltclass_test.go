package mating

import (
	"testing"

	"matewell/graph"
)

// A bolt of a higher class in the nut that carried the one built in is pulled no harder,
// since the torque of the joint stays its own; a nut that carried less, or nothing known,
// is weaker than its bolt. ISO 898-2: a nut's class is no lower than its bolt's; classes
// 8, 8.8 and 10.9 are those of ISO 898-1 and 898-2.
func TestNutAsBuiltOnAStrongerBolt(t *testing.T) {
	bolt := made("male-thread", "thread", "M10x1.25", "length", "40 mm", "grip", "20 mm", "class", "10.9")
	nut := made("female-thread", "thread", "M10x1.25", "depth", "8 mm", "hole", "through", "material", "steel",
		"grip", "30 mm", "class", "8")
	built := func(bolt, nut Side) *Meeting { return &Meeting{A: bolt, B: nut} }
	for _, tt := range []struct {
		name  string
		nut   Side
		built *Meeting
		want  graph.Verdict
		says  string
	}{
		{"the nut of an 8.8 bolt", nut, built(bolt.with("class", "8.8"), nut), yes, "never as for 10.9"},
		{"the other way round in the data", nut, built(nut, bolt.with("class", "8.8")), yes, "never as for 10.9"},
		{"near miss: another nut of a lower class", nut, built(bolt.with("class", "8.8"), nut.with("class", "10")), no,
			"strips first"},
		{"it was too weak then", nut, built(bolt.with("class", "10.9"), nut), no, "strips first"},
		{"a thin nut", nut.with("class", "05"), built(bolt.with("class", "8.8"), nut.with("class", "05")), no, "thin one"},
		{"the class of the bolt built in not known", nut, built(bolt.with("class", ""), nut), no, "strips first"},
		{"nothing known as built", nut, nil, no, "strips first"},
		{"a nut of the bolt's own class", nut.with("class", "10"), nil, yes, "class 10 nut"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := the(t, Judge(Meeting{A: bolt, B: tt.nut, Built: tt.built, WasBuilt: []Side{}}), "bolt class")
			if c.Verdict != tt.want || !contains(c.Why, tt.says) {
				t.Errorf("%s (%s), want %s with %q", c.Verdict, c.Why, tt.want, tt.says)
			}
		})
	}
}

// What is a nut by its kind is judged as one, also where nobody says its class or the width
// over its flats: 0.8 d carry a bolt (ISO 898-2), which in a tapped hole they do not.
func TestNutByItsKind(t *testing.T) {
	bolt := made("male-thread", "thread", "M10x1.25", "length", "40 mm", "grip", "20 mm")
	thread := made("female-thread", "thread", "M10x1.25", "depth", "8 mm", "hole", "through", "material", "steel",
		"grip", "30 mm")
	nut := thread
	nut.PartKind = "nut"
	for _, tt := range []struct {
		name string
		into Side
		want graph.Verdict
	}{
		{"a nut of 0.8 d", nut, yes},
		{"near miss: a nut of 0.7 d", nut.with("depth", "7 mm"), no},
		{"its depth missing", nut.with("depth", ""), open},
		{"a hole as deep", thread, open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if c := the(t, Judge(Meeting{A: bolt, B: tt.into}), "thread engagement"); c.Verdict != tt.want {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.want)
			}
		})
	}
}
