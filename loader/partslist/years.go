package partslist

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Years is for which machines a part is, as a cell says it. Nothing set is a
// cell that says nothing.
type Years struct {
	All      bool
	From, To int    // both ends included; 0 for an open end; both 0 for no years
	List     []int  // single years, when they are no interval
	Frames   string // "up to 012345", "012346 on", "012345 to 013000"
	Mark     string // "early" or "late" within a year
}

// Has reports whether a year is among those told; every year where none was.
func (y Years) Has(year int) bool {
	if y.List != nil {
		return slices.Contains(y.List, year)
	}
	return year >= y.From && (y.To == 0 || year <= y.To)
}

// IsZero says whether nothing was told.
func (y Years) IsZero() bool {
	return !y.All && y.From == 0 && y.To == 0 && y.List == nil && y.Frames == "" && y.Mark == ""
}

// all are the years that are told one by one, or as a closed interval.
func (y Years) all() []int {
	if y.List != nil {
		return y.List
	}
	var list []int
	for year := y.From; y.From > 0 && y.To > 0 && year <= y.To; year++ {
		list = append(list, year)
	}
	return list
}

// pivot is where years of two digits turn: 30 to 99 are of the last century,
// since no road machine is of 2030 yet and few are of before 1930.
const pivot = 30

var (
	frameWord = lazily(`^(?i)(?:from|ab|a partir de|à partir de|depuis|up to|to|bis|jusqu'?(?:à|au)?)?\s*(?:the\s+)?(?:frame|vin|chassis|rahmen|fahrgestell(?:nummer)?|fgst\.?|ch[aâ]ssis|cadre|engine|motor)\b`)
	frameUpTo = lazily(`(?i)^(?:up to|to|bis|<=|≤|jusqu'?\S*)\s*(\S+)$`)
	frameFrom = lazily(`(?i)^(?:from|ab|>=|≥|a partir de|à partir de|depuis)\s*(\S+?)(?:\s+on(?:wards)?)?$`)
	frameOver = lazily(`^([<>])\s*(\S+)$`)
	framePair = lazily(`(?i)^(?:from\s+)?(\S+)\s*(?:-|–|to|bis|à|\.\.\.?)\s*(\S+)$`)

	yearAll    = lazily(`^(?i)(?:all|any|every|alle|alles|tous|toutes?|tutti|todos|all years|all models|alle jahre|alle modelle|alle bj\.?|\*)$`)
	yearWord   = lazily(`^(?i)(?:my|model years?|mod\.?|modelljahr|mj\.?|bj\.?|baujahr|year|years|jahr|année|an\.?|ann[ée]es)\s*[.:]?\s*`)
	yearBuilt  = lazily(`^(?i)(?:bj\.?|baujahr|built|year of building)\b`)
	yearSpan   = lazily(`^'?(\d{4}|\d{2})\s*(?:-|–|—|/|to|bis|thru|through|à|until|till|\.\.\.?)\s*'?(\d{4}|\d{2}|\d)$`)
	yearOne    = lazily(`^'?(\d{4}|\d{2})(?:\s*(?:only|nur|seulement))?$`)
	yearOn     = lazily(`(?i)^(?:(?:from|since|ab|seit|depuis|dès|a partir de|à partir de|>=?|≥)\s*'?(\d{4}|\d{2})|'?(\d{4}|\d{2})\s*(?:on|onwards?|up|(?:and|&) up|(?:and|&) later|(?:and|&) newer|or later|>=?|>>|\+|-|–|ff\.?|→|ab|et plus|und später))$`)
	yearUntil  = lazily(`(?i)^(?:(?:up to|to|until|till|bis|jusqu'?(?:en|à)?|pre|before|<=?|≤|-|–)\s*'?(\d{4}|\d{2})|'?(\d{4}|\d{2})\s*(?:and earlier|and before|und früher|<))$`)
	yearMonths = lazily(`^(\d{1,2})[/.](\d{4}|\d{2})\s*(?:-|–|to|bis|à)\s*(\d{1,2})[/.](\d{4}|\d{2})$`)
	yearMark   = lazily(`^(?i)(early|late|früh|frühe|spät|späte|début|fin|mid)\b\.?\s*`)
	yearExcept = lazily(`(?i)\s*(?:\(|,)?\s*(?:exc\.?|except|excl\.?|excluding|not|ohne|außer|sauf|but not)\s*\(?(.+?)\)?$`)
	yearJoin   = lazily(`\s*(?:&|,|;|\+|\band\b|\bund\b|\bet\b)\s*`)
	plateWord  = lazily(`^(?i)[a-z]\s?-?\s?(?:reg\.?(?:istered)?|registration|plate|suffix|prefix)$`)
	threeParts = lazily(`^\d{1,4}[/.\-]\d{1,2}[/.\-]\d{2,4}$`)
	notSure    = lazily(`\s*\?+$`)
)

// years fills in for which machines a part is.
func years(r *Row, c cell) {
	text := strings.TrimSpace(c.text)
	if text == "" || strings.Trim(text, "-–?") == "" {
		return
	}
	if c.typed == cellDate {
		r.cannot(fmt.Sprintf("years: read as a date by a sheet programme (%s)", text))
		return
	}
	if why, candidates, lost := lostNumber(text, c.typed); lost && !wholeYearText(text) {
		r.cannot(strings.Replace(why, "number:", "years:", 1) + mayHaveBeen(candidates))
		return
	}
	if trimmed := notSure().ReplaceAllString(text, ""); trimmed != text {
		text = trimmed
		r.ask("years: the owner is not sure")
	}
	when, how, why := readYears(text)
	if why != "" {
		r.cannot("years: " + why)
		return
	}
	if how != "" {
		r.how(how)
	}
	if r.When = when; when.Mark != "" && when.From == 0 && when.List == nil {
		r.ask("years: which year?")
	}
}

// wholeYearText keeps a form of years that only looks like a day or a formula.
func wholeYearText(text string) bool { return strings.HasPrefix(text, "MY") }

func mayHaveBeen(candidates []string) string {
	if len(candidates) == 0 {
		return ""
	}
	return "; it may have been " + strings.Join(candidates, ", ")
}

// readYears reads one cell. why says why it can't be placed.
func readYears(text string) (when Years, how, why string) {
	switch {
	case plateWord().MatchString(text):
		return when, "", "a registration letter is no model year"
	case threeParts().MatchString(text):
		return when, "", "a day or three years, not to be told"
	case yearAll().MatchString(text):
		return Years{All: true}, "", ""
	}
	if frameWord().MatchString(text) {
		return readFrames(text)
	}
	if yearBuilt().MatchString(text) {
		how = "year of building"
	}
	text = strings.TrimSpace(yearWord().ReplaceAllString(text, ""))
	if m := yearMark().FindStringSubmatch(text); m != nil {
		when.Mark = map[string]string{"e": "early", "f": "early", "d": "early", "l": "late",
			"s": "late"}[strings.ToLower(m[1][:1])]
		if strings.EqualFold(m[1], "fin") {
			when.Mark = "late"
		}
		text = text[len(m[0]):]
		if text == "" && when.Mark != "" {
			return when, how, ""
		}
	}
	if m := yearMonths().FindStringSubmatch(text); m != nil {
		when.From, when.To = year(m[2]), year(m[4])
		return when, "month/year of building", reversed(when)
	}
	except := []int(nil)
	if at := yearExcept().FindStringSubmatchIndex(text); at != nil {
		left, _, bad := readYears(text[at[2]:at[3]])
		if bad != "" {
			return when, "", bad
		}
		except, text = left.all(), strings.TrimSpace(text[:at[0]])
	}
	said, why := joinedYears(text)
	said.Mark = when.Mark
	if why != "" || except == nil {
		return said, how, why
	}
	return without(said, except), how, ""
}

// joinedYears reads spans and years with "and" or commas between.
func joinedYears(text string) (Years, string) {
	parts := yearJoin().Split(text, -1)
	if len(parts) == 1 || yearOn().MatchString(text) {
		return oneSpan(text)
	}
	var list []int
	for _, p := range parts {
		span, why := oneSpan(p)
		if why != "" {
			return Years{}, why
		}
		years := span.all()
		if years == nil {
			return Years{}, fmt.Sprintf("%q is open at an end, amid others", p)
		}
		list = append(list, years...)
	}
	slices.Sort(list)
	return tight(Years{List: slices.Compact(list)}), ""
}

func oneSpan(text string) (Years, string) {
	text = strings.TrimSpace(text)
	if m := yearSpan().FindStringSubmatch(text); m != nil {
		from := year(m[1])
		to := year(m[2])
		if len(m[2]) == 1 { // 1998-9
			to = from/10*10 + to%10
		}
		y := Years{From: from, To: to}
		return y, reversed(y)
	}
	if m := yearOne().FindStringSubmatch(text); m != nil {
		n := year(m[1])
		return Years{From: n, To: n}, ""
	}
	if m := yearOn().FindStringSubmatch(text); m != nil {
		return Years{From: year(m[1] + m[2])}, ""
	}
	if m := yearUntil().FindStringSubmatch(text); m != nil {
		return Years{To: year(m[1] + m[2])}, ""
	}
	return Years{}, fmt.Sprintf("%q is not understood", text)
}

func reversed(y Years) string {
	if y.To < y.From {
		return fmt.Sprintf("%d to %d runs backwards", y.From, y.To)
	}
	return ""
}

// year is a year of two or four digits, or the last digit of one.
func year(text string) int {
	n, _ := strconv.Atoi(text)
	switch {
	case len(text) == 2 && n >= pivot:
		return 1900 + n
	case len(text) == 2:
		return 2000 + n
	}
	return n
}

// without takes years out; what remains is told one by one.
func without(y Years, except []int) Years {
	var list []int
	for _, n := range y.all() {
		if !slices.Contains(except, n) {
			list = append(list, n)
		}
	}
	return tight(Years{List: list, Mark: y.Mark})
}

// tight makes an interval of years that follow each other.
func tight(y Years) Years {
	if n := len(y.List); n > 0 && y.List[n-1]-y.List[0] == n-1 {
		y.From, y.To, y.List = y.List[0], y.List[n-1], nil
	}
	return y
}

// readFrames reads an interval of frame numbers.
func readFrames(text string) (when Years, how, why string) {
	at := frameWord().FindStringIndex(text)
	head, rest := strings.ToLower(text[:at[1]]), strings.TrimSpace(text[at[1]:])
	rest = strings.TrimSpace(strings.TrimLeft(strings.TrimPrefix(strings.TrimPrefix(strings.ToLower(rest), "numbers"),
		"no"), ".:# "))
	rest = strings.ToUpper(rest)
	if strings.Contains(head, "engine") || strings.Contains(head, "motor") {
		return when, "", fmt.Sprintf("%q is of the engine, not of the frame", text)
	}
	up := strings.HasPrefix(head, "up") || strings.HasPrefix(head, "bis") || strings.HasPrefix(head, "jusq") ||
		strings.HasPrefix(head, "to ")
	from := strings.HasPrefix(head, "from") || strings.HasPrefix(head, "ab ") || strings.HasPrefix(head, "a ") ||
		strings.HasPrefix(head, "à ") || strings.HasPrefix(head, "dep")
	if m := frameOver().FindStringSubmatch(rest); m != nil {
		by := map[string]int{">": 1, "<": -1}[m[1]]
		next, ok := stepped(m[2], by)
		if !ok {
			return when, "", fmt.Sprintf("%q is no frame number", m[2])
		}
		if by > 0 {
			return Years{Frames: next + " on"}, "", ""
		}
		return Years{Frames: "up to " + next}, "", ""
	}
	if m := framePair().FindStringSubmatch(rest); m != nil && hasDigit(m[1]) && hasDigit(m[2]) && !up {
		return Years{Frames: m[1] + " to " + m[2]}, "", ""
	}
	if m := frameUpTo().FindStringSubmatch(rest); m != nil && hasDigit(m[1]) {
		return Years{Frames: "up to " + m[1]}, "", ""
	}
	if m := frameFrom().FindStringSubmatch(rest); m != nil && hasDigit(m[1]) {
		return Years{Frames: m[1] + " on"}, "", ""
	}
	number, on := strings.CutSuffix(rest, " ON")
	switch {
	case !hasDigit(number) || strings.ContainsAny(number, " "):
	case up:
		return Years{Frames: "up to " + number}, "", ""
	case from || on:
		return Years{Frames: number + " on"}, "", ""
	}
	return when, "", fmt.Sprintf("%q says no interval of frame numbers", text)
}

func hasDigit(text string) bool { return strings.ContainsAny(text, "0123456789") }

// stepped is the frame number that follows, or goes before, as wide as it was.
func stepped(frame string, by int) (string, bool) {
	head := strings.TrimRight(frame, "0123456789")
	digits := frame[len(head):]
	n, err := strconv.Atoi(digits)
	if err != nil || n+by < 0 {
		return "", false
	}
	return fmt.Sprintf("%s%0*d", head, len(digits), n+by), true
}
