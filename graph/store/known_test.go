package store

import (
	"testing"

	cayleygraph "github.com/cayleygraph/cayley/graph"
	"github.com/cayleygraph/cayley/graph/kv"
	"github.com/cayleygraph/quad"
)

func TestKnownValues(t *testing.T) {
	bore, eye, gone := kv.Int64Value(1), kv.Int64Value(2), kv.Int64Value(3)
	var known knownValues
	values, missing := known.lookUp([]cayleygraph.Ref{bore, eye})
	if len(values) != 2 || values[0] != nil || values[1] != nil || len(missing) != 2 {
		t.Fatalf("at first: %v, missing %v; want nothing known", values, missing)
	}
	known.keep([]cayleygraph.Ref{bore, gone}, []quad.Value{quad.String("14 mm"), nil})
	values, missing = known.lookUp([]cayleygraph.Ref{eye, bore, gone})
	if values[1] != quad.String("14 mm") || values[0] != nil || values[2] != nil {
		t.Errorf("later: %v; want only the second", values)
	}
	if len(missing) != 2 || missing[0] != eye || missing[1] != gone {
		t.Errorf("missing %v; want 2 and 3, in that order", missing)
	}
	known.forget()
	if _, missing = known.lookUp([]cayleygraph.Ref{bore}); len(missing) != 1 {
		t.Error("what was forgotten is still known")
	}
}
