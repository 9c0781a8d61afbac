package loader_test

import (
	"bytes"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"go.yaml.in/yaml/v3"

	"matewell/loader"
)

// compileSchemas reads the published schemas with an independent validator,
// which also checks them against the meta-schema of draft 2020-12.
func compileSchemas(t *testing.T) *jsonschema.Schema {
	t.Helper()
	c := jsonschema.NewCompiler()
	files, err := fs.Glob(loader.Schemas(), "*.schema.json")
	if err != nil || len(files) == 0 {
		t.Fatalf("no schemas (%v)", err)
	}
	for _, name := range files {
		body, err := fs.ReadFile(loader.Schemas(), name)
		if err != nil {
			t.Fatal(err)
		}
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(body))
		if err != nil {
			t.Fatal(err)
		}
		if err := c.AddResource("https://matewell.example/schema/"+name, doc); err != nil {
			t.Fatal(err)
		}
	}
	s, err := c.Compile("https://matewell.example/schema/data.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

var (
	yamlInt   = regexp.MustCompile(`^[-+]?[0-9]+$`)
	yamlFloat = regexp.MustCompile(`^[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?$`)
)

// jsonValue is what an editor makes of a YAML node: the core schema of YAML
// 1.2.2, section 10.3.2.
func jsonValue(n *yaml.Node) any {
	switch n.Kind {
	case yaml.DocumentNode:
		return jsonValue(n.Content[0])
	case yaml.MappingNode:
		object := map[string]any{}
		for i := 0; i+1 < len(n.Content); i += 2 {
			object[n.Content[i].Value] = jsonValue(n.Content[i+1])
		}
		return object
	case yaml.SequenceNode:
		list := []any{}
		for _, child := range n.Content {
			list = append(list, jsonValue(child))
		}
		return list
	}
	if n.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle|yaml.LiteralStyle|yaml.FoldedStyle) != 0 {
		return n.Value
	}
	switch n.Value {
	case "", "~", "null", "Null", "NULL":
		return nil
	case "true", "True", "TRUE":
		return true
	case "false", "False", "FALSE":
		return false
	}
	if yamlInt.MatchString(n.Value) || yamlFloat.MatchString(n.Value) {
		if f, err := strconv.ParseFloat(n.Value, 64); err == nil {
			return f
		}
	}
	return n.Value
}

// validate checks every YAML file of a folder against the schemas, and gives
// the first complaint for each file that has one.
func validate(t *testing.T, s *jsonschema.Schema, fsys fs.FS) map[string]error {
	t.Helper()
	complaints := map[string]error{}
	files := 0
	err := fs.WalkDir(fsys, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || path.Ext(p) != ".yaml" {
			return err
		}
		body, err := fs.ReadFile(fsys, p)
		if err != nil {
			return err
		}
		var doc yaml.Node
		if err := yaml.Unmarshal(body, &doc); err != nil {
			return err
		}
		files++
		if len(doc.Content) > 0 {
			if err := s.Validate(jsonValue(&doc)); err != nil {
				complaints[p] = err
			}
		}
		return nil
	})
	if err != nil || files == 0 {
		t.Fatalf("%d YAML files (%v)", files, err)
	}
	return complaints
}

// What the loader takes, the schemas take.
func TestSchemasTakeGoodData(t *testing.T) {
	s := compileSchemas(t)
	dirs := append(glob(t, "*.good"), filepath.Join(fixtures, "common"), "../data-demo")
	for _, dir := range dirs {
		t.Run(filepath.Base(dir), func(t *testing.T) {
			for file, err := range validate(t, s, os.DirFS(dir)) {
				t.Errorf("%s: %v", file, err)
			}
		})
	}
}

// What is wrong with one value or key alone, the schemas refuse as the loader
// does. Faults between items are beyond a schema.
func TestSchemasRefuseBadData(t *testing.T) {
	s := compileSchemas(t)
	byFormAlone := []string{"bad-date_form", "bad-name", "bad-name_brand", "bad-value_price", "bad-value_verdict",
		"bad-value_yes-or-no",
		"bad-year", "bad-year_range", "empty-value", "missing-key", "missing-key_empty-item", "unknown-dimension",
		"unknown-feature-kind",
		"unknown-key", "unknown-key_top", "wrong-shape", "wrong-shape_list", "wrong-shape_scalar", "zero-quantity"}
	for _, name := range byFormAlone {
		t.Run(name, func(t *testing.T) {
			if len(validate(t, s, os.DirFS(filepath.Join(fixtures, name+".bad")))) == 0 {
				t.Error("the schemas take this")
			}
		})
	}
}

// The schemas know every top-level key, and each key has its own file.
func TestSchemaPerKey(t *testing.T) {
	for _, key := range []string{"source", "sources", "brands", "kinds", "models", "parts", "findings", "bikes",
		"offers"} {
		if _, err := fs.Stat(loader.Schemas(), key+".schema.json"); err != nil {
			t.Error(err)
		}
	}
}
