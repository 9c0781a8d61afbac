package loader

import (
	"bytes"
	"context"
	"fmt"
	"maps"
	"path"
	"slices"
	"strings"
	"testing/fstest"

	"go.yaml.in/yaml/v3"

	"matewell/graph"
	"matewell/graph/diag"
)

// Omitted is one item of a findings file that does not count.
type Omitted struct {
	ID  string // of the finding; "finding 3" for one that tells none
	Why string
	Pos diag.Pos
	// Elsewhere is true for one that speaks of a machine, or of a part alone, that the
	// data has not: it may be right, and concerns no question to this data.
	Elsewhere bool
	// From and To are the lines in the file that it stands on.
	From, To int
}

// LoadFindings is LoadOver for the content of a findings file, of which only the
// faulty items are left out: one that was made on a machine that is not loaded
// now takes no other with it. Every fault goes to probs. With one that no item
// explains, such as a file that is no YAML, nothing of the file counts: whole is
// false then.
//
// The facts are handed to emit. A large file is read piece by piece, as far as its
// lines tell where one item ends: what is emitted counts only when whole is true.
func LoadFindings(ctx context.Context, base graph.Reader, name string, content []byte, probs *diag.List,
	emit func(graph.Facts) error) (out []Omitted, whole bool, err error) {
	if holdsNoFinding(content) {
		return nil, true, nil
	}
	lines, plain := ScanFindings(content)
	if !plain || len(content) <= pieceBytes {
		f := findingsOver{ctx: ctx, base: base, name: name, probs: probs}
		return f.load(content, emit)
	}
	return LoadFindingLines(ctx, base, name, lines, probs, emit)
}

// holdsNoFinding reports whether a findings file is empty, or only says that it holds
// findings and then none: nobody has found anything yet.
func holdsNoFinding(content []byte) bool {
	for line := range bytes.Lines(content) {
		text, _, _ := bytes.Cut(line, []byte("#"))
		switch string(bytes.TrimSpace(text)) {
		case "", "---", "findings:", "findings: []":
		default:
			return false
		}
	}
	return true
}

// LoadFindingLines is LoadFindings for those items of a file that were scanned.
func LoadFindingLines(ctx context.Context, base graph.Reader, name string, lines *FindingLines, probs *diag.List,
	emit func(graph.Facts) error) (out []Omitted, whole bool, err error) {
	for _, p := range lines.pieces() {
		piece := lines.piece(p)
		f := findingsOver{ctx: ctx, base: base, name: name, probs: probs, lines: piece.lines}
		left, whole, err := f.load(piece.content, emit)
		if out = append(out, left...); err != nil || !whole {
			return out, whole, err
		}
	}
	slices.SortStableFunc(out, func(a, b Omitted) int { return a.Pos.Compare(b.Pos) })
	return out, true, nil
}

// findingsOver reads a findings file, or a piece of one, over a graph.
type findingsOver struct {
	ctx   context.Context
	base  graph.Reader
	name  string
	probs *diag.List
	lines []int // of a piece: the line in the file of each of its lines
}

// load reads a file again and again, until none of the items that are left has a
// fault.
func (f findingsOver) load(content []byte, emit func(graph.Facts) error) (out []Omitted, whole bool, err error) {
	layer := Layer{Name: path.Dir(f.name)}
	for {
		layer.FS = fstest.MapFS{path.Base(f.name): {Data: content}}
		var found diag.List
		facts, err := LoadOver(f.ctx, f.base, []Layer{layer}, &found)
		if err != nil {
			return nil, false, err
		}
		if found.Err() == nil {
			f.tell(found.Sorted()...)
			for i := range facts.Findings {
				facts.Findings[i].Pos = f.inFile(facts.Findings[i].Pos)
			}
			return out, true, emit(facts)
		}
		items := findingItems(content)
		faulty := map[int][]diag.Diagnostic{}
		for _, d := range found.Sorted() {
			if d.Severity != diag.Error || d.Code == diag.TooMany {
				continue
			}
			i := slices.IndexFunc(items, func(x findingItem) bool { return x.first <= d.Pos.Line && d.Pos.Line <= x.last })
			if i < 0 || d.Pos.File != layerPath(layer, path.Base(f.name)) {
				f.tell(d)
				return nil, false, nil
			}
			faulty[i] = append(faulty[i], d)
		}
		out = f.leaveOut(out, items, faulty)
		if len(faulty) == len(items) { // nothing is left to be read again
			return out, true, nil
		}
		gone := map[int]bool{}
		for i := range faulty {
			gone[i] = true
		}
		content = withoutItems(content, items, gone)
	}
}

// leaveOut adds the items that have faults to those that are left out, and tells of them.
func (f findingsOver) leaveOut(out []Omitted, items []findingItem, faulty map[int][]diag.Diagnostic) []Omitted {
	for _, i := range slices.Sorted(maps.Keys(faulty)) {
		x, faults := items[i], faulty[i]
		if x.of == withdrawalsKey && slices.ContainsFunc(out, func(o Omitted) bool { return o.ID == x.id }) {
			f.tell(faults[1:]...) // what it takes back is left out already, and was told
			continue
		}
		f.tell(faults...)
		out = append(out, Omitted{ID: x.name(), Why: faults[0].Message, Pos: f.inFile(faults[0].Pos),
			Elsewhere: x.elsewhere(faults),
			From:      f.inFile(diag.Pos{File: f.name, Line: x.first}).Line,
			To:        f.inFile(diag.Pos{File: f.name, Line: x.last}).Line})
	}
	return out
}

// elsewhere reports whether an item has its faults only since it speaks of what other
// data has: its machine, or the part that it is about without any machine.
func (x findingItem) elsewhere(faults []diag.Diagnostic) bool {
	return slices.ContainsFunc(faults, func(d diag.Diagnostic) bool {
		switch d.Code {
		case "unknown-model", "unknown-bike":
			return true
		case "unknown-part", "unknown-brand", "bad-number":
			return !x.placed
		}
		return false
	})
}

// tell notes faults at their places in the whole file.
func (f findingsOver) tell(faults ...diag.Diagnostic) {
	for _, d := range faults {
		d.Pos = f.inFile(d.Pos)
		d.Related = slices.Clone(d.Related)
		for i, pos := range d.Related {
			d.Related[i] = f.inFile(pos)
		}
		f.probs.Add(d)
	}
}

// inFile is a place in the whole file.
func (f findingsOver) inFile(pos diag.Pos) diag.Pos {
	if pos.File == f.name && pos.Line >= 1 && pos.Line <= len(f.lines) {
		pos.Line = f.lines[pos.Line-1]
	}
	return pos
}

// findingItem is one item of a list of a findings file, with its lines.
type findingItem struct {
	of          string // the list: "findings", "withdrawals"
	keyLine     int    // where the list begins
	id          string
	number      int // in its list, from 1
	first, last int
	placed      bool // it says on what machine
}

func (x findingItem) name() string {
	if x.id != "" {
		return x.id
	}
	return fmt.Sprintf("%s %d", strings.TrimSuffix(x.of, "s"), x.number)
}

// findingItems finds the items of the lists that are written a dash a line; an
// item written otherwise can't be left out alone.
func findingItems(content []byte) []findingItem {
	root, err := topLevel(content)
	if err != nil {
		return nil
	}
	end := bytes.Count(content, []byte("\n")) + 1
	var items []findingItem
	for i := 0; i+1 < len(root.Content); i += 2 {
		key, list := root.Content[i], root.Content[i+1]
		if key.Value != findingsKey && key.Value != withdrawalsKey || list.Kind != yaml.SequenceNode ||
			list.Style&yaml.FlowStyle != 0 {
			continue
		}
		last := end
		if i+2 < len(root.Content) {
			last = root.Content[i+2].Line - 1
		}
		for j, node := range list.Content {
			x := findingItem{of: key.Value, keyLine: key.Line, number: j + 1, id: idOf(node), first: node.Line, last: last,
				placed: hasKey(node, "on") || hasKey(node, "position")}
			if j+1 < len(list.Content) {
				x.last = list.Content[j+1].Line - 1
			}
			items = append(items, x)
		}
	}
	return items
}

// idOf is the identity of a finding, or of the one that is taken back.
func idOf(item *yaml.Node) string {
	for i := 0; i+1 < len(item.Content); i += 2 {
		if key := item.Content[i].Value; (key == "id" || key == "finding") && item.Content[i+1].Kind == yaml.ScalarNode {
			return item.Content[i+1].Value
		}
	}
	return ""
}

func hasKey(item *yaml.Node, key string) bool {
	for i := 0; i+1 < len(item.Content); i += 2 {
		if item.Content[i].Value == key {
			return true
		}
	}
	return false
}

// withoutItems empties the lines of items, so that the others keep theirs; a
// list that loses all its items loses its key too.
func withoutItems(content []byte, items []findingItem, out map[int]bool) []byte {
	lines := bytes.SplitAfter(content, []byte("\n"))
	empty := func(line int) {
		if line >= 1 && line <= len(lines) {
			lines[line-1] = lines[line-1][len(bytes.TrimRight(lines[line-1], "\n")):]
		}
	}
	left := map[int]int{}
	for i, x := range items {
		left[x.keyLine] += 0
		if !out[i] {
			left[x.keyLine]++
			continue
		}
		for line := x.first; line <= x.last; line++ {
			empty(line)
		}
	}
	for key, n := range left {
		if n == 0 {
			empty(key)
		}
	}
	return bytes.Join(lines, nil)
}
