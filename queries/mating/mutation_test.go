package mating

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/graph/measure"
)

// mates are pairs that fit as they are, with every dimension given.
func mates() map[string][2]Side {
	return map[string][2]Side{
		"yokes": {made("yoke-offset", "offset", "30 mm", "spacing", "206 mm", "angle", "1 deg"),
			made("yoke-offset", "offset", "30 mm", "spacing", "206 mm", "angle", "1 deg")},
		"stops": {made("steering-stop", "radius", "62 mm", "height", "30 mm", "angle", "50 deg"),
			made("steering-stop", "radius", "62 mm", "height", "30 mm", "angle", "15 deg")},
		"spring": {made("spring", "outside", "34 mm", "length", "410 mm", "rate", "8.5 N/mm", "solid", "230 mm",
			"pieces", "5"), made("spring-room", "bore", "36 mm", "length", "395 mm", "preload", "14-16 mm", "travel", "140 mm",
			"rate", "8.5 N/mm", "pieces", "5")},
		"cap": {made("cap", "form", "screwed", "thread", "M35x1", "length", "9 mm", "diameter", "36.4 mm"),
			made("cap-seat", "form", "screwed", "thread", "M35x1", "depth", "12 mm", "diameter", "36.5 mm")},
		"ringed cap": {made("cap", "form", "ringed", "diameter", "36.4 mm"), made("cap-seat", "form", "ringed",
			"diameter", "36.5 mm")},
		"friction plate": {made("friction-plate", "tabs", "12", "tab-width", "13.7 mm", "outside", "138 mm", "thickness",
			"3 mm", "bath", "wet"),
			made("clutch-basket", "slots", "12", "slot-width", "14 mm", "diameter", "139 mm", "bath", "wet")},
		"steel plate": {made("steel-plate", "teeth", "42", "inside", "112 mm", "thickness", "2 mm"),
			made("clutch-hub", "teeth", "42", "root", "111.5 mm", "pack", "29-30 mm")},
		"cush rubbers": {made("cush-rubber", "pieces", "6", "width", "30 mm", "height", "32 mm", "length", "45 mm"),
			made("cush-bay", "pieces", "6", "width", "29 mm", "depth", "32 mm", "length", "45 mm")},
		"joining link": {made("joining-link", "form", "riveted", "pitch", "15.875 mm", "roller", "10.16 mm",
			"inner-width", "6.35 mm", "make", "north 520", "pin", "5.2 mm"),
			made("chain", "pitch", "15.875 mm", "roller", "10.16 mm", "inner-width", "6.35 mm", "links", "110", "make",
				"north 520", "pin", "5.2 mm")},
		"rectifier": {made("stator", "phases", "3", "voltage", "12 V", "power", "200 W", "field", "winding"),
			made("rectifier", "phases", "3", "power", "250 W")},
		"field": {made("stator", "phases", "3", "voltage", "12 V", "power", "200 W", "field", "winding"),
			made("field-control", "voltage", "12 V", "ceiling", "14.2 V", "switches", "earth")},
		"belt": {made("belt", "pitch", "11 mm", "profile", "round", "teeth", "136", "width", "28 mm"),
			made("pulley", "pitch", "11 mm", "profile", "round", "width", "31 mm", "teeth", "32", "line", "0 mm")},
		"sprocket": {made("sprocket-boss", "form", "nut", "width", "12 mm"), made("sprocket-seat", "form", "nut", "width",
			"12.1 mm")},
		"tab washer": {made("tab-washer", "inside", "22.2 mm", "key", "splines", "flat", "30 mm", "teeth", "13"),
			made("spline", "teeth", "13", "major", "25 mm", "minor", "22 mm")},
		"tab washer and nut": {made("tab-washer", "inside", "22.2 mm", "key", "splines", "flat", "30 mm", "teeth", "13"),
			made("female-thread", "thread", "M20x1.5", "depth", "10 mm", "hole", "through", "material", "steel",
				"across-flats", "30 mm")},
		"grip": {made("bar-fitting", "bore", "22.2 mm", "width", "120 mm", "turns", "no", "peg", "yes"),
			made("bar-end", "diameter", "22.2 mm", "straight", "130 mm", "inside", "16 mm", "peg-hole", "yes")},
		"bar weight": {made("bar-weight", "plug", "15-17 mm"),
			made("bar-end", "diameter", "22.2 mm", "straight", "130 mm", "inside", "16 mm")},
		"cable": {made("cable-pull", "travel", "35 mm", "cables", "2"), made("cable-draw", "travel", "35 mm",
			"cables", "2", "most", "38 mm")},
		"ferrule": {made("ferrule", "form", "plain", "diameter", "7 mm"), made("ferrule-seat", "form", "plain",
			"diameter", "7.2 mm")},
		"threaded ferrule": {made("ferrule", "form", "threaded", "thread", "M8x1.25"), made("ferrule-seat", "form",
			"threaded", "thread", "M8x1.25")},
		"pushrod": {made("pushrod", "length", "92 mm", "diameter", "6 mm", "end", "ball"),
			made("pushrod-seat", "length", "90-94 mm", "bore", "6.2 mm", "end", "ball")},
		"rod end": {made("rod-end", "thread", "M6", "depth", "14 mm", "reach", "22 mm"),
			made("link-rod", "length", "180 mm", "thread-1", "M6", "thread-2", "M6 LH")},
		"sensor": {made("signal-out", "tells", "speed", "form", "hall", "per-turn", "4", "voltage", "12 V"),
			made("signal-in", "tells", "speed", "form", "hall", "per-turn", "4", "voltage", "12 V")},
		"sender": {made("signal-out", "tells", "temperature", "form", "resistance", "resistance", "2.5 kohm", "voltage",
			"12 V"),
			made("signal-in", "tells", "temperature", "form", "resistance", "resistance", "2.5 kohm", "voltage", "12 V")},
		"speedometer cable": {made("signal-out", "tells", "speed", "form", "cable", "per-turn", "0.4", "end", "square"),
			made("signal-in", "tells", "speed", "form", "cable", "per-turn", "0.4", "end", "square")},
		"hose": {made("hose-end", "bore", "6 mm", "outside", "12 mm", "for", "fuel"), made("spigot", "diameter",
			"6.5 mm", "carries", "fuel")},
		"hose clamp": {made("hose-clamp", "range", "11-14 mm"), made("hose-end", "bore", "6 mm", "outside", "12 mm",
			"for", "fuel")},
		"throats": {made("throat-row", "count", "4", "spacing-1", "78 mm", "spacing-2", "84 mm", "spacing-3", "78 mm"),
			made("throat-row", "count", "4", "spacing-1", "78 mm", "spacing-2", "84 mm", "spacing-3", "78 mm")},
		"tap": {made("tap-inlet", "form", "threaded", "body", "12 mm", "thread", "M22x1"),
			made("tank-outlet", "form", "threaded", "opening", "14 mm", "thread", "M22x1")},
		"bolted tap": {made("tap-inlet", "form", "flange", "body", "18 mm", "spacing", "34 mm"),
			made("tank-outlet", "form", "flange", "opening", "20 mm", "spacing", "34 mm")},
		"fuse": {made("fuse", "rating", "10 A", "form", "blade"), made("fuse-holder", "rating", "10 A", "form", "blade")},
		"stator": {made("stator", "phases", "3", "voltage", "12 V", "power", "300 W"),
			made("regulator", "phases", "3", "voltage", "12 V", "ceiling", "14.5 V", "power", "350 W")},
		"charging": {made("regulator", "phases", "3", "voltage", "12 V", "ceiling", "14.5 V", "power", "350 W"),
			made("battery", "voltage", "12 V", "length", "150 mm", "width", "87 mm", "height", "105 mm", "plus", "left",
				"ceiling", "14.2-14.8 V")},
		"battery": {made("battery", "voltage", "12 V", "length", "150 mm", "width", "87 mm", "height", "105 mm", "plus",
			"left", "ceiling", "14.2-14.8 V"),
			made("battery-box", "length", "152 mm", "width", "90 mm", "height", "110 mm", "plus", "left")},
		"ignition coil": {made("ignition-coil", "voltage", "12 V", "primary", "3 ohm", "leads", "1"),
			made("ignition-output", "voltage", "12 V", "primary", "2.5-3.5 ohm", "leads", "1")},
		"spigot": {made("bolt-pattern", "count", "5", "spacing", "80 mm", "hole", "8.5 mm", "spigot", "62 mm", "locates",
			"recess"),
			made("bolt-pattern", "count", "5", "spacing", "80 mm", "thread", "M8", "spigot", "62 mm", "locates", "raised")},
	}
}

// aCase is a judgement of more than two things, as built and whole.
type aCase struct {
	sides []Side
	judge func([]Side) []Check
}

// cases are judgements of more than two things that fit as they are.
func cases() map[string]aCase {
	stop := made("steering-stop", "radius", "62 mm", "height", "30 mm", "angle", "15 deg")
	tyre := made("tyre", "size", "120/70-17")
	leg := made("fork-length", "length", "760 mm")
	return map[string]aCase{
		"lock": {[]Side{stop.with("angle", "50 deg"), stop, made("swing", "radius", "400 mm", "angle", "66 deg", "height",
			"60 mm"),
			made("swing-room", "radius", "180 mm", "angle", "24 deg", "bottom", "-100 mm", "top", "120 mm")},
			func(s []Side) []Check {
				return JudgeLock(LockCase{Frame: s[0], Yoke: s[1], WasFrame: stop.with("angle", "50 deg"), WasYoke: stop,
					Swings: s[2:3], Rooms: s[3:]})
			}},
		"hand": {[]Side{made("hand", "hand", "left", "cylinder", "2")}, func(s []Side) []Check {
			return JudgeHand(HandCase{Part: s[0], Side: "left", Cylinder: 2})
		}},
		"springs left and right": {[]Side{made("spring", "outside", "34 mm", "length", "410 mm", "rate", "8.5 N/mm"),
			made("spring", "outside", "34 mm", "length", "410 mm", "rate", "8.5 N/mm")}, func(s []Side) []Check {
			return JudgePair(PairCase{Left: s[:1], Right: s[1:]})
		}},
		"oil left and right": {[]Side{made("oil-fill", "level", "130 mm", "grade", "10 W"), made("oil-fill", "level",
			"130 mm", "grade", "10 W")}, func(s []Side) []Check {
			return JudgePair(PairCase{Left: s[:1], Right: s[1:]})
		}},
		"clutch pack": {[]Side{made("clutch-hub", "pack", "7.9-8.1 mm"), made("friction-plate", "thickness", "3 mm"),
			made("steel-plate", "thickness", "2 mm"), made("friction-plate", "thickness", "3 mm")}, func(s []Side) []Check {
			return JudgePack(PackCase{Hub: s[0], Plates: s[1:]})
		}},
		"hose on its pipe": {[]Side{made("hose-end", "bore", "6 mm", "outside", "12 mm"), made("spigot", "diameter",
			"6.5 mm"),
			made("hose-clamp", "range", "12-12.5 mm")}, func(s []Side) []Check {
			return JudgeHoseEnd(HoseEndCase{Hose: s[0], Pipe: s[1], Clamp: s[2]})
		}},
		"bar": {[]Side{made("bar-end", "straight", "190 mm"), made("bar-fitting", "width", "120 mm"), made("bar-fitting",
			"width", "65 mm")}, func(s []Side) []Check {
			return JudgeBarRoom(BarRoomCase{Bar: s[0], Fittings: s[1:]})
		}},
		"rod": {[]Side{made("link-rod", "length", "180 mm", "thread-1", "M6", "thread-2", "M6 LH"), made("rod-end",
			"thread", "M6", "depth", "14 mm", "reach", "22 mm"),
			made("rod-end", "thread", "M6 LH", "depth", "14 mm", "reach", "22 mm")}, func(s []Side) []Check {
			return JudgeRod(RodCase{Rod: s[0], Ends: [2]Side{s[1], s[2]}, Between: []graph.Reading{{Text: "204 mm"}}})
		}},
		"pedal": {[]Side{made("pedal", "foot", "180 mm", "rod", "45 mm")}, func(s []Side) []Check {
			return JudgePedal(PedalCase{Was: made("pedal", "foot", "180 mm", "rod", "45 mm"), Now: s[0],
				Safety: graph.SafetyBrake})
		}},
		"lever": {[]Side{made("lever-throw", "ratio", "4.8", "rod", "face", "reach", "70 mm", "travel", "55 mm")},
			func(s []Side) []Check {
				return JudgeLever(LeverCase{Was: made("lever-throw", "ratio", "4.8", "rod", "face", "reach", "70 mm", "travel",
					"55 mm"), Now: s[0], Safety: graph.SafetyBrake})
			}},
		"speed": {[]Side{made("signal-out", "per-turn", "4"), made("signal-in", "per-km", "2040"), tyre},
			func(s []Side) []Check {
				return JudgeSpeedometer(SpeedCase{Source: s[0], Clocks: s[1], Tyre: s[2]})
			}},
		"wire": {[]Side{made("fuse", "rating", "8 A"), made("wire", "size", "1 mm2"), made("consumer", "power", "72 W",
			"voltage", "12 V")}, func(s []Side) []Check {
			return JudgeWire(WireCase{Fuse: s[0], Wires: s[1:2], Loads: s[2:]})
		}},
		"voltage": {[]Side{made("battery", "voltage", "12 V"), made("lamp-cap", "voltage", "12 V")}, func(s []Side) []Check {
			return JudgeVoltage(VoltageCase{Battery: s[0], Members: s[1:]})
		}},
		"stand": {[]Side{made("stand", "form", "side", "length", "300 mm", "spread", "20 deg"), made("stand-pivot",
			"height", "320 mm", "side", "120 mm")}, func(s []Side) []Check {
			return JudgeStand(StandCase{Stand: s[0], WasStand: made("stand", "form", "side", "length", "300 mm", "spread",
				"20 deg"),
				Pivot: s[1], WasPivot: made("stand-pivot", "height", "320 mm", "side", "120 mm")})
		}},
		"trail": {[]Side{made("yoke-offset", "offset", "30 mm"), tyre, leg}, func(s []Side) []Check {
			return JudgeTrail(TrailCase{Frame: made("frame-geometry", "head-angle", "24 deg", "wheelbase", "1400 mm"),
				Lower:    s[0],
				WasLower: made("yoke-offset", "offset", "30 mm"), Tyre: s[1], WasTyre: tyre, Fork: s[2], WasFork: leg})
		}},
		"shock": {[]Side{made("fork-length", "length", "320 mm", "travel", "60 mm")}, func(s []Side) []Check {
			return JudgeShock(ShockCase{Now: s[0], Was: made("fork-length", "length", "320 mm", "travel", "60 mm"),
				Link: made("link-ratio", "ratio", "2.8")})
		}},
	}
}

// harmless are the changes that leave a fit a fit, each with its reason. A
// dimension that another judgement reads stands in no Uses of this one, and is
// told as not judged unless that judgement is asked too.
func harmless() map[string]string {
	return map[string]string{
		"spring solid -":           "coils that close later are no harm",
		"spring-room travel -":     "less travel leaves more room before the coils close",
		"cap length -":             "six turns still hold it",
		"cap length +":             "turns beyond the tube's own add nothing",
		"cap-seat depth -":         "eight turns still hold it",
		"cap-seat depth +":         "turns beyond the cap's own add nothing",
		"friction-plate thickness": "JudgePack reads it",
		"steel-plate thickness":    "JudgePack reads it",
		"clutch-hub pack":          "JudgePack reads it",
		"chain links":              "JudgeChain reads it",
		"belt teeth":               "JudgeBelt reads it",
		"pulley teeth":             "JudgeBelt reads it",
		"pulley line":              "JudgeBelt reads it",
		"spline major":             "the shaft's other mates read it",
		"tab-washer inside":        "read against the shaft, not the nut",
		"tab-washer key":           "read against the shaft, not the nut",
		"tab-washer teeth":         "read against the shaft, not the nut",
		"tab-washer flat":          "read against the nut, not the shaft",
		"female-thread depth":      "the bolt that goes into it reads it",
		"female-thread thread":     "the shaft that goes into it reads it",
		"female-thread hole":       "the shaft that goes into it reads it",
		"female-thread material":   "the shaft that goes into it reads it",
		"bar-fitting width -":      "a shorter one has room",
		"bar-fitting peg":          "one without a peg wants no hole",
		"bar-end straight +":       "more room",
		"bar-end inside":           "the weight in its end reads it",
		"bar-end diameter":         "what sits on it reads it",
		"bar-end straight":         "what sits on it reads it",
		"cable-draw most":          "a limit that is not reached; what a tenth beyond the need does is always allowed",
		"cable-draw travel -":      "it may be drawn as far as its limit says",
		"rod-end depth":            "JudgeRod reads it",
		"rod-end reach":            "JudgeRod reads it",
		"link-rod length":          "JudgeRod reads it",
		"link-rod thread-2":        "the other end reads it",
		"hose-end outside":         "the clamp reads it",
		"hose-end bore":            "the pipe reads it; the clamp takes a hose of any bore that thickness allows",
		"cable-draw most dropped":  "what a tenth beyond the need does is always allowed",
		"spigot diameter":          "the hose reads it; the clamp takes what thickness the two give",
		"steering-stop radius":     "the meeting of the two stops reads it",
		"steering-stop height":     "the meeting of the two stops reads it",
		"swing radius":             "the room left at full lock is what counts, and there is more than a hand wants",
		"swing angle":              "the room left at full lock is what counts",
		"swing height":             "still between the lower and upper end of what it could strike",
		"swing-room radius":        "still within reach of what turns",
		"swing-room angle":         "the room left at full lock is what counts",
		"swing-room bottom":        "still below what turns",
		"swing-room top":           "still above what turns",
		"stand spread -":           "a foot 7 degrees closer changes the lean by less than it is read to",
		"stand-pivot side +":       "a pivot 40 mm further out changes the lean by less than it is read to",
		"consumer power -":         "a smaller load",
		"consumer voltage +":       "less current; JudgeVoltage reads the voltage",
		"hand hand":                "made for either side is made for this one",
		"hose-end for":             "the pipe reads it",
		"stator power -":           "a weaker stator does not overheat its regulator",
		"stator voltage":           "what holds its voltage reads it",
		"stator field":             "what holds its voltage reads it",
		"stator phases":            "what rectifies it reads it",
		"stator power":             "what rectifies it reads it",
		"rectifier power +":        "a stronger rectifier stands more",
		"field-control ceiling":    "the battery reads it",
		"field-control switches":   "compared with the one replaced: no side of the winding reads it",
		"regulator power":          "the stator reads it",
		"regulator power +":        "a stronger regulator stands more",
		"regulator phases":         "the stator reads it",
		"regulator ceiling":        "the battery reads it",
		"battery length":           "its box reads it",
		"battery width":            "its box reads it",
		"battery height":           "its box reads it",
		"battery plus":             "its box reads it",
		"battery voltage":          "what charges it reads it",
		"battery ceiling":          "what charges it reads it",
		"battery height -":         "a lower one has room",
		"battery-box height +":     "more room",
		"steering-stop angle":      "the lock is judged by JudgeLock, with the room beside the bars and as built",
	}
}

// elsewhere are the pairs in which a dimension is harmless because another
// judgement reads it; everywhere else it must decide.
func elsewhere() map[string][]string {
	return map[string][]string{
		"tab washer": {"spline major", "tab-washer flat"},
		"tab washer and nut": {"tab-washer inside", "tab-washer key", "tab-washer teeth", "female-thread depth",
			"female-thread thread", "female-thread hole", "female-thread material"},
		"grip":       {"bar-end inside"},
		"bar weight": {"bar-end diameter", "bar-end straight"},
		"hose":       {"hose-end outside"},
		"hose clamp": {"hose-end for", "hose-end bore"},
		"stator":     {"regulator ceiling"},
		"rectifier":  {"stator voltage", "stator field"},
		"field":      {"stator phases", "stator power", "field-control ceiling", "field-control switches"},
		"charging": {"regulator power", "regulator phases", "battery length", "battery width",
			"battery height", "battery plus"},
		"battery":          {"battery voltage", "battery ceiling"},
		"hose on its pipe": {"hose-end bore", "spigot diameter"},
		"lock": {"steering-stop radius", "steering-stop height", "swing radius", "swing angle",
			"swing height", "swing-room radius", "swing-room angle", "swing-room bottom", "swing-room top"},
		"rod":     {"rod-end depth", "rod-end reach"},
		"rod end": {"rod-end depth", "rod-end reach", "link-rod length", "link-rod thread-2"},
	}
}

// Every dimension of two features that mate decides: a third more, a third less,
// another word or nothing at all is never a plain fit, but where it is harmless,
// and why is written down.
func TestEveryDimensionDecides(t *testing.T) {
	used := map[string]bool{}
	all := cases()
	for name, pair := range mates() {
		all[name] = aCase{pair[:], func(s []Side) []Check { return Judge(Meeting{A: s[0], B: s[1]}) }}
	}
	for name, in := range all {
		if got := in.judge(in.sides); Worst(got) != yes {
			t.Errorf("%s does not fit as built: %s", name, brief(got))
		}
		for side := range in.sides {
			kind, _ := graph.FeatureKindNamed(in.sides[side].Feature.Kind)
			for _, d := range kind.Dims {
				for _, change := range changes(in.sides[side], d) {
					changed := slices.Clone(in.sides)
					changed[side] = changed[side].with(d.Name, change.text)
					got := Worst(in.judge(changed))
					key := kind.Name + " " + d.Name
					if got != yes {
						continue
					}
					if why := excused(name, key, change.sign); why != "" {
						used[why] = true
					} else {
						t.Errorf("%s: %s changed to %q is still a plain fit", name, key, change.text)
					}
				}
			}
		}
	}
	for key := range harmless() {
		if !used[key] {
			t.Errorf("%q is excused and needs no excuse", key)
		}
	}
}

// excused is the line of harmless that a change stands under; empty for none.
func excused(pair, key, sign string) string {
	// What is dropped is harmless only where another judgement asks for it.
	if why, ok := harmless()[key]; ok && (sign != "dropped" || strings.Contains(why,
		"read")) && (slices.Contains(elsewhere()[pair], key) || !readElsewhere(key)) {
		return key
	}
	if _, ok := harmless()[key+" "+sign]; ok && sign != "" {
		return key + " " + sign
	}
	return ""
}

// readElsewhere reports whether a dimension is excused for some pairs only.
func readElsewhere(key string) bool {
	for _, keys := range elsewhere() {
		if slices.Contains(keys, key) {
			return true
		}
	}
	return false
}

type change struct{ text, sign string }

// changes are what a test does to one dimension: drop it, a third more, a third
// less, another word. The sign tells more from less; it is empty for the rest.
func changes(s Side, d graph.DimSpec) []change {
	readings := s.Feature.Dims[d.Name]
	if len(readings) == 0 || !d.Decides() {
		return nil
	}
	all := []change{{"", "dropped"}}
	text := readings[0].Text
	switch d.Type {
	case measure.Word, measure.Words:
		other := "something else"
		for _, word := range d.Words {
			if !strings.EqualFold(word, text) {
				other = word
			}
		}
		return append(all, change{other, ""})
	case measure.YesNo:
		return append(all, change{map[string]string{"yes": "no", "no": "yes"}[text], ""})
	case measure.Thread:
		return append(all, change{"M12x1.75", ""})
	}
	q, err := measure.ParseQuantity(text, d.Type)
	if err != nil {
		return all
	}
	for sign, k := range map[string]float64{"+": 4.0 / 3, "-": 2.0 / 3} {
		low, high := q.Low*k, q.High*k
		written := measure.Format(q.Nominal*k, d.Type)
		switch {
		case d.Type == measure.Count || d.Type == measure.Ratio:
			written = fmt.Sprintf("%.0f", q.Nominal*k+0.4)
			if d.Type == measure.Ratio {
				written = fmt.Sprintf("%.3f", q.Nominal*k)
			}
		case q.Range:
			unit := strings.TrimLeft(measure.Format(high, d.Type), "0123456789.")
			written = fmt.Sprintf("%.3f-%.3f%s", low, high, unit)
		}
		if written != text {
			all = append(all, change{written, sign})
		}
	}
	return all
}
