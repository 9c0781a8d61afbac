package store

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"github.com/cayleygraph/quad"

	"matewell/graph"
	"matewell/graph/diag"
)

// value is one fact about the node of a record.
type value struct {
	predicate quad.IRI
	object    quad.Value
	label     quad.Value
	layer     int // which of the layered stores says it; later ones are higher
}

// records are facts by node.
type records map[quad.IRI]*record

// record is what is known about one node, from all layers.
type record struct {
	node   quad.IRI
	values []value
	parts  records // nodes of the same root
	only   int     // the one layer to look at, or allLayers
}

const allLayers = -1

// each gives the facts with a predicate.
func (r *record) each(predicate quad.IRI, visit func(v value)) {
	for _, v := range r.values {
		if v.predicate == predicate && (r.only == allLayers || r.only == v.layer) {
			visit(v)
		}
	}
}

// last gives a single-valued fact: the one of the highest layer. Should one
// layer state several, the smallest wins, so that the answer doesn't depend on
// the order of storage.
func (r *record) last(predicate quad.IRI) quad.Value {
	var best value
	r.each(predicate, func(v value) {
		if best.object == nil || v.layer > best.layer ||
			v.layer == best.layer && v.object.String() < best.object.String() {
			best = v
		}
	})
	return best.object
}

func (r *record) text(predicate quad.IRI) string { return plainText(r.last(predicate)) }

func (r *record) number(predicate quad.IRI) int {
	n, _ := strconv.Atoi(plainText(r.last(predicate)))
	return n
}

func (r *record) yes(predicate quad.IRI) bool { return r.last(predicate) != nil }

func (r *record) place(predicate quad.IRI) diag.Pos { return parsePlace(r.text(predicate)) }

func (r *record) feature(predicate quad.IRI) graph.FeatureRef {
	ref, _ := featureOf(r.last(predicate))
	return ref
}

// features are the features in an ordered list.
func (r *record) features(predicate quad.IRI) []graph.FeatureRef {
	var refs []graph.FeatureRef
	members, _ := r.list(predicate)
	for _, member := range members {
		if ref, ok := featureOf(member); ok {
			refs = append(refs, ref)
		}
	}
	return refs
}

// texts are all texts with a predicate, sorted, each once; nil when none.
func (r *record) texts(predicate quad.IRI) []string {
	var list []string
	r.each(predicate, func(v value) { list = append(list, plainText(v.object)) })
	slices.Sort(list)
	return slices.Compact(list)
}

// self is the identity of the record itself.
func self[T identity](r *record) T {
	id, _ := identityOf[T](r.node)
	return id
}

// linked is the single record that a predicate leads to; empty when none.
func linked[T identity](r *record, predicate quad.IRI) T {
	id, _ := identityOf[T](r.last(predicate))
	return id
}

// links are all records that a predicate leads to, sorted, each once.
func links[T identity](r *record, predicate quad.IRI) []T {
	var ids []T
	r.each(predicate, func(v value) {
		if id, ok := identityOf[T](v.object); ok {
			ids = append(ids, id)
		}
	})
	slices.Sort(ids)
	return slices.Compact(ids)
}

// said are the sources of the record with their places.
func (r *record) said() []graph.Cite {
	var list []graph.Cite
	r.each(termAt, func(v value) {
		source, _ := identityOf[graph.SourceID](v.label)
		list = append(list, graph.Cite{Source: source, Pos: parsePlace(plainText(v.object))})
	})
	slices.SortFunc(list, compareCites)
	return slices.Compact(list)
}

// list gives the members of an ordered list, as the highest layer that has
// one states it, and that layer.
func (r *record) list(predicate quad.IRI) (members []quad.Value, layer int) {
	node, ok := r.last(predicate).(quad.IRI)
	list := r.parts[node]
	if !ok || list == nil {
		return nil, 0
	}
	r.each(predicate, func(v value) { layer = max(layer, v.layer) })
	found := map[int]quad.Value{}
	for _, v := range list.values {
		if at, ok := memberPlace(v.predicate); ok && v.layer == layer {
			if old, ok := found[at]; !ok || v.object.String() < old.String() {
				found[at] = v.object
			}
		}
	}
	for at := 1; found[at] != nil; at++ {
		members = append(members, found[at])
	}
	return members, layer
}

// memberPlace is the place, from 1, that a member predicate stands for.
func memberPlace(predicate quad.IRI) (int, bool) {
	digits, ok := strings.CutPrefix(string(predicate), string(rdfMember))
	if !ok {
		return 0, false
	}
	at, err := strconv.Atoi(digits)
	return at, err == nil
}

// ordered gives the parts of the record in an ordered list.
func (r *record) ordered(predicate quad.IRI) []*record {
	members, layer := r.list(predicate)
	var parts []*record
	for _, member := range members {
		parts = append(parts, r.part(member, layer))
	}
	return parts
}

// keyed gives the parts of the record that a predicate leads to, sorted by
// node, each as the highest layer that has it states it.
func (r *record) keyed(predicate quad.IRI) []*record {
	layers := map[quad.IRI]int{}
	r.each(predicate, func(v value) {
		if node, ok := v.object.(quad.IRI); ok {
			layers[node] = max(layers[node], v.layer)
		}
	})
	var parts []*record
	for node, layer := range layers {
		parts = append(parts, r.part(node, layer))
	}
	slices.SortFunc(parts, func(a, b *record) int { return cmp.Compare(a.node, b.node) })
	return parts
}

// merged gives the parts of the record that a predicate leads to, each with
// the facts of all layers.
func (r *record) merged(predicate quad.IRI) []*record {
	parts := r.keyed(predicate)
	for _, part := range parts {
		part.only = r.only
	}
	return parts
}

// part is the part of the record behind a value, as one layer states it. A
// part about which nothing is stated has no facts.
func (r *record) part(v quad.Value, layer int) *record {
	node, _ := v.(quad.IRI)
	part := record{node: node, parts: r.parts, only: layer}
	if whole := r.parts[node]; whole != nil {
		part.values = whole.values
	}
	return &part
}

func plainText(v quad.Value) string {
	switch v := v.(type) {
	case quad.String:
		return string(v)
	case quad.TypedString:
		return string(v.Value)
	}
	return ""
}

func plainTexts(values []quad.Value) []string {
	var list []string
	for _, v := range values {
		list = append(list, plainText(v))
	}
	return list
}

func idsOf[T identity](values []quad.Value) []T {
	var ids []T
	for _, v := range values {
		if id, ok := identityOf[T](v); ok {
			ids = append(ids, id)
		}
	}
	return ids
}
