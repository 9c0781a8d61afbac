package store

import (
	"bufio"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"github.com/cayleygraph/quad"
)

// prefixes are the names that stand for namespaces in JSON-LD; the own terms
// need none.
func prefixes() [][2]string {
	return [][2]string{{"id", identities}, {"rdf", rdfTerms}, {"prov", provTerms}, {"schema", schemaOrg},
		{"qudt", qudtTerms}, {"unit", qudtUnits}, {"xsd", xsdTypes}}
}

// document is JSON-LD while it is written.
type document struct {
	out *bufio.Writer
	// links are the predicates that always lead to nodes: the context says so,
	// and their values are plain text.
	links map[quad.IRI]bool
}

func (d *document) write(quads []quad.Quad) error {
	fmt.Fprint(d.out, "{\n\"@context\": ")
	if err := d.put(d.context()); err != nil {
		return err
	}
	fmt.Fprint(d.out, ",\n\"@graph\": [")
	graphs := map[string][]quad.Quad{}
	for _, q := range quads {
		name := ""
		if label, ok := q.Label.(quad.IRI); ok {
			name = short(label)
		}
		graphs[name] = append(graphs[name], q)
	}
	first := true
	for _, name := range sortedKeys(graphs) {
		if err := d.graph(name, graphs[name], &first); err != nil {
			return err
		}
	}
	fmt.Fprint(d.out, "\n]\n}\n")
	return nil
}

// graph writes the nodes of one source; those of no source stand in the
// default graph.
func (d *document) graph(name string, quads []quad.Quad, first *bool) error {
	if name != "" {
		d.comma(first)
		fmt.Fprint(d.out, "{\"@id\": ")
		if err := d.put(name); err != nil {
			return err
		}
		fmt.Fprint(d.out, ", \"@graph\": [")
		inner := true
		first = &inner
		defer fmt.Fprint(d.out, "\n]}")
	}
	nodes := map[string]map[string]any{}
	for _, q := range quads {
		subject := short(q.Subject.(quad.IRI))
		node := nodes[subject]
		if node == nil {
			node = map[string]any{"@id": subject}
			nodes[subject] = node
		}
		d.add(node, q)
	}
	for _, subject := range sortedKeys(nodes) {
		d.comma(first)
		if err := d.put(nodes[subject]); err != nil {
			return err
		}
	}
	return nil
}

func (d *document) comma(first *bool) {
	if !*first {
		fmt.Fprint(d.out, ",")
	}
	fmt.Fprint(d.out, "\n")
	*first = false
}

// put writes a value on one line, without the escapes that only HTML needs.
func (d *document) put(v any) error {
	var text strings.Builder
	enc := json.NewEncoder(&text)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return err
	}
	_, err := d.out.WriteString(strings.TrimSuffix(text.String(), "\n"))
	return err
}

// add puts a statement into its node; a second value makes a list of it.
func (d *document) add(node map[string]any, q quad.Quad) {
	predicate := q.Predicate.(quad.IRI)
	key, value := d.key(predicate), d.value(predicate, q.Object)
	switch have := node[key].(type) {
	case nil:
		node[key] = value
	case []any:
		node[key] = append(have, value)
	default:
		node[key] = []any{have, value}
	}
}

func (d *document) key(predicate quad.IRI) string {
	if predicate == rdfType {
		return "@type"
	}
	return term(predicate)
}

func (d *document) value(predicate quad.IRI, object quad.Value) any {
	switch v := object.(type) {
	case quad.IRI:
		switch {
		case predicate == rdfType:
			return term(v)
		case d.links[predicate]:
			return short(v)
		}
		return map[string]any{"@id": short(v)}
	case quad.TypedString:
		if n, err := strconv.Atoi(string(v.Value)); err == nil && v.Type == xsdInteger && strconv.Itoa(n) == string(v.Value) {
			return n
		}
		if yes := string(v.Value); v.Type == xsdBoolean && (yes == "true" || yes == "false") {
			return yes == "true"
		}
		return map[string]any{"@value": string(v.Value), "@type": term(v.Type)}
	}
	return plainText(object)
}

// context says what the keys and prefixes stand for.
func (d *document) context() map[string]any {
	c := map[string]any{"@version": 1.1, "@vocab": ownTerms}
	for _, p := range prefixes() {
		c[p[0]] = map[string]any{"@id": p[1], "@prefix": true}
	}
	for predicate := range d.links {
		c[d.key(predicate)] = map[string]any{"@id": string(predicate), "@type": "@id"}
	}
	return c
}

// linkTerms are the predicates whose every object is a node.
func linkTerms(quads []quad.Quad) map[quad.IRI]bool {
	links := map[quad.IRI]bool{}
	for _, q := range quads {
		predicate := q.Predicate.(quad.IRI)
		if predicate == rdfType || strings.HasPrefix(string(predicate), string(rdfMember)) {
			continue
		}
		_, isNode := q.Object.(quad.IRI)
		had, seen := links[predicate]
		links[predicate] = isNode && (had || !seen)
	}
	for predicate, all := range links {
		if !all {
			delete(links, predicate)
		}
	}
	return links
}

// term is a predicate, class or datatype as a key: an own term without its
// namespace.
func term(node quad.IRI) string {
	if own, ok := strings.CutPrefix(string(node), ownTerms); ok {
		return own
	}
	return short(node)
}

// short is an IRI with a prefix in place of its namespace.
func short(node quad.IRI) string {
	for _, p := range prefixes() {
		if rest, ok := strings.CutPrefix(string(node), p[1]); ok {
			return p[0] + ":" + rest
		}
	}
	return string(node)
}
