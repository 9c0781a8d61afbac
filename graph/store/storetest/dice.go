package storetest

import (
	"cmp"
	"slices"

	"pgregory.net/rapid"

	"matewell/graph"
	"matewell/graph/diag"
)

// dice draws values of one data set. Texts are awkward on purpose: quotes,
// backslashes, line ends, letters of several scripts, separators of
// identities and places, but none that no data file may hold.
type dice struct {
	t       *rapid.T
	sources []graph.SourceID
	at      []graph.PositionID
	on      []graph.VariantID
	parts   []graph.PartID
	kinds   []graph.KindID
}

func awkward() []string {
	return []string{"a", "84 mm +0/-0.1", `"quoted"`, `back\slash\n`, "two\nlines\r\n\ttab", "å¡世界🛵", "a:12", "a:1:2",
		"#", "/", "a/b#c:d",
		"%41%", " ", "<x>", "http://a.example/b", "_:b", "~\u00a0", "'", "with", "dim/a/with", "-"}
}

func texts() *rapid.Generator[string] {
	return rapid.OneOf(
		rapid.SampledFrom(awkward()),
		rapid.StringOfN(rapid.RuneFrom([]rune("abcXYZ019 .-/:#%\\\"å世")), 1, 12, -1),
	)
}

func (d *dice) text() string   { return texts().Draw(d.t, "text") }
func (d *dice) maybe() string  { return rapid.OneOf(rapid.Just(""), texts()).Draw(d.t, "maybe") }
func (d *dice) yes() bool      { return rapid.Bool().Draw(d.t, "yes") }
func (d *dice) from1() int     { return rapid.IntRange(1, 99).Draw(d.t, "from1") }
func (d *dice) upTo(n int) int { return rapid.IntRange(0, n).Draw(d.t, "upTo") }

func (d *dice) pos() diag.Pos {
	if d.upTo(4) == 0 {
		return diag.Pos{}
	}
	pos := diag.Pos{File: d.text(), Line: d.upTo(300)}
	if pos.Line > 0 {
		pos.Col = d.upTo(80)
	}
	return pos
}

// names draws some distinct identities, sorted.
func names[T ~string](d *dice, least, most int) []T {
	drawn := rapid.SliceOfNDistinct(texts(), least, most, rapid.ID[string]).Draw(d.t, "names")
	var ids []T
	for _, name := range drawn {
		ids = append(ids, T(name))
	}
	slices.Sort(ids)
	return ids
}

// some draws a sorted subset; nil when it is empty.
func some[T cmp.Ordered](d *dice, pool []T) []T {
	var list []T
	for _, v := range pool {
		if d.yes() {
			list = append(list, v)
		}
	}
	return list
}

// pick draws one of a pool.
func pick[T any](d *dice, pool []T) T { return rapid.SampledFrom(pool).Draw(d.t, "pick") }

// row draws a list whose order matters and that may hold a value twice.
func row[T any](d *dice, draw func() T) []T {
	var list []T
	for range d.upTo(3) {
		list = append(list, draw())
	}
	return list
}

func (d *dice) cite() graph.Cite {
	return graph.Cite{Source: pick(d, d.sources), Pos: d.pos()}
}

func compareCites(a, b graph.Cite) int {
	return cmp.Or(cmp.Compare(a.Source, b.Source), a.Pos.Compare(b.Pos))
}

func (d *dice) said() []graph.Cite {
	list := row(d, d.cite)
	slices.SortFunc(list, compareCites)
	return slices.Compact(list)
}

// readings draws at least one reading, often several of one source.
func (d *dice) readings() []graph.Reading {
	list := []graph.Reading{{Text: d.text(), Method: d.maybe(), Cite: d.cite()}}
	for range d.upTo(3) {
		list = append(list, graph.Reading{Text: d.text(), Method: d.maybe(), Cite: d.cite()})
	}
	slices.SortFunc(list, func(a, b graph.Reading) int {
		return cmp.Or(compareCites(a.Cite, b.Cite), cmp.Compare(a.Text, b.Text), cmp.Compare(a.Method, b.Method))
	})
	return slices.Compact(list)
}

func (d *dice) maybeReadings() []graph.Reading {
	if d.yes() {
		return nil
	}
	return d.readings()
}

func (d *dice) ref() graph.FeatureRef {
	return graph.FeatureRef{Position: pick(d, d.at), Feature: d.text()}
}

func (d *dice) contents() []graph.Content {
	var list []graph.Content
	for _, part := range some(d, d.parts) {
		list = append(list, graph.Content{Part: part, Quantity: d.from1()})
	}
	return list
}
