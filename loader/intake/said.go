package intake

import (
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/loader/partslist"
)

// partOfName are the words for a state by which sound parts are called too: a hardened washer,
// a split pin, a new style of lever. In a name they count behind a comma or in brackets alone.
var partOfName = map[string]bool{"hardened": true, "rough": true, "burnt": true, "burned": true, "split": true,
	"new": true, "good": true, "used": true, "rebuilt": true, "twisted": true, "scored": true, "stuck": true,
	"hard": true, "welded": true, "grooved": true, "repaired": true, "needs": true, "wants": true, "needed": true,
	"rust": true}

// conditionOf is the worst that the note of a row or its name says of its part; empty when
// neither says anything. "Not bent" says nothing.
func conditionOf(r partslist.Row) string {
	name, behind := r.Name, ""
	if at := strings.IndexAny(name, ",;("); at >= 0 {
		name, behind = name[:at], name[at:]
	}
	words := strings.Fields(strings.ToLower(name))
	for i, word := range words {
		if partOfName[strings.Trim(word, "!?.-")] {
			words[i] = "-"
		}
	}
	return graph.ConditionTold(strings.Join(words, " ") + "\n" + behind + "\n" + r.Note)
}

// bearingSizes are the sizes of the bearing that a row names by its standard designation,
// as a data file has them; nil when it names none.
func bearingSizes(r partslist.Row) map[string]map[string]string {
	for _, text := range []string{r.Number, r.Name, r.Written} {
		for _, word := range strings.FieldsFunc(text, func(c rune) bool { return strings.ContainsRune(" \t\n,;()", c) }) {
			b, ok := measure.DesignatedBearing(word)
			if !ok {
				continue
			}
			size := func(v float64) string { return measure.Format(v, measure.Length) }
			return map[string]map[string]string{"ring": {"inside": size(b.Inside), "outside": size(b.Outside),
				"width": size(b.Width), "form": b.Form, "designation": strings.ToUpper(word)}}
		}
	}
	return nil
}
