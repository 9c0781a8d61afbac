package store

import (
	"slices"
	"strconv"

	"github.com/cayleygraph/quad"

	"matewell/graph"
	"matewell/graph/diag"
)

// sheet gathers the quads of a data set in the order written. The quads of one
// record follow one another, which keeps them together on disk.
type sheet struct {
	quads []quad.Quad
	start int                    // where the record being written starts
	apart map[quad.Quad]struct{} // facts about other records, each once
}

// add writes a quad unless the record has it already.
func (s *sheet) add(q quad.Quad) {
	for _, o := range s.quads[s.start:] {
		if o.Predicate == q.Predicate && o.Object == q.Object && o.Subject == q.Subject && o.Label == q.Label {
			return
		}
	}
	s.quads = append(s.quads, q)
}

// page writes about one node. Each fact is written once for each label, that
// is for each source that says it.
type page struct {
	sheet  *sheet
	node   quad.IRI
	labels []quad.Value // at least one; nil when nobody is known to say it
}

// about starts a record that the cited sources say. Empty and zero values are
// not written by any of the page's methods: absent means "not stated".
func (s *sheet) about(node, class quad.IRI, said []graph.Cite) page {
	s.start = len(s.quads)
	p := page{sheet: s, node: node}
	for _, cite := range said {
		if label := sourceLabel(cite.Source); !slices.Contains(p.labels, label) {
			p.labels = append(p.labels, label)
		}
	}
	if len(p.labels) == 0 {
		p.labels = []quad.Value{nil}
	}
	p.derive(rdfType, class)
	for _, cite := range said {
		p.under(cite.Source).place(termAt, cite.Pos)
	}
	return p
}

// aboutItself starts a record that has a place rather than citations, written
// under one label.
func (s *sheet) aboutItself(node, class quad.IRI, label quad.Value, pos diag.Pos) page {
	s.start = len(s.quads)
	p := page{sheet: s, node: node, labels: []quad.Value{label}}
	p.derive(rdfType, class)
	p.place(termAt, pos)
	return p
}

// sourceLabel is the label of what a source says; nil for no source.
func sourceLabel(id graph.SourceID) quad.Value {
	if id == "" {
		return nil
	}
	return iri(id)
}

func (p page) fact(predicate quad.IRI, object quad.Value) {
	for _, label := range p.labels {
		p.sheet.add(quad.Quad{Subject: p.node, Predicate: predicate, Object: object, Label: label})
	}
}

// derive writes what follows from other facts, so that it can be looked up or
// walked along; once is enough.
func (p page) derive(predicate quad.IRI, object quad.Value) {
	p.sheet.add(quad.Quad{Subject: p.node, Predicate: predicate, Object: object, Label: p.labels[0]})
}

// deriveAbout is derive for what follows about another record.
func (p page) deriveAbout(node, predicate quad.IRI, object quad.Value) {
	q := quad.Quad{Subject: node, Predicate: predicate, Object: object, Label: p.labels[0]}
	if _, ok := p.sheet.apart[q]; ok {
		return
	}
	if p.sheet.apart == nil {
		p.sheet.apart = map[quad.Quad]struct{}{}
	}
	p.sheet.apart[q] = struct{}{}
	p.sheet.quads = append(p.sheet.quads, q)
}

// under is the page as one source says it.
func (p page) under(source graph.SourceID) page {
	p.labels = []quad.Value{sourceLabel(source)}
	return p
}

// on is the page of another node, said by the same sources.
func (p page) on(node quad.IRI) page {
	p.node = node
	return p
}

// part starts a part of the record, linked from the page.
func (p page) part(predicate quad.IRI, path ...string) page {
	child := p.on(within(p.node, path...))
	p.fact(predicate, child.node)
	return child
}

func (p page) text(predicate quad.IRI, text string) {
	if text != "" {
		p.fact(predicate, quad.String(text))
	}
}

func (p page) texts(predicate quad.IRI, texts []string) {
	for _, text := range texts {
		p.fact(predicate, quad.String(text))
	}
}

func (p page) number(predicate quad.IRI, n int) {
	if n != 0 {
		p.fact(predicate, integer(n))
	}
}

func (p page) yes(predicate quad.IRI, yes bool) {
	if yes {
		p.fact(predicate, quad.TypedString{Value: "true", Type: xsdBoolean})
	}
}

// place writes where something stands, "-" for no known place.
func (p page) place(predicate quad.IRI, pos diag.Pos) {
	p.fact(predicate, quad.String(formatPlace(pos)))
}

func (p page) feature(predicate quad.IRI, ref graph.FeatureRef) {
	if ref != (graph.FeatureRef{}) {
		p.fact(predicate, featureIRI(ref))
	}
}

// features writes features whose order is kept.
func (p page) features(predicate quad.IRI, refs []graph.FeatureRef) {
	members := make([]quad.Value, len(refs))
	for i, ref := range refs {
		members[i] = featureIRI(ref)
	}
	p.list(predicate, members)
}

// link writes a relation to other records.
func link[T identity](p page, predicate quad.IRI, ids ...T) {
	for _, id := range ids {
		if id != "" {
			p.fact(predicate, iri(id))
		}
	}
}

// list writes members whose order matters: a node of the record with the
// numbered members of an RDF container.
func (p page) list(predicate quad.IRI, members []quad.Value) {
	if len(members) == 0 {
		return
	}
	node := p.part(predicate, lastStep(predicate))
	for i, member := range members {
		node.fact(memberTerm(i), member)
	}
}

// parts writes n parts of the record in order; write fills in the i-th.
func (p page) parts(predicate quad.IRI, n int, write func(part page, i int)) {
	members := make([]quad.Value, n)
	for i := range n {
		node := within(p.node, lastStep(predicate), strconv.Itoa(i+1))
		members[i] = node
		write(p.on(node), i)
	}
	p.list(predicate, members)
}

// readings writes the readings of one quantity. Method and place stand beside
// the value, under the same label; where one source gives several readings,
// each gets a node that keeps its three facts together.
func (p page) readings(predicate quad.IRI, list []graph.Reading) {
	count := map[graph.SourceID]int{}
	for _, r := range list {
		count[r.Source]++
	}
	for i, r := range list {
		said := p.under(r.Source)
		said.fact(predicate, quad.String(r.Text))
		if count[r.Source] > 1 {
			node := said.part(predicate+suffixReading, "reading", lastStep(predicate), strconv.Itoa(i+1))
			node.fact(rdfValue, quad.String(r.Text))
			node.text(termWith, r.Method)
			node.place(termAt, r.Pos)
			continue
		}
		said.text(predicate+suffixWith, r.Method)
		if r.Pos != (diag.Pos{}) {
			said.place(predicate+suffixAt, r.Pos)
		}
	}
}

// lastStep is a predicate without its namespace: "guides", "dim/bore".
func lastStep(predicate quad.IRI) string {
	return string(predicate[len(ownTerms):])
}

func memberTerm(i int) quad.IRI { return rdfMember + quad.IRI(strconv.Itoa(i+1)) }

func integer(n int) quad.Value {
	return quad.TypedString{Value: quad.String(strconv.Itoa(n)), Type: xsdInteger}
}

func texts(list []string) []quad.Value {
	values := make([]quad.Value, len(list))
	for i, text := range list {
		values[i] = quad.String(text)
	}
	return values
}

func iris[T identity](ids []T) []quad.Value {
	values := make([]quad.Value, len(ids))
	for i, id := range ids {
		values[i] = iri(id)
	}
	return values
}
