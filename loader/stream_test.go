package loader_test

import (
	"context"
	"os"
	"path/filepath"
	"reflect"
	"testing"
	"testing/fstest"

	datademo "matewell/data-demo"
	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/sampletest"
	"matewell/graph/store"
	"matewell/graph/store/storetest"
	"matewell/loader"
	"matewell/testdata/bigset"
)

// streamed reads layers piece by piece and gives what a store makes of the
// pieces.
func streamed(t *testing.T, layers []loader.Layer, probs *diag.List) graph.Facts {
	t.Helper()
	ctx, root := context.Background(), t.TempDir()
	err := store.BuildFrom(ctx, root, func(add func(graph.Facts) error) error {
		return loader.Stream(ctx, layers, probs, add)
	}, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	s, err := store.OpenCurrent(root)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	f, err := s.Facts(ctx)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Reading a set piece by piece gives the facts that reading it at once gives.
func TestStreamGivesWhatLoadGives(t *testing.T) {
	dir := t.TempDir()
	if _, err := bigset.Write(dir, bigset.Set{Facts: 5000, Seed: 3}); err != nil {
		t.Fatal(err)
	}
	sets := []struct {
		name   string
		layers []loader.Layer
	}{
		{"demo", []loader.Layer{loader.Standard(), {Name: "demo", FS: datademo.FS()}}},
		{"generated", []loader.Layer{{Name: "big", FS: os.DirFS(dir)}}},
		{"a fitment told in two layers", []loader.Layer{loader.Standard(), {Name: "demo", FS: datademo.FS()}, {Name: "more",
			FS: fstest.MapFS{
				"fitments-more.csv": {Data: []byte("model,position,part,years,note,source\n" +
					"skerry-620,front-brake/lever,Tarnholt 207.4007,2001-2003,seen on several,parts-list-2006-reprint\n")}}}}},
	}
	for _, set := range sets {
		t.Run(set.name, func(t *testing.T) {
			if testing.Short() && set.name != "generated" {
				t.Skip("read beside one another just as the generated one is")
			}
			if set.name == "demo" && !sampletest.All() {
				t.Skip("it is in what is told in two layers")
			}
			var probs, streamProbs diag.List
			want, err := loader.Load(context.Background(), set.layers, &probs)
			if err != nil {
				t.Fatal(err)
			}
			got := streamed(t, set.layers, &streamProbs)
			storetest.Same(t, got, want)
			sameFaults(t, &streamProbs, &probs)
		})
	}
}

// Reading piece by piece reports the faults that reading at once reports.
func TestStreamReportsWhatLoadReports(t *testing.T) {
	for _, name := range glob(t, "*.bad") {
		t.Run(filepath.Base(name), func(t *testing.T) {
			// The parser blanks bytes in place, so that each gets files of its own.
			layers := func() []loader.Layer {
				return []loader.Layer{{FS: overlay(t, filepath.Join(fixtures, "common"), name)}}
			}
			var probs, streamProbs diag.List
			if _, err := loader.Load(context.Background(), layers(), &probs); err != nil {
				t.Fatal(err)
			}
			err := loader.Stream(context.Background(), layers(), &streamProbs, func(graph.Facts) error { return nil })
			if err != nil {
				t.Fatal(err)
			}
			sameFaults(t, &streamProbs, &probs)
		})
	}
}

func sameFaults(t *testing.T, got, want *diag.List) {
	t.Helper()
	a, b := got.Sorted(), want.Sorted()
	for i := range max(len(a), len(b)) {
		switch {
		case i >= len(a):
			t.Errorf("not reported: %s", b[i])
		case i >= len(b):
			t.Errorf("reported too: %s", a[i])
		case !reflect.DeepEqual(a[i], b[i]):
			t.Errorf("reported %s\nwant %s", a[i], b[i])
		}
	}
}
