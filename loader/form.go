package loader

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"matewell/graph/diag"
)

// word is a scalar as written, and where. The zero word was not given; one with
// a place and no text was given, but could not be read, which is reported.
type word struct {
	text string
	pos  diag.Pos
}

// given reports whether there is something to work with.
func (w word) given() bool { return w.text != "" }

// tried reports whether something was written, even if it could not be read.
func (w word) tried() bool { return w.pos.Line > 0 }

// spoil marks a word, or what has one in it, as written but not read.
func (w *word) spoil(written word) { *w = word{pos: written.pos} }

// named is an item of a mapping from names to items.
type named[T any] struct {
	name word
	item T
	// taken is set for an item that is not written here: a model that is like
	// another has it from there.
	taken *taken
}

// reading is what decoding one file needs: its text and its faults.
type reading struct {
	*text
	*diag.List
	key string // the key whose value is being read, for messages
}

func (r reading) pos(n *yaml.Node) diag.Pos { return r.place(n.Line, n.Column) }

// form describes one sort of value: how to read it from a node, and as a JSON
// Schema. Both come from the same tables, so that they can't drift apart. The
// schema is made when it is asked for, since reading files does not need it.
type form[T any] struct {
	read   func(r reading, n *yaml.Node, into *T)
	schema func() schema
}

// field is one key of a mapping that is read into a T.
type field[T any] struct {
	key    string
	must   bool
	read   func(r reading, n *yaml.Node, into *T)
	schema func() schema
}

// key reads the value of a key with a form, into the place that at points to.
func key[T, F any](name string, f form[F], at func(*T) *F) field[T] {
	return field[T]{key: name, schema: f.schema,
		read: func(r reading, n *yaml.Node, into *T) {
			r.key = name
			f.read(r, n, at(into))
		}}
}

// need makes a field one that must be given.
func need[T any](f field[T]) field[T] { f.must = true; return f }

// says gives a field the words an editor shows for it.
func says[T any](words string, f field[T]) field[T] {
	plain := f.schema
	f.schema = func() schema { return plain().with("description", words) }
	return f
}

// mapping reads a mapping with fixed keys. at, unless nil, is where the place
// of the mapping is kept.
func mapping[T any](is string, at func(*T) *diag.Pos, fields ...field[T]) form[T] {
	return openMapping[T, word](is, at, fields, nil)
}

// further are keys of a mapping whose names are checked later, each read with
// the same form. names are those that an editor offers.
type further[T, F any] struct {
	form  form[F]
	names func() map[string]string // what each is, for the schema
	add   func(*T) *[]named[F]
}

// openMapping is mapping with further keys; rest may be nil.
func openMapping[T, F any](is string, at func(*T) *diag.Pos, fields []field[T], rest *further[T, F]) form[T] {
	byKey := make(map[string]field[T], len(fields))
	keys := make([]string, 0, len(fields))
	for _, f := range fields {
		byKey[f.key] = f
		keys = append(keys, f.key)
	}
	describe := func() schema {
		s := objectSchema(fields)
		if rest != nil {
			properties := s["properties"].(schema)
			for name, words := range rest.names() {
				properties[name] = rest.form.schema().with("description", words)
			}
		}
		return s
	}
	return form[T]{schema: describe, read: func(r reading, n *yaml.Node, into *T) {
		if at != nil {
			*at(into) = r.pos(n)
		}
		if !r.expect(n, yaml.MappingNode, is) && !isNull(n) {
			return
		}
		for i := 0; i+1 < len(n.Content); i += 2 {
			k, v := n.Content[i], n.Content[i+1]
			f, known := byKey[k.Value]
			switch {
			case known:
				f.read(r, v, into)
			case rest != nil:
				rest.read(r, k, v, into)
			default:
				r.Errorf(r.pos(k), "unknown-key", "%s has no key %q", is, k.Value).Hint = nearOrList(k.Value, keys)
			}
		}
		r.missing(n, is, mustKeys(fields))
	}}
}

// read reads the value of a further key.
func (t *further[T, F]) read(r reading, k, v *yaml.Node, into *T) {
	item := named[F]{name: word{k.Value, r.pos(k)}}
	r.key = k.Value
	t.form.read(r, v, &item.item)
	*t.add(into) = append(*t.add(into), item)
}

// owing notes which of the keys that an item must have are not written with it,
// since the model may have them from what it is like.
func owing[T any](f form[T], at func(*T) *[]string, keys ...string) form[T] {
	return form[T]{schema: f.schema, read: func(r reading, n *yaml.Node, into *T) {
		f.read(r, n, into)
		if n.Kind != yaml.MappingNode && !isNull(n) {
			return
		}
		for _, key := range keys {
			if !slices.ContainsFunc(n.Content, func(k *yaml.Node) bool { return k.Value == key }) {
				*at(into) = append(*at(into), strconv.Quote(key))
			}
		}
	}}
}

func mustKeys[T any](fields []field[T]) []string {
	var musts []string
	for _, f := range fields {
		if f.must {
			musts = append(musts, f.key)
		}
	}
	return musts
}

// missing reports the keys a mapping must have and has not.
func (r reading) missing(n *yaml.Node, is string, musts []string) {
	var lacks []string
	for _, must := range musts {
		found := false
		for i := 0; i < len(n.Content); i += 2 {
			found = found || n.Content[i].Value == must
		}
		if !found {
			lacks = append(lacks, strconv.Quote(must))
		}
	}
	if len(lacks) > 0 {
		r.Errorf(r.pos(n), "missing-key", "%s lacks %s", is, strings.Join(lacks, " and "))
	}
}

// expect reports a value that is not of the kind of node wanted. An empty value
// where a mapping or a list is wanted is an empty one.
func (r reading) expect(n *yaml.Node, kind yaml.Kind, is string) bool {
	if n.Kind == kind {
		return true
	}
	if n.Tag == skipTag || isNull(n) && kind != yaml.ScalarNode {
		return false
	}
	d := r.Errorf(r.pos(n), "wrong-shape", "%s must be %s, not %s", is, shapeName(kind), describe(n))
	if kind == yaml.MappingNode && n.Kind == yaml.SequenceNode {
		d.Hint = "take out the dash in front, or indent it by name"
	}
	return false
}

func isNull(n *yaml.Node) bool { return n.Kind == yaml.ScalarNode && n.Tag == "!!null" }

func shapeName(kind yaml.Kind) string {
	switch kind {
	case yaml.MappingNode:
		return `lines of "key: value"`
	case yaml.SequenceNode:
		return "a list"
	default:
		return "a single value"
	}
}

func describe(n *yaml.Node) string {
	if n.Kind == yaml.ScalarNode {
		return fmt.Sprintf("%q", n.Value)
	}
	return shapeName(n.Kind)
}

// list reads a list of items.
func list[T any](is string, item form[T]) form[[]T] {
	return form[[]T]{
		read: func(r reading, n *yaml.Node, into *[]T) {
			if !r.expect(n, yaml.SequenceNode, is) {
				return
			}
			for _, child := range n.Content {
				var one T
				item.read(r, child, &one)
				*into = append(*into, one)
			}
		},
		schema: func() schema { return schema{"type": []any{"array", "null"}, "items": item.schema()} },
	}
}

// oneOrMore reads a list, or a single item that stands for a list of one.
func oneOrMore[T any](is string, item form[T]) form[[]T] {
	many := list(is, item)
	return form[[]T]{
		read: func(r reading, n *yaml.Node, into *[]T) {
			if n.Kind == yaml.SequenceNode {
				many.read(r, n, into)
				return
			}
			var one T
			item.read(r, n, &one)
			*into = append(*into, one)
		},
		schema: func() schema { return schema{"anyOf": []any{item.schema(), many.schema()}} },
	}
}

// byName reads a mapping from names to items.
func byName[T any](is string, name scalar[word], item form[T]) form[[]named[T]] {
	return form[[]named[T]]{
		read: func(r reading, n *yaml.Node, into *[]named[T]) {
			if !r.expect(n, yaml.MappingNode, is) {
				return
			}
			for i := 0; i+1 < len(n.Content); i += 2 {
				k, v := n.Content[i], n.Content[i+1]
				r.key = k.Value
				one := named[T]{name: word{k.Value, r.pos(k)}}
				if _, ok := name.check(r, one.name); !ok {
					continue
				}
				item.read(r, v, &one.item)
				*into = append(*into, one)
			}
		},
		schema: func() schema {
			return schema{"type": []any{"object", "null"}, "additionalProperties": item.schema(), "propertyNames": name.schema()}
		},
	}
}

// wordOr reads a mapping, or a single word that stands for a mapping with only
// that word in it.
func wordOr[T any, V any](single scalar[V], at func(*T) *V, full form[T]) form[T] {
	short := single.form()
	return form[T]{
		read: func(r reading, n *yaml.Node, into *T) {
			if n.Kind == yaml.ScalarNode {
				short.read(r, n, at(into))
				return
			}
			full.read(r, n, into)
		},
		schema: func() schema { return schema{"anyOf": []any{short.schema(), full.schema()}} },
	}
}

// wordAt is a node's text with spaces trimmed, and its place.
func (r reading) wordAt(n *yaml.Node) word {
	return word{strings.TrimSpace(n.Value), r.pos(n)}
}

// filled reports a value that was left empty.
func (r reading) filled(w word, n *yaml.Node) bool {
	if w.text == "" || n.Tag == "!!null" {
		r.Errorf(w.pos, "empty-value", "%q has no value", r.key).Hint = "write a value, or take the key out"
		return false
	}
	return true
}

func (w word) movedTo(at diag.Pos) word {
	if w.tried() {
		w.pos = at
	}
	return w
}
