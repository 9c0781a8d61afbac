package partslist

import (
	"fmt"
	"strconv"
	"strings"
)

var (
	plainCount = lazily(`^(?i)[x×]?\s*(\d{1,5})(?:[.,]0+)?\s*(?:[x×]|off|pcs?\.?|pieces?|ea\.?|each|nos?\.?|required|req'?d|st(?:ü|ue)?c?k\.?|stk\.?|stck\.?|st\.?|pz\.?|pezzi|pi[eè]ces?|uds?\.?|st|szt\.?|ks)?$`)
	labelled   = lazily(`^(?i)(?:quantity|qty\.?|menge|anzahl|quantité|qté|quantità|cantidad)\s*[:=]?\s*`)
	setOf      = lazily(`^(?i)(?:1\s+|a\s+|one\s+)?(?:set|satz|jeu|kit|pack(?:et)?|bag|box|serie)\s+(?:of|mit|von|de|di|à|zu)\s+(\d{1,3})$`)
	oneSet     = lazily(`^(?i)(\d{1,3}|a|one)?\s*(?:sets?|satz|sätze|jeux?|kits?|serie)$`)
	pairs      = lazily(`^(?i)(\d{1,3}|a|one|ein|une|1)?\s*(?:pairs?|prs?\.?|paar|paire?s?|paio|par)$`)
	spare      = lazily(`^(\d{1,4})\s*\+\s*(\d{1,3})(?:\s*(?:spares?|extra|ersatz|reserve|rechange))?$`)
	roughly    = lazily(`^(?i)(?:~|≈|c\.?a?\.?\s|ca\.?\s?|circa|approx\.?|about|around|etwa|ungefähr|rund|env\.?|environ|\bmax\b\.?)\s*`)
	plusMinus  = lazily(`(?i)(?:\?|\+/-|±)\s*$`)
)

var countNames = map[string]int{"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8,
	"nine": 9, "ten": 10,
	"twelve": 12, "dozen": 12, "a dozen": 12, "single": 1, "both": 2, "couple": 2, "a couple": 2, "half a dozen": 6,
	"ein": 1, "eins": 1, "eine": 1, "einer": 1, "zwei": 2, "drei": 3, "vier": 4, "fünf": 5, "sechs": 6, "acht": 8,
	"zehn": 10, "zwölf": 12, "beide": 2,
	"un": 1, "une": 1, "deux": 2, "trois": 3, "quatre": 4, "cinq": 5, "huit": 8, "dix": 10, "douze": 12}

// quantity fills in how many a row tells of. What is no whole number is asked,
// never made one.
func quantity(r *Row, text string) {
	text = strings.TrimSpace(labelled().ReplaceAllString(text, ""))
	switch {
	case text == "":
		r.ask("quantity: empty")
		return
	case strings.Trim(text, "? ") == "":
		r.ask("quantity: not known to the owner")
		return
	}
	if isNone(text) {
		none(r, text)
		return
	}
	if at := roughly().FindStringIndex(text); at != nil && at[1] < len(text) {
		r.About = true
		text = strings.TrimSpace(text[at[1]:])
	}
	if n, ok := countOf(text); ok {
		takeCount(r, text, n)
		return
	}
	if n, ok := countOf(strings.TrimSpace(plusMinus().ReplaceAllString(text, ""))); ok {
		takeCount(r, text, n)
		r.ask("quantity: the owner is not sure")
		return
	}
	r.About = false
	r.ask(fmt.Sprintf("quantity: %q is no whole number", text))
}

func takeCount(r *Row, text string, n int) {
	if n == 0 {
		none(r, text)
		return
	}
	r.Quantity, r.Counted, r.Paired = n, true, pairs().MatchString(text)
}

// none notes that a quantity says there is no piece.
func none(r *Row, text string) {
	r.Nothing = fmt.Sprintf("%q is written", text)
	if text == "0" {
		r.ask("quantity: none, 0 is written")
		return
	}
	r.ask("quantity: none, " + r.Nothing)
}

// countOf reads "2x", "x4", "2 pcs", "a pair", "set of 3", "5+1 spare", "two".
func countOf(text string) (int, bool) {
	lower := strings.ToLower(text)
	if n, ok := countNames[lower]; ok {
		return n, true
	}
	times := func(m []string) int {
		if n, err := strconv.Atoi(m[1]); err == nil {
			return n
		}
		return 1
	}
	if m := plainCount().FindStringSubmatch(text); m != nil {
		return times(m), true
	}
	if m := setOf().FindStringSubmatch(text); m != nil {
		return times(m), true
	}
	if m := oneSet().FindStringSubmatch(text); m != nil {
		return times(m), true
	}
	if m := pairs().FindStringSubmatch(text); m != nil {
		return 2 * times(m), true
	}
	if m := spare().FindStringSubmatch(text); m != nil {
		more, _ := strconv.Atoi(m[2])
		return times(m) + more, true
	}
	return 0, false
}
