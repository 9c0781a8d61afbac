package store

import (
	"strings"

	"github.com/cayleygraph/quad"

	"matewell/graph"
)

// readings gives the readings of one quantity, sorted.
func readings(r *record, predicate quad.IRI) []graph.Reading {
	return quantities(r, predicate)[""]
}

// quantities gives the readings of the quantities whose predicates start with
// prefix, by what follows it: of termDim those of "bore" and of "depth".
func quantities(r *record, prefix quad.IRI) map[string][]graph.Reading {
	groups := map[readingKey]*readingGroup{}
	for _, v := range r.values {
		rest, ok := strings.CutPrefix(string(v.predicate), string(prefix))
		if !ok {
			continue
		}
		key := readingKey{source: v.label}
		var aspect quad.IRI
		key.name, aspect = cutAspect(rest)
		group := groups[key]
		if group == nil {
			group = &readingGroup{}
			groups[key] = group
		}
		group.add(aspect, v.object)
	}
	all := map[string][]graph.Reading{}
	for key, group := range groups {
		source, _ := identityOf[graph.SourceID](key.source)
		all[key.name] = append(all[key.name], group.readings(r, source)...)
	}
	for name, list := range all {
		all[name] = sortReadings(list)
	}
	return all
}

// readingKey tells apart what has to be kept together.
type readingKey struct {
	name   string
	source quad.Value
}

// readingGroup is what one source says about one quantity.
type readingGroup struct {
	values, methods, places []quad.Value
	nodes                   []quad.Value
}

func (g *readingGroup) add(aspect quad.IRI, object quad.Value) {
	switch aspect {
	case suffixWith:
		g.methods = append(g.methods, object)
	case suffixAt:
		g.places = append(g.places, object)
	case suffixReading:
		g.nodes = append(g.nodes, object)
	default:
		g.values = append(g.values, object)
	}
}

// readings puts values, methods and places together. Nodes say exactly what
// belongs together; without them a source has one value, one method at most,
// one place at most. Facts put together from elsewhere may break that rule:
// then every value is given with the smallest method and place.
func (g *readingGroup) readings(r *record, source graph.SourceID) []graph.Reading {
	var list []graph.Reading
	for _, node := range g.nodes {
		part := r.part(node)
		list = append(list, graph.Reading{Text: part.text(rdfValue), Method: part.text(termWith),
			Cite: graph.Cite{Source: source, Pos: part.place(termAt)}})
	}
	if len(list) > 0 {
		return list
	}
	for _, v := range g.values {
		list = append(list, graph.Reading{Text: plainText(v), Method: smallest(g.methods),
			Cite: graph.Cite{Source: source, Pos: parsePlace(smallest(g.places))}})
	}
	return list
}

func smallest(values []quad.Value) string {
	best := ""
	for i, v := range values {
		if text := plainText(v); i == 0 || text < best {
			best = text
		}
	}
	return best
}

// cutAspect splits "bore/with" into "bore" and "/with"; the value itself has
// no aspect.
func cutAspect(rest string) (name string, aspect quad.IRI) {
	for _, suffix := range []quad.IRI{suffixWith, suffixAt, suffixReading} {
		if before, ok := strings.CutSuffix(rest, string(suffix)); ok {
			return before, suffix
		}
	}
	return rest, ""
}
