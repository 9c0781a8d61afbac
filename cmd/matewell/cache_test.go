package main

import (
	"io/fs"
	"testing"
	"testing/fstest"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/data-demo"
	"matewell/loader"
)

// TestCachedStore: whatever could change an answer changes the name under which
// what was read is kept, and nothing else does.
func TestCachedStore(t *testing.T) {
	e, _, _ := testEnv(t)
	e.Program = "one"
	other := e
	other.Program = "two"
	files := func(name, content string) fs.FS { return fstest.MapFS{name: {Data: []byte(content)}} }
	key := func(e desk.Env, layers ...loader.Layer) string {
		t.Helper()
		dir, err := shelf.CachedStore(e, layers, nil)
		if err != nil {
			t.Fatal(err)
		}
		return dir
	}
	base := loader.Layer{Name: "data", FS: files("a.yaml", "x: 1")}
	tests := []struct {
		name string
		got  string
		same bool
	}{
		{"the same again", key(e, loader.Layer{Name: "data", FS: files("a.yaml", "x: 1")}), true},
		{"a file that is not read", key(e, loader.Layer{Name: "data", FS: fstest.MapFS{
			"a.yaml": {Data: []byte("x: 1")}, "notes.txt": {Data: []byte("x")}, ".git/b.yaml": {Data: []byte("x")}}}), true},
		{"other content", key(e, loader.Layer{Name: "data", FS: files("a.yaml", "x: 2")}), false},
		{"another file name", key(e, loader.Layer{Name: "data", FS: files("b.yaml", "x: 1")}), false},
		{"another folder name", key(e, loader.Layer{Name: "mine", FS: files("a.yaml", "x: 1")}), false},
		{"a second layer", key(e, base, base), false},
		{"another program", key(other, base), false},
		{"the built-in data", key(e, loader.Layer{Name: "demo", FS: datademo.FS()}), false},
	}
	want := key(e, base)
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if (tt.got == want) != tt.same {
				t.Errorf("kept under %s, against %s; want the same: %t", tt.got, want, tt.same)
			}
		})
	}
	mine := key(e, loader.Layer{Name: "demo", FS: files("a.yaml", "x: 1")})
	if mine == key(e, loader.Layer{Name: "demo", FS: datademo.FS()}) {
		t.Error("a folder called demo is taken for the built-in data")
	}
}
