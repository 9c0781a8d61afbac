package intake

import (
	"slices"
	"strings"
	"sync"
	"unicode"

	"matewell/graph"
	"matewell/loader/partslist"
)

// phrase is a name taken apart. What a thing is, its head says: the last word
// in English and German, the first in French, Italian and Spanish, the word
// before "for" and "of" in all of them. All other words narrow it down.
type phrase struct {
	head  string
	words []string // all that say something, in order, in one language as far as known
	ways  map[string]bool
}

// takeApart reads a name. What stands behind a comma or in brackets comes
// after the name proper.
func takeApart(text string) phrase {
	p := phrase{ways: map[string]bool{}}
	for _, part := range strings.FieldsFunc(strings.ReplaceAll(text, " - ", ","), isBreak) {
		folded := " " + strings.Join(strings.FieldsFunc(partslist.Fold(part), notWord), " ") + " "
		for _, pair := range spellings {
			folded = strings.ReplaceAll(folded, " "+pair[0]+" ", " "+pair[1]+" ")
		}
		var proper []string // until a "for" or "of"
		closed, romance := p.head != "", false
		for _, word := range strings.Fields(folded) {
			if links[word] && len(proper) > 0 {
				closed = true
			}
			for _, one := range wordsOfOne(word) {
				switch {
				case sideWays[one]:
					p.ways[one] = true
				case !sayNothing(one):
					romance = romance || len(proper) == 0 && headFirst[word]
					p.words = append(p.words, one)
					if !closed {
						proper = append(proper, one)
					}
				}
			}
		}
		if p.head == "" && len(proper) > 0 {
			p.head = proper[len(proper)-1]
			if romance {
				p.head = proper[0]
			}
		}
	}
	return p
}

func isBreak(r rune) bool { return strings.ContainsRune(",;()[]{}:", r) }

func notWord(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }

// sayNothing says whether a word tells nothing of what a thing is: a size, a
// colour, its state, an article.
func sayNothing(word string) bool {
	return len([]rune(word)) < 3 || strings.ContainsFunc(word, unicode.IsDigit) || links[word] || neutral[word] ||
		graph.IsConditionWord(word) && !partOfName[word] || graph.IsDenial(word)
}

// wordsOfOne is a word in the singular, in English where it is a common one;
// German "vorder-" and "hinter-" are taken off.
func wordsOfOne(word string) []string {
	if way, ok := wayWords()[word]; ok {
		return []string{way}
	}
	for _, start := range [...]struct{ german, way string }{{"vorder", "front"}, {"hinter", "rear"}} {
		if rest, ok := strings.CutPrefix(word, start.german); ok && len(rest) > 2 {
			return append([]string{start.way}, wordsOfOne(rest)...)
		}
	}
	if english, ok := english()[word]; ok {
		return strings.Fields(english)
	}
	one := singular(word)
	if english, ok := english()[one]; ok {
		return strings.Fields(english)
	}
	return []string{one}
}

func singular(word string) string {
	for _, end := range [...]string{"shes", "ches", "xes", "sses"} {
		if strings.HasSuffix(word, end) {
			return strings.TrimSuffix(word, "es")
		}
	}
	if len(word) > 3 && strings.HasSuffix(word, "s") && !strings.HasSuffix(word, "ss") {
		return strings.TrimSuffix(word, "s")
	}
	return word
}

// wayWords are the words for sides, one by one.
var wayWords = sync.OnceValue(func() map[string]string {
	all := map[string]string{}
	for _, w := range ways {
		for _, word := range strings.Split(w.words, "|") {
			all[word] = w.way
		}
	}
	return all
})

// sideWays are those ways that most lists leave out. A part that is the upper or
// the inner one of two is named so, and these words count as any other.
var sideWays = map[string]bool{"left": true, "right": true, "front": true, "rear": true}

// kindPhrase is one name for a kind.
type kindPhrase struct {
	kind string
	phrase
}

// kindPhrases are all names of kinds.
var kindPhrases = sync.OnceValue(func() []kindPhrase {
	var all []kindPhrase
	for _, k := range kindWords {
		for _, words := range strings.Split(k.words, "|") {
			all = append(all, kindPhrase{k.kind, takeApart(words)})
		}
	}
	return all
})

func set(words []string) map[string]bool {
	all := map[string]bool{}
	for _, word := range words {
		all[word] = true
	}
	return all
}

// kindsNamed are the kinds that a name may mean: their words are among its own,
// and they have its head. Those of the longest words alone.
func kindsNamed(name phrase) []string {
	var kinds []string
	longest := 0
	for _, k := range kindPhrases() {
		if k.head != name.head || name.head == "" || !holds(name.words, k.words) || !within(k.ways, name.ways) {
			continue
		}
		length := len(strings.Join(k.words, " ")) + len(k.ways)
		if length > longest {
			kinds, longest = nil, length
		}
		if length == longest && !slices.Contains(kinds, k.kind) {
			kinds = append(kinds, k.kind)
		}
	}
	return kinds
}

// holds says whether words are all among others.
func holds(all, words []string) bool {
	return !slices.ContainsFunc(words, func(word string) bool { return !slices.Contains(all, word) })
}

func within(ways, all map[string]bool) bool {
	for way := range ways {
		if !all[way] {
			return false
		}
	}
	return true
}
