package mating

import (
	"testing"

	"matewell/graph"
	"matewell/graph/measure"
)

// made is a side with dimensions given as name, text, name, text ...
func made(kind string, dims ...string) Side {
	s := Side{Position: graph.PositionID("bench/" + kind),
		Feature: graph.Feature{Name: kind, Kind: kind, Dims: map[string][]graph.Reading{}}}
	for i := 0; i+1 < len(dims); i += 2 {
		s.Feature.Dims[dims[i]] = append(s.Feature.Dims[dims[i]], graph.Reading{Text: dims[i+1]})
	}
	return s
}

// with is a copy of a side with one dimension set, or taken away when text is
// empty.
func (s Side) with(dim, text string) Side {
	dims := map[string][]graph.Reading{}
	for name, readings := range s.Feature.Dims {
		dims[name] = readings
	}
	delete(dims, dim)
	if text != "" {
		dims[dim] = []graph.Reading{{Text: text}}
	}
	s.Feature.Dims = dims
	return s
}

func measureThread(t *testing.T, text string) measure.ThreadSize {
	t.Helper()
	size, err := measure.ParseThread(text)
	if err != nil {
		t.Fatal(err)
	}
	return size
}

// the finds a check by its rule.
func the(t *testing.T, checks []Check, rule string) Check {
	t.Helper()
	c, ok := named(checks, rule)
	if !ok {
		t.Fatalf("no check %q in %+v", rule, checks)
	}
	return c
}
