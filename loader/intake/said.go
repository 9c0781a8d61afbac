package intake

import (
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/loader/partslist"
)

// conditionWords are the words of lists for the state of a part that a data file calls
// otherwise, in lower case.
var conditionWords = map[string]string{
	"crack": "cracked", "cracks": "cracked", "rissig": "cracked", "gerissen": "cracked", "riss": "cracked",
	"fissuré": "cracked", "fissurée": "cracked", "fêlé": "cracked", "verbogen": "bent", "krumm": "bent",
	"tordu": "bent", "tordue": "bent", "plié": "bent", "gebrochen": "broken", "kaputt": "broken", "defekt": "broken",
	"defective": "broken",
	"cassé":     "broken", "cassée": "broken", "schrott": "scrap", "rebut": "scrap", "scrapped": "scrap",
	"verschlissen": "worn", "usé": "worn", "usée": "worn", "rusty": "corroded", "rostig": "corroded",
	"rouillé": "corroded", "undicht": "leaking", "leaks": "leaking", "verbrannt": "burnt", "burned": "burnt",
}

// conditionOf is the worst that the note of a row says of its part, or what its name says
// behind a comma or in brackets; empty when neither says anything. "Not bent" says nothing.
func conditionOf(r partslist.Row) string {
	text := r.Note
	if at := strings.IndexAny(r.Name, ",;("); at >= 0 {
		text += " " + r.Name[at:]
	}
	worst, before := "", ""
	for _, word := range strings.FieldsFunc(strings.ToLower(text), func(c rune) bool {
		return strings.ContainsRune(" \t\n,;.:()/!?-", c)
	}) {
		name := word
		if other, ok := conditionWords[word]; ok {
			name = other
		}
		c, known := graph.ConditionNamed(name)
		negated := before == "not" || before == "no" || before == "nicht" || before == "kein" || before == "pas" ||
			before == "never"
		if before = word; !known || negated {
			continue
		}
		if was, had := graph.ConditionNamed(worst); !had || c.Is > was.Is {
			worst = name
		}
	}
	return worst
}

// bearingSizes are the sizes of the bearing that a row names by its standard designation,
// as a data file has them; nil when it names none.
func bearingSizes(r partslist.Row) map[string]map[string]string {
	for _, text := range []string{r.Number, r.Name, r.Written} {
		for _, word := range strings.Fields(text) {
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
