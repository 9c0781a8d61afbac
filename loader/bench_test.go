package loader_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/store"
	"matewell/loader"
	"matewell/testdata/bigset"
)

// generated makes a regular, invented set of about the given size over the good
// set "common": parts in files of 100, and the fitments they have.
func generated(tb testing.TB, size int) (fstest.MapFS, int) {
	var t testing.T
	files := overlay(&t, filepath.Join(fixtures, "common"))
	total := 0
	add := func(name, body string) {
		files[name] = &fstest.MapFile{Data: []byte(body)}
		total += len(body)
	}
	for file := 0; total < size; file++ {
		var parts, fitments strings.Builder
		parts.WriteString("source: parts-list\nparts:\n")
		fitments.WriteString("model,position,part,years,source\n")
		for i := range 100 {
			number := fmt.Sprintf("Tarnholt %03d.%04d", 500+file/100, file%100*100+i)
			fmt.Fprintf(&parts, "  - number: %s\n    kind: caliper\n    name: caliper, number %d\n    aliases:\n      - "+
				"{type: casting number, text: TK %d}\n"+
				"    features:\n      port:\n        thread: M10x1.25\n        seat: flat washer\n        depth: [%d.5 mm, "+
				"{value: %d.4 mm, by: depth gauge, source: bench-notes}]\n"+
				"      finish: {colour: black, surface: matt}\n", number, i, file*100+i, 10+i%5, 10+i%5)
			fmt.Fprintf(&fitments, "skerry-620,front-brake/caliper-left,%s,%d,parts-list\n", number, 2001+i%3)
		}
		add(fmt.Sprintf("parts/generated-%04d.yaml", file), parts.String())
		add(fmt.Sprintf("fitments-%04d.csv", file), fitments.String())
	}
	return files, total
}

// BenchmarkLoad loads 5 MB, nearly all of it YAML.
func BenchmarkLoad(b *testing.B) {
	files, total := generated(b, 5<<20)
	b.SetBytes(int64(total))
	b.ReportAllocs()
	for b.Loop() {
		var probs diag.List
		facts, err := loader.Load(context.Background(), []loader.Layer{{FS: files}}, &probs)
		if err != nil || probs.Err() != nil {
			b.Fatal(err, probs.Err())
		}
		b.ReportMetric(float64(len(facts.Parts)), "parts")
	}
}

// BenchmarkFinding loads one finding over a base, as every answer does when the
// user has a findings file.
func BenchmarkFinding(b *testing.B) {
	var t testing.T
	base := below(&t)
	files := fstest.MapFS{"mine.yaml": {Data: []byte(myFinding)}}
	b.ReportAllocs()
	for b.Loop() {
		var probs diag.List
		if _, err := loader.LoadOver(context.Background(), base, []loader.Layer{{FS: files}}, &probs); err != nil ||
			probs.Len() > 0 {
			b.Fatal(err, probs.Err())
		}
	}
}

// BenchmarkLoadSet loads sets as they grow: the facts per second should stay.
func BenchmarkLoadSet(b *testing.B) {
	for _, facts := range []int{10_000, 100_000} {
		dir := b.TempDir()
		sum, err := bigset.Write(dir, bigset.Set{Facts: facts, Seed: 1})
		if err != nil {
			b.Fatal(err)
		}
		b.Run(strconv.Itoa(facts), func(b *testing.B) {
			for b.Loop() {
				var probs diag.List
				err := store.BuildFrom(context.Background(), b.TempDir(), func(add func(graph.Facts) error) error {
					return loader.Stream(context.Background(), []loader.Layer{{Name: "set", FS: os.DirFS(dir)}}, &probs, add)
				}, nil, nil)
				if err := errors.Join(err, probs.Err()); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(sum.Facts)*float64(b.N)/b.Elapsed().Seconds(), "facts/s")
		})
	}
}
