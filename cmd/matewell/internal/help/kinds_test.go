package help

import (
	"context"
	"strings"
	"testing"
	"testing/fstest"
	"unicode/utf8"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/loader"
)

// loadExample loads what a page shows, with the makers and sources that such a
// page leaves out, and fails on any fault.
func loadExample(t *testing.T, example string) {
	t.Helper()
	body := strings.ReplaceAll(example, "  my-machine:\n", "  my-machine:\n    maker: MAKER\n    name: Mine\n    "+
		"variants: [{year: 2000, market: eu}]\n")
	files := fstest.MapFS{
		"about.yaml": {Data: []byte("source: mine\nsources: {mine: {kind: measurement, title: Mine}}\nbrands: {MAKER: }\n")},
		"page.yaml":  {Data: []byte("source: mine\n" + body)},
	}
	var probs diag.List
	if _, err := loader.Load(context.Background(), []loader.Layer{loader.Standard(), {FS: files}}, &probs); err != nil {
		t.Fatal(err)
	}
	for _, d := range probs.Sorted() {
		t.Errorf("%v, in\n%s", d, example)
	}
}

// What the page of a kind shows can be typed, and is a whole part of the kind.
func TestKindExamplesLoad(t *testing.T) {
	kinds, err := ReadKinds(t.Context())
	if err != nil || len(kinds.kinds) < 200 {
		t.Fatalf("%d kinds, %v", len(kinds.kinds), err)
	}
	var all strings.Builder
	all.WriteString("parts:\n")
	for _, k := range kinds.kinds {
		part := strings.TrimPrefix(partExample(k), "parts:\n")
		all.WriteString(strings.Replace(part, "MAKER NUMBER", "MAKER "+string(k.ID), 1))
	}
	loadExample(t, all.String())
}

// How a joint, run, row or circuit is written, as the page of a kind of feature
// shows it, loads; and each kind of feature tells one way or another how it is
// judged.
func TestFeatureExamplesLoad(t *testing.T) {
	kinds, err := ReadKinds(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range graph.FeatureKinds() {
		t.Run(f.Name, func(t *testing.T) {
			note, example := joined(kinds, f.Name)
			if note == "" {
				t.Error("the page does not say how it is judged")
			}
			if example != "" {
				loadExample(t, example)
			}
		})
	}
}

// Every page fits a terminal of 80 columns, but for an example that can't be
// broken.
func TestPagesFit(t *testing.T) {
	kinds, err := ReadKinds(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	pages := map[string]func(*strings.Builder){"kinds": kinds.writeKinds, "features": kinds.writeFeatures,
		"undecided": kinds.writeUndecided}
	for _, k := range kinds.kinds {
		pages["kind "+string(k.ID)] = func(b *strings.Builder) { kinds.writeKind(b, k) }
	}
	for _, f := range graph.FeatureKinds() {
		pages["feature "+f.Name] = func(b *strings.Builder) { kinds.writeFeature(b, f) }
	}
	for name, write := range pages {
		var b strings.Builder
		write(&b)
		for line := range strings.Lines(b.String()) {
			if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > 80 {
				t.Errorf("%s: a line of %d characters: %s", name, n, line)
			}
		}
	}
}

// Each kind says in a phrase what it is, and every kind of feature belongs to
// some kind of part.
func TestStandardKindsAreWhole(t *testing.T) {
	kinds, err := ReadKinds(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range kinds.kinds {
		if k.Is == "" {
			t.Errorf("%s does not say what it is", k.ID)
		}
	}
	for _, f := range graph.FeatureKinds() {
		if len(kinds.with(f.Name)) == 0 {
			t.Errorf("no kind of part has the feature kind %s", f.Name)
		}
	}
}
