package store

import (
	"maps"
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
}

// records are facts by node.
type records map[quad.IRI]*record

// record is what is said about one node.
type record struct {
	node   quad.IRI
	values []value
	parts  records // nodes of the same root
}

// each gives the facts with a predicate.
func (r *record) each(predicate quad.IRI, visit func(v value)) {
	for _, v := range r.values {
		if v.predicate == predicate {
			visit(v)
		}
	}
}

// last gives a single-valued fact. Should there be several, the smallest wins,
// so that the answer doesn't depend on their order.
func (r *record) last(predicate quad.IRI) quad.Value {
	var best quad.Value
	r.each(predicate, func(v value) {
		if best == nil || v.object.String() < best.String() {
			best = v.object
		}
	})
	return best
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
	for _, member := range r.list(predicate) {
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
	slices.SortFunc(list, graph.Cite.Compare)
	return slices.Compact(list)
}

// list gives the members of an ordered list.
func (r *record) list(predicate quad.IRI) (members []quad.Value) {
	list := r.part(r.last(predicate))
	found := map[int]quad.Value{}
	for _, v := range list.values {
		if at, ok := memberPlace(v.predicate); ok {
			if old, ok := found[at]; !ok || v.object.String() < old.String() {
				found[at] = v.object
			}
		}
	}
	for at := 1; found[at] != nil; at++ {
		members = append(members, found[at])
	}
	return members
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
	var parts []*record
	for _, member := range r.list(predicate) {
		parts = append(parts, r.part(member))
	}
	return parts
}

// keyed gives the parts of the record that a predicate leads to, sorted by
// node.
func (r *record) keyed(predicate quad.IRI) []*record {
	nodes := map[quad.IRI]bool{}
	r.each(predicate, func(v value) {
		if node, ok := v.object.(quad.IRI); ok {
			nodes[node] = true
		}
	})
	var parts []*record
	for _, node := range slices.Sorted(maps.Keys(nodes)) {
		parts = append(parts, r.part(node))
	}
	return parts
}

// part is the part of the record behind a value. A part about which nothing is
// stated, or a node of another record, has no facts.
func (r *record) part(v quad.Value) *record {
	node, _ := v.(quad.IRI)
	part := record{node: node, parts: r.parts}
	if whole := r.parts[node]; whole != nil && isPart(node, r.node) {
		part.values = whole.values
	}
	return &part
}

// isPart reports whether a node is a part of the record that another is or
// belongs to.
func isPart(node, other quad.IRI) bool {
	own := root(other)
	return len(node) > len(own) && node[len(own)] == '#' && node[:len(own)] == own
}

func (r *record) is(class quad.IRI) bool {
	found := false
	r.each(rdfType, func(v value) { found = found || v.object == class })
	return found
}

func (found records) add(q quad.Quad) {
	node, _ := q.Subject.(quad.IRI)
	predicate, _ := q.Predicate.(quad.IRI)
	r := found[node]
	if r == nil {
		r = &record{node: node, parts: found}
		found[node] = r
	}
	r.values = append(r.values, value{predicate, q.Object, q.Label})
}

// understood are the records that statements describe.
func understood(lines []quadLine) graph.Facts {
	found, seen := records{}, map[quad.Quad]bool{}
	for _, l := range lines {
		if _, isNode := l.quad.Subject.(quad.IRI); isNode && !seen[l.quad] {
			seen[l.quad] = true
			found.add(l.quad)
		}
	}
	var f graph.Facts
	readAll(&f, found, sourceCodec())
	readAll(&f, found, brandCodec())
	readAll(&f, found, kindCodec())
	readAll(&f, found, modelCodec())
	readAll(&f, found, variantCodec())
	readAll(&f, found, assemblyCodec())
	readAll(&f, found, positionCodec())
	readAll(&f, found, partCodec())
	readAll(&f, found, fitmentCodec())
	readAll(&f, found, jointCodec())
	readAll(&f, found, runCodec())
	readAll(&f, found, circuitCodec())
	readAll(&f, found, stackCodec())
	readAll(&f, found, supersessionCodec())
	readAll(&f, found, findingCodec())
	readAll(&f, found, bikeCodec())
	readAll(&f, found, jobCodec())
	return f
}

// readAll reads the records of one sort, sorted by identity.
func readAll[K identity, T any](into *graph.Facts, found records, c codec[K, T]) {
	var list []T
	for node, r := range found {
		if _, ok := identityOf[K](node); ok && r.is(c.class) {
			list = append(list, c.read(r))
		}
	}
	*c.list(into) = union(c, [][]T{list})
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
