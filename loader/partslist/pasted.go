package partslist

import (
	"regexp"
	"strings"
)

// pasted tells a text that was pasted into a sheet, such as the confirmation of
// an order: no heading, nearly all of it in one column, and number and name in
// one cell again and again.
func pasted(g grid) bool {
	items := 0
	for i, row := range g.rows {
		if _, ok := itemLine(g.at(i, 0).text); ok && filled(row) <= 2 {
			items++
		}
	}
	return items >= 2
}

var itemPattern = lazily(`^(\S+(?: \S+)?)\s+[-–—:]\s+(.*\pL.*)$`)

// itemLine takes "VB.0110 - Brake Caliper" apart.
func itemLine(text string) ([2]string, bool) {
	m := itemPattern().FindStringSubmatch(text)
	if m == nil || !looksLikeNumber(m[1]) || strings.HasSuffix(m[1], ":") {
		return [2]string{}, false
	}
	return [2]string{m[1], m[2]}, true
}

var (
	pastedCount = lazily(`(?i)^(?:(?:quantity|qty|menge|anzahl|quantité|qté)\s*[:=]?\s*(\d{1,4})|(\d{1,4})\s*[x×])`)
	pastedHead  = lazily(`(?i)^(?:your items|items|your order|order details|ihre artikel|artikel|positionen|ihre bestellung|vos articles|articles|votre commande):?$`)
	pastedState = lazily(`(?i)^(?:in stock|backorder|back order|available|ships|dispatched|shipped|lieferbar|auf lager|nachbestellt|rückstand|en stock|disponible|en rupture)`)
	labelLine   = lazily(`(?i)^(?:order|bestell|commande|date|datum|ship|liefer|customer|kunde|invoice|rechnung|facture|track|thank|danke|vielen|merci|returns|call)`)
)

// understandPasted reads such a text: an item line and the lines below it, up
// to a blank one.
func understandPasted(r *reader) {
	s := r.sheet
	learnPasted(r)
	item, listed := -1, false
	for i, cells := range r.rows {
		row := Row{N: i + 1, Text: strings.Join(filledTexts(cells), " | ")}
		for _, c := range cells {
			row.Cells = append(row.Cells, c.text)
		}
		first := r.at(i, 0).text
		found, isItem := itemLine(first)
		switch {
		case emptyRow(cells):
			row.Is, item = IsBlank, -1
		case isItem && !labelLine().MatchString(first):
			pastedItem(r, &row, found)
			item, listed = i, true
		case isTotal(first):
			total(r, &row, cells)
			item = -1
		case item >= 0:
			row.Is = IsContinuation
			continues(r, &s.Rows[item], cells)
		case pastedHead().MatchString(first) && !listed:
			row.Is, row.Under = IsHeading, first
		default:
			row.Is = IsGarbage
		}
		s.Rows = append(s.Rows, row)
	}
	for i := range s.Rows {
		row := &s.Rows[i]
		if row.Is == IsPart {
			if !row.Counted && len(row.Ask) == 0 {
				quantity(row, "")
			}
			again(r, row)
		}
	}
}

// learnPasted finds in the whole text how its numbers and amounts are written, its
// language, and whether prices stand in a column of their own.
func learnPasted(r *reader) {
	s := r.sheet
	s.Columns = []Column{{Letter: "A", Field: FieldMixed, How: "content"}}
	var numbersOf, amounts []string
	priceColumn := -1
	for i, row := range r.rows {
		if item, ok := itemLine(r.at(i, 0).text); ok {
			numbersOf = append(numbersOf, item[0])
		}
		for at := 1; at < len(row); at++ {
			if hasDigit(row[at].text) {
				amounts = append(amounts, row[at].text)
				priceColumn = at
			}
		}
	}
	if priceColumn > 0 {
		s.Columns = append(s.Columns, Column{Letter: letter(priceColumn), Field: FieldPrice, How: "content"})
	}
	r.numbers = newNumbers(r.opts, numbersOf)
	r.figures = learnFigures(amounts)
	s.Language = pastedLanguage(r.rows)
}

func pastedItem(r *reader, row *Row, item [2]string) {
	row.Is, row.Name = IsPart, readable(item[1])
	row.Status = Ordered
	r.numbers.read(row, cell{text: item[0]})
}

// continues takes what the lines below an item say of it.
func continues(r *reader, row *Row, cells []cell) {
	for i, c := range cells {
		if m := pastedCount().FindStringSubmatch(c.text); m != nil && i == 0 {
			quantity(row, m[1]+m[2])
		} else if i == 0 && pastedState().MatchString(c.text) {
			row.Note = strings.TrimSpace(row.Note + "\n" + c.text)
		} else if amount, code, ok := r.figures.price(c.text, r.sheet.Language); ok && i > 0 {
			row.Price, row.Priced, row.Currency = amount, true, code
		} else if i == 0 && c.text != "" {
			row.Note = strings.TrimSpace(row.Note + "\n" + c.text)
		}
	}
}

var pastedWords = [...]struct {
	language string
	words    func() *regexp.Regexp
}{
	{"en", lazily(`(?i)\b(?:order|quantity|shipping|your|in stock|the)\b`)},
	{"de", lazily(`(?i)\b(?:bestellung|menge|versand|ihre?|lieferbar|und|mwst)\b`)},
	{"fr", lazily(`(?i)\b(?:commande|quantité|livraison|votre|vos|tva|en stock)\b`)},
}

// pastedLanguage is the language of which the most lines have a word.
func pastedLanguage(rows [][]cell) string {
	counts := map[string]int{}
	for _, cells := range rows {
		text := strings.Join(filledTexts(cells), " ")
		for _, w := range pastedWords {
			counts[w.language] += btoi(w.words().MatchString(text))
		}
	}
	return mostly(counts)
}
