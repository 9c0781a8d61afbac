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
	for name, row := range rowSchemas() {
		made[name+".schema.json"] = topSchema(name+".schema.json", row)
	}
	made["data.schema.json"] = topSchema("data.schema.json", file.with("description", "a file of a matewell data set"))
	return made
}

// rowSchemas describe a row of each of the CSV lists, by the start of the file's
// name.
func rowSchemas() map[string]schema {
	scope := map[string]string{
		"years": "model years for which it holds, 2001-2003; all when left out", "markets": "markets for which it holds, " +
			"separated by semicolons",
		"marks": "marks of variants for which it holds, separated by semicolons", "frames": "frame numbers for which it " +
			"holds, from and to",
		"source": "the source that says so, or several separated by semicolons", "note": "free text",
	}
	with := func(own map[string]string) map[string]string {
		all := maps.Clone(scope)
		maps.Copy(all, own)
		return all
	}
	hardware := map[string]string{"part": "brand, one space, number", "kind": "kind of part: bolt, nut, washer ...",
		"name": "name as a parts list prints it"}
	for _, title := range fastenerDims() {
		hardware[title] = dimensionWords("male-thread", "female-thread", "washer", "shaft")[strings.ReplaceAll(title, "_",
			"-")]
	}
	return map[string]schema{
		fitmentList: fitmentTable().rowSchema("a row of a fitments*.csv: a part that sits at a position",
			with(map[string]string{
				"model": "identity of the model", "position": "assembly/position", "part": "brand, one space, number",
				"quantity": "how many sit there; 1 when left out", "scheme": "colour scheme the part belongs to"})),
		supersessionList: supersessionTable().rowSchema("a row of a supersessions*.csv: a number that replaces another",
			with(map[string]string{
				"old": "the number that is replaced", "new": "the number that replaces it", "new_on_old": "yes when the new one " +
					"may take the old one's place",
				"old_on_new": "yes when the old one may take the new one's place", "companions": "parts that must change with " +
					"it, separated by semicolons; x2 behind one for two",
				"reason": "why it was replaced", "date": "when: 2003, 2003-02 or 2003-02-17"})),
		fastenerList: fastenerTable().rowSchema("a row of a fasteners*.csv: a piece of hardware and its sizes",
			with(hardware)),
	}
}

func topSchema(name string, s schema) schema {
	defs := schema{}
	top := hoist(s, defs).(schema).with("$schema", "https://json-schema.org/draft/2020-12/schema").with("$id",
		schemaBase+name)
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
