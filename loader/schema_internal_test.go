package loader

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
)

// The files in schema/ are what the loader's own tables say.
// MATEWELL_UPDATE=1 writes them anew.
func TestSchemasAreCurrent(t *testing.T) {
	made := makeSchemas()
	for name, s := range made {
		want, err := json.MarshalIndent(s, "", "  ")
		if err != nil {
			t.Fatal(err)
		}
		want = append(want, '\n')
		file := filepath.Join("schema", name)
		if os.Getenv("MATEWELL_UPDATE") != "" {
			if err := os.WriteFile(file, want, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		got, err := os.ReadFile(file)
		if err != nil {
			t.Error(err)
		}
		if string(got) != string(want) {
			t.Errorf("%s is out of date: run MATEWELL_UPDATE=1 go test ./loader", file)
		}
	}
	files, err := os.ReadDir("schema")
	if err != nil || len(files) != len(made) {
		t.Errorf("%d files in schema/, %d schemas (%v)", len(files), len(made), err)
	}
}
