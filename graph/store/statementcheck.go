package store

import (
	"strconv"
	"strings"

	"github.com/cayleygraph/quad"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/measure"
)

// checkStatements holds statements to what the loader holds data files to, as
// far as single statements tell: texts without control characters, dimensions
// that the feature has, measures that can be read, words and counts that are
// known. What is wrong is an error at its line.
func checkStatements(lines []quadLine, probs *diag.List) {
	featureKinds := map[quad.Value]graph.FeatureKind{}
	for _, l := range lines {
		if l.quad.Predicate == termFeatureKind {
			if kind, known := graph.FeatureKindNamed(plainText(l.quad.Object)); known {
				featureKinds[l.quad.Subject] = kind
			}
		}
	}
	for _, l := range lines {
		if node, _ := l.quad.Subject.(quad.IRI); !strings.HasPrefix(string(node), identities) {
			continue // it is about nothing of ours, and left out
		}
		if hiddenIn(l, probs) {
			continue
		}
		predicate, _ := l.quad.Predicate.(quad.IRI)
		text := plainText(l.quad.Object)
		switch {
		case strings.HasPrefix(string(predicate), string(termDim)):
			if kind, isPart := featureKinds[l.quad.Subject]; isPart {
				checkDim(l, kind, strings.TrimPrefix(string(predicate), string(termDim)), probs)
			}
		case predicate == termVerdict:
			if _, err := graph.ParseVerdict(text); err != nil {
				probs.Errorf(l.pos, "bad-value", "%v", err)
			}
		case predicate == termQuantity:
			if n, err := strconv.Atoi(text); err != nil || n < 1 {
				probs.Errorf(l.pos, "bad-value", "quantity %q is not a whole number from 1 on", text)
			}
		}
	}
}

// checkDim checks a reading of a feature; what stands beside it, such as how it
// was measured, is free text.
func checkDim(l quadLine, kind graph.FeatureKind, rest string, probs *diag.List) {
	name, aspect := cutAspect(rest)
	if aspect != "" {
		return
	}
	spec, known := kind.Dim(unescape(name))
	if !known {
		probs.Errorf(l.pos, "unknown-dimension", "a %q has no dimension %q", kind.Name, unescape(name))
		return
	}
	if _, err := measure.Parse(plainText(l.quad.Object), spec.Type); err != nil {
		probs.Errorf(l.pos, "bad-value", "%v", err)
	}
}

// hiddenIn reports a character in a statement that no text may have.
func hiddenIn(l quadLine, probs *diag.List) bool {
	for _, part := range []struct {
		name  string
		value quad.Value
	}{{"subject", l.quad.Subject}, {"predicate", l.quad.Predicate}, {"object", l.quad.Object}, {"source", l.quad.Label}} {
		text := plainText(part.value)
		if node, ok := part.value.(quad.IRI); ok {
			text = unescape(string(node))
		}
		r, steers, found := diag.Hidden(text)
		if !found {
			continue
		}
		code, does := "invisible-character", "can't be seen, and makes two texts differ that look alike"
		if steers {
			code, does = "terminal-escape", "could steer a terminal"
		}
		probs.Errorf(l.pos, code, "the %s holds character U+%04X, which %s", part.name, r, does).Hint = "take it out"
		return true
	}
	return false
}
