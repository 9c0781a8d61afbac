package loader

import (
	"slices"
	"strings"

	"matewell/graph"
)

// Lacking are the joints that machines of a sort usually have, by the patterns
// that ship with the program, and that nobody wrote of this one: only between
// places that it has, known by their names or, where there is one of its kind,
// by their kind. Each names this machine's places; they are in the order of their
// names. It judges nothing: what is not joined is not judged by anybody.
func Lacking(places []graph.Position, joints []graph.Joint) []graph.Joint {
	m := placesByKind(places)
	joined := map[[2]graph.FeatureRef]bool{}
	for _, j := range joints {
		joined[[2]graph.FeatureRef{j.A, j.B}], joined[[2]graph.FeatureRef{j.B, j.A}] = true, true
	}
	var lacking []graph.Joint
	for name, ends := range nearestMachine(m).joints {
		a, okA := m.named(ends[0])
		b, okB := m.named(ends[1])
		if okA && okB && !joined[[2]graph.FeatureRef{a, b}] {
			lacking = append(lacking, graph.Joint{ID: graph.JointID(string(m.model) + ":" + name), A: a, B: b})
		}
	}
	slices.SortFunc(lacking, func(a, b graph.Joint) int { return strings.Compare(string(a.ID), string(b.ID)) })
	return lacking
}

// kindPlaces are the places of a machine.
type kindPlaces struct {
	kind   map[string]graph.KindID // by the local name of the place
	byKind map[graph.KindID][]graph.PositionID
	model  graph.ModelID
}

func placesByKind(places []graph.Position) kindPlaces {
	m := kindPlaces{map[string]graph.KindID{}, map[graph.KindID][]graph.PositionID{}, ""}
	for _, p := range places {
		m.kind[p.ID.Local()] = p.Kind
		m.byKind[p.Kind] = append(m.byKind[p.Kind], p.ID)
		m.model = p.ID.Model()
	}
	return m
}

// named is the feature at the place of the machine that a pattern means.
func (m kindPlaces) named(end patternEnd) (graph.FeatureRef, bool) {
	if m.kind[end.place] == end.kind {
		return graph.FeatureRef{Position: graph.PositionID(string(m.model) + ":" + end.place), Feature: end.feature}, true
	}
	if all := m.byKind[end.kind]; len(all) == 1 {
		return graph.FeatureRef{Position: all[0], Feature: end.feature}, true
	}
	return graph.FeatureRef{}, false
}

// patternEnd is one side of a joint as a pattern has it.
type patternEnd struct {
	place, feature string // "tank/tap", "inlet"
	kind           graph.KindID
}

// patternMachine is what several patterns have together.
type patternMachine struct {
	kinds  map[string]graph.KindID
	joints map[string][2]patternEnd
}

// nearestMachine is the machine that the choices of "start" can give and whose
// places come nearest to those of this one, by their kinds.
func nearestMachine(m kindPlaces) patternMachine {
	patterns := map[string]*rawModel{}
	for _, f := range builtPatterns() {
		for i := range f.patterns {
			patterns[f.patterns[i].name.text] = &f.patterns[i].item
		}
	}
	answers := map[string]string{}
	best := machineOf(patterns, answers)
	for range 2 { // some choices meet, as brake and drive
		for _, c := range Choices() {
			for _, word := range c.Words() {
				was := answers[c.Name]
				answers[c.Name] = word
				if one := machineOf(patterns, answers); one.likeness(m) > best.likeness(m) {
					best = one
				} else {
					answers[c.Name] = was
				}
			}
		}
	}
	return best
}

func machineOf(patterns map[string]*rawModel, answers map[string]string) patternMachine {
	one := patternMachine{map[string]graph.KindID{}, map[string][2]patternEnd{}}
	names, err := PatternsFor(answers)
	if err != nil {
		panic("loader: " + err.Error()) // the answers are those of Choices
	}
	ends := map[string][2]string{}
	for _, name := range names {
		one.add(patterns, name, ends)
	}
	for name, ab := range ends {
		var both [2]patternEnd
		for i, text := range ab {
			place, feature, _ := strings.Cut(text, ".")
			both[i] = patternEnd{place, feature, one.kinds[place]}
		}
		one.joints[name] = both
	}
	return one
}

// add adds what a pattern has, and before that what it is like.
func (p *patternMachine) add(patterns map[string]*rawModel, name string, ends map[string][2]string) {
	raw := patterns[name]
	for _, like := range raw.like {
		p.add(patterns, like.text, ends)
	}
	for _, a := range raw.assemblies {
		for _, place := range a.item.positions {
			if kind := place.item.kind.text; kind != "" {
				p.kinds[a.name.text+"/"+place.name.text] = graph.KindID(kind)
			}
		}
	}
	for _, j := range raw.joints {
		was := ends[j.name.text]
		if j.item.a.given() {
			was[0] = j.item.a.text
		}
		if j.item.b.given() {
			was[1] = j.item.b.text
		}
		ends[j.name.text] = was
	}
}

// likeness counts the places that both have, by kind, and takes off what only the
// patterns have. Bolts and nuts are everywhere and tell nothing.
func (p patternMachine) likeness(m kindPlaces) int {
	count := map[graph.KindID]int{}
	for _, kind := range p.kinds {
		count[kind]++
	}
	n := 0
	for kind, has := range count {
		if kind == "bolt" || kind == "nut" {
			continue
		}
		both := min(has, len(m.byKind[kind]))
		n += both - (has - both)
	}
	return n
}
