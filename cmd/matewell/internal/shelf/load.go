package shelf

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"matewell/cmd/matewell/internal/desk"
	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/disk"
	"matewell/graph/store"
	"matewell/loader"
)

// ErrFaults ends what is done with facts of which some turned out to be wrong.
var ErrFaults = errors.New("there are faults")

// Read reads folders of hand-written files, or files of N-Quads, and hands over
// what they say piece by piece. Faults go to probs and are printed, with the
// line they are in; with an error among them the error is ErrFaults, and what
// was handed over doesn't count.
func Read(ctx context.Context, e desk.Env, names []string, probs *diag.List, add func(graph.Facts) error) error {
	var folders, quads []string
	for _, name := range names {
		if strings.HasSuffix(name, ".nq") {
			quads = append(quads, name)
		} else {
			folders = append(folders, name)
		}
	}
	if len(quads) > 0 && len(folders)+len(quads) > 1 {
		return desk.Usagef("a file of N-Quads is a whole graph: load it alone, without %s", strings.Join(append(quads[1:],
			folders...), ", "))
	}
	if len(quads) > 0 {
		facts, err := readQuads(ctx, e, quads[0], probs)
		if err != nil {
			return err
		}
		if probs.Err() != nil {
			return ErrFaults
		}
		return add(facts)
	}
	layers, err := Layers(e, folders)
	if err != nil {
		return err
	}
	return streamFiles(ctx, e, layers, probs, add)
}

// streamFiles reads folders of hand-written files as read does.
func streamFiles(ctx context.Context, e desk.Env, layers []loader.Layer, probs *diag.List,
	add func(graph.Facts) error) error {
	BeThrifty(e, desk.RoomToStore)
	if err := loader.Stream(ctx, layers, probs, add); err != nil {
		return err
	}
	if err := diag.Print(e.Err, probs, SourceOf(layers)); err != nil {
		return err
	}
	if probs.Err() != nil {
		return ErrFaults
	}
	return nil
}

func readQuads(ctx context.Context, e desk.Env, name string, probs *diag.List) (facts graph.Facts, err error) {
	dir, base := filepath.Split(name)
	files := e.DirFS(filepath.Clean(dir))
	if err := disk.CheckPlain(files, base); err != nil {
		return facts, fmt.Errorf("read %s: %w", name, desk.Reason(err))
	}
	f, err := files.Open(base)
	if err != nil {
		return facts, fmt.Errorf("read %s: %w", name, desk.Reason(err))
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	BeThrifty(e, desk.RoomToRead)
	facts, err = store.ReadNQuads(ctx, f, name, probs)
	if err != nil {
		return facts, err
	}
	return facts, diag.Print(e.Err, probs, func(string) []byte {
		content, _ := disk.ReadPlain(files, base, disk.MaxPlain) // without the line, the fault still has its place
		return content
	})
}

// PutInto replaces what a store holds with what feed hands over.
func PutInto(ctx context.Context, e desk.Env, where string, feed func(add func(graph.Facts) error) error,
	beside func(dir string) error, step func(done, total int)) error {
	if err := CheckPlace(where); err != nil {
		return err
	}
	if !IsShared(where) {
		return store.BuildFrom(ctx, where, feed, beside, step)
	}
	s, err := store.MakeSQL(ctx, where)
	if err != nil {
		return err
	}
	sayConnection(e, s)
	return errors.Join(s.ReplaceFrom(ctx, feed, step), s.Close())
}

// LoadFiles reads folders of hand-written files. It and what is done with the
// facts take the most memory of all.
func LoadFiles(ctx context.Context, e desk.Env, layers []loader.Layer, probs *diag.List) (graph.Facts, error) {
	BeThrifty(e, desk.RoomToRead)
	return loader.Load(ctx, layers, probs)
}

// BeThrifty is Thrifty, where there is one.
func BeThrifty(e desk.Env, room int) {
	if e.Thrifty != nil {
		e.Thrifty(room)
	}
}
