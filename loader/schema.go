package loader

import "maps"

// schema is a JSON Schema in the making.
type schema map[string]any

// with is a copy with one key set.
func (s schema) with(key string, value any) schema {
	c := maps.Clone(s)
	c[key] = value
	return c
}

// scalarSchema takes any single value: an editor tells numbers and yes or no
// from text, where the loader reads them all as written.
func scalarSchema() schema {
	return schema{"type": []any{"string", "number", "boolean"}}
}

// objectSchema describes a mapping with fixed keys.
func objectSchema[T any](fields []field[T]) schema {
	properties := schema{}
	var required []any
	for _, f := range fields {
		properties[f.key] = f.schema
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
