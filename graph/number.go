package graph

import (
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Number is a part number taken apart. Revision and Colour are empty when the
// number has none; they hold letters and digits only, without the separators
// that Text has between them.
type Number struct {
	Text     string // canonical spelling, as the brand writes it: "207.4418b/kr"
	Core     string // what makes it this part: "207.4418"
	Revision string // "b"
	Colour   string // "kr"
}

// CoreKey is the key that every revision and colour of the number share.
func (n Number) CoreKey() string { return NumberKey(n.Core) }

// NumberKey folds a number so that spellings compare equal: letters in upper
// case and digits, nothing else. It is empty when the text has neither.
func NumberKey(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToUpper(r)
		}
		return -1
	}, text)
}

// NumberForm is how a brand writes its numbers, as masks in which 9 stands for
// a digit, A or a for a letter that is printed in that case, and anything else
// for itself: core "999.9999", revision "a", colour "/aa". Revision and colour
// may be left out of a number. In the zero form numbers are taken as they
// stand.
type NumberForm struct {
	Core     string
	Revision string
	Colour   string
}

// maxNumber is the longest number that is read, and the longest form, in bytes.
const maxNumber = 64

// Parse reads a number in any spelling: case, spaces, dashes, dots and slashes
// don't matter. What follows the core is told apart by its count of letters and
// digits; where revision and colour have the same shape, it is the colour when
// the colour's own separator was written before it, else the revision. The
// error says which form was expected.
func (f NumberForm) Parse(text string) (Number, error) {
	if err := plainNumber(text); err != nil {
		return Number{}, fmt.Errorf("number %q: %w", text, err)
	}
	if f == (NumberForm{}) {
		text = strings.TrimSpace(text)
		return Number{Text: text, Core: text}, nil
	}
	switch {
	case f.Core == "":
		return Number{}, errors.New("the number form has no core")
	case len(f.Core)+len(f.Revision)+len(f.Colour) > maxNumber:
		return Number{}, fmt.Errorf("the number form is longer than %d bytes", maxNumber)
	}
	key, separators, err := f.fold(text)
	if err != nil {
		return Number{}, err
	}
	for _, shape := range shapes(f, separators) {
		if n, ok := shape.read(key); ok {
			return n, nil
		}
	}
	return Number{}, fmt.Errorf("number %q is not written like %s", text, f)
}

// plainNumber refuses what no number of any brand can be.
func plainNumber(text string) error {
	switch {
	case !utf8.ValidString(text):
		return errors.New("it is not UTF-8")
	case len(text) > maxNumber:
		return fmt.Errorf("it is longer than %d bytes", maxNumber)
	case strings.TrimSpace(text) == "":
		return errors.New("nothing is written")
	}
	for _, r := range text {
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) {
			return fmt.Errorf("control character %q", r)
		}
	}
	return nil
}

// String is the form in words: `999.9999, with an optional revision "a" and
// colour "/aa" (9 is a digit, a is a letter)`.
func (f NumberForm) String() string {
	if f == (NumberForm{}) {
		return "any text"
	}
	var extras []string
	if f.Revision != "" {
		extras = append(extras, fmt.Sprintf("revision %q", f.Revision))
	}
	if f.Colour != "" {
		extras = append(extras, fmt.Sprintf("colour %q", f.Colour))
	}
	text := f.Core
	if len(extras) > 0 {
		text += ", with an optional " + strings.Join(extras, " and ")
	}
	return text + " (9 is a digit, a is a letter)"
}

// fold gives the letters and digits of a number in upper case and, for each,
// the separators that were written just before it.
func (f NumberForm) fold(text string) (key string, separators []string, err error) {
	var b strings.Builder
	between := ""
	for _, r := range text {
		switch {
		case r < unicode.MaxASCII && (unicode.IsLetter(r) || unicode.IsDigit(r)):
			b.WriteRune(unicode.ToUpper(r))
			separators = append(separators, between)
			between = ""
		case strings.ContainsRune("-./_", r) || unicode.Is(unicode.Pd, r) || unicode.IsSpace(r):
			between += string(r)
		case strings.ContainsRune(f.Core+f.Revision+f.Colour, r):
			between += string(r)
		default:
			return "", nil, fmt.Errorf("number %q: %q can't be part of it; it is written like %s", text, r, f)
		}
	}
	return b.String(), separators, nil
}
