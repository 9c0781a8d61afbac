package mating

import "testing"

// Sources: DIN 471, DIN 472 for rings; walls: ISO 3547 from memory and common
// practice; pressed bushes: a bush maker's tolerance page; the rest common
// practice, no source.
func TestSleevesAndCirclips(t *testing.T) {
	sleeve := made("sleeve", "inside", "17 mm", "outside", "20 mm", "length", "30 mm", "split", "yes")
	clamp := made("clamp", "diameter", "20 mm", "length", "30 mm", "split", "yes")
	ring := made("circlip", "nominal", "42 mm", "thickness", "1.75 mm", "on", "bore")
	groove := made("circlip-groove", "nominal", "42 mm", "diameter", "44.5 mm", "width", "1.85 mm", "on", "bore")
	runCases(t, []ruleCase{
		{"sleeve on its shaft", sleeve, made("shaft", "diameter", "16.9 mm"), "", yes},
		{"near miss: 0.1 mm too small", sleeve, made("shaft", "diameter", "17.1 mm"), "sleeve on shaft", no},
		{"sleeve loose on a shaft", sleeve, made("shaft", "diameter", "16 mm"), "sleeve on shaft", no},
		{"sleeve's inside missing", sleeve.with("inside", ""), made("shaft", "diameter", "17 mm"), "sleeve on shaft", open},
		{"sleeve on a bar", sleeve, made("tube", "diameter", "17 mm"), "", yes},
		{"pressed in its bore", sleeve.with("outside", "20.05 mm"), made("bore", "diameter", "20 mm"), "", yes},
		{"near miss: too tight to press", sleeve.with("outside", "20.1 mm"), made("bore", "diameter", "20 mm"),
			"sleeve in bore", no},
		{"too loose to hold", sleeve.with("outside", "19.9 mm"), made("bore", "diameter", "20 mm"), "sleeve in bore", no},
		{"outside missing", sleeve.with("outside", ""), made("bore", "diameter", "20 mm"), "sleeve in bore", open},
		{"in a bar clamp", sleeve, clamp, "", yes},
		{"sleeve not split", sleeve.with("split", "no"), clamp, "sleeve in clamp", no},
		{"clamp not split", sleeve, clamp.with("split", "no"), "sleeve in clamp", no},
		{"split not known", sleeve.with("split", ""), clamp, "sleeve in clamp", open},
		{"sleeve too short", sleeve.with("length", "25 mm"), clamp, "sleeve in clamp", no},
		{"sleeve too thin for the clamp", sleeve.with("outside", "19.8 mm"), clamp, "sleeve in clamp", no},
		{"wall as bushes have", sleeve.with("outside", "19 mm"), clamp, "sleeve wall", yes},
		{"wall between practice and standard", sleeve.with("inside", "20 mm").with("outside", "22.4 mm"), clamp,
			"sleeve wall", open},
		{"wall too thin to turn", sleeve.with("outside", "18.8 mm"), clamp, "sleeve wall", no},
		{"no wall at all", sleeve.with("outside", "16 mm"), clamp, "sleeve wall", no},

		{"ring in its groove", ring, groove, "", yes},
		{"ring for a shaft", ring.with("on", "shaft"), groove, "circlip", no},
		{"ring for 40", ring.with("nominal", "40 mm"), groove, "circlip", no},
		{"near miss: ring as thick as the groove", ring.with("thickness", "1.85 mm"), groove, "circlip", yes},
		{"ring too thick", ring.with("thickness", "2 mm"), groove, "circlip", no},
		{"ring too thin", ring.with("thickness", "1 mm"), groove, "circlip", no},
		{"groove worn open", ring, groove.with("diameter", "45 mm"), "circlip", no},
		{"groove not measured", ring, groove.with("diameter", ""), "circlip", open},
	})
}

// A sleeve that nobody makes is not ordered, and no message of a formula is the answer.
// The walls are those of ISO 3547, from memory: they end at a bore of 75 mm.
func TestNothingIsMadeBeyondTheTables(t *testing.T) {
	shaft, hole := made("shaft", "diameter", "74 mm"), made("bore", "diameter", "80 mm", "length", "30 mm")
	for _, tt := range []struct {
		name        string
		shaft, hole Side
		want        string // in the order, else in why there is none
	}{
		{"within", shaft, hole, "sleeve 74 mm inside, 80 mm outside, 30 mm long"},
		{"near miss: a bore of 76 mm", shaft.with("diameter", "76 mm"), hole, "nothing can be made"},
		{"far beyond", shaft.with("diameter", "118.1 mm"), hole.with("diameter", "125 mm"), "nothing can be made"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := the(t, Judge(Meeting{A: tt.shaft, B: tt.hole}), "shaft in bore")
			says := c.Why
			for _, o := range c.Orders {
				says = o.Text
			}
			if !contains(says, tt.want) || contains(c.Why, "it must be") || (c.Verdict == no) != (len(c.Orders) == 0) {
				t.Errorf("%s, %d orders: %s", c.Verdict, len(c.Orders), says)
			}
		})
	}
}
