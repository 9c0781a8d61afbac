package loader

import (
	"bytes"
	"errors"
	"io"
	"regexp"
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

var yamlError = regexp.MustCompile(`^yaml: (?:line (\d+): )?(.*)$`)

// reportSyntax reports a file that is not YAML. The parser gives only the line
// where the surrounding block starts, so the place is found by parsing shorter
// and shorter beginnings of the file: the shortest one with the same complaint
// ends at the fault.
func reportSyntax(t *text, err error, probs *diag.List) {
	message := err.Error()
	if m := yamlError.FindStringSubmatch(message); m != nil {
		message = m[2]
	}
	probs.Errorf(syntaxPlace(t, err), "bad-yaml", "not YAML: %s", message).Hint = syntaxHint(message)
}

// maxBisect is the largest file, in bytes, in which the place of a syntax error
// is looked for: each step parses the beginning anew.
const maxBisect = 1 << 20

func syntaxPlace(t *text, err error) diag.Pos {
	if len(t.body) > maxBisect {
		return diag.Pos{File: t.name}
	}
	same := func(upTo int) bool {
		got := syntaxError(t.body[:upTo])
		return got != nil && got.Error() == err.Error()
	}
	ends := append(t.lines[1:len(t.lines):len(t.lines)], len(t.body))
	line := sort.Search(len(ends)-1, func(i int) bool { return same(ends[i]) })
	start := t.lines[line]
	inLine := sort.Search(ends[line]-start, func(i int) bool { return same(start + i + 1) })
	// The parser complains when it has seen the character after the fault.
	offset := min(start+inLine, max(len(t.body)-1, 0))
	for offset > start && strings.ContainsRune(" \r\n", rune(t.body[offset])) {
		offset--
	}
	return t.at(offset)
}

// syntaxError is the first error in a text, over all its documents.
func syntaxError(body []byte) error {
	decoder := yaml.NewDecoder(bytes.NewReader(body))
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
	case strings.Contains(message, "did not find expected key"), strings.Contains(message, "expected '-'"), strings.Contains(message, "could not find expected ':'"):
		return "look for a line that is indented differently from its neighbours, or a quote left open"
	case strings.Contains(message, "unexpected end of stream"):
		return "a quote or bracket was left open"
	}
	return ""
}

// tidyNode reports what YAML allows and a data set does not: anchors, aliases,
// tags, merged mappings, keys that are not words, and keys given twice. What it
// reports it takes out, so that the decoder never meets it.
func tidyNode(t *text, n *yaml.Node, probs *diag.List) {
	pos := t.place(n.Line, n.Column)
	if n.Anchor != "" {
		probs.Errorf(pos, "yaml-anchor", "anchor \"&%s\" is not read here", n.Anchor).Hint = "write the value out in each place"
	}
	if n.Style&yaml.TaggedStyle != 0 {
		probs.Errorf(pos, "yaml-tag", "tag %q is not read here", n.Tag).Hint = "take the tag out"
	}
	escaped(t, n, probs)
	switch n.Kind {
	case yaml.AliasNode:
		probs.Errorf(pos, "yaml-anchor", "alias \"*%s\" is not read here", n.Value).Hint = "write the value out in each place"
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
// character that could steer a terminal, and takes the character out.
func escaped(t *text, n *yaml.Node, probs *diag.List) bool {
	if n.Style&yaml.DoubleQuotedStyle == 0 {
		return false
	}
	for _, r := range n.Value {
		if r != '\t' && r != '\n' && steersTerminal(r) {
			d := probs.Errorf(t.place(n.Line, n.Column), "terminal-escape", "this stands for a text with character U+%04X%s, which could steer a terminal", r, runeName(r))
			d.Hint = "take it out"
			n.Value = strings.Map(func(r rune) rune {
				if r != '\t' && r != '\n' && steersTerminal(r) {
					return '?'
				}
				return r
			}, n.Value)
			return true
		}
	}
	return false
}

// skipTag marks a value that was already reported: the decoder passes over it.
const skipTag = "!reported"

// uniquePairs leaves out the pairs of a mapping whose key is no word, or was
// given before.
func uniquePairs(t *text, pairs []*yaml.Node, probs *diag.List) []*yaml.Node {
	first := make(map[string]*yaml.Node, len(pairs)/2)
	kept := pairs[:0]
	for i := 0; i+1 < len(pairs); i += 2 {
		k := pairs[i]
		pos := t.place(k.Line, k.Column)
		switch before := first[k.Value]; {
		case k.Kind != yaml.ScalarNode:
			probs.Errorf(pos, "bad-yaml", "a key must be a word").Hint = "a value that starts with { or [ needs quotes round it"
		case k.Anchor != "" || k.Style&yaml.TaggedStyle != 0:
			tidyNode(t, k, probs)
		case k.Value == "<<":
			probs.Errorf(pos, "yaml-anchor", "key \"<<\" merges mappings, which is not read here").Hint = "write the values out in each place"
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
