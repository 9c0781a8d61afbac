package store

import (
	"go/ast"
	"go/parser"
	"go/token"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/cayleygraph/quad"

	"matewell/graph/store/storetest"
)

// terms are the predicates and classes that vocabulary.go declares, by name.
func terms(t *testing.T) map[string]quad.IRI {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), "vocabulary.go", nil, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	namespaces := map[string]string{"ownTerms": ownTerms, "rdfTerms": rdfTerms, "provTerms": provTerms,
		"schemaOrg": schemaOrg}
	found := map[string]quad.IRI{}
	ast.Inspect(file, func(n ast.Node) bool {
		spec, ok := n.(*ast.ValueSpec)
		if !ok || len(spec.Values) != 1 {
			return true
		}
		sum, ok := spec.Values[0].(*ast.BinaryExpr)
		if !ok {
			return true
		}
		namespace, _ := sum.X.(*ast.Ident)
		literal, _ := sum.Y.(*ast.BasicLit)
		if namespace == nil || literal == nil || namespaces[namespace.Name] == "" {
			return true
		}
		text, _ := strconv.Unquote(literal.Value)
		found[spec.Names[0].Name] = quad.IRI(namespaces[namespace.Name] + text)
		return true
	})
	if len(found) < 90 {
		t.Fatalf("only %d terms found", len(found))
	}
	return found
}

// TestVocabularyIsWhatIsWritten finds terms that nothing writes and predicates
// that nobody documented. Terms that end in a slash or underscore are followed
// by a name.
func TestVocabularyIsWhatIsWritten(t *testing.T) {
	declared := terms(t)
	used := map[quad.IRI]bool{}
	for _, q := range statedIn(storetest.Sample()) {
		predicate := withoutSuffix(q.Predicate.(quad.IRI))
		term := quad.IRI("")
		for _, declared := range declared {
			open := strings.HasSuffix(string(declared), "/") || declared == rdfMember
			if declared == predicate || open && strings.HasPrefix(string(predicate), string(declared)) {
				term = declared
			}
		}
		if term == "" {
			t.Errorf("predicate %s is not in the vocabulary", q.Predicate)
		}
		used[term] = true
		if class, ok := q.Object.(quad.IRI); ok && term == rdfType {
			used[class] = true
		}
	}
	for name, term := range declared {
		if !used[term] {
			t.Errorf("nothing writes %s (%s)", name, term)
		}
	}
	values := make([]quad.IRI, 0, len(declared))
	for _, term := range declared {
		values = append(values, term)
	}
	slices.Sort(values)
	if len(slices.Compact(values)) != len(declared) {
		t.Error("two terms are the same")
	}
}

func withoutSuffix(predicate quad.IRI) quad.IRI {
	for _, suffix := range []quad.IRI{suffixWith, suffixAt, suffixReading} {
		if before, ok := strings.CutSuffix(string(predicate), string(suffix)); ok {
			return quad.IRI(before)
		}
	}
	return predicate
}

// Labels are sources, or the finding or bike itself, in every quad.
func TestLabelsAreSources(t *testing.T) {
	stated := statedIn(storetest.Sample())
	if len(stated) < 100 {
		t.Errorf("only %d quads are stated: was the sample written?", len(stated))
	}
	for _, q := range stated {
		label := quad.StringOf(q.Label)
		ok := false
		for _, sort := range []string{"source/", "finding/", "bike/"} {
			ok = ok || strings.HasPrefix(label, "<"+identities+sort)
		}
		if !ok {
			t.Errorf("%v has the label %s", q, label)
		}
	}
}
