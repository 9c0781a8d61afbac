package loader_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/store"
	"matewell/graph/store/storetest"
	"matewell/loader"
	"matewell/testdata/bigset"
)

// edit is a change of one file of a set.
type edit struct {
	file, from, to string
	alone          bool // nothing else hangs on it, so that it need not bring on the others
}

func edits(model string) []edit {
	dir := "models/" + model + "/"
	first := "Tarnholt 0001.00000"
	part := "  - number: Tarnholt 7777.00001\n    kind: bracket\n    name: new\n    features:\n      mount: {count: 2, " +
		"spacing: 44 mm, hole: 6.5 mm}\n"
	return []edit{
		{dir + "assemblies-2.yaml", "name: bolt 3", "name: bolt three", true},
		{dir + "assemblies-2.yaml", "        positions:", "        # a line more\n        positions:", true},
		{dir + "assemblies-2.yaml", "kind: bolt, name: bolt 3", "kind: lever, name: bolt 3", false},
		{dir + "assemblies-2.yaml", "          place-03: ", "          place-93: ", false},
		{dir + "assemblies-1.yaml", "    joints:\n", "    joints:\n      more: {a: assembly-00/place-09.mount, b: " +
			"assembly-00/place-10.mount}\n", true},
		{dir + "fitments.csv", ",,,list-", ",7,,list-", true},
		// of another kind
		{dir + "fitments.csv", "assembly-12/place-00,Tarnholt 9", "assembly-12/place-00,Tarnholt 8", false},
		{dir + "parts.yaml", "count: 2", "count: 4", true},
		{dir + "parts.yaml", "  - number: " + first, part + "  - number: " + first, true},
		{dir + "parts.yaml", "kind: bracket", "kind: plate", false},
		{dir + "supersessions.csv", "improved", "stronger", true},
		{dir + "variants.yaml", "{year: 1996, market: eu}", "{year: 1995, market: eu}", false},
		{"kinds.yaml", "eye: \"eye, may\"", "eye: eye", false},
		{"sources.yaml", "title: Standard hardware", "title: Hardware", false}, // nothing there uses it
	}
}

// Replacing what edited files said gives what reading everything gives, and what
// others hang on is left to that.
func TestReplaced(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	sum, err := bigset.Write(dir, bigset.Set{Facts: 5000, Seed: 3})
	if err != nil {
		t.Fatal(err)
	}
	root := filepath.Join(t.TempDir(), "store")
	if err := buildOf(ctx, root, dir); err != nil {
		t.Fatal(err)
	}
	for _, e := range edits(sum.Model) {
		t.Run(e.file+" "+e.to, func(t *testing.T) {
			name := filepath.Join(dir, filepath.FromSlash(e.file))
			old, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			now := bytes.Replace(old, []byte(e.from), []byte(e.to), 1)
			if bytes.Equal(old, now) {
				t.Fatalf("%s does not hold %q", e.file, e.from)
			}
			amended := filepath.Join(t.TempDir(), "store")
			err = store.Amend(ctx, root, amended, func(ctx context.Context, base *store.Store, _ string) (store.Change, error) {
				was, is, ok, err := loader.Replaced(ctx, base, "set", map[string][]byte{e.file: old},
					map[string][]byte{e.file: now})
				if err == nil && !ok {
					err = store.ErrNotAmended
				}
				return store.Change{Old: was, New: is}, err
			}, nil)
			if alone := !errors.Is(err, store.ErrNotAmended); alone != e.alone || alone && err != nil {
				t.Fatalf("replaced alone: %t, want %t (%v)", alone, e.alone, err)
			}
			if err != nil {
				return
			}
			if err := os.WriteFile(name, now, 0o644); err != nil {
				t.Fatal(err)
			}
			defer os.WriteFile(name, old, 0o644)
			var probs diag.List
			want, err := loader.Load(ctx, []loader.Layer{loader.Standard(), {Name: "set", FS: os.DirFS(dir)}}, &probs)
			if err != nil || probs.Err() != nil {
				t.Fatal(err, probs.Err())
			}
			storetest.Same(t, factsAt(t, amended), want)
		})
	}
}

func buildOf(ctx context.Context, root, dir string) error {
	var probs diag.List
	err := store.BuildFrom(ctx, root, func(add func(graph.Facts) error) error {
		return loader.Stream(ctx, []loader.Layer{loader.Standard(), {Name: "set", FS: os.DirFS(dir)}}, &probs, add)
	}, nil, nil)
	if err == nil && probs.Len() > 0 {
		err = fmt.Errorf("%s", strings.TrimSpace(probs.Sorted()[0].Message))
	}
	return err
}

func factsAt(t *testing.T, root string) graph.Facts {
	t.Helper()
	s, err := store.OpenCurrent(root)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	f, err := s.Facts(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return f
}
