package graph

import (
	"slices"
	"strings"
	"sync"
)

// conditionWords are the words by which people tell the state of a part, by the condition
// that they tell of, in small letters. Common practice, no source.
var conditionWords = [...]struct{ condition, words string }{
	{"cracked", "crack cracks crazed rissig gerissen riss fissuré fissurée fêlé"},
	{"bent", "warped dented twisted kinked buckled verbogen krumm verzogen tordu tordue plié voilé"},
	{"broken", "snapped smashed damaged defective delaminated delaminating gebrochen kaputt defekt beschädigt cassé " +
		"cassée abîmé"},
	{"torn", "ripped split holed"},
	{"burnt", "burned verbrannt"},
	{"perished", "rotted rotten porös"},
	{"scrap", "scrapped junk junked knackered useless unusable ruined condemned unsafe dud duff schrott rebut " +
		"unbrauchbar foutu"},
	{"worn", "stretched verschlissen abgefahren usé usée"},
	{"corroded", "rust rusty rusted pitted pitting corrosion rostig rouillé"},
	{"scored", "gouged chewed galled grooved riefig rayé"},
	{Leaking, "leaks undicht"},
	{"seized", "frozen stuck sticking festgefressen grippé"},
	{"rough", "notchy"},
	{"hardened", "hard"},
	{doubtful, "welded repaired suspect dodgy chipped swollen bulging sloppy geschweißt soudé soudée"},
}

// conditionPhrases are those of several words, each with a blank on both sides.
var conditionPhrases = [...]struct{ condition, phrases string }{
	{"scrap", "do not use|don't use|dont use|do not fit|don't fit|never use|not to be used|not be used|" +
		"not for use|not usable|not safe|no good|n g|u s|past it|worn out|beyond repair|life expired|" +
		"to be replaced|must be replaced|replace it|for the bin|to bin|for scrap|needs replacing|" +
		"need replacing|needs replacement|needs renewing|needs renewal|needs to be replaced|should be replaced|" +
		"wants replacing|nicht verwenden|nicht benutzen|nicht einbauen|muss ersetzt werden|muss neu|" +
		"ne pas utiliser|ne pas monter|hors service|à remplacer"},
	{doubtful, "needs|wants|needed|to be checked|have it checked|check it|not sure|braucht|à vérifier"},
}

// besideSound are the words that may stand beside one for a sound part, "in good condition" as
// "good": with any other word in its clause it tells of no such part, "needs new bushes".
const besideSound = "condition very quite still zustand état"

var conditionsByWord = sync.OnceValue(func() map[string]string {
	all := map[string]string{}
	for _, c := range Conditions() {
		all[c.Word] = c.Word
	}
	for _, c := range conditionWords {
		for _, word := range strings.Fields(c.words) {
			all[word] = c.condition
		}
	}
	return all
})

// ConditionTold is the worst condition that a note tells of in whatever words: Leaking for
// "weeps at one piston", scrap for "unsafe, do not use"; empty for one that tells of none, or
// that it is not so.
func ConditionTold(note string) string {
	worst := ""
	take := func(name string) {
		c, known := ConditionNamed(name)
		if was, had := ConditionNamed(worst); known && (!had || c.Is > was.Is) {
			worst = name
		}
	}
	for _, clause := range strings.FieldsFunc(strings.ToLower(note), isBetweenClauses) {
		words := wordsOfState(clause)
		take(phraseTold(words))
		take(wordTold(words))
	}
	if leakTold(note) {
		take(Leaking)
	}
	return worst
}

func isBetweenClauses(r rune) bool { return strings.ContainsRune(",;:()\n", r) }

// phraseTold is the condition that words in a row tell of.
func phraseTold(words []string) string {
	text := " " + strings.Join(words, " ") + " "
	for _, c := range conditionPhrases {
		for _, phrase := range strings.Split(c.phrases, "|") {
			before, behind, told := strings.Cut(text, " "+phrase+" ")
			if told && !endsInDenial(before) && !isOtherNeed(phrase, behind) {
				return c.condition
			}
		}
	}
	return ""
}

func endsInDenial(text string) bool {
	words := strings.Fields(text)
	return len(words) > 0 && IsDenial(words[len(words)-1])
}

// isOtherNeed reports whether a part that "needs" what stands behind is no worse for it: what goes with it by
// number ("needs 2 washers"), nothing, or its looks.
func isOtherNeed(phrase, behind string) bool {
	words := strings.Fields(behind)
	if phrase != "needs" && phrase != "wants" && phrase != "braucht" || len(words) == 0 {
		return false
	}
	first := words[0]
	return strings.Trim(first, "0123456789x") == "" || isOneOf(otherNeeds, first)
}

// otherNeeds are the first words of a need that says nothing against a part.
const otherNeeds = "no nothing none both one two three four paint painting repainting polish polishing cleaning " +
	"washing chroming rechroming plating keine keinen nichts"

// denials are the words that take back the one behind them.
var denials = []string{"not", "no", "nicht", "kein", "keine", "pas", "never", "isn't",
	"aren't", "non", "without", "ohne"}

// wordTold is the worst condition that single words of a clause tell of.
func wordTold(words []string) string {
	worst := Sound
	name, before, ofCover := "", "", false
	for _, word := range words {
		told, known := conditionsByWord()[word]
		ofCover = isOneOf(covers, word) || ofCover && isOneOf("is are was were has been", word) || ofCover && known
		taken := IsDenial(before) || ofCover
		before = word
		c, _ := ConditionNamed(told)
		if !known || taken || c.Is == Sound && !isAlone(words) {
			continue
		}
		if name == "" || c.Is > worst {
			name, worst = told, c.Is
		}
	}
	return name
}

// covers are the words for what is on a part, or round it, and may be worn or torn while the part is not.
const covers = "number numbers paint label sticker decal lettering stamp stamping packet packaging wrapper"

func isOneOf(words, word string) bool { return slices.Contains(strings.Fields(words), word) }

// isAlone reports whether words say that a part is sound and nothing besides.
func isAlone(words []string) bool {
	return !slices.ContainsFunc(words, func(word string) bool {
		c, is := ConditionNamed(word)
		return (!is || c.Is != Sound) && !isOneOf(besideSound, word)
	})
}

// IsConditionWord reports whether a word in small letters tells the state of a part.
func IsConditionWord(word string) bool { return conditionsByWord()[word] != "" }

// IsDenial reports whether a word in small letters takes back the one behind it.
func IsDenial(word string) bool { return slices.Contains(denials, word) }

// namesBehind are the beginnings of the words that make a name of the word before them: a split pin is not torn.
var namesBehind = map[string]string{"split": "pin link ring washer collet bush sleeve rim", "hard": "chrom anodi",
	"twisted": "grip", "grooved": "pin"}

// wordsOfState are the words of a text in small letters that may tell a state: not that of
// a split pin, nor how many pieces ("2 Stuck") a German list counts.
func wordsOfState(text string) []string {
	words := strings.FieldsFunc(text, func(c rune) bool { return strings.ContainsRune(" \t\n,;.:()/!?-\"", c) })
	var kept []string
	for i, word := range words {
		isName := i+1 < len(words) && slices.ContainsFunc(strings.Fields(namesBehind[word]), func(name string) bool {
			return strings.HasPrefix(words[i+1], name)
		})
		isCount := word == "stuck" && i > 0 && strings.Trim(words[i-1], "0123456789x") == ""
		if !isName && !isCount {
			kept = append(kept, word)
		}
	}
	return kept
}

// leakTold reports whether a note tells that fluid or oil comes out, and not that it does no more.
func leakTold(note string) bool {
	apart := func(r rune) bool { return !('a' <= r && r <= 'z' || r == '\'') }
	ends := []string{"no", "not", "never", "nor", "without", "dry", "stopped", "cured", "until", "used"}
	leaks := false
	for _, word := range strings.FieldsFunc(strings.ToLower(note), apart) {
		switch {
		case slices.Contains(ends, word), strings.HasSuffix(word, "n't"):
			return false
		case strings.HasPrefix(word, "weep"), strings.HasPrefix(word, "seep"), word == "leak", word == "leaks",
			word == Leaking, word == "leaky":
			leaks = true
		}
	}
	return leaks
}
