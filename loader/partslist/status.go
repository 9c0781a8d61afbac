package partslist

import (
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
)

// statusPhrases are the words that say where a part is, whatever stands above them.
var statusPhrases = [...]struct {
	status  Status
	phrases string
}{
	{Have, "have|have it|got|got it|in box|in the box|in stock|here|arrived|received|present|fitted|done|bought|on " +
		"shelf|spare|vorhanden|da|erhalten|geliefert|gekauft|im regal|verbaut|reçu|reçue|recu|acheté|livré|tengo|finns"},
	{Missing, "missing|need|needed|to buy|buy|wanted|lost|not got|don't have|gone|to get|to order|to find|not here|" +
		"order|fehlt|fehlend|kaufen|besorgen|zu bestellen|gesucht|brauche|benötigt|nicht da|manque|manquant|manquante|à " +
		"acheter|à trouver|à commander|falta|saknas"},
	{Ordered, "ordered|on order|on its way|on the way|in the post|in transit|backorder|back order|coming|sent|shipped|" +
		"bestellt|unterwegs|kommt|im zulauf|commandé|commandée|en route|en cours|ordinato|pedido|beställd"},
	{NotKnown, "?|??|???|unknown|not sure|maybe|check|tbc|unbekannt|unklar|prüfen|vielleicht|inconnu|à vérifier|pas sûr"},
	{NotNeeded, "n/a|na|not needed|not required|not fitted|entfällt|nicht nötig|pas nécessaire|sans objet"},
}

// yesses and noes answer what stands above them, and mean nothing without it.
const (
	yesses = "yes|y|ok|✓|✔|☑|true|ja|j|oui|o|si|sì|sí"
	noes   = "no|n|none|✗|✘|☐|false|nein|non|nej"
)

// statusOf reads one of the phrases; a yes means what the heading asks for, as a no does.
func statusOf(text string, means sense) (Status, bool) {
	text = strings.ToLower(strings.TrimSpace(text))
	for _, try := range []string{text, strings.TrimRight(text, " .!")} {
		for _, s := range statusPhrases {
			if isPhrase(s.phrases, try) {
				return s.status, true
			}
		}
		switch {
		case isPhrase(yesses, try):
			return means.yes, true
		case isPhrase(noes, try):
			return means.no, true
		}
	}
	return "", false
}

func isPhrase(phrases, text string) bool { return slices.Contains(strings.Split(phrases, "|"), text) }

// sense is what a yes and a no in a column of states mean: a column "got?" and a column
// "still missing" turn them round. Both are empty where nobody can tell.
type sense struct{ yes, no Status }

// asksGot is the sense of a column that asks whether a part is there.
var asksGot = sense{Have, Missing}

// senseOf reads it off a heading. "Have / missing" asks both, and a yes under it says nothing.
func senseOf(heading string) sense {
	h := Fold(heading)
	asks := func(words string) bool {
		return slices.ContainsFunc(strings.Fields(words), func(word string) bool { return HasWord(h, word) })
	}
	lacks := asks("missing need needed fehlt fehlend kaufen buy besorgen manque wanted")
	got := asks("have got vorhanden da erhalten recu received stock present")
	switch {
	case lacks && got:
		return sense{}
	case lacks:
		return sense{Missing, Have}
	case asks("ordered bestellt commande"):
		return sense{Ordered, ""}
	}
	return asksGot
}

// state fills in where the part is: "have, box 3" says two things.
func state(r *Row, text string, means sense) {
	text = strings.TrimSpace(text)
	if text == "" || strings.Trim(text, "-–") == "" {
		return
	}
	if strings.EqualFold(text, "x") {
		if means == asksGot || means == (sense{}) {
			r.ask(`status: "x" may mean got or missing`)
			return
		}
		r.Status = means.yes
		return
	}
	status, rest, ok := readState(text, means)
	switch {
	case !ok:
		r.Note = strings.TrimSpace(r.Note + "\n" + text)
		switch c, told := graph.ConditionNamed(graph.ConditionTold(text)); {
		case !told:
			r.ask(fmt.Sprintf("status: %q is not understood; it is kept as a note", text))
		case c.Is != graph.Sound: // "new" alone may be what is to be bought
			r.Status = Have
		}
	case status == "" && means == (sense{}):
		r.ask(fmt.Sprintf("status: %q may mean got or missing", text))
	default:
		r.Status = status
		beside(r, rest)
	}
}

// readState reads a cell of a column of states, and what else it says.
func readState(text string, means sense) (status Status, rest string, ok bool) {
	if status, ok = statusOf(text, means); ok {
		return status, "", true
	}
	if container().MatchString(text) {
		return Have, text, true
	}
	at := strings.IndexAny(text, ",;(:")
	if at < 0 {
		return "", "", false
	}
	status, ok = statusOf(text[:at], means)
	return status, strings.Trim(text[at:], " \t,;:()"), ok
}

// beside keeps what stands behind a state: the box that the part lies in, or a remark.
func beside(r *Row, rest string) {
	switch {
	case rest == "":
	case r.Box == "" && r.Status == Have && container().MatchString(rest):
		r.Box = container().ReplaceAllString(rest, "$1")
	default:
		r.Note = strings.TrimSpace(r.Note + "\n" + rest)
	}
}

// container is what parts are kept in, with what stands on it.
var container = lazily(`(?i)^(?:is |lies |liegt )?(?:in |im |dans )?(?:the |der |die |la |le )?((?:box|bag|crate|tin|tub|jar|drawer|` +
	`shelf|kiste|karton|tüte|beutel|schachtel|dose|regal|carton|caisse|boîte|sachet|sac)s?\b.*)$`)
