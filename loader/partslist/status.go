package partslist

import (
	"fmt"
	"slices"
	"strings"
)

// statusPhrases are the ways to say where a part is, in capital-free words.
var statusPhrases = [...]struct {
	status  Status
	phrases string
}{
	{Have, "yes|y|ok|have|got|got it|in box|in the box|in " +
		"stock|here|arrived|received|present|fitted|done|bought|✓|✔|☑|true|on shelf|spare|" +
		"ja|j|vorhanden|da|erhalten|geliefert|gekauft|im " +
		"regal|verbaut|oui|o|reçu|reçue|recu|acheté|livré|si|sì|sí|tengo|finns"},
	{Missing, "no|n|missing|need|needed|to buy|buy|wanted|lost|not got|none|to get|to order|to find|✗|✘|☐|false|gone|" +
		"nein|fehlt|fehlend|kaufen|besorgen|gesucht|brauche|benötigt|nicht da|non|manque|manquant|manquante|à acheter|à " +
		"trouver|à commander|nej|falta|saknas"},
	{Ordered, "ordered|on order|on its way|on the way|in the post|in transit|backorder|back order|coming|sent|shipped|" +
		"bestellt|unterwegs|kommt|im zulauf|commandé|commandée|en route|en cours|ordinato|pedido|beställd"},
	{NotKnown, "?|??|???|unknown|not sure|maybe|check|tbc|unbekannt|unklar|prüfen|vielleicht|inconnu|à vérifier|pas sûr"},
	{NotNeeded, "n/a|na|not needed|not required|not fitted|entfällt|nicht nötig|pas nécessaire|sans objet"},
}

// statusOf reads one of the phrases.
func statusOf(text string) (Status, bool) {
	text = strings.ToLower(strings.TrimSpace(text))
	for _, try := range []string{text, strings.TrimRight(text, " .!")} {
		for _, s := range statusPhrases {
			if slices.Contains(strings.Split(s.phrases, "|"), try) {
				return s.status, true
			}
		}
	}
	return "", false
}

// sense is what a yes in a column of states means: a column "got?" and a column
// "still missing" turn it round.
type sense struct{ yes, no Status }

func senseOf(heading string) sense {
	h := Fold(heading)
	for _, word := range strings.Fields("missing need needed fehlt fehlend kaufen buy besorgen manque wanted") {
		if HasWord(h, word) {
			return sense{Missing, Have}
		}
	}
	for _, word := range strings.Fields("ordered bestellt commande") {
		if HasWord(h, word) {
			return sense{Ordered, ""}
		}
	}
	return sense{Have, Missing}
}

// state fills in where the part is.
func state(r *Row, text string, means sense) {
	text = strings.TrimSpace(text)
	if text == "" || strings.Trim(text, "-–") == "" {
		return
	}
	if strings.EqualFold(text, "x") {
		if means == (sense{Have, Missing}) {
			r.ask(`status: "x" may mean got or missing`)
			return
		}
		r.Status = means.yes
		return
	}
	status, ok := statusOf(text)
	switch {
	case !ok:
		r.ask(fmt.Sprintf("status: %q is not understood", text))
	case status == Have:
		r.Status = means.yes
	case status == Missing:
		r.Status = means.no
	default:
		r.Status = status
	}
}
