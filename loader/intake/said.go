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
	"rusted": "corroded", "pitted": "corroded", "warped": "bent", "dented": "bent", "twisted": "bent", "kinked": "bent",
	"verzogen": "bent", "voilé": "bent", "snapped": "broken", "smashed": "broken", "damaged": "broken",
	"beschädigt": "broken", "abîmé": "broken", "frozen": "seized", "stuck": "seized", "festgefressen": "seized",
	"grippé": "seized", "ripped": "torn", "split": "torn",
}

// partOfName are the words for a state by which sound parts are called too: a hardened washer,
// a split pin, a new style of lever. In a name they count behind a comma or in brackets alone.
var partOfName = map[string]bool{"hardened": true, "rough": true, "burnt": true, "burned": true, "split": true,
	"new": true, "good": true, "used": true, "rebuilt": true, "twisted": true, "scored": true, "stuck": true}

// saysState reports whether a word of a name, in lower case, tells the state of the one part
// in the list, and nothing of what it is.
func saysState(word string) bool {
	name := word
	if other, ok := conditionWords[word]; ok {
		name = other
	}
	_, known := graph.ConditionNamed(name)
	return known && !partOfName[word]
}

// conditionOf is the worst that the note of a row or its name says of its part; empty when
// neither says anything. "Not bent" says nothing.
func conditionOf(r partslist.Row) string {
	name, behind := r.Name, ""
	if at := strings.IndexAny(name, ",;("); at >= 0 {
		name, behind = name[:at], name[at:]
	}
	var words []string
	for _, word := range wordsOfState(name) {
		if saysState(word) || negates[word] {
			words = append(words, word)
		}
	}
	return worstOf(append(words, wordsOfState(behind+" "+r.Note)...))
}

// negates are the words that take back the one behind them.
var negates = map[string]bool{"not": true, "no": true, "nicht": true, "kein": true, "pas": true, "never": true}

// wordsOfState are the words of a text that may tell a state: not that of a split pin, nor how
// many pieces ("2 Stuck") a German list counts.
func wordsOfState(text string) []string {
	words := strings.FieldsFunc(strings.ToLower(text), func(c rune) bool {
		return strings.ContainsRune(" \t\n,;.:()/!?-", c)
	})
	var kept []string
	for i, word := range words {
		isPin := word == "split" && i+1 < len(words) && strings.HasPrefix(words[i+1], "pin")
		isCount := word == "stuck" && i > 0 && strings.Trim(words[i-1], "0123456789x") == ""
		if !isPin && !isCount {
			kept = append(kept, word)
		}
	}
	return kept
}

// worstOf is the worst condition of those that words name; empty when they name none.
func worstOf(words []string) string {
	worst, before := "", ""
	for _, word := range words {
		name := word
		if other, ok := conditionWords[word]; ok {
			name = other
		}
		c, known := graph.ConditionNamed(name)
		negated := negates[before]
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
