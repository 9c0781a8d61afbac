package loader

import (
	"errors"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"time"

	"go.yaml.in/yaml/v3"

	"matewell/graph"
	"matewell/graph/measure"
)

// scalar describes a single value, in a YAML file or in a cell of a list: how
// to check and convert what was written, and its JSON Schema. A check reports
// what is wrong and gives false.
type scalar[V any] struct {
	check  func(r reading, w word) (V, bool)
	schema func() schema
}

// form reads the scalar from a YAML node.
func (s scalar[V]) form() form[V] {
	return form[V]{schema: s.schema, read: func(r reading, n *yaml.Node, into *V) {
		if !r.expect(n, yaml.ScalarNode, strconv.Quote(r.key)) {
			return
		}
		w := r.wordAt(n)
		if n.Tag == skipTag || r.blankedIn(w.text) || !r.filled(w, n) {
			s.spoil(into, w)
			return
		}
		v, ok := s.check(r, w)
		if *into = v; !ok {
			s.spoil(into, w)
		}
	}}
}

// spoil leaves only the place of a value that could not be read.
func (s scalar[V]) spoil(into *V, w word) {
	var none V
	*into = none
	if value, ok := any(into).(interface{ spoil(word) }); ok {
		value.spoil(w)
	}
}

// free takes any text.
func free() scalar[word] {
	return scalar[word]{schema: scalarSchema,
		check: func(_ reading, w word) (word, bool) { return w, true }}
}

// pattern is a regular expression that is compiled when it is first needed: a
// question that reads no file must not pay for it at every start.
type pattern struct {
	text    string
	compile func() *regexp.Regexp
}

func lazily(text string) pattern {
	return pattern{text, sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })}
}

// amount is how money is written, with the letters of ISO 4217.
const amount = `\d+(\.\d{1,2})? [A-Z]{3}`

var (
	namePattern   = lazily(`^[a-z0-9]+(-[a-z0-9]+)*$`)
	brandPattern  = lazily(`^[\p{L}\p{N}][\p{L}\p{N}.&'-]*$`)
	findingNames  = lazily(`^[A-Za-z0-9]+([-._][A-Za-z0-9]+)*$`)
	notName       = lazily(`[^a-z0-9]+`)
	partialDate   = lazily(`^\d{4}(-\d{2}(-\d{2})?)?$`)
	moneyPattern  = lazily(`^` + amount + `$`)
	askedPattern  = lazily(`^(` + amount + `|` + graph.PriceUnknown + `)$`)
	phrasePattern = lazily(`^[^\n]{1,200}$`)
)

func patternSchema(p pattern) func() schema {
	return func() schema { return scalarSchema().with("pattern", p.text) }
}

// patterned takes text of one form.
func patterned(p pattern, code, wants string, hint func(string) string) scalar[word] {
	return scalar[word]{schema: patternSchema(p), check: func(r reading, w word) (word, bool) {
		if p.compile().MatchString(w.text) {
			return w, true
		}
		d := r.Errorf(w.pos, code, "%q is not %s", w.text, wants)
		if hint != nil {
			d.Hint = hint(w.text)
		}
		return w, false
	}}
}

// name takes the name of something: small letters, digits and hyphens.
func name() scalar[word] {
	return patterned(namePattern, "bad-name", "a name of small letters, digits and hyphens", func(text string) string {
		if slug := strings.Trim(notName.compile().ReplaceAllString(strings.ToLower(text), "-"), "-"); slug != "" {
			return "write " + strconv.Quote(slug)
		}
		return ""
	})
}

// brandName takes a brand: one word, since it stands in front of part numbers.
func brandName() scalar[word] {
	return patterned(brandPattern, "bad-name", "a brand of one word", func(text string) string {
		return "write " + strconv.Quote(strings.Join(strings.Fields(text), "-"))
	})
}

// findingName takes the identity of a finding.
func findingName() scalar[word] {
	return patterned(findingNames, "bad-name", "an identity of letters, digits and hyphens", nil)
}

// phrase takes one line of text.
func phrase() scalar[word] {
	return patterned(phrasePattern, "bad-value", "one line of at most 200 letters", nil)
}

// money takes an amount with its currency, "35 EUR".
func money() scalar[word] {
	return patterned(moneyPattern, "bad-value", "an amount with its currency", func(string) string {
		return `write it as "35 EUR" or "12.50 EUR", with the three letters of ISO 4217`
	})
}

// moneyOrUnknown takes an amount with its currency, or says that nobody named one.
func moneyOrUnknown() scalar[word] {
	return patterned(askedPattern, "bad-value", "an amount with its currency", func(string) string {
		return `write it as "35 EUR" or "12.50 EUR", with the three letters of ISO 4217, or "` + graph.PriceUnknown +
			`" where nobody named a price`
	})
}

// date takes a year, a month or a day: "2003", "2003-02", "2003-02-17".
func date() scalar[word] {
	return scalar[word]{schema: patternSchema(partialDate), check: func(r reading, w word) (word, bool) {
		layouts := map[int]string{4: "2006", 7: "2006-01", 10: "2006-01-02"}
		_, err := time.Parse(layouts[len(w.text)], w.text)
		switch {
		case !partialDate.compile().MatchString(w.text) || layouts[len(w.text)] == "":
			r.Errorf(w.pos, "bad-date", "%q is not a date", w.text).Hint = `write "2003", "2003-02" or "2003-02-17"`
		case err != nil:
			r.Errorf(w.pos, "bad-date", "there is no day %q", w.text).Hint = "year, month, day"
		case w.text[:4] < strconv.Itoa(measure.FirstYear) || w.text[:4] > strconv.Itoa(measure.LastYear):
			r.Errorf(w.pos, "bad-year", "year %q is outside of %d to %d", w.text[:4], measure.FirstYear, measure.LastYear)
		default:
			return w, true
		}
		return w, false
	}}
}

// oneOf takes one of a list of words.
func oneOf[S ~string](words ...S) scalar[word] {
	names := make([]string, len(words))
	for i, w := range words {
		names[i] = string(w)
	}
	return scalar[word]{schema: func() schema { return schema{"enum": anyOf(names)} }, check: func(r reading,
		w word) (word, bool) {
		for _, name := range names {
			if w.text == name {
				return w, true
			}
		}
		r.Errorf(w.pos, "bad-value", "%q is no value for %q", w.text, r.key).Hint = nearOrList(w.text, names)
		return w, false
	}}
}

// flag is yes or no, with its place. The zero flag was not given.
type flag struct {
	word
	yes bool
}

// yesNo takes yes or no.
func yesNo() scalar[flag] {
	return scalar[flag]{schema: func() schema { return schema{"enum": []any{"yes", "no", true, false}} },
		check: func(r reading, w word) (flag, bool) {
			switch w.text {
			case "yes", "true":
				return flag{w, true}, true
			case "no", "false":
				return flag{w, false}, true
			}
			r.Errorf(w.pos, "bad-value", "%q is neither yes nor no", w.text)
			return flag{}, false
		}}
}

// number is a whole number with its place. The zero number was not given.
type number struct {
	word
	n int
}

// maxQuantity is more than any position, kit or box holds of one part.
const maxQuantity = 9999

// count takes a whole number from 1 on.
func count() scalar[number] { return countOf("quantity") }

// countOf is count with the word for it in messages.
func countOf(what string) scalar[number] {
	return scalar[number]{schema: func() schema {
		return schema{"type": []any{"integer", "string"}, "minimum": 1, "maximum": maxQuantity, "pattern": "^[1-9][0-9]*$"}
	},
		check: func(r reading, w word) (number, bool) {
			n, err := strconv.Atoi(w.text)
			switch {
			case err != nil && !errors.Is(err, strconv.ErrRange):
				r.Errorf(w.pos, "bad-value", "%q is not a whole number", w.text)
			case n == 0:
				r.Errorf(w.pos, "zero-quantity", "%s %q is nothing at all", what, w.text).Hint = "leave it out, or write 1 or more"
			case n < 0 || n > maxQuantity:
				r.Errorf(w.pos, "impossible-value", "%s %q is outside of 1 to %d", what, w.text, maxQuantity)
			default:
				return number{w, n}, true
			}
			return number{}, false
		}}
}

// yearRange is a range of years with its place.
type yearRange struct {
	word
	years measure.Years
	// misread is what was written, when that could not be read.
	misread string
}

// spoil keeps what was written: a year elsewhere may be meant by it.
func (y *yearRange) spoil(written word) {
	*y = yearRange{word: word{pos: written.pos}, misread: written.text}
}

// years takes "2003" or "2001-2004".
func years() scalar[yearRange] {
	return scalar[yearRange]{schema: func() schema {
		return schema{"type": []any{"integer", "string"}, "pattern": `^\d{4}( *(-|to) *\d{4})?$`}
	},
		check: func(r reading, w word) (yearRange, bool) {
			y, err := measure.ParseYears(w.text)
			if err != nil {
				rangeFault(r, w, err, "bad-year", `write "2003" or "2001-2004"`)
			}
			return yearRange{word: w, years: y}, err == nil
		}}
}

// oneYear takes a single model year.
func oneYear() scalar[yearRange] {
	s := years()
	return scalar[yearRange]{schema: func() schema {
		return schema{"type": []any{"integer", "string"}, "minimum": measure.FirstYear, "maximum": measure.LastYear,
			"pattern": `^\d{4}$`}
	},
		check: func(r reading, w word) (yearRange, bool) {
			y, ok := s.check(r, w)
			if ok && y.years.From != y.years.To {
				r.Errorf(w.pos, "bad-year", "%q is more than one model year", w.text).Hint = "write a variant for each model year"
				return y, false
			}
			return y, ok
		}}
}

// frameRange is an interval of frame numbers with its place.
type frameRange struct {
	word
	frames measure.Frames
}

// frames takes an interval of frame numbers.
func frames() scalar[frameRange] {
	return scalar[frameRange]{schema: scalarSchema, check: func(r reading, w word) (frameRange, bool) {
		f, err := measure.ParseFrames(w.text)
		if err != nil {
			rangeFault(r, w, err, "bad-frames", `write "TK6A-000101 to TK6A-004120", "TK6A-004121 on" or "up to TK6A-004120"`)
		}
		return frameRange{w, f}, err == nil
	}}
}

// rangeFault reports a range that can't be read, or is reversed.
func rangeFault(r reading, w word, err error, code, hint string) {
	if errors.Is(err, measure.ErrReversed) {
		r.Errorf(w.pos, "reversed-range", "%q ends before it starts", w.text).Hint = "write the lower end first"
		return
	}
	if errors.Is(err, measure.ErrImpossible) {
		code = "impossible-value"
	}
	d := r.Errorf(w.pos, code, "%s", inner(err))
	if !strings.Contains(d.Message, "write ") {
		d.Hint = hint
	}
}

// inner is the text of an error without the package that made it.
func inner(err error) string { return strings.TrimPrefix(err.Error(), "measure: ") }

// cellSchema is the schema of a cell with the scalar in it; some scalars have
// one in files of YAML only.
func (s scalar[V]) cellSchema() schema {
	if s.schema == nil {
		return textSchema()
	}
	return s.schema()
}
