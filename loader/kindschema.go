package loader

import (
	"bytes"
	"encoding/json"

	"matewell/graph"
)

// KindSchema is the JSON Schema (draft 2020-12) of a part of one kind: its
// features with their dimensions, made from the tables that files are read with.
func KindSchema(k graph.Kind) ([]byte, error) {
	features := schema{}
	var required []any
	for _, f := range k.Features {
		spec, known := graph.FeatureKindNamed(f.Kind)
		if !known {
			continue
		}
		features[f.Name] = featureSchema(spec)
		if !f.May {
			required = append(required, f.Name)
		}
	}
	part := partForm().schema()
	properties := part["properties"].(schema)
	properties["kind"] = schema{"const": string(k.ID), "description": "kind of part"}
	properties["features"] = schema{"type": "object", "description": "what it mates by", "properties": features,
		"additionalProperties": featureForm().schema()}
	if required != nil {
		properties["features"].(schema)["required"] = required
		part["required"] = []any{"number", "features"}
	}
	return writeSchema(topSchema("kind/"+string(k.ID)+".schema.json", part.with("description", k.Name)))
}

// FeatureSchema is the JSON Schema of one kind of feature.
func FeatureSchema(k graph.FeatureKind) ([]byte, error) {
	return writeSchema(topSchema("feature/"+k.Name+".schema.json", featureSchema(k)))
}

// featureSchema describes a feature with the dimensions that its kind has, each
// with the values it takes.
func featureSchema(k graph.FeatureKind) schema {
	s := featureForm().schema()
	properties := schema{}
	for _, key := range []string{"by", "kind", "source"} {
		properties[key] = s["properties"].(schema)[key]
	}
	var required []any
	for _, d := range k.Dims {
		properties[d.Name] = dimSchema(d)
		if d.Must {
			required = append(required, d.Name)
		}
	}
	feature := schema{"type": "object", "description": k.Is, "properties": properties, "additionalProperties": false}
	if required != nil {
		feature["required"] = required
	}
	return feature
}

func dimSchema(d graph.DimSpec) schema {
	value := free()
	if len(d.Words) > 0 {
		value.schema = func() schema { return schema{"enum": anyOf(d.Words)} }
	}
	words := d.Is + " (" + d.Type.String() + ")"
	if why := d.WhyNot(); why != "" {
		words += "; " + why
	}
	s := readingsForm("reading of "+d.Name, value).schema()
	delete(s, "$name")
	return s.with("description", words)
}

func writeSchema(s schema) ([]byte, error) {
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	err := enc.Encode(s)
	return out.Bytes(), err
}
