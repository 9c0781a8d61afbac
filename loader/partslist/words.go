package partslist

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// Fold makes words comparable: small letters without accents, and one space
// where anything else stood.
func Fold(text string) string {
	var b strings.Builder
	space := false
	for _, r := range norm.NFD.String(strings.ToLower(strings.ReplaceAll(text, "ß", "ss"))) {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune("£€$#/", r):
			if space && b.Len() > 0 {
				b.WriteByte(' ')
			}
			space = false
			b.WriteRune(r)
		case unicode.Is(unicode.Mn, r):
		default:
			space = true
		}
	}
	return b.String()
}

// HasWord says whether a word, or words in a row, stand in a text as such.
func HasWord(text, word string) bool {
	for at := 0; ; {
		i := strings.Index(text[at:], word)
		if i < 0 {
			return false
		}
		start, end := at+i, at+i+len(word)
		if !letterBefore(text, start) && !letterAt(text, end) {
			return true
		}
		at = end
	}
}

func letterBefore(text string, at int) bool {
	runes := []rune(text[:at])
	return len(runes) > 0 && (unicode.IsLetter(runes[len(runes)-1]) || unicode.IsDigit(runes[len(runes)-1]))
}

func letterAt(text string, at int) bool {
	for _, r := range text[at:] {
		return unicode.IsLetter(r) || unicode.IsDigit(r)
	}
	return false
}

// groupWords are the assemblies that headings are told apart by, and the words of
// headings, without accents, the most telling first.
var groupWords = [...]struct{ group, words string }{
	{"front-brake", "front brake|bremse vorn|vorderradbremse|bremse vorne|frein avant|freno anteriore|freno " +
		"delantero|frambroms"},
	{"rear-brake", "rear brake|bremse hinten|hinterradbremse|frein arriere|freno posteriore|freno trasero|bakbroms"},
	{"front-wheel", "front wheel|vorderrad|roue avant|ruota anteriore|rueda delantera|framhjul"},
	{"rear-wheel", "rear wheel|hinterrad|roue arriere|ruota posteriore|rueda trasera|bakhjul"},
	{"fork", "fork|front fork|forks|gabel|telegabel|vordergabel|fourche|forcella|horquilla|framgaffel"},
	{"steering", "steering|yokes|handlebar|handlebars|lenkung|lenker|steuerkopf|direction" +
		"|guidon|sterzo|direccion|styrning"},
	{"drive", "chain and sprockets|chain sprockets|final drive|drive|drive " +
		"chain|chain|antrieb|kette|kettensatz|sekundarantrieb|transmission|chaine|trasmissione|catena|transmision"},
	{"suspension", "rear suspension|suspension|swingarm|swinging " +
		"arm|shocks|schwinge|federbein|federbeine|federung|bras oscillant|amortisseur|amortisseurs|suspension " +
		"arriere|sospensione|forcellone|suspension trasera"},
	{"carburettor", "carb and cables|carb cables|carburettor|carburettors|carburetor|carb|carbs|fuel " +
		"system|cables|vergaser|vergaser zuge|zuge|bowdenzuge|carburation|carburateur|carburateurs|carburatore|carburador"},
	{"electrics", "electrics|electrical|electric|wiring|lights|ignition|elektrik|elektrische " +
		"anlage|beleuchtung|zundung|electricite|allumage|eclairage|impianto elettrico|electrico"},
	{"engine", "engine|motor|moteur|motore|gearbox|getriebe|boite de vitesses|clutch|kupplung|embrayage"},
	{"body", "bodywork|body|fairing|panels|tank and " +
		"seat|verkleidung|karosserie|tank|sitzbank|carrosserie|carenage|carrozzeria|carroceria|seat"},
	{"frame", "frame|chassis|rahmen|cadre|telaio|bastidor|ram"},
	{"exhaust", "exhaust|auspuff|echappement|scarico|escape|avgas"},
}

// GroupOf is the assembly that a heading names; empty for one that names none.
func GroupOf(heading string) string {
	h := strings.Join(strings.FieldsFunc(Fold(heading), func(r rune) bool { return r == ' ' || r == '/' }), " ")
	for _, g := range groupWords {
		for _, words := range strings.Split(g.words, "|") {
			if h == words {
				return g.group
			}
		}
	}
	best, length := "", 0
	for _, g := range groupWords {
		for _, words := range strings.Split(g.words, "|") {
			if len(words) > length && len(strings.Fields(h)) <= 4 && HasWord(h, words) {
				best, length = g.group, len(words)
			}
		}
	}
	return best
}

// totalWords open a row that sums up, or a charge that is no part.
const totalWords = "total|totals|subtotal|sub total|grand total|sum|shipping|postage|p p|postage and " +
	"packing|carriage|delivery|vat|tax|discount|total amount|amount due|to pay|balance|" +
	"summe|gesamt|gesamtsumme|gesamtbetrag|rechnungsbetrag|endbetrag|betrag|zu " +
	"zahlen|zwischenbetrag|zwischensumme|endsumme|mwst|versand|versandkosten|porto|rabatt|netto|brutto|" +
	"total general|sous total|total ht|total ttc|tva|port|frais de port|remise|montant total|net a " +
	"payer|totale|iva|spedizione|envio|moms|frakt|summa"

func isTotal(text string) bool {
	f := strings.Trim(Fold(text), "/ ")
	for _, words := range strings.Split(totalWords, "|") {
		if f == words {
			return true
		}
		if rest, ok := strings.CutPrefix(f, words+" "); ok && (len(words) > 3 || words == "vat" || words == "tva" ||
			words == "iva") && strings.IndexFunc(rest, unicode.IsLetter) < 0 {
			return true
		}
	}
	return false
}
