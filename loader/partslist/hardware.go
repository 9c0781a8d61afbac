package partslist

import (
	"fmt"
	"strconv"
	"strings"

	"matewell/graph/article"
	"matewell/graph/measure"
)

// hardwareKinds are the words that say what a loose thing is, the most telling
// first, by kind of part.
var hardwareKinds = [...]struct{ kind, words string }{
	{"banjo-bolt", "banjo|hohlschraube|vis creuse|vis banjo|raccord banjo"},
	{"split-pin", "split pin|cotter|splint|goupille fendue|goupille"},
	{"circlip", "circlip|snap ring|seeger|sicherungsring|sprengring|anneau elastique"},
	{"o-ring", "o-ring|o ring|oring|joint torique"},
	{"bearing", "bearing|kugellager|wälzlager|radlager|lager|roulement"},
	{"seal", "oil seal|fork seal|simmerring|wellendichtring|joint spi|spi|seal"},
	{"seal-washer", "copper washer|sealing washer|crush washer|aluminium washer|alu " +
		"washer|kupferring|kupferscheibe|dichtring|dichtscheibe|rondelle cuivre|rondelle d'étanchéité"},
	{"washer", "washer|unterlegscheibe|scheibe|federring|rondelle"},
	{"stud", "stud|stehbolzen|goujon"},
	{"nut", "nut|nyloc|mutter|ecrou|écrou"},
	{"bolt", "bolt|screw|allen|socket|schraube|vis|boulon|hex|flange|grub|cap head|button|csk|countersunk"},
}

// standards say of a norm what it describes: the ISO norm, or the DIN norm it
// took the place of. Source: titles of ISO 4762, 4014, 4017, 4162, 7380-1,
// 10642, 4032, 7040, 7089, 8752 and the DIN norms of the same things.
var standards = [...]struct{ norms, kind, head string }{
	{"din912 iso4762", "bolt", "socket"},
	{"din931 din933 din960 din961 iso4014 iso4017 iso8765 iso8676", "bolt", "hexagon"},
	{"din6921 iso4162 iso15071", "bolt", "hexagon flange"},
	{"iso7380", "bolt", "button"},
	{"din7991 iso10642", "bolt", "countersunk"},
	{"din934 iso4032 iso8673", "nut", ""},
	{"din985 din982 iso7040 iso10511", "nut", "self-locking"},
	{"din125 iso7089 iso7090 din433 iso7092", "washer", ""},
	{"din94 iso1234", "split-pin", ""},
	{"din471 din472", "circlip", ""},
	{"din938 din939 din835", "stud", ""},
}

var heads = [...]struct{ word, head string }{
	{"countersunk", "countersunk"}, {"csk", "countersunk"}, {"senkkopf", "countersunk"}, {"fraisée", "countersunk"},
	{"button", "button"}, {"linsenkopf", "button"}, {"flange", "hexagon flange"}, {"flansch", "hexagon flange"}, {"bund",
		"hexagon flange"}, {"embase", "hexagon flange"},
	{"allen", "socket"}, {"socket", "socket"}, {"cap head", "socket"}, {"inbus", "socket"}, {"zylinderkopf", "socket"},
	{"btr", "socket"}, {"chc", "socket"},
	{"hex", "hexagon"}, {"sechskant", "hexagon"}, {"sk", "hexagon"},
}

var (
	metricSize  = lazily(`(?i)\bM(\d{1,2}(?:[.,]\d)?)((?:\s*[x×*]\s*\d+(?:[.,]\d+)?){0,2})`)
	sizeStep    = lazily(`(?i)[x×*]\s*(\d+(?:[.,]\d+)?)`)
	unifiedSize = lazily(`(?i)(\d+/\d+|\d+)\s*(?:"|”|″|in\b|inch)?\s*(?:-\s*(\d{1,2}))?\s*(UNF|UNC|BSF|BSW|cycle|BSC)(?:\s*[x×*]\s*(\d+(?:\s\d+/\d+)?(?:/\d+)?(?:\.\d+)?)\s*(?:"|”|″|in)?)?`)
	classMark   = lazily(`\b(4\.6|4\.8|5\.6|5\.8|6\.8|8\.8|10\.9|12\.9|A[24]-?(?:50|70|80))\b`)
	longWords   = lazily(`(?i)(\d+(?:[.,]\d+)?)\s*(?:mm)?\s*(?:long|lang|lg\.?|de long)\b`)
	acrossFlats = lazily(`(?i)^(\d{1,2})\s*mm\s*(?:bolt|screw|nut|schraube|mutter|vis)`)
	threeSizes  = lazily(`(?i)(\d+(?:[.,]\d+)?)\s*[x×*]\s*(\d+(?:[.,]\d+)?)\s*[x×*]\s*(\d+(?:[.,]\d+)?)`)
	twoLengths  = lazily(`\b(\d{1,3})/(\d{1,3})\b`)
	ballBearing = lazily(`(?i)\b(6[02348]?\d{2,3}|16\d{3}|3[02]\d{3}|NU?\s?\d{3,4})[ -]?(2RS1?|2RSR|RS|ZZ|2Z|Z|C3|LLU|LLB)?\b`)
	normMark    = lazily(`(?i)\b(DIN|ISO)\s*(?:EN\s*)?(\d{2,5})`)
	roundSize   = lazily(`[ØøΦ⌀]\s*(\d+(?:[.,]\d+)?)`)
)

// looksLikeHardware says whether text is the size or name of loose hardware.
func looksLikeHardware(text string) bool {
	return metricSize().MatchString(text) || unifiedSize().MatchString(text) || normMark().MatchString(text) &&
		hasDigit(text) ||
		kindWord(text) != "" && kindWord(text) != "bearing" && kindWord(text) != "seal" || threeSizes().MatchString(text)
}

// looseSize says whether a name is the size of a fastener: "M8x30 bolts".
func looseSize(name string) bool {
	return metricSize().MatchString(name) || unifiedSize().MatchString(name)
}

// kindWord is the kind that a word of the text names; empty for none.
func kindWord(text string) string {
	lower := strings.ToLower(text)
	for _, k := range hardwareKinds {
		for _, word := range strings.Split(k.words, "|") {
			if HasWord(lower, word) || len(word) > 5 && strings.Contains(lower, word) {
				return k.kind
			}
		}
	}
	return ""
}

// hardware takes the size of a loose thing apart. what is told in two ways is
// asked.
func hardware(r *Row, text string) {
	h := &Hardware{Kind: kindWord(text)}
	r.Hardware, r.Is = h, IsHardware
	lower := strings.ToLower(text)
	readNorm(h, text)
	for _, x := range heads {
		if h.Head == "" && HasWord(lower, x.word) && (h.Kind == "" || h.Kind == "bolt") {
			h.Head = x.head
		}
	}
	if m := classMark().FindStringSubmatch(text); m != nil {
		h.Class = m[1]
	}
	if HasWord(lower, "nyloc") || HasWord(lower, "self-locking") || HasWord(lower, "selbstsichernd") {
		h.Note = "self-locking"
	}
	if HasWord(lower, "copper") || strings.Contains(lower, "kupfer") || HasWord(lower, "cuivre") {
		h.Material = "copper"
	}
	switch h.Kind {
	case "washer", "seal-washer", "seal", "bearing", "o-ring":
		ring(h, r, text)
	case "split-pin", "circlip":
	default:
		threaded(h, r, text)
	}
}

func readNorm(h *Hardware, text string) {
	m := normMark().FindStringSubmatch(text)
	if m == nil {
		return
	}
	mark := strings.ToLower(m[1] + m[2])
	for _, s := range standards {
		if HasWord(s.norms, mark) {
			h.Kind = s.kind
			if s.head == "self-locking" {
				h.Note = s.head
			} else {
				h.Head = s.head
			}
		}
	}
}

func ring(h *Hardware, r *Row, text string) {
	if m := threeSizes().FindStringSubmatch(text); m != nil {
		h.Inside, h.Outside = mm(m[1]), mm(m[2])
		if h.Kind == "washer" || h.Kind == "seal-washer" {
			h.Thickness = mm(m[3])
		} else {
			h.Width = mm(m[3])
		}
	}
	switch h.Kind {
	case "bearing":
		h.WrongList = "a bearing among bolts"
		if m := ballBearing().FindStringSubmatch(text); m != nil {
			h.Designation = strings.ToUpper(strings.TrimSuffix(m[1]+"-"+m[2], "-"))
		}
	case "seal":
		h.WrongList = "a seal among bolts"
	case "washer", "seal-washer":
		if h.Inside == "" {
			size := "it"
			if m := roundSize().FindStringSubmatch(text); m != nil {
				size = m[1]
			}
			r.ask(fmt.Sprintf("outside and thickness not given; is %s the bolt or the hole?", size))
		}
	}
}

// threaded reads bolts, nuts, studs, and what only a thread tells of.
func threaded(h *Hardware, r *Row, text string) {
	thread, coarse, length := threadOf(text)
	if m := longWords().FindStringSubmatch(text); m != nil && length == "" {
		length = mm(m[1])
	}
	if m := twoLengths().FindStringSubmatch(text); m != nil && h.Kind == "stud" && length == "" {
		a, _ := strconv.Atoi(m[1])
		b, _ := strconv.Atoi(m[2])
		length = fmt.Sprintf("%d mm", a+b)
		r.ask(fmt.Sprintf("%s: two thread lengths or free length and thread?", m[0]))
	}
	if h.Kind == "" && length != "" && thread != "" {
		h.Kind = "bolt"
	}
	if h.Kind == "" && threeSizes().MatchString(text) {
		m := threeSizes().FindStringSubmatch(text)
		h.Inside, h.Outside, h.Width = mm(m[1]), mm(m[2]), mm(m[3])
		r.ask("three sizes and no word: a bearing, a seal or a washer?")
		return
	}
	if h.Kind == "" && ballBearing().MatchString(text) && thread == "" {
		h.Kind = "bearing"
		ring(h, r, text)
		return
	}
	switch {
	case thread == "" && acrossFlats().MatchString(text):
		d := acrossFlats().FindStringSubmatch(text)[1]
		r.ask(article.Sprintf("thread: %s, or a %s mm spanner size", finePitches(d), d))
		h.Length = length
		return
	case thread == "" && h.Kind == "":
		r.cannot(fmt.Sprintf("%q names no kind and no size", text))
		return
	case thread == "":
		r.cannot("no size given")
		return
	case h.Kind == "":
		r.ask("bolt, nut or stud? no length")
		return
	}
	h.Thread, h.Length = thread, length
	switch {
	case coarse:
		r.how("coarse pitch taken: none given")
	}
	if h.Kind == "bolt" && length == "" {
		r.ask("length not given")
	}
}

// finePitches are the threads that a diameter in millimetres may stand for.
func finePitches(diameter string) string {
	d, _ := strconv.ParseFloat(diameter, 64)
	var names []string
	for i, p := range measure.Preferred(d) {
		if i > 0 {
			names = append(names, fmt.Sprintf("M%sx%s", diameter, plainNumber(p)))
		}
	}
	if names == nil {
		return "M" + diameter
	}
	return strings.Join(names, " or ")
}

// threadOf reads the thread, with its pitch, and the length that may stand
// behind it.
func threadOf(text string) (thread string, coarse bool, length string) {
	if m := unifiedSize().FindStringSubmatch(text); m != nil {
		standard := strings.ToUpper(m[3])
		perInch := m[2]
		if perInch == "" {
			perInch = threadsPerInch(m[1], standard)
		}
		if as, err := measure.ParseThread(m[1] + "-" + perInch + " " + standard); err == nil {
			thread = as.Text
		}
		if m[4] != "" {
			length = m[4] + " in"
		}
		return thread, false, length
	}
	m := metricSize().FindStringSubmatch(text)
	if m == nil {
		return "", false, ""
	}
	nominal := strings.ReplaceAll(m[1], ",", ".")
	d, _ := strconv.ParseFloat(nominal, 64)
	pitch, ok := measure.Coarse(d)
	coarse = ok
	var steps []string
	for _, s := range sizeStep().FindAllStringSubmatch(m[2], -1) {
		steps = append(steps, strings.ReplaceAll(s[1], ",", "."))
	}
	if len(steps) > 0 && isPitch(steps[0], d) {
		pitch, _ = strconv.ParseFloat(steps[0], 64)
		coarse, ok, steps = false, true, steps[1:]
	}
	if len(steps) > 0 {
		length = mm(steps[0])
	}
	if !ok {
		return "", false, length
	}
	as, err := measure.ParseThread(fmt.Sprintf("M%sx%s", nominal, plainNumber(pitch)))
	if err != nil {
		return "", false, length
	}
	return as.Text, coarse, length
}

// isPitch says whether a number behind a metric diameter is its pitch and not a
// length: no bolt is shorter than a third of its diameter.
func isPitch(text string, diameter float64) bool {
	n, err := strconv.ParseFloat(text, 64)
	return err == nil && n <= max(diameter/3, 0.5) && n <= 6
}

// threadsPerInch is what ASME B1.1 has on a diameter; empty when it is not told.
func threadsPerInch(diameter, standard string) string {
	for _, n := range []int{8, 9, 10, 11, 12, 13, 14, 16, 18, 20, 24, 28, 32, 36, 40, 44, 48} {
		if as, err := measure.ParseThread(fmt.Sprintf("%s-%d %s", diameter, n, standard)); err == nil &&
			as.Standard == standard {
			return strconv.Itoa(n)
		}
	}
	return ""
}

// mm is a number of millimetres as a data file has it.
func mm(text string) string {
	n, err := strconv.ParseFloat(strings.ReplaceAll(text, ",", "."), 64)
	if err != nil {
		return ""
	}
	return plainNumber(n) + " mm"
}

var torqueFigure = lazily(`(?i)^(\d+(?:[.,]\d+)?)(?:\s*(?:-|–|to|bis|à)\s*(\d+(?:[.,]\d+)?))?\s*(.*)$`)

// torque reads a torque with the unit beside it, else the first unit of the
// heading, and gives it in N m.
func torque(r *Row, text, heading string) {
	text = strings.TrimSpace(text)
	if text == "" || strings.Trim(text, "-–?") == "" {
		return
	}
	m := torqueFigure().FindStringSubmatch(text)
	if m == nil {
		r.CannotTorque = fmt.Sprintf("%q is no torque", text)
		return
	}
	unit := strings.TrimSpace(m[3])
	if unit == "" {
		if unit = headingUnit(heading); unit == "" {
			r.CannotTorque = fmt.Sprintf("%q has no unit", text)
			return
		}
	}
	from, ok := newtonMetres(m[1], unit)
	if !ok {
		r.CannotTorque = fmt.Sprintf("%q is no torque", text)
		return
	}
	r.Torque = from + " N m"
	if m[2] != "" {
		to, _ := newtonMetres(m[2], unit)
		r.Torque = from + "-" + to + " N m"
	}
}

func newtonMetres(figure, unit string) (string, bool) {
	figure = strings.ReplaceAll(figure, ",", ".")
	q, err := measure.ParseQuantity(figure+" "+unit, measure.Torque)
	if err != nil {
		return "", false
	}
	n, _ := strconv.ParseFloat(figure, 64)
	if strings.TrimSpace(plainNumber(n)) == plainNumber(q.Nominal) {
		return plainNumber(n), true
	}
	return strconv.FormatFloat(q.Nominal, 'f', 1, 64), true
}

// headingUnit is the first unit of torque that a heading names.
func headingUnit(heading string) string {
	lower := strings.ToLower(heading)
	best, at := "", len(lower)+1
	for _, u := range []struct{ word, unit string }{{"nm", "N m"}, {"n m", "N m"}, {"n.m", "N m"}, {"ft lb", "lbf ft"},
		{"ft-lb", "lbf ft"}, {"ftlb", "lbf ft"}, {"lb ft", "lbf ft"}, {"lbf ft", "lbf ft"}, {"kgm", "kgf m"}, {"mkg",
			"kgf m"}, {"kpm", "kgf m"}} {
		if i := strings.Index(lower, u.word); i >= 0 && i < at {
			best, at = u.unit, i
		}
	}
	return best
}
