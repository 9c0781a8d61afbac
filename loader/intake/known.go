package intake

import (
	"maps"
	"slices"
	"strings"

	"matewell/graph"
)

// known is what a position is called.
type known struct {
	heads []string        // what sits there: by its identity, its name, its kind
	own   [2][]string     // what else its identity and its name say, beyond its assembly
	names [][]string      // the words of each name it has
	words map[string]bool // all words that a name of it may hold
}

func knownOf(p *placer, x graph.Position) known {
	if k, ok := p.knowns[x.ID]; ok {
		return k
	}
	group, local, _ := strings.Cut(x.ID.Local(), "/")
	var k known
	names := [...]phrase{takeApart(spaced(local)), takeApart(x.Name), takeApart(spaced(string(x.Kind)))}
	around := takeApart(spaced(group) + " " + p.assemblies[x.Assembly]).words
	k.words = set(around)
	for _, name := range names {
		maps.Copy(k.words, set(name.words))
		k.names = append(k.names, name.words)
		if name.head != "" {
			k.heads = append(k.heads, name.head)
		}
	}
	for i, name := range names[:2] {
		k.own[i] = slices.DeleteFunc(slices.Clone(name.words), func(word string) bool {
			return slices.Contains(k.heads, word) || slices.Contains(around, word) || slices.Contains(names[2].words, word)
		})
	}
	p.knowns[x.ID] = k
	return k
}

func spaced(id string) string { return strings.ReplaceAll(id, "-", " ") }

// isCalled says whether a name may be one of what sits at a position: it has
// its head or a name of its kind, every other word of it is one that the position
// has too, and where the head alone says little ("bolt"), it says which. A word
// that the position lacks makes it another thing, or a piece of it.
func isCalled(p *placer, x graph.Position, name phrase, kinds []string, said map[string]bool) bool {
	k := knownOf(p, x)
	named := slices.Contains(kinds, string(x.Kind))
	if name.head == "" || !named && !slices.Contains(k.heads, name.head) ||
		!allKnown(p, name, k.words, string(x.Kind)) || pieceOfPiece(name, k.names, string(x.Kind)) {
		return false
	}
	return named && !ownNames[string(x.Kind)] || slices.ContainsFunc(k.own[:], func(own []string) bool {
		return !slices.ContainsFunc(own, func(word string) bool { return !said[word] })
	})
}

// pieceOfPiece says whether a name is that of a bolt of a bolt, and the like: no
// one name of the place has all its words for pieces.
func pieceOfPiece(name phrase, names [][]string, kind string) bool {
	var all []string
	for _, word := range name.words {
		if pieces()[word] {
			if slices.Contains(all, word) {
				return true
			}
			all = append(all, word)
		}
	}
	return len(all) > 1 && !slices.ContainsFunc(names, func(one []string) bool { return holds(one, all) }) &&
		!slices.ContainsFunc(kindPhrases(), func(k kindPhrase) bool { return k.kind == kind && holds(k.words, all) })
}

// allKnown says whether all words of a name are among others, or are those of
// makers, models, or one of the names of a kind that stands in it.
func allKnown(p *placer, name phrase, words map[string]bool, kind string) bool {
	var of []string
	for _, k := range kindPhrases() {
		if k.kind == kind && !ownNames[kind] && holds(name.words, k.words) {
			of = append(of, k.words...)
		}
	}
	return !slices.ContainsFunc(name.words, func(word string) bool {
		return !words[word] && !p.makes[word] && !slices.Contains(of, word)
	})
}

// onlyPiece says whether a name is that of a piece of something, and a position
// is for no such piece.
func onlyPiece(p *placer, name phrase, x graph.Position) bool {
	return slices.ContainsFunc(name.words, func(word string) bool {
		return pieces()[word] && !knownOf(p, x).words[word]
	})
}

// kindNamed is the kind that a name tells for sure: nothing else in the name
// makes it a piece of that, or a thing of another sort. Empty for none.
func kindNamed(p *placer, text string, kinds map[graph.KindID]bool) string {
	name := takeApart(text)
	for _, kind := range kindsNamed(name) {
		if kinds[graph.KindID(kind)] && (ownNames[kind] || allKnown(p, name, around(p, kind), kind)) {
			return kind
		}
	}
	for _, kind := range slices.Sorted(maps.Keys(kinds)) { // else the very name of a kind
		own := takeApart(spaced(string(kind)))
		if kinds[kind] && len(own.words) > 0 && slices.Equal(own.words, name.words) && maps.Equal(own.ways, name.ways) {
			return string(kind)
		}
	}
	return ""
}

// around are the words of a kind and of the places that it has on the models
// there are.
func around(p *placer, kind string) map[string]bool {
	words := set(takeApart(spaced(kind)).words)
	for _, positions := range p.positions {
		for _, x := range positions {
			if string(x.Kind) == kind {
				maps.Copy(words, knownOf(p, x).words)
			}
		}
	}
	return words
}
