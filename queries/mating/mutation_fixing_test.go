package mating

import (
	"slices"
	"strings"
	"testing"

	"matewell/graph"
)

// fixingCases are what this file's rules judge, fitting as they are: bolts with all
// that they pass, calipers, pads, shoes, tyres, hubs and what is made.
func fixingCases() map[string]aCase {
	pair := func(a, b Side) aCase {
		return aCase{[]Side{a, b}, func(s []Side) []Check { return Judge(Meeting{A: s[0], B: s[1]}) }}
	}
	at := func(name string, s Side) Side { s.Position = graph.PositionID("bench/" + name); return s }
	bolt := made("male-thread", "thread", "M8", "length", "50 mm", "grip", "34 mm", "class", "8.8", "shank", "8 mm")
	nut := made("female-thread", "thread", "M8", "depth", "6.8 mm", "hole", "through", "material", "steel", "class", "8")
	hole := made("female-thread", "thread", "M8", "depth", "19 mm", "hole", "blind", "material", "aluminium", "grip",
		"10 mm",
		"bolt-class", "8.8")
	screw := made("male-thread", "thread", "M8", "length", "26 mm", "grip", "8 mm", "class", "8.8")
	leg := made("caliper-mount", "style", "radial", "spacing", "108 mm", "thread", "M10x1.25", "disc", "310 mm",
		"bolt-class", "10.9")
	caliper := made("caliper-mount", "style", "radial", "spacing", "108 mm", "hole", "10.5 mm", "disc", "310 mm")
	stem := made("male-thread", "thread", "M10x1.25", "length", "60 mm", "class", "10.9")
	disc := made("disc-rim", "diameter", "310 mm", "thickness", "5 mm", "band", "34 mm")
	ring := made("bolt-pattern", "count", "5", "spacing", "80 mm", "hole", "9 mm")
	tyre := made("tyre", "size", "120/70 ZR 17", "load", "58", "speed", "W", "place", "front", "service", "road", "arrow",
		"one way")
	return map[string]aCase{
		"screw in a hole": pair(screw, hole),
		"pivot in a lever": pair(made("male-thread", "thread", "M6", "length", "25 mm", "shank", "8 mm"),
			made("bore", "diameter", "8.1 mm")),
		"cap": pair(made("male-thread", "thread", "M32x1", "length", "12 mm", "duty", "cap"),
			made("female-thread", "thread", "M32x1", "depth", "15 mm", "hole", "through", "material", "steel", "grip", "0 mm")),
		"bolt through a fork": {[]Side{bolt, at("cheek-1", made("clevis", "gap", "24 mm", "bolt", "8 mm", "cheek", "5 mm")),
			made("eye", "bore", "8.1 mm", "width", "26 mm"), at("cheek-2", made("clevis", "gap", "24 mm", "bolt", "8 mm",
				"cheek", "5 mm")),
			made("washer", "inside", "8.4 mm", "outside", "16 mm", "thickness", "1.5 mm"), nut}, func(s []Side) []Check {
			return JudgeBolt(BoltCase{Bolt: s[0], Through: []Layer{{Side: s[1]}, {Side: s[2]}, {Side: s[3]}, {Side: s[4]}},
				Into: s[5],
				Built: &BoltCase{Bolt: bolt, Into: nut, Through: []Layer{{Side: made("clevis", "gap", "24 mm", "bolt", "8 mm",
					"cheek", "5 mm")}}}})
		}},
		"caliper on its leg": {[]Side{caliper, leg, disc, stem}, func(s []Side) []Check {
			return Judge(Meeting{A: s[0], B: s[1], Disc: s[2], Bolts: []Side{s[3]}})
		}},
		"caliper by heights": {[]Side{caliper.with("height", "25 mm"), leg.with("height", "130 mm"), disc},
			func(s []Side) []Check {
				return Judge(Meeting{A: s[0], B: s[1], Disc: s[2]})
			}},
		"bracket": {[]Side{made("shift", "outward", "7 mm", "sideways", "-3 mm"),
			made("caliper-mount", "style", "axial", "spacing", "84 mm", "thread", "M8", "disc", "296 mm", "offset", "12 mm"),
			made("caliper-mount", "style", "axial", "spacing", "96 mm", "hole", "8.4 mm", "disc", "296 mm", "offset", "15 mm"),
			disc},
			func(s []Side) []Check {
				return JudgeShift(ShiftCase{Shift: s[0], Leg: s[1], Caliper: s[2], Disc: s[3]})
			}},
		"plate": {[]Side{made("plate", "thickness", "10 mm", "material", "steel", "edge", "13.5 mm", "between", "22 mm"),
			ring,
			made("bolt-pattern", "count", "6", "spacing", "130 mm", "thread", "M8")},
			func(s []Side) []Check { return JudgePlate(PlateCase{Plate: s[0], A: s[1], B: s[2]}) }},
		"sleeve on a shaft": pair(made("sleeve", "inside", "17 mm", "outside", "20 mm", "length", "30 mm"), made("shaft",
			"diameter", "16.9 mm")),
		"sleeve in a bore": pair(made("sleeve", "inside", "17 mm", "outside", "20 mm", "length", "30 mm"), made("bore",
			"diameter", "20 mm")),
		"sleeve in a clamp": pair(made("sleeve", "inside", "17 mm", "outside", "20 mm", "length", "30 mm", "split", "yes"),
			made("clamp", "diameter", "20 mm", "length", "30 mm", "split", "yes")),
		"circlip": pair(made("circlip", "nominal", "42 mm", "thickness", "1.75 mm", "on", "bore"),
			made("circlip-groove", "nominal", "42 mm", "diameter", "44.5 mm", "width", "1.85 mm", "on", "bore")),
		"bearing in a hub": pair(made("bearing", "inside", "20 mm", "outside", "47 mm", "width", "14 mm", "form", "ball"),
			made("bearing-seat", "diameter", "47 mm", "depth", "14 mm", "form", "ball", "turns", "yes", "fit", "N7")),
		"inside of a hub": {[]Side{made("hub-row", "between", "80 mm", "width", "108 mm"), made("bearing", "width", "14 mm"),
			at("right", made("bearing", "width", "14 mm")), at("left-seat", made("bearing-seat", "depth", "14 mm")),
			at("right-seat", made("bearing-seat", "depth", "14 mm")), at("tube", made("row-width", "width", "80.2 mm")),
			at("hub", made("row-width", "width", "108.2 mm"))}, func(s []Side) []Check {
			return JudgeInnerRow(InnerRowCase{Hub: s[0], Left: s[1], Right: s[2], SeatLeft: s[3], SeatRight: s[4], Tube: s[5],
				Row: s[6]})
		}},
		"tyre on its machine": pair(tyre, made("tyre-need", "load", "58", "speed", "W", "wheel", "front")),
		"tyre in its room": pair(made("tyre", "size", "120/70 ZR 17", "section", "122 mm", "radius", "300 mm"),
			made("tyre-room", "width", "145 mm", "radius", "312 mm", "chain", "72 mm")),
		"pair of tyres": {[]Side{made("tyre", "size", "3.00-18", "construction", "diagonal"), made("tyre", "size", "3.50-18",
			"construction", "diagonal")},
			func(s []Side) []Check { return JudgeTyrePair(TyrePairCase{Front: s[0], Rear: s[1]}) }},
		"pad": pair(made("pad", "outline", "P-17", "plate", "4 mm", "thickness", "9 mm", "pin", "5.2 mm"),
			made("pad-seat", "outline", "P-17", "plate", "4 mm", "thickness", "9 mm", "pin", "5 mm")),
		"bleed screw": {[]Side{made("bleed-screw", "top", "left")},
			func(s []Side) []Check { return JudgeBleed(BleedCase{Screw: s[0], Side: "left"}) }},
		"shoes": pair(made("shoes", "diameter", "159.5 mm", "width", "28 mm"), made("drum", "diameter", "160 mm",
			"width", "30 mm", "most", "161 mm")),
		"shoe carrier": pair(made("shoes", "pivot", "12.1 mm", "cam", "10 mm"),
			made("shoe-carrier", "pivot", "12 mm", "cam", "10.5 mm")),
		"brake rod": pair(made("brake-rod", "length", "420 mm", "thread-length", "45 mm", "pivot", "8 mm"),
			made("rod-room", "length", "390 mm", "nut", "14 mm", "pivot", "8.1 mm")),
		"leverage": {[]Side{made("master-bore", "bore", "15.875 mm", "stroke", "12 mm", "style", "axial", "lever-ratio", "6"),
			made("pistons", "sizes", "2x 41 mm", "layout", "opposed")}, func(s []Side) []Check {
			was := Leverage{Master: made("master-bore", "bore", "15.875 mm", "lever-ratio", "6"),
				Pistons: []Side{made("pistons", "sizes", "2x 41 mm", "layout", "opposed")}}
			return JudgeLeverage(LeverageCase{Before: was, After: Leverage{Master: s[0], Pistons: s[1:]}})
		}},
	}
}

// harmlessFixing are the changes that leave a fit a fit, by case, with the reason.
func harmlessFixing() map[string]string {
	const (
		slot     = "the caliper's slot reads it"
		lugs     = "the caliper on its lugs reads it"
		measured = "the distance measured between the holes counts"
		listed   = "a class that nobody lists can't be missed here; the kind asks for it"
		length   = "JudgeBolt reads it, with all that it passes"
		marked   = "what is marked apart counts before the size"
		more     = "more than enough"
		optional = "a mark that not every tyre carries"
	)
	return map[string]string{
		"bearing in a hub: bearing inside":               "the shaft reads it",
		"bearing in a hub: bearing width -":              "the inside of the hub reads it, and the bearing built in",
		"bearing in a hub: bearing-seat depth +":         "the inside of the hub reads it",
		"bearing in a hub: bearing-seat fit dropped":     "the diameter measured counts then",
		"bearing in a hub: bearing-seat turns":           "what stands still may be looser",
		"bleed screw: bleed-screw top":                   "on either side is on this one",
		"bolt through a fork: clevis cheek +":            "enough bolt is left for 1.7 mm more",
		"bolt through a fork: clevis cheek -":            "more bolt stands out",
		"bolt through a fork: clevis gap":                "the eye in it reads it",
		"bolt through a fork: female-thread depth +":     "enough bolt is left for a higher nut",
		"bolt through a fork: male-thread length +":      "more bolt stands out of a nut",
		"bolt through a fork: male-thread shank dropped": "a shank is as thick as its thread (ISO 4014)",
		"bolt through a fork: washer outside":            "nothing here rests on its rim",
		"bolt through a fork: washer thickness +":        "enough bolt is left for 0.5 mm more",
		"bolt through a fork: washer thickness -":        "more bolt stands out",
		"bracket: caliper-mount hole":                    lugs,
		"bracket: caliper-mount spacing":                 lugs,
		"bracket: caliper-mount style":                   lugs,
		"bracket: caliper-mount thread":                  lugs,
		"bracket: disc-rim band":                         slot,
		"bracket: disc-rim thickness":                    slot,
		"brake rod: brake-rod thread-length":             "the nut still stands on thread",
		"brake rod: rod-room nut":                        "the nut still stands on thread",
		"caliper by heights: caliper-mount bolt-class":   "no bolt is there to judge",
		"caliper by heights: caliper-mount disc": "heights that somebody measured count before sizes it is " +
			"made for",
		"caliper by heights: caliper-mount height dropped":     "the discs all three are made for count then",
		"caliper by heights: disc-rim band":                    slot,
		"caliper by heights: disc-rim thickness":               slot,
		"caliper on its leg: caliper-mount bolt-class dropped": listed,
		"caliper on its leg: disc-rim band":                    slot,
		"caliper on its leg: disc-rim thickness":               slot,
		"caliper on its leg: male-thread length":               length,
		"cap: female-thread depth +":                           "the cap is in with all its thread",
		"cap: female-thread depth -":                           "ten turns still hold it",
		"cap: female-thread hole":                              "a cap closes its tube by a collar or seal",
		"cap: female-thread material":                          "no source asks for a length of thread of a cap by material",
		"cap: male-thread duty":                                "its size says that it is no bolt",
		"cap: male-thread length +":                            "turns beyond the tube's own add nothing",
		"cap: male-thread length -":                            "eight turns still hold it",
		"inside of a hub: hub-row width dropped":               "where the bearings lie is then told by the row alone",
		"leverage: master-bore stroke":                         "lever travel reads it",
		"leverage: master-bore style":                          "leverage is the same for both, and is what to compare",
		"pair of tyres: tyre construction dropped":             "an inch size says that it is diagonal",
		"pair of tyres: tyre size":                             marked,
		"pivot in a lever: male-thread length":                 length,
		"plate: bolt-pattern count":                            measured,
		"plate: bolt-pattern hole -":                           "smaller holes leave more metal",
		"plate: bolt-pattern spacing":                          measured,
		"plate: plate between +":                               more,
		"plate: plate between dropped":                         "the two patterns tell it then",
		"plate: plate edge +":                                  more,
		"plate: plate thickness +":                             more,
		"screw in a hole: female-thread bolt-class dropped":    listed,
		"screw in a hole: female-thread depth +":               more,
		"screw in a hole: female-thread grip +":                "12.7 mm still carry, more than one source asks",
		"screw in a hole: female-thread hole":                  "without a bottom it can't bottom",
		"screw in a hole: female-thread material":              "enough for every material",
		"screw in a hole: male-thread grip -":                  "more thread",
		"screw in a hole: male-thread grip dropped":            "a standard bolt so short is thread enough (ISO 4014)",
		"shoe carrier: shoe-carrier cam +":                     "a wider cam bears on the whole face",
		"shoe carrier: shoes cam -":                            "the cam bears on the whole face",
		"sleeve in a bore: sleeve inside -":                    "what goes through it reads it; more wall",
		"sleeve in a bore: sleeve length":                      "nobody said how long the bore is",
		"sleeve in a clamp: clamp length -":                    "the sleeve is longer than the clamp",
		"sleeve in a clamp: sleeve inside -":                   "what goes through it reads it; more wall",
		"sleeve in a clamp: sleeve length +":                   more,
		"sleeve on a shaft: sleeve length":                     "what it sits in reads it",
		"sleeve on a shaft: sleeve outside +":                  "what it sits in reads it; more wall",
		"tyre in its room: tyre radius dropped":                "its size tells it then",
		"tyre in its room: tyre section dropped":               "its size tells it then",
		"tyre in its room: tyre size":                          marked,
		"tyre in its room: tyre-room chain +":                  more,
		"tyre in its room: tyre-room chain dropped":            "a machine whose chain is far away or none",
		"tyre in its room: tyre-room radius +":                 more,
		"tyre in its room: tyre-room width +":                  more,
		"tyre on its machine: tyre load +":                     more,
		"tyre on its machine: tyre place":                      optional,
		"tyre on its machine: tyre service dropped":            optional,
		"tyre on its machine: tyre size":                       marked,
		"tyre on its machine: tyre-need load -":                more,
	}
}

// Every dimension decides, as in TestEveryDimensionDecides.
func TestEveryFixingDimensionDecides(t *testing.T) {
	used := map[string]bool{}
	for name, in := range fixingCases() {
		if got := in.judge(in.sides); Worst(got) != yes {
			t.Errorf("%s does not fit as built: %s", name, brief(got))
		}
		for side := range in.sides {
			kind, _ := graph.FeatureKindNamed(in.sides[side].Feature.Kind)
			for _, d := range kind.Dims {
				for _, change := range changes(in.sides[side], d) {
					changed := slices.Clone(in.sides)
					changed[side] = changed[side].with(d.Name, change.text)
					if Worst(in.judge(changed)) != yes {
						continue
					}
					key := strings.TrimSpace(name + ": " + kind.Name + " " + d.Name + " " + change.sign)
					if harmlessFixing()[key] == "" {
						key = name + ": " + kind.Name + " " + d.Name
					}
					if used[key] = true; harmlessFixing()[key] == "" {
						t.Errorf("%s changed to %q is still a plain fit", key, change.text)
					}
				}
			}
		}
	}
	for key := range harmlessFixing() {
		if !used[key] {
			t.Errorf("%q is excused and needs no excuse", key)
		}
	}
}
