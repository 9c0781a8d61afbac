package partslist

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"matewell/graph"
)

// numbers reads the part numbers of one sheet.
type numbers struct {
	brands []graph.Brand // those with a form of their own
	told   graph.BrandID // the maker, when somebody said so
	// main is the maker whose form most numbers of the column have.
	main graph.BrandID
	// spelling is how most numbers of the column are written, as a mask; empty
	// when none is common.
	spelling graph.NumberForm
	// digits is how many digits the numbers have that kept zeros in front, when
	// all of those have as many; 0 when there are none.
	digits int
}

// newNumbers learns from all cells of a column.
func newNumbers(opts Options, values []string) *numbers {
	n := &numbers{told: opts.Brand}
	for _, b := range opts.Brands {
		if b.Form != (graph.NumberForm{}) {
			n.brands = append(n.brands, b)
		}
	}
	masks, zeros := map[string]int{}, map[int]int{}
	for _, v := range values {
		v = strings.TrimPrefix(v, "'")
		if allDigits(v) && v[0] == '0' && len(v) >= 5 {
			zeros[len(v)]++
		}
		if mask := maskOf(v); mask != "" {
			masks[mask]++
		}
	}
	if len(zeros) == 1 {
		for length, count := range zeros {
			if count > 1 {
				n.digits = length
			}
		}
	}
	n.spelling.Core = commonest(masks, len(values))
	n.main = n.mainMaker(values)
	return n
}

// mainMaker is the maker whose form more than half of the numbers have, and no
// other maker's.
func (n *numbers) mainMaker(values []string) graph.BrandID {
	counts := map[graph.BrandID]int{}
	for _, v := range values {
		if makers := n.makersOf(strings.TrimPrefix(v, "'")); len(makers) == 1 {
			counts[makers[0].brand]++
		}
	}
	for _, b := range n.brands {
		if counts[b.ID]*2 > len(values) {
			return b.ID
		}
	}
	return ""
}

// commonest is the mask that more than a third of the numbers have, and that
// has more than every other mask of the same letters and digits.
func commonest(masks map[string]int, of int) string {
	best := ""
	for mask, count := range masks {
		if count > masks[best] || count == masks[best] && mask < best {
			best = mask
		}
	}
	if masks[best]*3 < of || masks[best] < 3 || graph.NumberKey(best) == best {
		return ""
	}
	return best
}

// maskOf is the shape of a number: 9 for a digit, A for a letter, and what
// stands between. Text that can't be a number has none.
func maskOf(text string) string {
	if len(text) < 3 || len(text) > 40 || !looksLikeNumber(text) {
		return ""
	}
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsDigit(r):
			return '9'
		case unicode.IsLetter(r):
			return 'A'
		}
		return r
	}, text)
}

var numberPattern = lazily(`^'?[\p{L}\p{N}][\p{L}\p{N} ./_#+*\-–]*$`)

// looksLikeNumber says whether text may be a part number: it has digits, and
// not more than a few letters in a row.
func looksLikeNumber(text string) bool {
	text = strings.TrimSpace(text)
	if text == "" || len(text) > 40 || !numberPattern().MatchString(text) {
		return false
	}
	digits, run, longest := 0, 0, 0
	for _, r := range text {
		switch {
		case unicode.IsDigit(r):
			digits++
			run = 0
		case unicode.IsLetter(r):
			run++
			longest = max(longest, run)
		default:
			run = 0
		}
	}
	return digits >= 3 && longest <= 5 || digits >= 2 && longest <= 3 && len(text) >= 4 && !strings.Contains(text, " ")
}

var (
	scientific  = lazily(`^(\d)(?:[.,](\d+))?[eE]([+-]?)(\d+)$`)
	tooNarrow   = lazily(`^#{3,}$`)
	formulaBad  = lazily(`^#(REF|N/A|VALUE|NAME|DIV/0|NULL|NUM|BEZUG|NV|WERT|ZAHL)[!?]?`)
	sheetDay    = lazily(`^(?i)(\d{1,2})[-. /]([a-zäéû]{3,4})\.?$`)
	sheetMonth  = lazily(`^(?i)([a-zäéû]{3,4})\.?[-. /](\d{2}|\d{4})$`)
	wholeDay    = lazily(`^(\d{4})-(\d{2})-(\d{2})$`)
	slashedDay  = lazily(`^(\d{1,2})[/.](\d{1,2})[/.](\d{4})$`)
	noneWritten = lazily(`^(?i)(|-+|–|\?+|n/?a|tba|tbc|tbd|none|unknown|k\.?\s?a\.?|fehlt|ohne|unbekannt|keine?|sans|inconnue?|x+)$`)
)

// lostNumber says what a sheet programme made of a number, when it did; what it
// may have been goes to candidates.
func lostNumber(text string, typed cellType) (why string, candidates []string, lost bool) {
	if tooNarrow().MatchString(text) {
		return "number: column was too narrow when it was saved", nil, true
	}
	if strings.HasPrefix(text, "=") {
		return fmt.Sprintf("number: a formula, %s, and not what it comes to", text), nil, true
	}
	if formulaBad().MatchString(text) {
		return fmt.Sprintf("number: a formula that failed, %s", text), nil, true
	}
	if m := scientific().FindStringSubmatch(text); m != nil {
		exponent, _ := strconv.Atoi(m[4])
		short := ""
		if digits := m[1] + m[2]; m[3] != "-" && exponent >= len(m[2]) {
			short = fmt.Sprintf(" (%sE%d)", digits, exponent-len(m[2]))
		}
		return fmt.Sprintf("number: turned into %s by a sheet programme; digits are lost, or it was a number with an E in "+
			"it%s", text, short), nil, true
	}
	if m := sheetDay().FindStringSubmatch(text); m != nil && month(m[2]) > 0 {
		day, _ := strconv.Atoi(m[1])
		return "number: read as a date by a sheet programme", dayCandidates(day, month(m[2])), true
	}
	if m := sheetMonth().FindStringSubmatch(text); m != nil && month(m[1]) > 0 {
		return "number: read as month and year by a sheet programme", []string{fmt.Sprintf("%d-%s", month(m[1]), m[2]),
			fmt.Sprintf("%02d-%s", month(m[1]), m[2])}, true
	}
	if m := wholeDay().FindStringSubmatch(text); m != nil && (typed == cellDate || isDay(m[2], m[3])) {
		mon, _ := strconv.Atoi(m[2])
		day, _ := strconv.Atoi(m[3])
		return "number: read as a date by a sheet programme", append(dayCandidates(day, mon), fmt.Sprintf("%d-%s", mon,
			m[1][2:])), true
	}
	if m := slashedDay().FindStringSubmatch(text); m != nil && isDay(m[2], m[1]) {
		return "number: read as a date by a sheet programme", []string{m[1] + "-" + m[2] + "-" + m[3][2:],
			m[1] + "/" + m[2] + "/" + m[3][2:]}, true
	}
	return "", nil, false
}

func isDay(months, days string) bool {
	m, _ := strconv.Atoi(months)
	d, _ := strconv.Atoi(days)
	return 1 <= m && m <= 12 && 1 <= d && d <= 31
}

func dayCandidates(day, month int) []string {
	return []string{fmt.Sprintf("%d-%d", day, month), fmt.Sprintf("%d/%d", day, month), fmt.Sprintf("%02d-%02d", day,
		month), fmt.Sprintf("%d-%d", month, day)}
}

var monthNames = [...]string{"jan janv", "feb fév fev", "mar mär mrz mars", "apr avr avri", "may mai mag",
	"jun juin giu", "jul juil lug",
	"aug aoû août aou ago", "sep sept set", "oct okt ott", "nov", "dec dez déc dic"}

// month is the number of a month written short; 0 when it is none.
func month(text string) int {
	text = strings.ToLower(text)
	for i, names := range monthNames {
		if slices.Contains(strings.Fields(names), text) {
			return i + 1
		}
	}
	return 0
}

// noNumber is what is said of a row whose cell for the number is empty.
const noNumber = "number: none is written"

// read fills in the number of a row from its cell.
func (n *numbers) read(r *Row, c cell) {
	text := c.text
	if noneWritten().MatchString(text) {
		r.cannot(noNumber)
		return
	}
	r.Written = text
	if brand, number, ok := n.known(text); ok { // a maker may well write what looks like a day
		if _, _, lost := lostNumber(text, c.typed); !lost {
			r.Maker, r.Number = brand, number
			return
		}
	}
	if why, candidates, lost := lostNumber(text, c.typed); lost {
		r.cannot(why)
		r.Candidates = candidates
		return
	}
	if trimmed, cut := strings.CutPrefix(text, "'"); cut {
		text = strings.TrimSpace(trimmed)
		r.how("apostrophe removed")
		if brand, number, ok := n.known(text); ok {
			r.Maker, r.Number = brand, number
			return
		}
	}
	if m := timesNumber().FindStringSubmatch(text); m != nil {
		if one, ok := n.one(m[2]); ok {
			r.Number, r.Maker = one.Number, one.Maker
			count, _ := strconv.Atoi(m[1])
			takeCount(r, strconv.Itoa(count), count)
			r.how("how many stood before the number")
			return
		}
	}
	if n.severalNumbers(r, text) || n.zerosLost(r, text) {
		return
	}
	if !looksLikeNumber(text) && len(n.brands) > 0 {
		r.cannot(fmt.Sprintf("number: %q is written like no maker's numbers", text))
		return
	}
	n.plain(r, text)
}

// plain takes a number that no maker's form reads, in the spelling that most
// numbers of the column have.
func (n *numbers) plain(r *Row, text string) {
	switch {
	case !strings.ContainsFunc(text, unicode.IsDigit) && !looksLikeNumber(text):
		r.cannot(fmt.Sprintf("number: %q has no digit in it", text))
		return
	case len(text) > 64:
		r.cannot("number: longer than any number")
		return
	}
	r.Maker, r.Number = n.told, text
	if makers := n.makersOf(text); len(makers) > 0 {
		var names []string
		for _, m := range makers {
			names = append(names, string(m.brand))
		}
		r.ask("maker: the number has the form of " + strings.Join(names, " and of "))
	}
	if n.spelling.Core == "" {
		return
	}
	if as, err := n.spelling.Parse(text); err == nil && as.Text != text &&
		len(graph.NumberKey(as.Text)) == len(graph.NumberKey(text)) {
		r.Number = as.Text
		r.how(fmt.Sprintf("%q written as the others are", text))
	}
}

// madeBy is a number as one maker writes it.
type madeBy struct {
	brand  graph.BrandID
	number string
	// sure is false when digits alone speak for the maker, and none of the
	// signs that its numbers have between them is written.
	sure bool
}

// makersOf are the makers whose form reads a text, with or without the maker's
// name or its first letters in front.
func (n *numbers) makersOf(text string) []madeBy {
	var found []madeBy
	for _, b := range n.brands {
		if n.told != "" && b.ID != n.told {
			continue
		}
		as, fits := whole(b.Form, text)
		sure := strings.ContainsFunc(as, unicode.IsLetter) || graph.NumberKey(as) == as || graph.NumberKey(text) != text
		if !fits {
			as, fits = whole(b.Form, withoutMaker(text, string(b.ID)))
			sure = true
		}
		if fits {
			found = append(found, madeBy{b.ID, as, sure || b.ID == n.told})
		}
	}
	return found
}

// known reads a number by the form of a maker. Two makers that read it give
// none, nor does one for whom only the count of digits speaks, unless most
// numbers of the list are that maker's.
func (n *numbers) known(text string) (brand graph.BrandID, number string, ok bool) {
	makers := n.makersOf(text)
	if len(makers) > 1 {
		makers = slices.DeleteFunc(makers, func(m madeBy) bool { return m.brand != n.main })
	}
	if len(makers) != 1 || !makers[0].sure && makers[0].brand != n.main {
		return "", "", false
	}
	return makers[0].brand, makers[0].number, true
}

// whole reads text by a form that takes all its letters and digits and adds none.
func whole(form graph.NumberForm, text string) (string, bool) {
	as, err := form.Parse(text)
	return as.Text, err == nil && len(graph.NumberKey(as.Text)) == len(graph.NumberKey(text))
}

// withoutMaker cuts a maker's name, or two letters of it and more, off the front.
func withoutMaker(text, brand string) string {
	word, rest, cut := strings.Cut(text, " ")
	word = strings.Trim(word, ".:-")
	if cut && len(word) >= 2 && strings.IndexFunc(word, unicode.IsDigit) < 0 && abbreviates(strings.ToLower(word),
		strings.ToLower(brand)) {
		return strings.TrimSpace(rest)
	}
	return text
}

// abbreviates says whether the letters of a short word stand in a name in that
// order, the first one in front.
func abbreviates(short, name string) bool {
	if short == "" || name == "" || short[0] != name[0] {
		return false
	}
	for _, r := range name {
		if strings.HasPrefix(short, string(r)) {
			short = short[len(string(r)):]
		}
	}
	return short == ""
}

// zerosLost restores zeros in front that a sheet programme took away: by the
// form of a maker it is known, by the other numbers of the column it is asked.
func (n *numbers) zerosLost(r *Row, text string) bool {
	if !allDigits(text) {
		return false
	}
	var restored []string
	var maker graph.BrandID
	for _, b := range n.brands {
		zeros := len(b.Form.Core) - len(strings.TrimLeft(b.Form.Core, "0"))
		if missing := len(b.Form.Core) - len(text); allDigits(b.Form.Core) && missing > 0 && missing <= zeros &&
			(n.told == "" || n.told == b.ID) {
			padded := strings.Repeat("0", missing) + text
			if as, err := b.Form.Parse(padded); err == nil && as.Text == padded {
				restored, maker = append(restored, padded), b.ID
			}
		}
	}
	switch {
	case len(restored) == 1:
		r.Number, r.Maker = restored[0], maker
		r.how(fmt.Sprintf("leading zeros restored: all others of this maker have %s digits", countWord(len(restored[0]))))
		return true
	case len(restored) > 1:
		r.cannot("number: zeros in front are lost, and two makers may be meant")
		r.Candidates = restored
		return true
	case n.digits > len(text):
		padded := strings.Repeat("0", n.digits-len(text)) + text
		r.ask(fmt.Sprintf("number: zeros in front may be lost: %s or %s", padded, text))
		r.Candidates = []string{padded, text}
		return true
	}
	return false
}

var countWords = [...]string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
	"eleven", "twelve"}

func countWord(n int) string {
	if n < len(countWords) {
		return countWords[n]
	}
	return strconv.Itoa(n)
}

var (
	replaced = lazily(`(?i)\s*(?:->|=>|→|»|\b(?:replaced by|superseded by|superceded by|now|new no\.?|new|ersetzt durch|neu|jetzt|remplacée? par|nouveau|sostituito da)\b:?)\s*`)
	replaces = lazily(`(?i)\s*(?:<-|<=|←|\b(?:was|replaces|supersedes|formerly|old no\.?|old|ex|ersetzt|früher|alt|remplace|ancien|ancienne|anc\.)\b:?)\s*`)
	instead  = lazily(`(?i)\s*\b(?:use|order|fit|nimm|verwende|utiliser|prendre)\b:?\s*`)
	// timesNumber is a number with how many before it: "2x 207.4418".
	timesNumber = lazily(`^(\d{1,3})\s*[xX×]\s+(\S.*)$`)
	between     = lazily(`\s*(?:[,;\n&]|\s/\s|\s\+\s|\bor\b|\boder\b|\bou\b|\band\b|\bund\b|\bet\b)\s*`)
)

// severalNumbers takes a cell with more than one number apart. Only words that
// say which one takes the other's place settle which is meant.
func (n *numbers) severalNumbers(r *Row, text string) bool {
	for _, order := range []struct {
		cut   func() []string
		newer bool
	}{{func() []string { return replaced().Split(text, 2) }, true}, {func() []string { return replaces().Split(text, 2) },
		false}} {
		ends := order.cut()
		if len(ends) != 2 {
			continue
		}
		first, okFirst := n.one(ends[0])
		second, okSecond := n.one(strings.Trim(ends[1], ")] "))
		if !okFirst || !okSecond {
			continue
		}
		r.Number, r.Maker = first.Number, first.Maker
		if order.newer {
			r.Newer = second.Number
		} else {
			r.Older = second.Number
		}
		return true
	}
	parts := between().Split(text, -1)
	if len(parts) < 2 {
		return false
	}
	var found []string
	for _, p := range parts {
		if one, ok := n.one(p); ok {
			found = append(found, one.Number)
		}
	}
	if len(found) < 2 {
		return false
	}
	r.Candidates = found
	r.cannot(fmt.Sprintf("number: %s numbers in one cell, and nothing says which is meant", countWord(len(found))))
	return true
}

// one reads text that must be a single number.
func (n *numbers) one(text string) (Row, bool) {
	text = strings.Trim(text, "()[] ")
	if brand, number, ok := n.known(text); ok {
		return Row{Number: number, Maker: brand}, true
	}
	if len(n.brands) > 0 || !looksLikeNumber(text) || strings.ContainsAny(text, ",;") {
		return Row{}, false
	}
	var r Row
	n.plain(&r, text)
	return r, r.Number != ""
}

// superseded finds, in a note, the number that takes a part's place, or whose
// place it takes.
func (n *numbers) superseded(r *Row, note string) {
	for _, order := range []struct {
		words func() []int
		into  *string
	}{{func() []int { return replaced().FindStringIndex(note) }, &r.Newer},
		{func() []int { return replaces().FindStringIndex(note) }, &r.Older},
		{func() []int { return instead().FindStringIndex(note) }, &r.Newer}} {
		at := order.words()
		if at == nil || *order.into != "" {
			continue
		}
		words := strings.Fields(note[at[1]:])
		for take := min(3, len(words)); take > 0; take-- {
			one, ok := n.one(strings.Trim(strings.Join(words[:take], " "), ".,;:"))
			if ok && one.Number != r.Number && (len(n.brands) > 0 || n.spelling.Core == "" || n.spelt(one.Number)) {
				*order.into = one.Number
				n.more(r, strings.Join(words[take:], " "))
				return
			}
		}
	}
}

// more asks when a note names another number behind the first.
func (n *numbers) more(r *Row, rest string) {
	at := between().FindStringIndex(rest)
	if at == nil || at[0] != 0 {
		return
	}
	words := strings.Fields(rest[at[1]:])
	for take := min(3, len(words)); take > 0; take-- {
		if one, ok := n.one(strings.Trim(strings.Join(words[:take], " "), ".,;:")); ok {
			r.ask(fmt.Sprintf("superseded: the note names more than one number, %s too", one.Number))
			return
		}
	}
}

func (n *numbers) spelt(number string) bool {
	_, err := n.spelling.Parse(number)
	return err == nil
}
