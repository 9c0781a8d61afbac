package measure

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"
)

// Value is a dimension's value of any type. Only the fields of its type are
// set; the zero Value is none at all.
type Value struct {
	Type     Type
	Quantity Quantity   // Length to Ratio
	Thread   ThreadSize // Thread
	Words    []string   // Words, in the order of their letters; Word has one
	Yes      bool       // YesNo
	Text     string     // Text and Word
	Points   []Point    // Points, sorted by place
	Sizes    []Size     // Sizes, smallest first
	Pins     []Pin      // Pins, sorted by number
}

// maxPhrase and maxFree are the bytes that a phrase and a free text may have.
const (
	maxPhrase = 1000
	maxFree   = 20000
)

// Parse reads a value of the wanted type. The error quotes the text.
func Parse(text string, want Type) (Value, error) {
	v := Value{Type: want}
	var err error
	switch {
	case want.Measured() || want == Count || want == Ratio:
		v.Quantity, err = ParseQuantity(text, want)
	case want == Thread:
		v.Thread, err = ParseThread(text)
	default:
		if err = v.parseWords(text); err != nil {
			err = fmt.Errorf("%s %q: %w", want, text, err)
		}
	}
	if err != nil {
		return Value{}, err
	}
	return v, nil
}

func (v *Value) parseWords(text string) (err error) {
	if v.Type == Text {
		v.Text, err = freeText(text)
		return err
	}
	clean, err := tidy(text, maxPhrase)
	if err != nil {
		return err
	}
	if clean == "" {
		return errors.New("nothing is written")
	}
	switch v.Type {
	case Word:
		if strings.ContainsAny(clean, ",;") {
			return errors.New("one phrase is wanted, without commas")
		}
		v.Text, v.Words = clean, []string{clean}
	case Words:
		v.Words, err = parseSet(clean)
	case YesNo:
		v.Yes, err = parseYesNo(clean)
	case Points:
		v.Points, err = parsePoints(clean)
	case Sizes:
		v.Sizes, err = parseSizes(clean)
	case Pins:
		v.Pins, err = parsePins(clean)
	default:
		err = errors.New("there is no such type")
	}
	return err
}

// freeText keeps line breaks and tabs; other control characters could rewrite
// a terminal.
func freeText(text string) (string, error) {
	if !utf8.ValidString(text) {
		return "", errors.New("the text is not UTF-8")
	}
	if len(text) > maxFree {
		return "", fmt.Errorf("the text is longer than %d bytes", maxFree)
	}
	for _, r := range text {
		if r < ' ' && r != '\n' && r != '\t' && r != '\r' || r >= 0x7f && r < 0xa0 {
			return "", fmt.Errorf("control character %q", r)
		}
	}
	text = strings.TrimSpace(strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n"))
	if text == "" {
		return "", errors.New("nothing is written")
	}
	return text, nil
}

func parseYesNo(text string) (bool, error) {
	switch strings.ToLower(text) {
	case "yes", "true": // as other programs write YAML
		return true, nil
	case "no", "false":
		return false, nil
	}
	return false, errors.New(`write "yes" or "no"`)
}

// String is the value in its canonical spelling, which Parse reads back.
func (v Value) String() string {
	switch v.Type {
	case Thread:
		return v.Thread.String()
	case Word, Text:
		return v.Text
	case Words:
		return strings.Join(v.Words, ", ")
	case YesNo:
		if v.Yes {
			return "yes"
		}
		return "no"
	case Points:
		return joined(v.Points, "; ")
	case Sizes:
		return joined(v.Sizes, " + ")
	case Pins:
		return joined(v.Pins, ", ")
	}
	return v.Quantity.String()
}

func joined[T fmt.Stringer](list []T, between string) string {
	texts := make([]string, len(list))
	for i, item := range list {
		texts[i] = item.String()
	}
	return strings.Join(texts, between)
}

// Equal reports whether two values are physically the same, tolerance
// included: "5/8 in" equals "15.875 mm". Words compare without regard to case,
// sets without regard to order.
func (v Value) Equal(w Value) bool {
	if v.Type != w.Type {
		return false
	}
	switch v.Type {
	case Thread:
		return v.Thread.Same(w.Thread)
	case Word:
		return strings.EqualFold(v.Text, w.Text)
	case Text:
		return v.Text == w.Text
	case Words:
		return sameList(v.Words, w.Words, strings.EqualFold)
	case YesNo:
		return v.Yes == w.Yes
	case Points:
		return sameList(v.Points, w.Points, Point.same)
	case Sizes:
		return sameList(v.Sizes, w.Sizes, Size.same)
	case Pins:
		return sameList(v.Pins, w.Pins, Pin.same)
	}
	return v.Quantity.Same(w.Quantity)
}

func sameList[T any](a, b []T, same func(T, T) bool) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if !same(a[i], b[i]) {
			return false
		}
	}
	return true
}
