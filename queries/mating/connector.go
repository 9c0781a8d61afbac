package mating

import (
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
)

// plugOnPlug is rule 9: family and halves, then pin by pin.
func plugOnPlug(b *bench, m Meeting) {
	c := b.check("plug")
	familyA, okA := c.phrase(m.A, "family")
	familyB, okB := c.phrase(m.B, "family")
	if okA && okB {
		c.sizes(familyA, familyB, "")
		if sameWords(familyA, familyB) {
			c.fits("both halves are %s", familyA)
		} else {
			c.change(graph.EffortHandTools, "put the half that matches on one lead, or make an adapter lead",
				"a %s plug does not go into a %s plug", familyA, familyB)
			c.order("adapter lead", "adapter lead from "+familyA+" to "+familyB, adapterWires(c, m, familyA, familyB)...)
		}
	}
	genderA, okA := c.word(m.A, "gender")
	genderB, okB := c.word(m.B, "gender")
	if okA && okB && genderA == genderB {
		c.change(graph.EffortHandTools, "change one half for its counterpart", "both halves have %s", genderA)
	}
	pinByPin(b, m)
}

// adapterWires is an adapter lead as one would make it: both ends by what they
// plug into, and a wire for each signal that both halves carry.
func adapterWires(c *check, m Meeting, familyA, familyB string) []Field {
	spec := []Field{{"one end", plugInto(c, m.A, familyA)}, {"other end", plugInto(c, m.B, familyB)},
		{"wires", "no thinner than those they join; as long as both plugs hang free of heat and moving parts"}}
	a, okA := c.peek(m.A, "pins", measure.Pins)
	b, okB := c.peek(m.B, "pins", measure.Pins)
	if !okA || !okB {
		return spec
	}
	for _, p := range a.Pins {
		at := slices.IndexFunc(b.Pins, func(q measure.Pin) bool { return sameWords(p.Meaning, q.Meaning) })
		if at >= 0 {
			spec = append(spec, Field{"wire", "pin " + p.Number + " to pin " + b.Pins[at].Number + ", " + p.Meaning})
		}
	}
	return spec
}

// plugInto is the half that goes into a plug: the other gender of its family.
func plugInto(c *check, s Side, family string) string {
	gender, ok := c.peek(s, "gender", measure.Word)
	switch {
	case ok && strings.EqualFold(gender.Text, "pins"):
		return family + " with sockets"
	case ok && strings.EqualFold(gender.Text, "sockets"):
		return family + " with pins"
	}
	return family
}

// pinByPin compares what each pin carries.
func pinByPin(b *bench, m Meeting) {
	c := b.check("pins")
	a, okA := c.read(m.A, "pins", measure.Pins)
	other, okB := c.read(m.B, "pins", measure.Pins)
	if !okA || !okB {
		return
	}
	c.sizes(fmt.Sprintf("%d pins", len(a.Pins)), fmt.Sprintf("%d pins", len(other.Pins)), "")
	var moved, alone []string
	agree := 0
	for _, p := range a.Pins {
		q, ok := pinNumbered(other.Pins, p.Number)
		switch {
		case !ok:
			alone = append(alone, p.Number+" "+p.Meaning)
		case sameWords(p.Meaning, q.Meaning):
			agree++
		case !signalFault(c, m, p, q):
			moved = append(moved, fmt.Sprintf("%s carries %s on one half, %s on the other", p.Number, p.Meaning, q.Meaning))
		}
	}
	for _, q := range other.Pins {
		if _, ok := pinNumbered(a.Pins, q.Number); !ok {
			alone = append(alone, q.Number+" "+q.Meaning)
		}
	}
	missed := slices.DeleteFunc(slices.Clone(alone), func(pin string) bool { return !isRoadSignal(pin) })
	if len(missed) > 0 {
		c.settle(Ask{Position: m.A.Position, Part: m.A.Part, Feature: m.A.Feature.Name, Dim: "pins",
			What: "what brings, or takes, the signal of pin " + strings.Join(missed, ", pin "), Where: label(m.A),
			Gauge: "multimeter", Accuracy: "function"})
		c.unknown("nothing against pin %s, and nobody rides without that", strings.Join(missed, ", pin "))
	}
	alone = slices.DeleteFunc(alone, isRoadSignal)
	pinVerdict(c, a.Pins, other.Pins, moved, alone, agree, len(missed))
}

// isRoadSignal reports whether a pin carries what a machine must have on the road, or what
// keeps it from moving off unsafely. Common practice, no source.
func isRoadSignal(pin string) bool {
	meaning := strings.ToLower(pin)
	return slices.ContainsFunc([]string{"speed", "brake lamp", "indicator", "horn", "tail lamp", "stand", "dip"},
		func(word string) bool { return strings.Contains(meaning, word) })
}

func pinVerdict(c *check, a, b []measure.Pin, moved, alone []string, agree, missed int) {
	if len(moved) > 0 {
		if sameMeanings(a, b) {
			c.change(graph.EffortHandTools, "move the pins in one shell before the two are joined", "pin %s",
				strings.Join(moved, "; pin "))
		} else {
			c.no("pin %s: joined like this it reads nonsense or burns", strings.Join(moved, "; pin "))
		}
	}
	if len(alone) > 0 {
		c.change(graph.EffortHandTools, "run a wire for it, or do without it",
			"nothing against pin %s", strings.Join(alone, ", pin "))
	}
	if len(moved)+len(alone)+missed == 0 && agree > 0 {
		c.fits("%d pins carry the same", agree)
	}
}

// signalFault states that two pins mean the same but speak another way.
func signalFault(c *check, m Meeting, p, q measure.Pin) bool {
	whatP, howP := signalKind(p.Meaning)
	whatQ, howQ := signalKind(q.Meaning)
	if whatP != whatQ || howP == howQ {
		return false
	}
	if howP == "" || howQ == "" {
		c.unknown("pin %s: %s against %s; measure what kind of signal it is", p.Number, p.Meaning, q.Meaning)
		c.settle(Ask{Position: m.A.Position, Part: m.A.Part, Feature: m.A.Feature.Name, Dim: "pins",
			What: "kind of signal on pin " + p.Number, Where: label(m.A), Gauge: "multimeter", Accuracy: "function"})
		return true
	}
	c.no("pin %s: %s against %s; it fits and reads nonsense", p.Number, p.Meaning, q.Meaning)
	return true
}

// signalKinds are the words at the end of a meaning that say how a signal
// speaks; the rest says what it is about.
var signalKinds = [...]string{"pulse", "analogue", "switched", "resistance", "hall", "inductive", "can", "k-line",
	"5 v", "6 v", "12 v", "alternating", "direct"}

// signalKind parts "speed pulse" into "speed" and "pulse".
func signalKind(meaning string) (what, how string) {
	words := strings.Join(strings.Fields(strings.ToLower(meaning)), " ")
	for _, kind := range signalKinds {
		if rest, ok := strings.CutSuffix(words, " "+kind); ok {
			return rest, kind
		}
	}
	return words, ""
}

func pinNumbered(pins []measure.Pin, number string) (measure.Pin, bool) {
	i := slices.IndexFunc(pins, func(p measure.Pin) bool { return strings.EqualFold(p.Number, number) })
	if i < 0 {
		return measure.Pin{}, false
	}
	return pins[i], true
}

func sameWords(a, b string) bool {
	return strings.EqualFold(strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " "))
}

// sameMeanings reports whether both halves carry the same things, in whatever
// order.
func sameMeanings(a, b []measure.Pin) bool {
	list := func(pins []measure.Pin) []string {
		var words []string
		for _, p := range pins {
			words = append(words, strings.ToLower(strings.Join(strings.Fields(p.Meaning), " ")))
		}
		slices.Sort(words)
		return words
	}
	return slices.Equal(list(a), list(b))
}
