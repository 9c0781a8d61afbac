package partslist

import (
	"regexp"
	"strconv"
	"strings"
	"sync"
)

// lazily compiles a pattern when it is first used, so that a start of the
// program does not pay for it.
func lazily(pattern string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(pattern) })
}

// plainNumber prints a number of a spreadsheet without the noise of binary
// fractions.
func plainNumber(n float64) string {
	text := strconv.FormatFloat(n, 'f', 10, 64)
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}

// figures is how a sheet writes numbers.
type figures struct{ decimal, thousands string }

var moneyFigure = lazily(`-?\d[\d.,' ]*`)

// learnFigures finds the decimal sign and the sign between thousands from what
// stands in columns of prices, and in sizes where there are no prices.
func learnFigures(values []string) figures {
	votes := map[string]int{}
	groups := map[string]int{}
	for _, v := range values {
		n := strings.TrimSpace(moneyFigure().FindString(v))
		last := strings.LastIndexAny(n, ".,")
		if last < 0 {
			continue
		}
		sign, behind := n[last:last+1], len(n)-last-1
		before := n[:last]
		switch {
		case behind == 1 || behind == 2:
			votes[sign]++
			if g := strings.IndexAny(before, ".,' "); g >= 0 && before[g:g+1] != sign &&
				len(before)-strings.LastIndexAny(before, ".,' ")-1 == 3 {
				groups[before[g:g+1]]++
			}
		case behind == 3 && strings.Count(n, sign) > 1:
			groups[sign]++
		}
	}
	var f figures
	switch {
	case votes["."] > votes[","]:
		f.decimal = "."
	case votes[","] > votes["."]:
		f.decimal = ","
	}
	for sign := range groups {
		if sign != f.decimal && groups[sign] > groups[f.thousands] {
			f.thousands = sign
		}
	}
	return f
}

// parse reads a number as the sheet writes it. What may be read in two ways is
// no number: "1.234" in a sheet that nothing is known of.
func (f figures) parse(text string) (float64, bool) {
	text = strings.TrimSpace(text)
	if text == "" {
		return 0, false
	}
	if f.decimal == "" && strings.ContainsAny(text, ".,") {
		if learned := learnFigures([]string{text}); learned.decimal != "" {
			f = learned
		} else {
			return 0, false
		}
	}
	whole, fraction := text, ""
	if f.decimal != "" {
		whole, fraction, _ = strings.Cut(text, f.decimal)
	}
	sign := ""
	if strings.HasPrefix(whole, "-") {
		sign, whole = "-", whole[1:]
	}
	parts := strings.FieldsFunc(whole, func(r rune) bool { return strings.ContainsRune(".,' ", r) })
	for i, p := range parts {
		if !allDigits(p) || i > 0 && len(p) != 3 {
			return 0, false
		}
	}
	if len(parts) == 0 || fraction != "" && !allDigits(fraction) {
		return 0, false
	}
	n, err := strconv.ParseFloat(sign+strings.Join(parts, "")+"."+fraction+"0", 64)
	return n, err == nil
}

func allDigits(text string) bool {
	return text != "" && strings.Trim(text, "0123456789") == ""
}

// currencies are the signs and words of money. A franc is told by the language
// of the list.
var currencies = [...]struct{ sign, code string }{
	{"€", "EUR"}, {"eur", "EUR"}, {"euro", "EUR"}, {"£", "GBP"}, {"gbp", "GBP"}, {"$", "USD"}, {"usd", "USD"},
	{"dm", "DEM"}, {"dem", "DEM"}, {"chf", "CHF"}, {"sfr", "CHF"}, {"frf", "FRF"}, {"ff", "FRF"}, {"sek", "SEK"},
	{"dkk", "DKK"}, {"nok", "NOK"}, {"lit", "ITL"}, {"itl", "ITL"}, {"öS", "ATS"}, {"ats", "ATS"}, {"zł", "PLN"}, {"pln",
		"PLN"},
	{"hfl", "NLG"}, {"nlg", "NLG"}, {"bef", "BEF"}, {"kč", "CZK"}, {"czk", "CZK"},
}

// price reads an amount and the currency beside it, if any. ok is false for a
// cell that holds no amount.
func (f figures) price(text, language string) (amount float64, currency string, ok bool) {
	figure := strings.TrimSpace(moneyFigure().FindString(text))
	if figure == "" {
		return 0, "", false
	}
	rest := strings.TrimSpace(strings.Replace(text, figure, " ", 1))
	currency = currencyOf(rest, language)
	if rest != "" && currency == "" && strings.Trim(rest, "-–,. ") != "" {
		return 0, "", false
	}
	amount, ok = f.parse(strings.TrimRight(figure, ".,' "))
	return amount, currency, ok
}

func currencyOf(text, language string) string {
	text = strings.ToLower(strings.Trim(strings.TrimSpace(text), "."))
	for _, c := range currencies {
		if text == strings.ToLower(c.sign) {
			return c.code
		}
	}
	if (text == "f" || text == "fr") && language == "fr" {
		return "FRF"
	}
	if text == "kr" {
		return map[string]string{"sv": "SEK"}[language]
	}
	return ""
}

// headingCurrency finds a currency that stands in a heading: "£ each".
func headingCurrency(heading, language string) string {
	for _, word := range strings.FieldsFunc(heading, func(r rune) bool { return strings.ContainsRune(" ()[]/,:", r) }) {
		if code := currencyOf(word, language); code != "" && strings.ToLower(word) != "f" {
			return code
		}
	}
	return ""
}
