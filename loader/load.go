package loader

import (
	"context"
	"fmt"
	"io/fs"

	"matewell/graph"
	"matewell/graph/diag"
)

// Layer is one folder of a data set. Later layers add to earlier ones and may
// contradict them, as two sources may.
type Layer struct {
	// Name is put in front of file names in places: with "data-demo",
	// "data-demo/parts/brakes.yaml". An empty name puts nothing in front.
	Name string
	// FS is walked from its root; files and folders whose name starts with a
	// dot, and files that are neither YAML nor CSV, are passed over.
	FS fs.FS
}

// Load reads all layers and checks them together. Every fault goes to probs;
// with an error among them the Facts are empty. Warnings alone don't empty
// them. The error is for other trouble: a file that can't be read, or ctx done.
// Every list of the Facts is sorted by identity, and the same files give equal
// Facts in every run.
func Load(ctx context.Context, layers []Layer, probs *diag.List) (graph.Facts, error) {
	return load(ctx, nil, layers, probs, nil)
}

// Stream is Load for sets of any size: it hands the facts to emit in pieces, in
// no order, and holds no more of them than it needs for checking. A fitment
// that several files tell of comes from each. What was handed over counts only
// when probs has no error in the end. An error of emit ends it.
func Stream(ctx context.Context, layers []Layer, probs *diag.List, emit func(graph.Facts) error) error {
	_, err := load(ctx, nil, layers, probs, emit)
	return err
}

// LoadOver is Load for layers that lie over what base already holds: names are
// looked up there too, in a few batched reads. The Facts hold what the layers
// say and nothing of what only base says; a part that the layers merely add to
// has no kind and no name of its own there.
func LoadOver(ctx context.Context, base graph.Reader, layers []Layer, probs *diag.List) (graph.Facts, error) {
	return load(ctx, base, layers, probs, nil)
}

func load(ctx context.Context, base graph.Reader, layers []Layer, probs *diag.List,
	emit func(graph.Facts) error) (graph.Facts, error) {
	w := newWorld()
	if err := read(ctx, w, base, layers, emit, probs); err != nil {
		return graph.Facts{}, err
	}
	if w.Err() != nil {
		return graph.Facts{}, nil
	}
	if w.stream != nil {
		return graph.Facts{}, streamFacts(w)
	}
	return w.facts(), nil
}

// read reads all layers into the world and resolves what they say. Faults go to
// the world's own list and to probs; the error is for other trouble.
func read(ctx context.Context, w *world, base graph.Reader, layers []Layer, emit func(graph.Facts) error,
	probs *diag.List) error {
	g := newGrammar()
	g.later = emit != nil
	files, err := readLayers(ctx, g, layers, probs)
	if err != nil {
		return err
	}
	if !w.takesOffers {
		sayEmpty(layers, files, probs)
	}
	w.files = files
	for _, f := range files {
		w.Add(f.faults.Sorted()...)
		w.broken, w.cut = w.broken || f.broken, w.cut || f.cut
	}
	if base != nil {
		w.base = &baseGraph{ctx: ctx, reader: base}
	}
	if emit != nil {
		w.stream = &stream{ctx: ctx, grammar: g, emit: emit}
	}
	w.resolve()
	switch {
	case w.stream != nil && w.stream.err != nil:
		return w.stream.err
	case w.base != nil && w.base.err != nil:
		return w.base.err
	case ctx.Err() != nil:
		return fmt.Errorf("loader: %w", ctx.Err())
	}
	probs.Add(w.Sorted()...)
	return nil
}
