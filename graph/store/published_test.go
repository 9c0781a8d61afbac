package store

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/cayleygraph/quad"

	"matewell/graph/measure"
	"matewell/testdata/published"
)

// publishedTerms are the terms of published vocabularies, from
// testdata/published/rdf_terms.csv with their sources.
func publishedTerms(t *testing.T) []string {
	t.Helper()
	var terms []string
	for _, row := range published.Rows(t, "rdf_terms.csv") {
		terms = append(terms, row["namespace"]+row["term"])
	}
	return terms
}

// TestPublishedTermsExist: every term that the vocabulary takes from outside is
// one that its publisher defines, and every one on the list is used.
func TestPublishedTermsExist(t *testing.T) {
	defined := publishedTerms(t)
	used := usedTerms(t)
	for _, term := range used {
		if !slices.Contains(defined, term) {
			t.Errorf("%s is used, but is not in rdf_terms.csv", term)
		}
	}
	for _, term := range defined {
		if !slices.Contains(used, term) {
			t.Errorf("%s is in rdf_terms.csv, but is not used", term)
		}
	}
}

// usedTerms are the terms outside of our own namespaces in vocabulary.go, and
// the units of quantity.go.
func usedTerms(t *testing.T) []string {
	t.Helper()
	text, err := os.ReadFile("vocabulary.go")
	if err != nil {
		t.Fatal(err)
	}
	spaces := map[string]string{"rdfTerms": rdfTerms, "provTerms": provTerms, "schemaOrg": schemaOrg,
		"qudtTerms": qudtTerms, "xsdTypes": xsdTypes}
	var terms []string
	for _, m := range regexp.MustCompile(`quad\.IRI\s*=\s*(\w+) \+ "([^"]+)"`).FindAllStringSubmatch(string(text), -1) {
		space, outside := spaces[m[1]]
		if outside && m[2] != strings.TrimPrefix(string(rdfMember), rdfTerms) {
			terms = append(terms, space+m[2])
		}
	}
	for typ := measure.Type(1); typ < 32; typ++ {
		if unit, ok := unitOf(typ); ok {
			terms = append(terms, string(unit))
		}
	}
	return terms
}

// TestQuantities: every type that has a unit has one of QUDT, and numbers are
// written without the noise of binary arithmetic.
func TestQuantities(t *testing.T) {
	for typ := measure.Type(1); typ < 32; typ++ {
		if _, ok := unitOf(typ); ok != typ.Measured() {
			t.Errorf("%s: has a QUDT unit: %v, is measured: %v", typ, ok, typ.Measured())
		}
	}
	for v, want := range map[float64]string{22.2: "22.2", 0.1 + 0.2: "0.3", 15.875: "15.875", -30: "-30", 0: "0",
		1e6: "1000000", -1e-9: "0"} {
		if got := plainText(decimal(v)); got != want {
			t.Errorf("decimal(%g) = %s, want %s", v, got, want)
		}
	}
	if d, ok := decimal(1.5).(quad.TypedString); !ok || d.Type != xsdDecimal {
		t.Error("a decimal has another type")
	}
}
