package loader_test

import (
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/loader"
)

// load loads one folder, over others if any, and wants no error.
func load(t *testing.T, name string, fsys fs.FS, below ...loader.Layer) (graph.Facts, *diag.List) {
	t.Helper()
	var probs diag.List
	facts, err := loader.Load(context.Background(), append(below, loader.Layer{Name: name, FS: fsys}), &probs)
	if err != nil {
		t.Fatal(err)
	}
	return facts, &probs
}

// text writes facts one item a line, so that a diff shows what changed. Empty
// fields are left out, and places are short.
func text(t *testing.T, f graph.Facts) string {
	t.Helper()
	var b strings.Builder
	v := reflect.ValueOf(f)
	for i := range v.NumField() {
		for j := range v.Field(i).Len() {
			line, err := json.Marshal(plain(v.Field(i).Index(j)))
			if err != nil {
				t.Fatal(err)
			}
			fmt.Fprintf(&b, "%s %s\n", v.Type().Field(i).Name, line)
		}
	}
	return b.String()
}

// plain is a value as JSON should show it.
func plain(v reflect.Value) any {
	switch x := v.Interface().(type) {
	case diag.Pos:
		return x.String()
	case graph.Usable:
		return x.String()
	}
	switch v.Kind() {
	case reflect.Struct:
		fields := map[string]any{}
		for i := range v.NumField() {
			if !v.Field(i).IsZero() {
				fields[v.Type().Field(i).Name] = plain(v.Field(i))
			}
		}
		return fields
	case reflect.Slice:
		list := []any{}
		for i := range v.Len() {
			list = append(list, plain(v.Index(i)))
		}
		return list
	case reflect.Map:
		fields := map[string]any{}
		for _, key := range v.MapKeys() {
			fields[key.String()] = plain(v.MapIndex(key))
		}
		return fields
	}
	return v.Interface()
}

// Every good set loads without a fault, to the facts beside it.
func TestGood(t *testing.T) {
	for _, dir := range glob(t, "*.good") {
		t.Run(filepath.Base(dir), func(t *testing.T) {
			facts, probs := load(t, "", os.DirFS(dir))
			for _, d := range probs.Sorted() {
				t.Error(d)
			}
			compare(t, text(t, facts), strings.TrimSuffix(dir, ".good")+".want")
		})
	}
}

// Two runs give the same facts, whatever order the files were read in.
func TestSameEveryRun(t *testing.T) {
	first, _ := load(t, "", os.DirFS(filepath.Join(fixtures, "everything.good")))
	for range 20 {
		again, _ := load(t, "", os.DirFS(filepath.Join(fixtures, "everything.good")))
		if !reflect.DeepEqual(first, again) {
			t.Fatal("the facts differ from one run to the next")
		}
	}
}
