package loader

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"sort"
	"strings"

	"go.yaml.in/yaml/v3"

	"matewell/graph/diag"
)

// parseYAML reads the one document of a file. It gives nil for an empty file
// and for one that can't be parsed; the latter is reported.
func parseYAML(t *text, probs *diag.List) *yaml.Node {
	decoder := yaml.NewDecoder(bytes.NewReader(t.body))
	var document yaml.Node
	if err := decoder.Decode(&document); err != nil {
		if !errors.Is(err, io.EOF) {
			reportSyntax(t, err, probs)
		}
		return nil
	}
	var second yaml.Node
	switch err := decoder.Decode(&second); {
	case err == nil:
		probs.Errorf(t.place(second.Line, second.Column), "several-documents",
			"a second YAML document starts here").Hint = "take out the line \"---\", or put what follows in a file of its own"
	case !errors.Is(err, io.EOF):
		reportSyntax(t, err, probs)
	}
	if len(document.Content) == 0 {
		return nil
	}
	root := document.Content[0]
	tidyNode(t, root, probs)
	return root
}

var yamlError = lazily(`^yaml: (?:line (\d+): )?(.*)$`)

// reportSyntax reports a file that is not YAML. The parser tells only the line
// where the surrounding block starts, so the place is found otherwise.
func reportSyntax(t *text, err error, probs *diag.List) {
	message := err.Error()
	if m := yamlError.compile().FindStringSubmatch(message); m != nil {
		message = m[2]
	}
	offset := shortestFault(t, err)
	for offset > 0 && strings.ContainsRune(" \r\n", rune(t.body[offset])) {
		offset--
	}
	probs.Errorf(t.at(offset), "bad-yaml", "not YAML: %s", message).Hint = syntaxHint(message)
}

// maxBisect is the largest file, in bytes, in which the very character of a
// syntax error is looked for: each step parses the beginning anew.
const maxBisect = 64 << 10

// shortestFault is the offset at which the shortest beginning of the file ends
// that draws the same complaint. In a large file it is where the parser had
// read to when it complained, at most a few characters further on.
func shortestFault(t *text, err error) int {
	read := &slowReader{rest: t.body}
	if got := syntaxError(read); got == nil || len(t.body) == 0 {
		return 0
	}
	upTo := len(t.body) - len(read.rest)
	if len(t.body) > maxBisect {
		return max(0, upTo-1)
	}
	return min(len(t.body)-1, sort.Search(upTo, func(i int) bool {
		got := syntaxError(bytes.NewReader(t.body[:i+1]))
		return got != nil && got.Error() == err.Error()
	}))
}

// slowReader gives one byte at a time, so that one can tell how far a parser
// has read.
type slowReader struct{ rest []byte }

func (s *slowReader) Read(into []byte) (int, error) {
	if len(s.rest) == 0 {
		return 0, io.EOF
	}
	n := copy(into[:min(1, len(into))], s.rest)
	s.rest = s.rest[n:]
	return n, nil
}

// syntaxError is the first error in a text, over all its documents.
func syntaxError(body io.Reader) error {
	decoder := yaml.NewDecoder(body)
	for {
		var n yaml.Node
		if err := decoder.Decode(&n); errors.Is(err, io.EOF) {
			return nil
		} else if err != nil {
			return err
		}
	}
}

func syntaxHint(message string) string {
	switch {
	case strings.Contains(message, "mapping values are not allowed"):
		return "a value that holds \": \" needs quotes round it"
	case strings.Contains(message, "tab character"), strings.Contains(message, "cannot start any token"):
		return "indent with spaces, not tabs; a value that starts with @, ` or % needs quotes round it"
	case strings.Contains(message, "did not find expected key"), strings.Contains(message, "expected '-'"),
		strings.Contains(message, "could not find expected ':'"):
		return "look for a line that is indented differently from its neighbours, or a quote left open"
	case strings.Contains(message, "unexpected end of stream"):
		return "a quote or bracket was left open"
	}
	return ""
}

// likeHint says what to write where YAML would repeat by reference.
const likeHint = `write the value out in each place; a model has another's places by "like"`

// tidyNode reports what YAML allows and a data set does not: anchors, aliases,
// tags, merged mappings, keys that are not words, and keys given twice. What it
// reports it takes out, so that the decoder never meets it.
func tidyNode(t *text, n *yaml.Node, probs *diag.List) {
	pos := t.place(n.Line, n.Column)
	if n.Anchor != "" {
		probs.Errorf(pos, "yaml-anchor", "anchor \"&%s\" is not read here", n.Anchor).Hint = likeHint
	}
	if n.Style&yaml.TaggedStyle != 0 {
		probs.Errorf(pos, "yaml-tag", "tag %q is not read here", n.Tag).Hint = "take the tag out"
	}
	escaped(t, n, probs)
	switch n.Kind {
	case yaml.AliasNode:
		probs.Errorf(pos, "yaml-anchor", "alias \"*%s\" is not read here", n.Value).Hint = likeHint
		*n = yaml.Node{Kind: yaml.ScalarNode, Tag: skipTag, Line: n.Line, Column: n.Column}
	case yaml.MappingNode:
		n.Content = uniquePairs(t, n.Content, probs)
		for i := 1; i < len(n.Content); i += 2 {
			tidyNode(t, n.Content[i], probs)
		}
	case yaml.SequenceNode:
		for _, child := range n.Content {
			tidyNode(t, child, probs)
		}
	}
}

// escaped reports a quoted value whose escapes ("\e", "\u202e") stand for a
// character that no text may have, and blanks the value as newText would.
func escaped(t *text, n *yaml.Node, probs *diag.List) bool {
	if n.Style&yaml.DoubleQuotedStyle == 0 {
		return false
	}
	r, steers, found := diag.Hidden(n.Value)
	if !found {
		return false
	}
	code, does := "invisible-character", "which can't be seen"
	if steers {
		code, does = "terminal-escape", "which could steer a terminal"
	}
	probs.Errorf(t.place(n.Line, n.Column), code, "this stands for a text with character U+%04X%s, %s", r, runeName(r),
		does).Hint = "take it out"
	n.Value, t.blanked = strings.Repeat(string(blankByte), len(n.Value)), true
	return true
}

// skipTag marks a value that was already reported: the decoder passes over it.
const skipTag = "!reported"

// decimalComma reports whether a key without a value is what stands behind a
// decimal comma, "{eye: 10,2 mm}", and the last pair so far what is before it.
func decimalComma(pairs []*yaml.Node, key, value *yaml.Node) bool {
	if len(pairs) == 0 || value.Tag != "!!null" || value.Value != "" || key.Kind != yaml.ScalarNode {
		return false
	}
	last := pairs[len(pairs)-1]
	digit := func(text string, at int) bool { return text != "" && text[at] >= '0' && text[at] <= '9' }
	return last.Kind == yaml.ScalarNode && last.Style == 0 &&
		digit(last.Value, len(last.Value)-1) && digit(key.Value, 0) &&
		key.Line == last.Line && key.Column == last.Column+len(last.Value)+len(",")
}

// uniquePairs leaves out the pairs of a mapping whose key is no word, or was
// given before.
func uniquePairs(t *text, pairs []*yaml.Node, probs *diag.List) []*yaml.Node {
	first := make(map[string]*yaml.Node, len(pairs)/2)
	kept := pairs[:0]
	for i := 0; i+1 < len(pairs); i += 2 {
		k := pairs[i]
		pos := t.place(k.Line, k.Column)
		if decimalComma(kept, k, pairs[i+1]) {
			last := kept[len(kept)-1]
			d := probs.Errorf(t.place(last.Line, last.Column), "bad-value",
				"the comma in \"%s,%s\" ends the value", last.Value, k.Value)
			d.Hint = fmt.Sprintf("write a decimal with a point, \"%s.%s\"", last.Value, k.Value)
			last.Tag = skipTag
			continue
		}
		switch before := first[k.Value]; {
		case k.Kind != yaml.ScalarNode:
			probs.Errorf(pos, "bad-yaml", "a key must be a word").Hint = "a value that starts with { or [ needs quotes round it"
		case k.Anchor != "" || k.Style&yaml.TaggedStyle != 0:
			tidyNode(t, k, probs)
		case k.Value == "<<":
			probs.Errorf(pos, "yaml-anchor", "key \"<<\" merges mappings, which is not read here").Hint = likeHint
		case escaped(t, k, probs):
		case before != nil:
			d := probs.Errorf(pos, "duplicate-key", "key %q is given twice", k.Value)
			d.Hint = "take one of them out"
			d.Related = []diag.Pos{t.place(before.Line, before.Column)}
		default:
			first[k.Value] = k
			kept = append(kept, k, pairs[i+1])
		}
	}
	return kept
}
