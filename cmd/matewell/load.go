package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"path/filepath"
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/store"
	"matewell/loader"
)

// read reads folders of hand-written files, or files of N-Quads. Faults go to
// probs and are printed, with the line they are in.
func (e env) read(ctx context.Context, names []string, probs *diag.List) (graph.Facts, error) {
	var folders, quads []string
	for _, name := range names {
		if strings.HasSuffix(name, ".nq") {
			quads = append(quads, name)
		} else {
			folders = append(folders, name)
		}
	}
	if len(quads) > 0 && len(folders)+len(quads) > 1 {
		return graph.Facts{}, usagef("a file of N-Quads is a whole graph: load it alone, without %s", strings.Join(append(quads[1:], folders...), ", "))
	}
	if len(quads) > 0 {
		return e.readQuads(ctx, quads[0], probs)
	}
	layers, err := e.layers(folders)
	if err != nil {
		return graph.Facts{}, err
	}
	facts, err := e.loadFiles(ctx, layers, probs)
	if err != nil {
		return graph.Facts{}, err
	}
	return facts, diag.Print(e.Err, probs, sourceOf(layers))
}

func (e env) readQuads(ctx context.Context, name string, probs *diag.List) (facts graph.Facts, err error) {
	dir, base := filepath.Split(name)
	files := e.DirFS(filepath.Clean(dir))
	f, err := files.Open(base)
	if err != nil {
		return facts, fmt.Errorf("read %s: %w", name, reason(err))
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	e.beThrifty()
	facts, err = store.ReadNQuads(ctx, f, name, probs)
	if err != nil {
		return facts, err
	}
	return facts, diag.Print(e.Err, probs, func(string) []byte {
		content, _ := fs.ReadFile(files, base) // without the line, the fault still has its place
		return content
	})
}

// putInto replaces what a store holds.
func putInto(ctx context.Context, where string, facts graph.Facts, step func(done, total int)) error {
	if !isShared(where) {
		return store.Build(ctx, where, facts, step)
	}
	s, err := store.OpenSQL(ctx, where)
	if err != nil {
		return err
	}
	return errors.Join(s.Replace(ctx, facts, step), s.Close())
}

// withoutPassword is a store's place as it may be printed.
func withoutPassword(where string) string {
	if !isShared(where) {
		return where
	}
	u, err := url.Parse(where)
	if err != nil {
		return "the database"
	}
	return u.Redacted()
}

// isShared reports whether a store is a database that others may use too.
func isShared(where string) bool {
	return strings.HasPrefix(where, "postgres://") || strings.HasPrefix(where, "postgresql://")
}

// loadFiles reads folders of hand-written files. It and what is done with the
// facts take the most memory of all.
func (e env) loadFiles(ctx context.Context, layers []loader.Layer, probs *diag.List) (graph.Facts, error) {
	e.beThrifty()
	return loader.Load(ctx, layers, probs)
}

// beThrifty is Thrifty, where there is one.
func (e env) beThrifty() {
	if e.Thrifty != nil {
		e.Thrifty()
	}
}
