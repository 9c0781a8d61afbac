package help

import (
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
)

// typeWords say how a value of a type is written, and example what one may be.
// The examples are of no particular part.
var typeWords = map[measure.Type]struct{ words, example string }{
	measure.Length:      {"a length, 10 mm or 0.4 in", "10 mm"},
	measure.Angle:       {"an angle, 25 deg", "25 deg"},
	measure.Torque:      {"a torque with its unit", "N m"},
	measure.Pressure:    {"a pressure, 1.1 bar", "1.1 bar"},
	measure.Power:       {"a power, 55 W", "55 W"},
	measure.Voltage:     {"a voltage, 12 V", "12 V"},
	measure.Temperature: {"a temperature, 80 °C", "80 °C"},
	measure.Current:     {"a current, 15 A", "15 A"},
	measure.Resistance:  {"a resistance, 3 ohm", "3 ohm"},
	measure.Stiffness:   {"a rate, 8 N/mm", "8 N/mm"},
	measure.Count:       {"a whole number", "2"},
	measure.Ratio:       {"a ratio, 2.8 or 14:5", "2.8"},
	measure.Thread:      {"a thread, M10x1.25 or 3/8-24 UNF", "M10x1.25"},
	measure.Word:        {"a word or two", "as marked"},
	measure.Words:       {"words, separated by commas", `"DOT 4, DOT 5.1"`},
	measure.YesNo:       {"yes or no", "yes"},
	measure.Points: {"points, A: 6.5 mm hole at 0,0; B: M6 insert at 120,35",
		`"A: 6.5 mm hole at 0,0; B: M6 insert at 120,35"`},
	measure.Sizes: {"sizes, 2x 27 mm + 2x 30 mm", "2x 27 mm + 2x 30 mm"},
	measure.Pins:  {"pins, 1 feed 12 V, 2 earth", `"1 feed 12 V, 2 earth"`},
}

// sayType is how a value of a dimension is written.
func sayType(d graph.DimSpec) string {
	if len(d.Words) > 0 {
		return graph.OrList(d.Words)
	}
	return typeWords[d.Type].words
}

// ExampleValue is a value that a dimension of a motorcycle's part may have. A length that
// must be more than others is one step longer than each of them.
func ExampleValue(f graph.FeatureKind, d graph.DimSpec) string {
	switch {
	case f.Name == "tyre" && d.Name == "size":
		return "120/70 ZR 17"
	case d.Type == measure.Word && d.Check != nil: // what is checked so far are speed symbols
		return "W"
	case len(d.Words) > 0:
		return d.Words[0]
	case d.Type == measure.Length:
		return measure.Format(exampleLength(f, d), measure.Length)
	case d.Type == measure.Count:
		return fmt.Sprint(max(2, d.Usual[0]))
	}
	return typeWords[d.Type].example
}

// exampleLength is such a length in mm.
func exampleLength(f graph.FeatureKind, d graph.DimSpec) float64 {
	step := 10.0
	if slices.ContainsFunc(f.Dims, func(d graph.DimSpec) bool { return d.Usual[1] > 0 && d.Usual[1] < 2*step }) {
		step /= 2
	}
	length := max(step, d.Usual[0])
	for _, o := range graph.Orders(f.Name) {
		if less, ok := f.Dim(o.Less); ok && o.More == d.Name {
			length = max(length, step+exampleLength(f, less))
		}
	}
	return length
}

// partExample is a part of a kind with all that it must have, as a data file
// has it.
func partExample(k graph.Kind) string {
	var b strings.Builder
	fmt.Fprintf(&b, "parts:\n  - number: MAKER NUMBER\n    kind: %s\n", k.ID)
	must, may := parted(k)
	if len(must) == 0 && len(may) > 0 {
		must = may[:1]
	}
	if len(must) > 0 {
		b.WriteString("    features:\n")
	}
	for _, f := range must {
		spec, _ := graph.FeatureKindNamed(f.Kind)
		example := featureExample("      ", f.Name, spec)
		if f.Name == "surface" && hasBore(must) { // a ring has a wall
			example = strings.Replace(example, typeWords[measure.Length].example, "14 mm", 1)
		}
		b.WriteString(example)
	}
	return b.String()
}

func hasBore(features []graph.KindFeature) bool {
	return slices.ContainsFunc(features, func(f graph.KindFeature) bool { return f.Name == "bore" })
}

// featureExample is one feature, in one line where that fits.
func featureExample(indent, name string, f graph.FeatureKind) string {
	var dims []string
	for _, d := range f.Dims {
		if d.Must {
			dims = append(dims, d.Name+": "+ExampleValue(f, d))
		}
	}
	if len(dims) == 0 {
		dims = append(dims, f.Dims[0].Name+": "+ExampleValue(f, f.Dims[0]))
	}
	line := fmt.Sprintf("%s%s: {%s}\n", indent, name, strings.Join(dims, ", "))
	if len(line) <= Width-1 && !strings.Contains(line, `"`) {
		return line
	}
	return fmt.Sprintf("%s%s:\n%s  %s\n", indent, name, indent, strings.Join(dims, "\n"+indent+"  "))
}

// fastened are the kinds of part that hold a joint of two kinds of feature
// together; those that are new every time have a mark behind them.
var fastened = map[[2]string][]string{
	{"banjo", "port"}:                  {"banjo-bolt", "seal-washer!"},
	{"bolt-pattern", "bolt-pattern"}:   {"bolt", "washer"},
	{"caliper-mount", "caliper-mount"}: {"bolt"},
	{"eye", "clevis"}:                  {"bolt", "nut!"},
	{"clevis", "eye"}:                  {"bolt", "nut!"},
	{"male-thread", "female-thread"}:   {},
	{"throat-row", "throat-row"}:       {"hose-clamp"},
	{"hose-end", "spigot"}:             {"hose-clamp"},
	{"tank-outlet", "tap-inlet"}:       {"bolt", "o-ring!"},
	{"tap-inlet", "tank-outlet"}:       {"bolt", "o-ring!"},
	{"sprocket-boss", "sprocket-seat"}: {"nut", "tab-washer!"},
	{"screwed-end", "port"}:            {"seal-washer!"},
}

// jointNotes say what a person may not expect of a joint.
var jointNotes = map[string]string{
	"banjo": "Hose, banjo bolt and sealing washers are one joint; the bolt and the washers stand under bolts. " +
		"It is written:",
	"port": "Hose, banjo bolt and sealing washers are one joint; the bolt and the washers stand under bolts. " +
		"It is written:",
	"male-thread":   "A nut on its bolt is a joint of its own, and so is a bolt in a tapped hole. It is written:",
	"female-thread": "A nut on its bolt is a joint of its own, and so is a bolt in a tapped hole. It is written:",
	"bolt-pattern": "Two patterns are one joint, with all their bolts under bolts; the tapped holes are a feature of " +
		"their own. It is written:",
}

// joined tells how a kind of feature comes to be judged, with an example of a
// data file; a joint of it, unless it is judged in another way.
func joined(t kindTable, feature string) (note, example string) {
	if other, ok := otherwise[feature]; ok {
		return other.note, other.example
	}
	for _, mate := range graph.Meets(feature) {
		if example := jointExample(t, feature, mate); example != "" {
			if note, ok := jointNotes[feature]; ok {
				return note, example
			}
			return "A joint of it is written:", example
		}
	}
	if compared(feature) {
		return "Nothing that it meets tells whether it is right: it is compared with that of the part that is replaced.", ""
	}
	return "No rule judges it against what it meets: it is looked at where the machine as a whole is, or compared with " +
		"that of the part that is replaced.", ""
}

func compared(feature string) bool {
	f, _ := graph.FeatureKindNamed(feature)
	return len(f.Dims) > 0 && !slices.ContainsFunc(f.Dims, func(d graph.DimSpec) bool { return !d.Compared })
}

// end is one side of a joint in an example.
type end struct {
	kind    graph.Kind
	feature string
	place   string
}

// jointExample is a joint of two kinds of feature between parts of two standard
// kinds; empty when no kinds have them.
func jointExample(t kindTable, a, b string) string {
	one, ok := endFor(t, a, "")
	if !ok {
		return ""
	}
	two, ok := endFor(t, b, one.kind.ID)
	if !ok {
		return ""
	}
	if one.kind.ID == two.kind.ID {
		one.place, two.place = one.place+"-1", two.place+"-2"
	}
	var bolts, renew []string
	places := []string{fmt.Sprintf("%s: {kind: %s}", one.place, one.kind.ID), fmt.Sprintf("%s: {kind: %s}", two.place,
		two.kind.ID)}
	for _, kind := range fastened[[2]string{a, b}] {
		kind, anew := strings.CutSuffix(kind, "!")
		bolts = append(bolts, "assembly/"+kind)
		place := fmt.Sprintf("%s: {kind: %s}", kind, kind)
		if anew {
			renew = append(renew, "assembly/"+kind)
			place = fmt.Sprintf("%s: {kind: %s, renew: yes}", kind, kind)
		}
		places = append(places, place)
	}
	var out strings.Builder
	out.WriteString("models:\n  my-machine:\n    assemblies:\n      assembly:\n        positions:\n")
	for _, p := range places {
		out.WriteString("          " + p + "\n")
	}
	fmt.Fprintf(&out, "    joints:\n      %s-on-%s:\n", one.place, two.place)
	fmt.Fprintf(&out, "        a: assembly/%s.%s\n        b: assembly/%s.%s\n", one.place, one.feature, two.place,
		two.feature)
	if len(bolts) > 0 {
		fmt.Fprintf(&out, "        bolts: [%s]\n", strings.Join(bolts, ", "))
	}
	if len(renew) > 0 {
		fmt.Fprintf(&out, "        renew: [%s]\n", strings.Join(renew, ", "))
	}
	return out.String()
}

// endFor picks a kind with a kind of feature, another than one that is taken
// when there is one.
func endFor(t kindTable, feature string, taken graph.KindID) (end, bool) {
	kinds := t.with(feature)
	if len(kinds) == 0 {
		return end{}, false
	}
	k := kinds[0]
	for _, other := range kinds {
		if k.ID == taken {
			k = other
		}
	}
	i := slices.IndexFunc(k.Features, func(f graph.KindFeature) bool { return f.Kind == feature })
	return end{kind: k, feature: k.Features[i].Name, place: string(k.ID)}, true
}

// otherwise are the kinds of feature that something else than a joint judges.
var otherwise = map[string]struct{ note, example string }{
	"hose":  {runNote, runExample},
	"cable": {runNote, runExample},
	"lead":  {runNote, runExample},
	"place": {"It moves the ends of runs: a run names it under moved-by, and another bar that puts its levers " +
		"elsewhere asks for another length.", runExample},
	"fluid":     {"All parts that share a fluid are one circuit. It is written:", circuitExample},
	"row-width": {stackNote, stackExample},
	"gap":       {stackNote, stackExample},
}

const (
	runNote = "How long it must be is judged by a run: the way from one end to the other at the worst of lock and " +
		"fork. It is written:"

	runExample = `models:
  my-machine:
    assemblies:
      assembly:
        positions:
          handlebar: {kind: handlebar}
          master: {kind: master-cylinder}
          hose: {kind: brake-hose}
          caliper: {kind: caliper}
    runs:
      brake-hose:
        line: assembly/hose
        from: assembly/master.outlet
        to: assembly/caliper.port
        needs:
          left-extended: 640 mm
          left-compressed: 640 mm
          centre-extended: 630 mm
          centre-compressed: 630 mm
          right-extended: 640 mm
          right-compressed: 640 mm
        moved-by: [assembly/handlebar.lever-place-right]
`

	circuitExample = `models:
  my-machine:
    assemblies:
      assembly:
        positions:
          master: {kind: master-cylinder}
          hose: {kind: brake-hose}
          caliper: {kind: caliper}
    circuits:
      front-brake:
        carries: brake fluid
        feeds: [assembly/master]
        fed: [assembly/caliper]
        members: [assembly/hose]
`

	stackNote = "What sits in a row and must fill a gap is a stack, in the order it sits, from left to right. It is " +
		"written:"

	stackExample = `models:
  my-machine:
    assemblies:
      assembly:
        positions:
          leg: {kind: fork-leg}
          left: {kind: spacer}
          wheel: {kind: front-wheel}
          right: {kind: spacer}
    stacks:
      front-axle:
        within: assembly/leg.axle-gap
        row: [assembly/left.row, assembly/wheel.row, assembly/right.row]
        centre: assembly/wheel.row
`
)
