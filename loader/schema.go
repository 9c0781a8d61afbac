package loader

import (
	"embed"
	"io/fs"
	"maps"
	"slices"
	"strings"

	"matewell/graph"
)

//go:embed schema/*.schema.json
var schemaFiles embed.FS

// Schemas are the JSON Schemas (draft 2020-12) of the YAML files, so that
// editors complete and check: "data.schema.json" for a whole file, and one for
// each of its keys, such as "parts.schema.json". They are made from the tables
// the loader reads with; a test keeps the files up to date.
func Schemas() fs.FS {
	sub, err := fs.Sub(schemaFiles, "schema")
	if err != nil {
		panic("loader: " + err.Error()) // the path is a constant of this file
	}
	return sub
}

// schema is a JSON Schema in the making. The key "$name" says that it is worth
// writing once only; see hoist.
type schema map[string]any

// with is a copy with one key set.
func (s schema) with(key string, value any) schema {
	c := maps.Clone(s)
	c[key] = value
	return c
}

// defined gives a form a name, under which its schema is written once only.
func defined[T any](name string, f form[T]) form[T] {
	plain := f.schema
	f.schema = func() schema { return plain().with("$name", name) }
	return f
}

// scalarSchema takes any single value: an editor tells numbers and yes or no
// from text, where the loader reads them all as written.
func scalarSchema() schema {
	return schema{"type": []any{"string", "number", "boolean"}}
}

// anyOf is a list of names as an enumeration wants it.
func anyOf(names []string) []any {
	list := make([]any, len(names))
	for i, name := range names {
		list[i] = name
	}
	return list
}

// objectSchema describes a mapping with fixed keys.
func objectSchema[T any](fields []field[T]) schema {
	properties := schema{}
	var required []any
	for _, f := range fields {
		properties[f.key] = f.schema()
		if f.must {
			required = append(required, f.key)
		}
	}
	s := schema{"type": []any{"object", "null"}, "properties": properties, "additionalProperties": false}
	if required != nil {
		s["type"] = "object"
		s["required"] = required
	}
	return s
}

// schemaBase is the folder of all schemas, in the project's own namespace.
const schemaBase = "https://matewell.example/schema/"

// makeSchemas builds the schemas by file name.
func makeSchemas() map[string]schema {
	made := map[string]schema{}
	file := objectSchema(fileFields())
	properties := file["properties"].(schema)
	for key, value := range properties {
		name := key + ".schema.json"
		whole := topSchema(name, value.(schema))
		properties[key] = schema{"$ref": name, "description": whole["description"]}
		made[name] = whole
	}
	made["data.schema.json"] = topSchema("data.schema.json", file.with("description", "a file of a matewell data set"))
	return made
}

func topSchema(name string, s schema) schema {
	defs := schema{}
	top := hoist(s, defs).(schema).with("$schema", "https://json-schema.org/draft/2020-12/schema").with("$id", schemaBase+name)
	if len(defs) > 0 {
		top["$defs"] = defs
	}
	return top
}

// hoist moves what has a "$name" to the definitions, and refers to it.
func hoist(value any, defs schema) any {
	switch v := value.(type) {
	case schema:
		moved := schema{}
		for key, inner := range v {
			moved[key] = hoist(inner, defs)
		}
		name, named := v["$name"].(string)
		if !named {
			return moved
		}
		words, described := moved["description"]
		delete(moved, "$name")
		delete(moved, "description")
		defs[name] = moved
		ref := schema{"$ref": "#/$defs/" + name}
		if described {
			ref["description"] = words
		}
		return ref
	case []any:
		list := make([]any, len(v))
		for i := range v {
			list[i] = hoist(v[i], defs)
		}
		return list
	}
	return value
}

// dimensionWords say by its name what each dimension of some kinds of feature
// is; of all kinds, when none is named. A dimension that means another thing in
// each kind says so for each.
func dimensionWords(kinds ...string) map[string]string {
	words := map[string]string{}
	said := map[string][]string{}
	for _, k := range graph.FeatureKinds() {
		if len(kinds) > 0 && !slices.Contains(kinds, k.Name) {
			continue
		}
		for _, d := range k.Dims {
			if !slices.Contains(said[d.Name], d.Is) {
				said[d.Name] = append(said[d.Name], d.Is)
				words[d.Name] += "; in " + k.Name + ": " + d.Is
			}
		}
	}
	for name, meanings := range said {
		if words[name] = strings.TrimPrefix(words[name], "; "); len(meanings) == 1 {
			words[name] = meanings[0]
		}
	}
	return words
}
