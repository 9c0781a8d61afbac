package mating

import (
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
)

// FluidCase is everything one fluid meets.
type FluidCase struct {
	Circuit graph.CircuitID
	Carries string // "brake fluid", "clutch fluid"
	// Members are features of kind fluid, one for each part that has a seal
	// or carries a mark. A member whose part has no such feature keeps its
	// Position and Part with an empty Feature: it is asked for.
	Members []Side
	// Filled is what is in the circuit now, or is meant to go in; empty when
	// nobody said.
	Filled []graph.Reading
}

// JudgeFluid is rule 11: the fluids that every member of a circuit allows.
func JudgeFluid(in FluidCase) []Check {
	return judge(false, func(b *bench) { oneFluid(b, in) })
}

// fluidOnFluid judges two members alone.
func fluidOnFluid(b *bench, m Meeting) {
	oneFluid(b, FluidCase{Members: []Side{m.A, m.B}})
}

// family is what a fluid is made of. Fluids of two families never mix. Source:
// 49 CFR 571.116: DOT 5 is silicone, DOT 3, 4 and 5.1 are not; that those three
// mix, and that mineral oil mixes with none, is common practice.
type family string

const (
	glycol   family = "glycol"
	silicone family = "silicone"
	mineral  family = "mineral oil"
)

func familyOf(fluid string) family {
	switch {
	case fluid == "DOT 5":
		return silicone
	case strings.HasPrefix(fluid, "DOT "):
		return glycol
	case strings.Contains(strings.ToLower(fluid), "mineral"):
		return mineral
	}
	return family(fluid) // a fluid of its own
}

// fluidName is one spelling for one fluid: "dot5.1" is "DOT 5.1".
func fluidName(text string) string {
	text = strings.TrimSpace(text)
	if len(text) > 3 && strings.EqualFold(text[:3], "dot") {
		if number := strings.TrimSpace(text[3:]); strings.Trim(number, "0123456789.") == "" {
			return "DOT " + number
		}
	}
	if strings.EqualFold(text, "mineral") || strings.EqualFold(text, "mineral oil") {
		return "mineral oil"
	}
	return strings.Join(strings.Fields(text), " ")
}

// allowance is what one member allows.
type allowance struct {
	side   Side
	fluids []string
}

func (a allowance) families() []family {
	var list []family
	for _, f := range a.fluids {
		if !slices.Contains(list, familyOf(f)) {
			list = append(list, familyOf(f))
		}
	}
	return list
}

func oneFluid(b *bench, in FluidCase) {
	c := b.check("fluid")
	var all []allowance
	for _, member := range in.Members {
		if v, ok := readFluid(c, member); ok {
			all = append(all, allowance{member, v})
		}
	}
	if len(all) == 0 {
		return
	}
	shared := slices.Clone(all[0].fluids)
	for _, a := range all[1:] {
		shared = slices.DeleteFunc(shared, func(f string) bool { return !slices.Contains(a.fluids, f) })
	}
	if len(shared) == 0 && mixAnyway(all) {
		c.settle(Ask{Dim: "fluid", What: "whether its maker allows the other's fluid", Where: label(all[0].side),
			Gauge: graph.ByEye, Accuracy: "book"})
		c.unknown("%s", whyNoFluid(all))
		return
	}
	if len(shared) == 0 {
		c.no("%s", whyNoFluid(all))
		return
	}
	c.Had = strings.Join(shared, ", ")
	c.fits("every seal and reservoir allows %s%s", strings.Join(shared, " and "), warnFive(shared))
	filled(c, in, shared)
}

func readFluid(c *check, member Side) ([]string, bool) {
	if member.Feature.Kind == "" {
		c.ask(Ask{Position: member.Position, Part: member.Part, Feature: "fluid", Dim: "allows",
			What: "fluids it allows", Where: label(member), Gauge: "by eye", Accuracy: "marking"})
		return nil, false
	}
	v, ok := c.read(member, "allows", measure.Words)
	var names []string
	for _, word := range v.Words {
		if name := fluidName(word); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names, ok
}

// mixAnyway reports whether every member allows some fluid of one family: DOT 3,
// 4 and 5.1 mix with one another and their seals are alike (49 CFR 571.116), so
// marks that name different ones are asked about and not a no.
func mixAnyway(all []allowance) bool {
	for _, of := range all[0].families() {
		if of != silicone && !slices.ContainsFunc(all, func(a allowance) bool { return !slices.Contains(a.families(), of) }) {
			return true
		}
	}
	return false
}

// whyNoFluid names the two members that can't agree.
func whyNoFluid(all []allowance) string {
	for i, a := range all {
		for _, b := range all[i+1:] {
			if !meetLists(a.fluids, b.fluids) {
				return pairWords(a, b)
			}
		}
	}
	return "no fluid is on every list, though every two of them share one"
}

func meetLists(a, b []string) bool {
	return slices.ContainsFunc(a, func(f string) bool { return slices.Contains(b, f) })
}

func pairWords(a, b allowance) string {
	text := short(a.side) + " allows " + strings.Join(a.fluids, " or ") + ", " +
		short(b.side) + " allows " + strings.Join(b.fluids, " or ")
	of := append(a.families(), b.families()...)
	kin := slices.ContainsFunc(a.families(), func(f family) bool { return slices.Contains(b.families(), f) })
	switch {
	case kin:
		return text + ": those mix, but none is on both lists"
	case slices.Contains(of, mineral):
		return text + ": mineral oil and brake fluid never mix, the seals of one swell in the other"
	case slices.Contains(of, silicone):
		return text + ": DOT 5 is silicone and mixes with no other; 5.1 is not a kind of 5"
	}
	return text + ": no fluid is on both lists"
}

// warnFive keeps DOT 5 and 5.1 apart where both could be read out of a list.
func warnFive(shared []string) string {
	if len(shared) > 1 && slices.Contains(shared, "DOT 5") {
		return "; never DOT 5 together with another"
	}
	return ""
}

// filled judges what is in the circuit, or is to go in.
func filled(c *check, in FluidCase, shared []string) {
	at := place{position: graph.PositionID(in.Circuit), feature: "circuit", dim: "fluid"}
	ask := Ask{Dim: "fluid", What: "fluid in it now", Where: string(in.Circuit), Gauge: "service record, else drain it",
		Accuracy: "its name"}
	v, ok := c.value(at, in.Filled, func() Ask { return ask }, measure.Word)
	if !ok {
		return
	}
	now := fluidName(v.Text)
	c.Had, c.Wanted = now, strings.Join(shared, ", ")
	if slices.Contains(shared, now) {
		c.fits("%s is in it", now)
		return
	}
	if slices.ContainsFunc(shared, func(f string) bool { return familyOf(f) == familyOf(now) }) {
		c.routine(graph.EffortHandTools, "drain it and fill with "+strings.Join(shared, " or "), "%s is in it, which not "+
			"every part allows", now)
		return
	}
	c.no("%s is in it: %s can't follow without new seals throughout", now, strings.Join(shared, " or "))
}
