package store

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/cayleygraph/quad"
	"github.com/cayleygraph/quad/nquads"
)

func writeJSONLD(ctx context.Context, s *Store, w io.Writer) error {
	d := document{out: bufio.NewWriter(w), links: linkTerms{}}
	begun := false
	text := func(q quad.Quad) string {
		d.links.add(q)
		return d.sortText(q)
	}
	err := sortedStatements(ctx, s, text, func(line string) error {
		if !begun { // only now is it known what all links are
			begun = true
			if err := d.begin(); err != nil {
				return err
			}
		}
		return d.take(line)
	})
	if err == nil && !begun {
		err = d.begin()
	}
	if err != nil {
		return err
	}
	return d.end()
}

// prefixes are the names that stand for namespaces in JSON-LD; the own terms
// need none.
func prefixes() [][2]string {
	return [][2]string{{"id", identities}, {"rdf", rdfTerms}, {"prov", provTerms}, {"schema", schemaOrg},
		{"qudt", qudtTerms}, {"unit", qudtUnits}, {"xsd", xsdTypes}}
}

// document is JSON-LD while it is written: graph by graph, node by node.
type document struct {
	out   *bufio.Writer
	links linkTerms

	graph, subject string         // being written; empty graph for the default one
	node           map[string]any // of the subject; nil before the first
	later          bool           // a node or graph stands before what comes next
}

// sortText is a statement behind the names of its graph and node, in the order in
// which they are written.
func (d *document) sortText(q quad.Quad) string {
	graph := ""
	if label, ok := q.Label.(quad.IRI); ok {
		graph = short(label)
	}
	return graph + "\x00" + short(q.Subject.(quad.IRI)) + "\x00" + statement(q)
}

func (d *document) begin() error {
	fmt.Fprint(d.out, "{\n\"@context\": ")
	if err := d.put(d.context()); err != nil {
		return err
	}
	_, err := fmt.Fprint(d.out, ",\n\"@graph\": [")
	return err
}

// take adds what sortText wrote of a statement.
func (d *document) take(line string) error {
	graph, rest, _ := strings.Cut(line, "\x00")
	subject, line, _ := strings.Cut(rest, "\x00")
	parsed, err := nquads.Parse(strings.TrimSuffix(line, "\n"))
	if err != nil {
		return err
	}
	if d.node == nil || graph != d.graph || subject != d.subject {
		if err := d.finishNode(); err != nil {
			return err
		}
		if graph != d.graph {
			if err := d.openGraph(graph); err != nil {
				return err
			}
		}
		d.subject, d.node = subject, map[string]any{"@id": subject}
	}
	d.add(d.node, plainQuad(parsed))
	return nil
}

func (d *document) finishNode() error {
	if d.node == nil {
		return nil
	}
	d.comma()
	node := d.node
	d.node = nil
	return d.put(node)
}

// openGraph starts the graph of a source; what no source says stands in the default
// graph, which comes first.
func (d *document) openGraph(name string) error {
	d.closeGraph()
	d.graph = name
	d.comma()
	fmt.Fprint(d.out, "{\"@id\": ")
	if err := d.put(name); err != nil {
		return err
	}
	_, err := fmt.Fprint(d.out, ", \"@graph\": [")
	d.later = false
	return err
}

func (d *document) closeGraph() {
	if d.graph != "" {
		fmt.Fprint(d.out, "\n]}")
		d.later = true
	}
}

func (d *document) end() error {
	if err := d.finishNode(); err != nil {
		return err
	}
	d.closeGraph()
	fmt.Fprint(d.out, "\n]\n}\n")
	return d.out.Flush()
}

func (d *document) comma() {
	if d.later {
		fmt.Fprint(d.out, ",")
	}
	fmt.Fprint(d.out, "\n")
	d.later = true
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
	for predicate, all := range d.links {
		if !all {
			continue
		}
		c[d.key(predicate)] = map[string]any{"@id": string(predicate), "@type": "@id"}
	}
	return c
}

// linkTerms tells of predicates whether every object so far is a node: the context
// says so of them, and their values are plain text.
type linkTerms map[quad.IRI]bool

func (l linkTerms) add(q quad.Quad) {
	predicate := q.Predicate.(quad.IRI)
	if predicate == rdfType || strings.HasPrefix(string(predicate), string(rdfMember)) {
		return
	}
	_, isNode := q.Object.(quad.IRI)
	had, seen := l[predicate]
	l[predicate] = isNode && (had || !seen)
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
